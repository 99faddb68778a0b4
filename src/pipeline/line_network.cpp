#include "src/pipeline/line_network.hpp"

#include <algorithm>
#include <initializer_list>

#include "geo/io/data_error.hpp"
#include "src/pipeline/coordinate_step.hpp"
#include "src/pipeline/line_rows.hpp"
#include "src/pipeline/made_poles.hpp"
#include "src/pipeline/span_reader.hpp"

namespace linewood {
namespace {

/// Names the layer that has such a system.
[[noreturn]] void refuse_geocentric(const InputLayers& inputs, const std::string& why) {
    for (const InputLayer layer : {InputLayer::poles, InputLayer::spans}) {
        const auto& input = inputs[layer];
        try {
            LayerCrs::from_wkt(input ? input->schema().crs_wkt : std::string{});
        } catch (const GeocentricCrs&) {
            throw DataError{input->source.dataset(), input->layer, why};
        } catch (const CrsError&) {  // another doubt, told elsewhere
        }
    }
    throw DataError{"", "", why};
}

bool has_column(const LayerSchema& schema, std::initializer_list<std::string_view> names) {
    return std::any_of(names.begin(), names.end(), [&](std::string_view name) {
        return schema.field_index(name).has_value();
    });
}

/// Of places from columns that say that they are degrees, which on a plane would all be within some metres.
/// @throws DataError where nothing says of which system.
void refuse_degrees_of_no_system(const InputLayers& inputs) {
    const auto& poles = inputs[InputLayer::poles];
    const auto& spans = inputs[InputLayer::spans];
    if (!poles || !poles->schema().crs_wkt.empty() || (spans && !spans->schema().crs_wkt.empty())) {
        return;
    }
    const LayerSchema& schema = poles->schema();
    const auto files = poles->source.files(poles->layer);
    const std::string kind = files.empty() ? "" : files.front().extension().string();
    const bool is_table = kind == ".csv" || kind == ".xlsx" || kind == ".ods" || kind == ".xls";
    if (is_table && schema.has_geometry() && has_column(schema, {"lon", "longitude"}) &&
        has_column(schema, {"lat", "latitude"}) && !has_column(schema, {"x", "easting"})) {
        throw DataError{poles->source.dataset(),
                        poles->layer,
                        "its coordinates are longitude and latitude, and nothing says in which "
                        "system; put a .prj with the system beside the file (WGS 84: gdalsrsinfo "
                        "-o wkt1 EPSG:4326 > NAME.prj)"};
    }
}

}  // namespace

GroundFrame open_frame(const InputLayers& inputs, const NetworkJob& job, Findings& findings) {
    const auto& spans = inputs[InputLayer::spans];
    const std::string* spans_wkt = spans ? &spans->schema().crs_wkt : nullptr;
    const auto& poles = inputs[InputLayer::poles];
    refuse_degrees_of_no_system(inputs);
    try {
        return {poles ? poles->schema().crs_wkt : *spans_wkt,
                spans_wkt,
                job.plane_metres_per_unit,
                findings};
    } catch (const GeocentricCrs& unusable) {
        refuse_geocentric(inputs, unusable.what());
    }
}

LineNetwork read_line_network(const InputLayers& inputs,
                              const NetworkJob& job,
                              const WoodTables* tables,
                              const GroundFrame& frame,
                              Findings& findings,
                              RunMonitor& monitor) {
    const auto& layer = inputs[InputLayer::poles];
    NetworkSettings settings = job.network;
    const LineRows lines{inputs, job.line_where, findings};
    monitor.stage(layer ? "read poles" : "make poles", -1);
    std::vector<Point> on_ground;
    PoleStore poles =
        layer ? read_poles(*layer, tables, frame, on_ground, findings)
              : make_poles(
                    *inputs[InputLayer::spans], lines, frame, settings.snap_tolerance, findings);
    monitor.stage("join spans", -1);
    if (!layer) {
        on_ground = poles.places;
        frame.poles_to_ground(on_ground);
    }
    settings.coordinate_step = coordinate_step(poles.places, frame);
    SpanNetwork spans = read_network(inputs, poles, on_ground, {frame, lines, settings}, findings);
    note_given_off(spans.network, poles, settings.given_axis_limit, findings);
    return {std::move(poles), std::move(spans.network), spans.greatest_fid};
}

}  // namespace linewood
