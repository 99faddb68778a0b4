#include "geo/io/composition.h"

#include <algorithm>

#include "geo/io/data_error.hpp"
#include "geo/io/row_condition.hpp"
#include "geo/io/source_pool.h"

namespace linewood {
namespace {

bool has_mark(std::string_view name) { return name.find(kGroupMark) != std::string_view::npos; }

/// One type that holds the values of both.
FieldType common_type(FieldType a, FieldType b) {
    const auto is_whole = [](FieldType t) {
        return t == FieldType::integer || t == FieldType::integer64;
    };
    if (a == b) {
        return a;
    }
    if (is_whole(a) && is_whole(b)) {
        return FieldType::integer64;
    }
    // An integer of 64 bits has more digits than a real holds.
    const bool numbers = (a == FieldType::integer && b == FieldType::real) ||
                         (a == FieldType::real && b == FieldType::integer);
    return numbers ? FieldType::real : FieldType::text;
}

}  // namespace

std::string composed_name(std::string_view column) {
    const auto mark = column.find(kGroupMark);
    if (mark == std::string_view::npos) {
        return std::string{column};
    }
    std::string before{column.substr(0, mark)};
    std::string_view after = column.substr(mark + kGroupMark.size());
    const auto joint = [](char c) { return c == '_' || c == '-' || c == ' ' || c == '.'; };
    if (before.empty() && !after.empty() && joint(after.front())) {
        after.remove_prefix(1);
    } else if (!before.empty() && joint(before.back()) && (after.empty() || joint(after.front()))) {
        before.pop_back();
    }
    const std::string name = before + std::string{after};
    return name.empty() ? std::string{kGroupColumn} : name;
}

std::string group_column(std::string_view column, std::string_view group) {
    std::string name{column};
    for (auto at = name.find(kGroupMark); at != std::string::npos;
         at = name.find(kGroupMark, at + group.size())) {
        name.replace(at, kGroupMark.size(), group);
    }
    return name;
}

Composition::Composition(std::string name, std::vector<LayerPart> parts)
    : parts_{std::move(parts)} {
    schema_.name = std::move(name);
    schema_.feature_count = 0;
    add_fields();
    for (std::size_t part = 0; part < parts_.size(); ++part) {
        const LayerPart& p = parts_[part];
        const LayerSchema& schema = p.source.schema(p.layer);
        if (p.groups.empty()) {
            take_geometry(schema, part);
        }
        const bool counted = p.groups.empty() && p.where.empty() && schema.feature_count >= 0;
        schema_.feature_count = counted && schema_.feature_count >= 0
                                    ? schema_.feature_count + schema.feature_count
                                    : -1;
        lay_out(part);
        rows_in_.push_back(p.where.empty() ? std::vector<bool>{} : rows_where(part, p.where));
    }
    if (keeps_fids()) {
        schema_.fid_name = parts_.front().source.schema(parts_.front().layer).fid_name;
    }
}

void Composition::add_field(const Field& field) {
    if (const auto known = schema_.field_index(field.name)) {
        Field& old = schema_.fields[*known];
        old.type = common_type(old.type, field.type);
        old.width = old.width == 0 || field.width == 0 || old.type != field.type
                        ? 0
                        : std::max(old.width, field.width);
        old.narrow = old.narrow && field.narrow;
        old.json = old.json && field.json;
        return;
    }
    schema_.fields.push_back(field);
}

void Composition::add_fields() {
    bool groups = false;
    for (const LayerPart& part : parts_) {
        const LayerSchema& schema = part.source.schema(part.layer);
        if (part.groups.empty()) {
            for (const Field& field : schema.fields) {
                add_field(field);
            }
            continue;
        }
        groups = true;
        for (const PartColumn& column : part.columns) {
            for (const std::string& group : part.groups) {
                if (const auto at = schema.field_index(group_column(column.name, group))) {
                    Field field = schema.fields[*at];
                    field.name = has_mark(column.name) ? composed_name(column.name) : field.name;
                    add_field(field);
                }
            }
        }
    }
    if (groups) {
        add_field({.name = std::string{kWideRowColumn},
                   .type = FieldType::integer64,
                   .meaning = "FID of the row this one was made from"});
        add_field({.name = std::string{kGroupColumn},
                   .meaning = "which repeated group of that row this one is"});
    }
}

void Composition::take_geometry(const LayerSchema& schema, std::size_t part) {
    if (!schema.has_geometry()) {
        return;
    }
    GeometryType& all = schema_.geometry;
    if (!schema_.has_geometry()) {
        all = schema.geometry;
        schema_.crs_wkt = schema.crs_wkt;
        schema_.geometry_name = schema.geometry_name;
        return;
    }
    if (schema.crs_wkt != schema_.crs_wkt) {
        throw DataError{
            parts_[part].source.dataset(),
            parts_[part].layer,
            "the sources of one layer must have one coordinate system, and this one has "
            "another than the first; bring it to that of the first"};
    }
    all.kind = all.kind == schema.geometry.kind ? all.kind : GeometryKind::mixed;
    all.multi = all.multi || schema.geometry.multi;
    all.has_z = all.has_z || schema.geometry.has_z;
    all.has_m = all.has_m || schema.geometry.has_m;
}

void Composition::lay_out(std::size_t part) {
    const LayerPart& p = parts_[part];
    const LayerSchema& schema = p.source.schema(p.layer);
    auto layout = std::make_shared<PartLayout>();
    layout->groups = p.groups;
    const std::size_t columns = schema_.fields.size();
    layout->positions.assign(std::max<std::size_t>(p.groups.size(), 1),
                             std::vector<std::size_t>(columns, PartLayout::kAbsent));
    for (const Field& field : schema_.fields) {
        layout->types.push_back(field.type);
    }
    if (p.groups.empty()) {
        for (std::size_t i = 0; i < schema.fields.size(); ++i) {
            layout->positions[0][schema_.field_index(schema.fields[i].name).value_or(0)] = i;
        }
    } else {
        lay_out_groups(part, *layout);
    }
    layout->converted.assign(columns, false);
    for (std::size_t column = 0; column < columns; ++column) {
        for (const auto& of_group : layout->positions) {
            const std::size_t at = of_group[column];
            layout->converted[column] = layout->converted[column] ||
                                        (at < PartLayout::kFirstSpecial &&
                                         schema.fields[at].type != schema_.fields[column].type);
        }
    }
    layouts_.push_back(std::move(layout));
}

void Composition::lay_out_groups(std::size_t part, PartLayout& layout) const {
    const LayerPart& p = parts_[part];
    const LayerSchema& schema = p.source.schema(p.layer);
    layout.telling.resize(p.groups.size());
    for (std::size_t group = 0; group < p.groups.size(); ++group) {
        auto& positions = layout.positions[group];
        for (const PartColumn& column : p.columns) {
            const auto at = schema.field_index(group_column(column.name, p.groups[group]));
            if (!at) {
                continue;
            }
            const std::string name =
                has_mark(column.name) ? composed_name(column.name) : schema.fields[*at].name;
            positions[schema_.field_index(name).value_or(0)] = *at;
            if (has_mark(column.name)) {
                layout.telling[group].push_back({*at, column.nulls});
            }
        }
        positions[schema_.field_index(kWideRowColumn).value_or(0)] = PartLayout::kWideFid;
        positions[schema_.field_index(kGroupColumn).value_or(0)] = PartLayout::kGroup;
    }
}

std::vector<bool> Composition::rows_where(std::size_t part, const std::string& condition) const {
    return linewood::rows_where(parts_[part].source, parts_[part].layer, condition);
}

std::vector<bool> Composition::rows_where(const std::string& condition) const {
    std::vector<bool> all;
    for (std::size_t part = 0; part < parts_.size(); ++part) {
        if (!parts_[part].groups.empty()) {
            throw ConditionError{
                "a condition cannot be asked of rows made from repeated columns; put it into the "
                "job file, as \"where\" of their source"};
        }
        const std::vector<bool> holds = rows_where(part, condition);
        for (std::size_t row = 0; row < holds.size(); ++row) {
            if (rows_in_[part].empty() || (row < rows_in_[part].size() && rows_in_[part][row])) {
                all.push_back(holds[row]);
            }
        }
    }
    return all;
}

}  // namespace linewood
