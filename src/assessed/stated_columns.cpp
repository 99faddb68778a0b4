#include "src/assessed/stated_columns.hpp"

#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "src/job/job_error.hpp"
#include "src/job/stated_mapping.hpp"
#include "src/pipeline/input_layers.hpp"
#include "src/pipeline/row_decoder.hpp"

namespace linewood {
namespace {

/// The column that an input column of that name was carried to.
std::optional<std::string> carried_column(const LayerSchema& schema,
                                          InputLayer layer,
                                          const std::string& name) {
    const auto own = own_columns(layer);
    const bool taken =
        std::any_of(own.begin(), own.end(), [&](std::string_view o) { return same_name(o, name); });
    auto at = contract_column(schema, "in_" + name);
    if (!taken && (!at || !(same_name(name, "fid") || same_name(name, "geom")))) {
        at = contract_column(schema, name);
    }
    return at ? std::optional{schema.fields[*at].name} : std::nullopt;
}

class Resolver {
public:
    Resolver(const Source& source,
             const AssessedRun& run,
             InputLayer layer,
             const LayerSchema& schema)
        : source_{source},
          run_{run},
          layer_{layer},
          statements_{run.mappings[static_cast<std::size_t>(layer)]},
          schema_{schema} {
        for (const std::string& json : statements_) {
            try {
                parts_.push_back(read_stated_mapping(json, layer));
            } catch (const JobError&) {
                refuse("its layer run says in no readable way what its columns were read from");
            }
        }
    }

    SourceMapping resolve(std::span<const std::string_view> fields,
                          std::vector<std::string_view>& several) {
        SourceMapping mapping;
        mapping.path = "run, input_mapping";
        for (const std::string_view field : fields) {
            FieldMapping m{std::string{field}, {}};
            bool differ = false;
            const FieldMapping* first = nullptr;
            for (const SourceMapping& part : parts_) {
                const FieldMapping* const of_part = find(part, field);
                if (of_part == nullptr) {
                    continue;
                }
                differ = differ || (first != nullptr && !same(*first, *of_part));
                first = first == nullptr ? of_part : first;
                add(*of_part, m);
            }
            if (m.sources.empty()) {
                continue;
            }
            differ = differ || count(field) != parts_.size();
            if (differ) {
                must_be_columns(m);
                several.push_back(field);
            }
            for (FieldSource& s : m.sources) {
                find_column(m.field, s);
            }
            mapping.fields.push_back(std::move(m));
        }
        return mapping;
    }

private:
    [[noreturn]] void refuse(const std::string& why) const {
        throw JobError{
            fmt::format("{}: {}; assess the input again with this version, or with a job file "
                        "whose source has a "
                        "column of its own for it, and give this command what that writes",
                        source_.dataset(),
                        why)};
    }

    static const FieldMapping* find(const SourceMapping& part, std::string_view field) {
        const auto at = std::find_if(part.fields.begin(), part.fields.end(), [&](const auto& m) {
            return m.field == field;
        });
        return at == part.fields.end() ? nullptr : &*at;
    }
    std::size_t count(std::string_view field) const {
        return static_cast<std::size_t>(
            std::count_if(parts_.begin(), parts_.end(), [&](const SourceMapping& part) {
                return find(part, field) != nullptr;
            }));
    }
    static bool same(const FieldMapping& a, const FieldMapping& b) {
        return std::equal(
            a.sources.begin(), a.sources.end(), b.sources.begin(), b.sources.end(), same_reading);
    }

    static void add(const FieldMapping& from, FieldMapping& to) {
        for (const FieldSource& s : from.sources) {
            const bool known = std::any_of(to.sources.begin(),
                                           to.sources.end(),
                                           [&](const auto& t) { return same_reading(s, t); });
            if (!known) {
                to.sources.push_back(s);
            }
        }
    }

    /// Of rows of several sources only columns tell which rule is theirs.
    void must_be_columns(const FieldMapping& m) const {
        for (std::size_t i = 0; i < m.sources.size(); ++i) {
            const FieldSource& s = m.sources[i];
            const bool twice =
                std::any_of(m.sources.begin(),
                            m.sources.begin() + static_cast<std::ptrdiff_t>(i),
                            [&](const auto& t) { return same_name(t.column, s.column); });
            if (s.from != FieldSource::From::column || twice) {
                refuse(fmt::format(
                    "the job file of the assessment read {} of its several sources of {} in "
                    "different ways, and the rows do not tell which source they are from",
                    m.field,
                    name_of(layer_)));
            }
        }
    }

    void find_column(const std::string& field, FieldSource& s) const {
        s.path = "run, input_mapping." + field;
        if (s.from == FieldSource::From::feature_id) {
            if (!run_.fids_kept[static_cast<std::size_t>(layer_)] || source_.driver() != "GPKG") {
                refuse(fmt::format(
                    "the job file of the assessment took {} from the feature ids of {}, which this "
                    "dataset has not kept",
                    field,
                    name_of(layer_)));
            }
            return;
        }
        if (s.from != FieldSource::From::column) {
            return;
        }
        const auto name = carried_column(schema_, layer_, s.column);
        if (!name) {
            refuse(fmt::format(
                "the job file of the assessment took {} from the column {}, which layer {} has not",
                field,
                s.column,
                schema_.name));
        }
        s.column = *name;
    }

    const Source& source_;
    const AssessedRun& run_;
    InputLayer layer_;
    const std::vector<std::string>& statements_;
    const LayerSchema& schema_;
    std::vector<SourceMapping> parts_;
};

}  // namespace

StatedColumns::StatedColumns(const Source& source,
                             const AssessedRun& run,
                             InputLayer layer,
                             const LayerSchema& schema,
                             std::span<const std::string_view> fields)
    : dataset_{source.dataset()}, layer_{schema.name} {
    const auto which = static_cast<std::size_t>(layer);
    if (run.mappings[which].empty()) {
        if (run.mapped[which]) {
            throw JobError{fmt::format(
                "{}: an earlier version assessed it by a job file and does not say all of how the "
                "columns of {} were read; assess the input again: linewood assess --job JOB.json "
                "--out OUT.gpkg",
                source.dataset(),
                name_of(layer))};
        }
        return;
    }
    std::vector<std::string_view> several;
    std::vector<SourceMapping> mappings{
        Resolver{source, run, layer, schema}.resolve(fields, several)};
    const std::array parts{&schema};
    columns_ = std::make_unique<const LayerColumns>(layer, std::move(mappings), parts, schema);
    for (const std::string_view field : several) {
        either_or_.push_back({field, columns_->columns(*columns_->slot(field))});
    }
}

void StatedColumns::refuse_ambiguous(const FeatureBatch& batch, std::size_t row) const {
    for (const EitherOr& e : either_or_) {
        const auto filled =
            std::count_if(e.columns.begin(), e.columns.end(), [&](std::size_t column) {
                return !batch.is_null(row, column) && !trimmed(batch.text(row, column)).empty();
            });
        if (filled > 1) {
            throw JobError{fmt::format(
                "{}: layer {}, feature {}: the job file of the assessment read {} from different "
                "columns of its sources, and this row holds more than one of them; map one column "
                "of the same name in all sources, and assess again",
                dataset_,
                layer_,
                batch.fid(row),
                e.field)};
        }
    }
}

}  // namespace linewood
