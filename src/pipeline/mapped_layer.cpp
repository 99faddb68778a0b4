#include "src/pipeline/mapped_layer.hpp"

#include <algorithm>
#include <map>
#include <set>

#include <fmt/format.h>

#include "geo/io/composed_layer.hpp"
#include "geo/io/row_condition.hpp"
#include "src/job/job_error.hpp"
#include "src/job/nearest_word.hpp"
#include "src/pipeline/earlier_run.hpp"
#include "src/pipeline/input_findings.hpp"

namespace linewood {
namespace {

/// The number that stands for the mark of `pattern` in `name`; nothing where it is no such name.
std::optional<std::string> group_of(std::string_view name, std::string_view pattern) {
    const std::size_t mark = pattern.find(kGroupMark);
    if (mark == std::string_view::npos || name.size() + kGroupMark.size() <= pattern.size()) {
        return std::nullopt;
    }
    const std::string_view before = pattern.substr(0, mark);
    const std::string_view behind = pattern.substr(mark + kGroupMark.size());
    const std::string_view middle = name.substr(mark, name.size() - before.size() - behind.size());
    if (!same_name(name.substr(0, mark), before) ||
        !same_name(name.substr(mark + middle.size()), behind) ||
        middle.find_first_not_of("0123456789") != std::string_view::npos) {
        return std::nullopt;
    }
    return std::string{middle};
}

class MappedLayer {
public:
    MappedLayer(const std::vector<SourceMapping>& sources,
                InputLayer layer,
                const std::optional<Source>& shared)
        : sources_{sources}, layer_{layer}, shared_{shared} {}

    InputLayerRef open(Findings& findings) {
        for (const SourceMapping& source : sources_) {
            add_part(source);
        }
        std::vector<const LayerSchema*> schemas;
        schemas.reserve(parts_.size());
        for (const LayerPart& part : parts_) {
            schemas.push_back(&part.source.schema(part.layer));
        }
        InputLayerRef ref = compose();
        ref.columns = std::make_shared<const LayerColumns>(layer_, sources_, schemas, ref.schema());
        for (std::string& name : ref.columns->unread_names(schemas)) {
            findings.push_back(make_finding(finding::kColumnNotMapped, layer_, -1, name, ""));
        }
        for (const LayerPart& part : parts_) {
            note_other_groups(part, findings);
        }
        return ref;
    }

private:
    Source dataset_of(const SourceMapping& mapping) {
        if (mapping.dataset.empty()) {
            if (!shared_) {
                throw JobError{mapping.path +
                               ": \"source\" is missing, and no dataset is named on the command "
                               "line"};
            }
            return *shared_;
        }
        const auto known = opened_.find(mapping.dataset);
        return known != opened_.end()
                   ? known->second
                   : opened_.emplace(mapping.dataset, Source::open(mapping.dataset)).first->second;
    }

    std::string layer_of(const Source& source, const SourceMapping& mapping) const {
        const auto& names = source.layer_names();
        const std::string_view own = name_of(layer_);
        if (mapping.layer.empty()) {
            if (source.has_layer(own)) {
                return source.schema(own).name;
            }
            if (names.size() == 1) {
                return names.front();
            }
        } else if (source.has_layer(mapping.layer)) {
            return source.schema(mapping.layer).name;
        }
        const std::vector<std::string_view> views(names.begin(), names.end());
        const std::string asked = mapping.layer.empty() ? std::string{own} : mapping.layer;
        throw JobError{fmt::format("{}{}: {} has no layer \"{}\"{}; its layers are \"{}\"",
                                   mapping.path,
                                   mapping.layer.empty() ? "" : ".layer",
                                   source.dataset(),
                                   asked,
                                   did_you_mean(asked, views),
                                   fmt::join(names, "\", \""))};
    }

    void add_part(const SourceMapping& mapping) {
        const Source source = dataset_of(mapping);
        LayerPart part{source, layer_of(source, mapping), mapping.where, mapping.groups, {}};
        if (!mapping.groups.empty()) {
            for (const FieldMapping& field : mapping.fields) {
                for (const FieldSource& s : field.sources) {
                    if (s.from == FieldSource::From::column && s.column != kGroupMark) {
                        // Whether there is anything at all: a blank of the source is nothing here.
                        std::vector<std::string> nulls = mapping.nulls;
                        nulls.insert(nulls.end(), s.nulls.begin(), s.nulls.end());
                        part.columns.push_back({s.column, std::move(nulls)});
                    }
                }
            }
            check_groups(part, mapping);
        }
        parts_.push_back(std::move(part));
    }

    /// A group without a column at all is a slip.
    static void check_groups(const LayerPart& part, const SourceMapping& mapping) {
        const LayerSchema& schema = part.source.schema(part.layer);
        for (const std::string& group : part.groups) {
            const bool any = std::any_of(
                part.columns.begin(), part.columns.end(), [&](const PartColumn& column) {
                    return column.name.find(kGroupMark) != std::string::npos &&
                           schema.field_index(group_column(column.name, group));
                });
            if (!any) {
                throw JobError{fmt::format("{}.repeat: \"{}\": layer {} has no column with it",
                                           mapping.path,
                                           group,
                                           part.layer)};
            }
        }
    }

    /// Columns that one of a repeated group's would be with another number: what they hold is not read.
    void note_other_groups(const LayerPart& part, Findings& findings) const {
        std::set<std::string> known(part.groups.begin(), part.groups.end());
        for (const Field& field : part.source.schema(part.layer).fields) {
            for (const PartColumn& column : part.columns) {
                const auto group = group_of(field.name, column.name);
                if (group && known.insert(*group).second) {
                    findings.push_back(
                        make_finding(finding::kGroupNotListed, layer_, -1, field.name, *group));
                }
            }
        }
    }

    InputLayerRef compose() const {
        const LayerPart& first = parts_.front();
        if (parts_.size() == 1 && first.where.empty() && first.groups.empty()) {
            return {first.source, first.layer, has_own_run(first.source), {}};
        }
        for (std::size_t i = 0; i < parts_.size(); ++i) {
            check_condition(i);
        }
        const std::string name{name_of(layer_)};
        return {Source::compose(name, parts_), name, false, {}};
    }

    /// Composing asks it of every row; what is wrong with it is known by then.
    void check_condition(std::size_t i) const {
        if (parts_[i].where.empty()) {
            return;
        }
        try {
            check_row_condition(parts_[i].source, parts_[i].layer, parts_[i].where);
        } catch (const ConditionError& e) {
            throw JobError{sources_[i].path + ".where: " + e.what()};
        }
    }

    const std::vector<SourceMapping>& sources_;
    InputLayer layer_;
    const std::optional<Source>& shared_;
    std::map<std::string, Source> opened_;
    std::vector<LayerPart> parts_;
};

}  // namespace

InputLayerRef open_mapped(const std::vector<SourceMapping>& sources,
                          InputLayer layer,
                          const std::optional<Source>& shared,
                          Findings& findings) {
    return MappedLayer{sources, layer, shared}.open(findings);
}

}  // namespace linewood
