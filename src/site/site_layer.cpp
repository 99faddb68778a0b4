#include "src/site/site_layer.hpp"

#include <algorithm>
#include <cmath>

#include "geo/io/feature_reader.hpp"
#include "src/site/site_places.hpp"
#include "src/site/site_script.hpp"

namespace linewood {
namespace {

const char* geometry_name(GeometryKind kind) {
    switch (kind) {
        case GeometryKind::point:
            return "point";
        case GeometryKind::line:
            return "line";
        case GeometryKind::polygon:
            return "polygon";
        case GeometryKind::none:
        case GeometryKind::mixed:
            break;
    }
    return "mixed";
}

std::vector<ShownColumn> wanted_columns(const LayerSchema& schema,
                                        const std::vector<std::string>& names) {
    std::vector<ShownColumn> columns = declared_columns(schema);
    if (names.empty()) {
        return columns;
    }
    std::vector<ShownColumn> wanted;
    for (const std::string& name : names) {
        if (const auto index = schema.field_index(name)) {
            wanted.push_back(columns[*index]);
            wanted.back().name = name;
        }
    }
    return wanted;
}

/// Twice the area to the left of a ring.
double left_area(const std::vector<Point>& ring) {
    double area = 0.0;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Point a = ring[i];
        const Point b = ring[(i + 1) % ring.size()];
        area += a.x * b.y - b.x * a.y;
    }
    return area;
}

class LayerReading {
public:
    LayerReading(const Source& source, const SiteLayerWish& wish)
        : source_{source},
          schema_{source.schema(wish.layer)},
          columns_{wanted_columns(schema_, wish.columns)},
          places_{schema_.crs_wkt, source.dataset(), wish.layer} {
        layer_.name = wish.name;
        layer_.title = wish.title;
        layer_.visible = wish.visible;
        layer_.geometry = geometry_name(schema_.geometry.kind);
    }

    SiteLayer read(RunMonitor& monitor) {
        layer_.script = "(window.LINEWOOD_LAYERS = window.LINEWOOD_LAYERS || {})[" +
                        script_string(layer_.name) +
                        "] = {\"type\":\"FeatureCollection\",\"features\":[";
        FeatureReader reader{source_, schema_.name, ReadOptions{}};
        FeatureBatch batch;
        while (reader.next(batch)) {
            for (std::size_t row = 0; row < batch.size(); ++row) {
                add(batch, row);
            }
            monitor.advance(static_cast<std::int64_t>(batch.size()));
        }
        layer_.script += "]};\n";
        layer_.columns = std::move(columns_);
        return std::move(layer_);
    }

private:
    void add(const FeatureBatch& batch, std::size_t row) {
        std::string& out = layer_.script;
        out += (layer_.features == 0 ? "\n" : ",\n");
        out += "{\"type\":\"Feature\",\"id\":" + std::to_string(layer_.features++) +
               ",\"properties\":{";
        for (std::size_t c = 0; c < columns_.size(); ++c) {
            out += (c == 0 ? "" : ",") + script_string(columns_[c].name) + ":" +
                   shown_value(batch, row, columns_[c]);
        }
        const std::string geometry = geometry_of(batch, row);
        layer_.without_place += geometry.empty() ? 1U : 0U;
        out += "},\"geometry\":" + (geometry.empty() ? std::string{"null"} : geometry) + "}";
    }

    /// Empty where there is none that can be shown.
    std::string geometry_of(const FeatureBatch& batch, std::size_t row) const {
        if (const auto point = batch.point(row); point.value) {
            const std::string at = positions({*point.value}, false);
            return at.empty()
                       ? at
                       : "{\"type\":\"Point\",\"coordinates\":" + at.substr(1, at.size() - 2) + "}";
        }
        if (const auto path = batch.path(row); path.value) {
            std::string parts;
            for (const std::vector<Point>& part : *path.value) {
                if (!append(parts, positions(part, false))) {
                    return {};
                }
            }
            return parts.empty() ? parts
                                 : "{\"type\":\"MultiLineString\",\"coordinates\":[" + parts + "]}";
        }
        if (const auto area = batch.area(row); area.value) {
            return area_text(*area.value);
        }
        return {};
    }

    std::string area_text(const Polygons& area) const {
        std::string polygons;
        for (const PolygonRings& polygon : area) {
            std::string rings;
            for (const std::vector<Point>& ring : polygon) {
                if (!append(rings, ring_text(ring, rings.empty()))) {
                    return {};
                }
            }
            append(polygons, "[" + rings + "]");
        }
        return polygons.empty() ? polygons
                                : "{\"type\":\"MultiPolygon\",\"coordinates\":[" + polygons + "]}";
    }

    /// Closed, the outer ring with the area to its left, holes to their right.
    std::string ring_text(std::vector<Point> ring, bool outer) const {
        places_.to_wgs84(ring);
        if ((left_area(ring) > 0.0) != outer) {
            std::reverse(ring.begin(), ring.end());
        }
        return written(ring, true);
    }

    std::string positions(std::vector<Point> points, bool closed) const {
        places_.to_wgs84(points);
        return written(points, closed);
    }

    /// Empty where one of them has no place.
    static std::string written(const std::vector<Point>& points, bool closed) {
        std::string out;
        for (std::size_t i = 0; i < points.size() + (closed ? 1U : 0U); ++i) {
            const Point p = points[i % points.size()];
            if (!std::isfinite(p.x) || !std::isfinite(p.y)) {
                return {};
            }
            append(out, "[" + script_degrees(p.x) + "," + script_degrees(p.y) + "]");
        }
        return "[" + out + "]";
    }

    static bool append(std::string& list, const std::string& item) {
        list += (list.empty() || item.empty() ? "" : ",") + item;
        return !item.empty();
    }

    const Source& source_;
    const LayerSchema& schema_;
    std::vector<ShownColumn> columns_;
    SitePlaces places_;
    SiteLayer layer_;
};

}  // namespace

SiteLayer read_site_layer(const Source& source, const SiteLayerWish& wish, RunMonitor& monitor) {
    monitor.stage("read " + wish.name, source.schema(wish.layer).feature_count);
    return LayerReading{source, wish}.read(monitor);
}

}  // namespace linewood
