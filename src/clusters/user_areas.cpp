#include "src/clusters/user_areas.hpp"

#include <filesystem>

#include "geo/io/data_error.hpp"
#include "geo/io/feature_reader.hpp"
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

}  // namespace

UserAreas read_user_areas(const AssessedData& data, const ClusterJob& job) {
    const AreasLayer from = open_areas(job.areas);
    const LayerSchema& schema = from.source.schema(from.layer);
    const auto name = name_column(schema, job);
    UserAreas out;
    out.polygons =
        std::make_unique<UserPolygons>(data, schema, job.plane_metres_per_unit.value_or(1.0));
    FeatureReader reader{from.source, from.layer};
    FeatureBatch batch;
    while (reader.next(batch)) {
        for (std::size_t row = 0; row < batch.size(); ++row) {
            std::string text = name ? batch.text(row, *name) : std::string{};
            if (text.empty()) {
                text = std::to_string(batch.fid(row));
            }
            const auto area = batch.area(row);
            if (!area.value || area.value->empty()) {
                out.polygons->note_missing(text);
                continue;
            }
            out.polygons->add(*area.value, text);
            out.names.push_back(std::move(text));
        }
    }
    if (out.names.empty()) {
        throw DataError{job.areas, from.layer, "has no polygons; name a layer that has"};
    }
    out.polygons->complete();
    return out;
}

}  // namespace linewood
