#include "src/pipeline/span_writer.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "geo/io/data_error.hpp"
#include "geo/io/feature_reader.hpp"
#include "src/pipeline/pole_rows.hpp"
#include "src/pipeline/row_decoder.hpp"

namespace linewood {
namespace {

using SpanCells = std::array<Cell, 5>;

class SpanWriting {
public:
    SpanWriting(const InputLayerRef& layer,
                const RunData& data,
                const GroundFrame& frame,
                LayerWriter& out,
                FindingLog& log)
        : data_{data},
          frame_{frame},
          out_{out},
          log_{log},
          span_id_{layer.schema().field_index("span_id")},
          path_ground_{frame.spans_path_ground()} {
        data.network.each_finding([&](Finding&& f) { findings_.push_back(std::move(f)); });
    }

    void take(const FeatureBatch& batch, std::size_t row) {
        const std::int64_t feature = batch.first_row() + static_cast<std::int64_t>(row);
        write_findings(batch, row, feature);
        const auto spans = data_.network.spans();
        if (next_ >= spans.size() || spans[next_].row != feature) {
            throw DataError{"", "spans", "the layer changed while it was read; run again"};
        }
        LineParts parts;
        for (; next_ < spans.size() && spans[next_].row == feature; ++next_) {
            const ResolvedSpan& span = spans[next_];
            const SpanCells cells = cells_of(span);
            if (span.path == ResolvedSpan::kWholeFeature) {
                out_.append(batch, row, cells);
                continue;
            }
            if (parts.empty()) {
                parts = batch.path(row).value.value_or(LineParts{});
            }
            const std::vector<std::span<const Point>> views(parts.begin(), parts.end());
            out_.append_along(batch,
                              row,
                              cells,
                              {cut_path(views, data_.network.cuts()[span.path], path_ground_)});
        }
    }

    /// Findings about the network as a whole come before those of any feature.
    void write_findings(const FeatureBatch& batch, std::size_t row, std::int64_t feature) {
        for (; next_finding_ < findings_.size() && findings_[next_finding_].row <= feature;
             ++next_finding_) {
            Finding& f = findings_[next_finding_];
            if (f.row == feature) {
                f.feature = name_of(batch, row);
            }
            if (f.place) {
                const Point at = frame_.to_poles_layer({f.place->x, f.place->y});
                f.place = Place{at.x, at.y};
                if (!std::isfinite(at.x) || !std::isfinite(at.y)) {
                    f.place.reset();
                }
            }
            log_.write(f);
        }
    }

private:
    std::string name_of(const FeatureBatch& batch, std::size_t row) const {
        std::string id;
        if (span_id_) {
            id = trimmed(batch.text(row, *span_id_));
        }
        return id.empty() ? std::to_string(batch.fid(row)) : id;
    }

    SpanCells cells_of(const ResolvedSpan& span) const {
        SpanCells c;
        std::optional<Verdict> worst;
        std::size_t column = 0;
        for (const std::uint32_t pole : {span.from, span.to}) {
            if (pole != kNone) {
                c[column] = text_cell(data_.poles.ids.id(pole));
                worst = std::min(data_.verdicts[pole], worst.value_or(data_.verdicts[pole]));
            }
            ++column;
        }
        c[2] = cell_of(span.azimuth);
        c[3] = std::isfinite(span.length_m) ? Cell{rounded(span.length_m)} : Cell{};
        c[4] = worst ? text_cell(linewood::name_of(*worst)) : Cell{};
        return c;
    }

    const RunData& data_;
    const GroundFrame& frame_;
    LayerWriter& out_;
    FindingLog& log_;
    std::optional<std::size_t> span_id_;
    Ground path_ground_;
    Findings findings_;
    std::size_t next_ = 0;
    std::size_t next_finding_ = 0;
};

}  // namespace

void write_spans(const std::optional<InputLayerRef>& layer,
                 const RunData& data,
                 const GroundFrame& frame,
                 LayerWriter& out,
                 FindingLog& findings,
                 RunMonitor& monitor) {
    if (!layer) {
        return;
    }
    monitor.stage("write spans", layer->schema().feature_count);
    SpanWriting writing{*layer, data, frame, out, findings};
    FeatureReader reader{layer->source, layer->layer};
    FeatureBatch batch;
    while (reader.next(batch)) {
        for (std::size_t row = 0; row < batch.size(); ++row) {
            writing.take(batch, row);
        }
        monitor.advance(static_cast<std::int64_t>(batch.size()));
    }
}

}  // namespace linewood
