#include "src/pipeline/column_profile.hpp"

#include <algorithm>

#include "geo/io/feature_reader.hpp"
#include "geo/io/value_text.hpp"
#include "src/pipeline/row_decoder.hpp"

namespace linewood {
namespace {

void take_number(ColumnProfile& column, double value, std::int64_t row) {
    ++column.numbers;
    column.least = std::min(column.least.value_or(value), value);
    column.most = std::max(column.most.value_or(value), value);
    if (column.sample.size() < ColumnProfile::kMostNumbers) {
        column.sample.push_back(value);
    } else if (row % 16 == 0) {
        column.sample[static_cast<std::size_t>(row / 16) % ColumnProfile::kMostNumbers] = value;
    }
}

void take_value(ColumnProfile& column, const FeatureBatch& batch, std::size_t row, std::size_t at) {
    const std::string stored = batch.text(row, at);
    const std::string_view text = trimmed(stored);
    if (batch.is_null(row, at) || text.empty()) {
        return;
    }
    ++column.filled;
    const bool dated =
        column.field.type == FieldType::date || column.field.type == FieldType::datetime;
    if (!dated) {
        const auto number = batch.number(row, at);
        if (number.value) {
            take_number(column, *number.value, batch.first_row() + static_cast<std::int64_t>(row));
        }
        if (text.size() > 1 && text[0] == '0' && text[1] >= '0' && text[1] <= '9') {
            ++column.leading_zeros;
        }
    }
    if (dated || column.field.type == FieldType::text) {
        if (const auto day = batch.date(row, at); day.value) {
            ++column.days;
            const std::string shown = day.value->to_string();
            column.first_day = column.first_day.empty() ? shown : std::min(column.first_day, shown);
            column.last_day = std::max(column.last_day, shown);
        }
    }
    const auto known = column.values.find(std::string{text});
    if (known != column.values.end()) {
        ++known->second;
    } else if (column.values.size() < ColumnProfile::kMostValues) {
        column.values.emplace(text, 1);
    } else {
        column.many = true;
    }
}

void widen(LayerProfile& layer, Point p) {
    if (!layer.extent) {
        layer.extent = LayerProfile::Extent{p.x, p.y, p.x, p.y};
        return;
    }
    layer.extent->west = std::min(layer.extent->west, p.x);
    layer.extent->east = std::max(layer.extent->east, p.x);
    layer.extent->south = std::min(layer.extent->south, p.y);
    layer.extent->north = std::max(layer.extent->north, p.y);
}

void take_shape(LayerProfile& layer, const FeatureBatch& batch, std::size_t row) {
    if (!batch.has_geometry(row)) {
        return;
    }
    ++layer.with_geometry;
    if (const auto point = batch.point(row); point.value) {
        ++layer.points;
        widen(layer, *point.value);
    } else if (const auto path = batch.path(row); path.value) {
        ++layer.lines;
        for (const auto& part : *path.value) {
            for (const Point p : part) {
                widen(layer, p);
            }
        }
    }
}

}  // namespace

double ColumnProfile::median() const {
    std::vector<double> sorted = sample;
    const auto middle = sorted.begin() + static_cast<std::ptrdiff_t>(sorted.size() / 2);
    std::nth_element(sorted.begin(), middle, sorted.end());
    return *middle;
}

LayerProfile profile_layer(const Source& source, const std::string& layer) {
    const LayerSchema& schema = source.schema(layer);
    LayerProfile profile;
    profile.dataset = source.dataset();
    profile.layer = schema.name;
    profile.geometry = schema.geometry.kind;
    profile.crs = crs_name(schema.crs_wkt);
    for (const Field& field : schema.fields) {
        ColumnProfile column;
        column.field = field;
        profile.columns.push_back(std::move(column));
    }
    FeatureReader reader{source, layer};
    FeatureBatch batch;
    while (reader.next(batch)) {
        for (std::size_t row = 0; row < batch.size(); ++row) {
            for (std::size_t at = 0; at < profile.columns.size(); ++at) {
                take_value(profile.columns[at], batch, row, at);
            }
            take_shape(profile, batch, row);
        }
    }
    profile.rows = reader.rows_read();
    if (profile.geometry == GeometryKind::mixed && profile.with_geometry > 0) {
        const bool points = profile.points == profile.with_geometry;
        const bool lines = profile.lines == profile.with_geometry;
        profile.geometry = points  ? GeometryKind::point
                           : lines ? GeometryKind::line
                                   : GeometryKind::mixed;
    }
    return profile;
}

std::string crs_name(const std::string& wkt) {
    const auto open = wkt.find('"');
    const auto close = open == std::string::npos ? open : wkt.find('"', open + 1);
    return close == std::string::npos ? std::string{} : wkt.substr(open + 1, close - open - 1);
}

std::string_view name_of(GeometryKind kind) {
    switch (kind) {
        case GeometryKind::none:
            return "no geometry";
        case GeometryKind::point:
            return "points";
        case GeometryKind::line:
            return "lines";
        case GeometryKind::polygon:
            return "polygons";
        case GeometryKind::mixed:
            return "mixed geometry";
    }
    return "";
}

}  // namespace linewood
