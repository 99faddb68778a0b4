#include "src/pipeline/line_network.hpp"

#include "src/pipeline/coordinate_step.hpp"
#include "src/pipeline/line_rows.hpp"
#include "src/pipeline/made_poles.hpp"
#include "src/pipeline/span_reader.hpp"

namespace linewood {

GroundFrame open_frame(const InputLayers& inputs, const NetworkJob& job, Findings& findings) {
    const auto& spans = inputs[InputLayer::spans];
    const std::string* spans_wkt = spans ? &spans->schema().crs_wkt : nullptr;
    const auto& poles = inputs[InputLayer::poles];
    return {poles ? poles->schema().crs_wkt : *spans_wkt,
            spans_wkt,
            job.plane_metres_per_unit,
            findings};
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
    return {std::move(poles), std::move(spans.network), spans.greatest_fid};
}

}  // namespace linewood
