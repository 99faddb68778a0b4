#include "src/pipeline/layer_columns.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "geo/io/composed_layer.hpp"
#include "geo/io/short_names.hpp"
#include "src/job/contract_fields.hpp"
#include "src/job/job_error.hpp"
#include "src/job/nearest_word.hpp"

namespace linewood {
namespace {

bool has_mark(const std::string& column) { return column.find(kGroupMark) != std::string::npos; }

/// Also in a column of numbers a text may stand, such as a word for none.
bool is_plain(const FieldSource& s) {
    return s.codes.empty() && !s.has_others && s.nulls.empty() && s.date_pattern.empty() &&
           !s.decimal_comma;
}

[[noreturn]] void throw_missing(const FieldSource& source,
                                const std::string& column,
                                const LayerSchema& part) {
    std::vector<std::string_view> names;
    for (const Field& field : part.fields) {
        names.push_back(field.name);
    }
    throw JobError{fmt::format("{}: layer {} has no column \"{}\"{}; it has \"{}\"",
                               source.path,
                               part.name,
                               column,
                               did_you_mean(column, names),
                               fmt::join(names, "\", \""))};
}

/// The name a mapped column has in the layer as it is read; nothing where it is not there.
std::optional<std::string> name_in_layer(const FieldSource& source,
                                         const SourceMapping& mapping,
                                         const LayerSchema& part) {
    if (mapping.by_own_names) {
        const auto at = contract_column(part, source.column);
        return at ? std::optional{part.fields[*at].name} : std::nullopt;
    }
    if (mapping.groups.empty() || !has_mark(source.column)) {
        const auto at = part.field_index(source.column);
        if (!at) {
            throw_missing(source, source.column, part);
        }
        return part.fields[*at].name;
    }
    if (source.column == kGroupMark) {
        return std::string{kGroupColumn};
    }
    const bool any =
        std::any_of(mapping.groups.begin(), mapping.groups.end(), [&](const std::string& group) {
            return part.field_index(group_column(source.column, group)).has_value();
        });
    if (!any) {
        throw_missing(source, group_column(source.column, mapping.groups.front()), part);
    }
    return composed_name(source.column);
}

}  // namespace

std::optional<std::size_t> contract_column(const LayerSchema& schema, std::string_view name) {
    constexpr std::size_t kShapefileName = 10;
    auto at = schema.field_index(name);
    if (!at && !own_short_name(name).empty()) {
        at = schema.field_index(own_short_name(name));
    }
    if (!at && name.size() > kShapefileName) {
        at = schema.field_index(name.substr(0, kShapefileName));
    }
    return at;
}

LayerColumns::LayerColumns(InputLayer layer,
                           std::vector<SourceMapping> sources,
                           std::span<const LayerSchema* const> parts,
                           const LayerSchema& schema)
    : layer_{layer}, mappings_{std::move(sources)} {
    const std::size_t slots = input_fields(layer).size();
    for (std::size_t part = 0; part < mappings_.size(); ++part) {
        Part resolved;
        resolved.fields.resize(slots);
        for (const FieldMapping& field : mappings_[part].fields) {
            resolve(field, mappings_[part], *parts[part], schema, resolved);
        }
        parts_.push_back(std::move(resolved));
    }
}

void LayerColumns::resolve(const FieldMapping& mapping,
                           const SourceMapping& source,
                           const LayerSchema& part,
                           const LayerSchema& schema,
                           Part& to) const {
    const auto fields = input_fields(layer_);
    const auto* const field = contract_field(layer_, mapping.field);
    auto& sources = to.fields[static_cast<std::size_t>(field - fields.data())];
    for (const FieldSource& rule : mapping.sources) {
        ColumnSource resolved{&rule, 0, false};
        if (rule.from == FieldSource::From::column) {
            const auto name = name_in_layer(rule, source, part);
            const auto at = name ? schema.field_index(*name) : std::nullopt;
            if (!at) {
                continue;
            }
            resolved.column = *at;
            resolved.plain = is_plain(rule);
        }
        sources.push_back(resolved);
    }
}

std::optional<std::size_t> LayerColumns::slot(std::string_view name) const {
    const auto fields = input_fields(layer_);
    const auto* const field = contract_field(layer_, name);
    if (field == nullptr) {
        return std::nullopt;
    }
    const auto slot = static_cast<std::size_t>(field - fields.data());
    const bool mapped = std::any_of(
        parts_.begin(), parts_.end(), [&](const Part& part) { return !part.fields[slot].empty(); });
    return mapped ? std::optional{slot} : std::nullopt;
}

std::vector<std::size_t> LayerColumns::columns(std::size_t slot) const {
    std::vector<std::size_t> columns;
    for (const Part& part : parts_) {
        for (const ColumnSource& source : part.fields[slot]) {
            if (source.rule->from == FieldSource::From::column) {
                columns.push_back(source.column);
            }
        }
    }
    return columns;
}

void LayerColumns::describe(std::vector<Field>& fields) const {
    const auto known = input_fields(layer_);
    for (const Part& part : parts_) {
        for (std::size_t slot = 0; slot < part.fields.size(); ++slot) {
            for (const ColumnSource& source : part.fields[slot]) {
                if (source.rule->from != FieldSource::From::column) {
                    continue;
                }
                Field& field = fields[source.column];
                if (!field.unit.empty() || !field.meaning.empty()) {
                    continue;
                }
                field.unit = is_dimension(known[slot].quantity) ? source.rule->unit
                                                                : std::string{known[slot].unit};
                field.meaning =
                    (source.rule->measure.empty() ? "" : source.rule->measure + " for: ") +
                    std::string{known[slot].meaning};
            }
        }
    }
}

std::vector<std::string> LayerColumns::unread_names(
    std::span<const LayerSchema* const> parts) const {
    std::vector<std::string> names;
    for (std::size_t i = 0; i < mappings_.size(); ++i) {
        const auto is_read = [&](const std::string& column) {
            return std::any_of(
                mappings_[i].fields.begin(), mappings_[i].fields.end(), [&](const FieldMapping& m) {
                    return std::any_of(
                        m.sources.begin(), m.sources.end(), [&](const FieldSource& s) {
                            return same_name(s.column, column);
                        });
                });
        };
        for (const ContractField& field : input_fields(layer_)) {
            const auto at = parts[i]->field_index(field.name);
            if (strict(i) && at && mappings_[i].groups.empty() &&
                !is_read(parts[i]->fields[*at].name)) {
                names.push_back(parts[i]->fields[*at].name);
            }
        }
    }
    return names;
}

}  // namespace linewood
