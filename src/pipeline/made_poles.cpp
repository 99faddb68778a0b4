#include "src/pipeline/made_poles.hpp"

#include "geo/io/feature_reader.hpp"
#include "geo/network/end_poles.hpp"
#include "src/pipeline/input_findings.hpp"
#include "src/pipeline/row_decoder.hpp"

namespace linewood {
namespace {

/// Adds both ends of every part of a line.
void add_ends(const FeatureBatch& batch,
              std::size_t row,
              const GroundFrame& frame,
              EndPoles& ends) {
    const auto path = batch.path(row);
    if (!path.value) {
        return;
    }
    for (const auto& part : *path.value) {
        if (part.empty()) {
            continue;
        }
        for (const Point in_layer : {part.front(), part.back()}) {
            Point on_ground = in_layer;
            frame.spans_to_ground({&on_ground, 1});
            ends.add({in_layer, on_ground});
        }
    }
}

}  // namespace

PoleStore make_poles(const InputLayerRef& spans,
                     const LineRows& lines,
                     const GroundFrame& frame,
                     Length snap_tolerance,
                     Findings& findings) {
    Findings told_later;  // when the spans are read as such
    RowDecoder decoder{spans.schema(), InputLayer::spans, told_later, {}, spans.columns.get()};
    const Column kind = decoder.column("kind");
    ReadOptions options;
    options.columns = decoder.used();
    FeatureReader reader{spans.source, spans.layer, options};
    EndPoles ends{frame.ground()};
    FeatureBatch batch;
    while (reader.next(batch)) {
        for (std::size_t row = 0; row < batch.size(); ++row) {
            decoder.start(batch, row);
            const std::string form = code_form(decoder.text(kind));
            const std::int64_t feature = batch.first_row() + static_cast<std::int64_t>(row);
            if (form != "service" && form != "guy" && lines.is_line(feature)) {
                add_ends(batch, row, frame, ends);
            }
        }
    }
    PoleStore store;
    store.places = ends.finish(snap_tolerance);
    store.poles.resize(store.places.size());
    store.duplicate.assign(store.places.size(), false);
    for (std::size_t i = 0; i < store.places.size(); ++i) {
        store.ids.add("E" + std::to_string(i + 1));
    }
    findings.push_back(make_finding(
        finding::kPolesMade, InputLayer::poles, -1, "", std::to_string(store.places.size())));
    return store;
}

}  // namespace linewood
