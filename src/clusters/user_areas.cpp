#include "src/clusters/user_areas.hpp"

#include <array>
#include <cmath>
#include <filesystem>

#include "geo/io/data_error.hpp"
#include "geo/io/feature_reader.hpp"
#include "geo/shape/outline.hpp"
#include "src/job/job_error.hpp"
#include "src/job/nearest_word.hpp"

namespace linewood {
namespace {

bool exists(const std::string& path) {
    std::error_code ignored;
    return std::filesystem::exists(path, ignored);
}

struct AreasLayer {
    Source source;
    std::string layer;
};

/// `DATASET[:LAYER]`; without a layer the only one.
AreasLayer open_areas(const std::string& typed) {
    std::string dataset = typed;
    std::string layer;
    const auto colon = typed.rfind(':');
    if (colon != std::string::npos && !exists(typed) && exists(typed.substr(0, colon))) {
        dataset = typed.substr(0, colon);
        layer = typed.substr(colon + 1);
    }
    AreasLayer out{Source::open(dataset), layer};
    if (layer.empty()) {
        const auto& names = out.source.layer_names();
        if (names.size() != 1) {
            std::string list;
            for (const std::string& name : names) {
                list += (list.empty() ? "" : ", ") + name;
            }
            throw JobError{"--areas " + typed + " has several layers (" + list +
                           "); name one: " + typed + ":LAYER"};
        }
        out.layer = names.front();
    }
    return out;
}

std::optional<std::size_t> name_column(const LayerSchema& schema, const ClusterJob& job) {
    if (!job.areas_name.empty()) {
        const auto index = schema.field_index(job.areas_name);
        if (!index) {
            std::vector<std::string_view> names;
            for (const Field& f : schema.fields) {
                names.emplace_back(f.name);
            }
            throw JobError{"--areas-name " + job.areas_name + ": the layer has no such column" +
                           did_you_mean(job.areas_name, names)};
        }
        return index;
    }
    if (const auto index = schema.field_index("name")) {
        return index;
    }
    for (std::size_t i = 0; i < schema.fields.size(); ++i) {
        if (schema.fields[i].type == FieldType::text) {
            return i;
        }
    }
    return std::nullopt;
}

/// Every point by `move`; false where one has no place any more.
template <typename Move>
bool move_points(Polygons& area, const Move& move) {
    bool all = true;
    for (PolygonRings& rings : area) {
        for (auto& ring : rings) {
            move(ring);
            for (const Point p : ring) {
                all = all && std::isfinite(p.x) && std::isfinite(p.y);
            }
        }
    }
    return all;
}

}  // namespace

UserAreas read_user_areas(const AssessedData& data, const ClusterJob& job) {
    const AreasLayer from = open_areas(job.areas);
    const LayerSchema& schema = from.source.schema(from.layer);
    const auto name = name_column(schema, job);
    Findings ignored;  // about coordinate systems: those of the poles were told before
    UserAreas out;
    out.ground = std::make_unique<GroundFrame>(
        data.poles_crs_wkt, &schema.crs_wkt, job.plane_metres_per_unit.value_or(1.0), ignored);
    FeatureReader reader{from.source, from.layer};
    FeatureBatch batch;
    while (reader.next(batch)) {
        for (std::size_t row = 0; row < batch.size(); ++row) {
            auto area = batch.area(row);
            if (!area.value ||
                !move_points(*area.value, [&](auto& ring) { out.ground->spans_to_ground(ring); })) {
                continue;
            }
            bool was_valid = true;
            Polygons on_ground = made_valid(*area.value, was_valid);
            out.mended += was_valid ? 0 : 1;
            Polygons outline = on_ground;
            if (!move_points(outline, [&](auto& ring) { data.frame->from_ground(ring); })) {
                continue;
            }
            std::string text = name ? batch.text(row, *name) : std::string{};
            out.names.push_back(text.empty() ? std::to_string(batch.fid(row)) : std::move(text));
            out.on_ground.push_back(std::move(on_ground));
            out.outlines.push_back(std::move(outline));
        }
    }
    if (out.names.empty()) {
        throw DataError{job.areas, from.layer, "has no polygons; name a layer that has"};
    }
    return out;
}

UserAreaLookup::UserAreaLookup(const AssessedData& data, const UserAreas& areas)
    : data_{data}, areas_{areas}, lookup_{areas.on_ground} {}

std::vector<std::uint32_t> UserAreaLookup::areas_of(std::uint32_t pole) const {
    const auto at = data_.layer_point(pole);
    if (!at) {
        return {};
    }
    std::array<Point, 1> point{*at};
    areas_.ground->poles_to_ground(point);
    return lookup_.areas_at(point[0]);
}

}  // namespace linewood
