#include "src/pipeline/span_writer.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "geo/io/data_error.hpp"
#include "src/pipeline/layer_pass.hpp"
#include "src/pipeline/pole_rows.hpp"
#include "src/pipeline/row_decoder.hpp"

namespace linewood {
namespace {

using SpanCells = std::array<Cell, 5>;  // the last is the verdict

/// A path with the heights and measures of its vertices.
struct FullPath {
    LineParts parts;
    PathExtras extras;
};

/// One span of a batch, ready to be written.
struct PreparedSpan {
    std::size_t row = 0;  ///< in the batch
    SpanCells cells;
    std::optional<FullPath> piece;  ///< where it is not all of its feature
};

struct PreparedBatch {
    FeatureBatch batch;
    std::vector<PreparedSpan> spans;
};

/// Prepares batches; from several threads at once.
class SpanPreparation {
public:
    SpanPreparation(const RunData& data,
                    const Ground& path_ground,
                    const GeometryType& geometry,
                    bool with_verdicts)
        : data_{data},
          path_ground_{path_ground},
          // A layer of any kind does not say what its lines have.
          has_extras_{geometry.has_z || geometry.has_m || geometry.kind == GeometryKind::mixed},
          with_verdicts_{with_verdicts} {}

    PreparedBatch prepare(FeatureBatch batch) const {
        PreparedBatch result;
        result.batch = std::move(batch);
        const auto spans = data_.network.spans();
        auto next = std::lower_bound(
            spans.begin(),
            spans.end(),
            result.batch.first_row(),
            [](const ResolvedSpan& s, std::int64_t row) { return std::int64_t{s.row} < row; });
        for (std::size_t row = 0; row < result.batch.size(); ++row) {
            const std::int64_t feature = result.batch.first_row() + static_cast<std::int64_t>(row);
            if (next == spans.end() || next->row != feature) {
                throw DataError{"", "spans", "the layer changed while it was read; run again"};
            }
            FullPath drawn;
            for (; next != spans.end() && next->row == feature; ++next) {
                result.spans.push_back(
                    {row, cells_of(*next), piece_of(*next, result.batch, row, drawn)});
            }
        }
        return result;
    }

private:
    std::optional<FullPath> piece_of(const ResolvedSpan& span,
                                     const FeatureBatch& batch,
                                     std::size_t row,
                                     FullPath& drawn) const {
        if (span.path == ResolvedSpan::kWholeFeature) {
            return std::nullopt;
        }
        if (drawn.parts.empty()) {
            drawn.parts = batch.path(row).value.value_or(LineParts{});
            drawn.extras = has_extras_ ? batch.path_extras(row) : PathExtras{};
        }
        const PathCut& cut = data_.network.cuts()[span.path];
        const std::vector<std::span<const Point>> parts(drawn.parts.begin(), drawn.parts.end());
        FullPath piece;
        piece.parts = {cut_path(parts, cut, path_ground_)};
        if (!drawn.extras.z.empty()) {
            piece.extras.z = {cut_values(drawn.extras.z[cut.part], cut)};
        }
        if (!drawn.extras.m.empty()) {
            piece.extras.m = {cut_values(drawn.extras.m[cut.part], cut)};
        }
        return piece;
    }

    SpanCells cells_of(const ResolvedSpan& span) const {
        SpanCells c;
        std::optional<Verdict> worst;
        std::size_t column = 0;
        for (const std::uint32_t pole : {span.from, span.to}) {
            if (pole != kNone) {
                c[column] = text_cell(data_.poles.ids.id(pole));
            }
            if (pole != kNone && with_verdicts_) {
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
    Ground path_ground_;
    bool has_extras_;
    bool with_verdicts_;
};

/// Writes prepared batches with the findings about their features; one thread.
class SpanWriting {
public:
    SpanWriting(const InputLayerRef& layer,
                const RunData& data,
                const GroundFrame& frame,
                const SpanOutputs& out)
        : frame_{frame},
          out_{out.spans},
          log_{out.findings},
          columns_{out.with_verdicts ? 5U : 4U},
          decoder_{layer.schema(), InputLayer::spans, told_, {}, layer.columns.get()},
          span_id_{decoder_.column("span_id")} {
        data.network.each_finding(
            [&](Finding&& f) { findings_.push_back(std::move(f)); },
            [&](std::uint32_t pole) { return std::string{data.poles.ids.id(pole)}; });
    }

    void write(const PreparedBatch& prepared) {
        const FeatureBatch& batch = prepared.batch;
        for (std::size_t row = 0; row < batch.size(); ++row) {
            write_findings(batch, row);
        }
        for (const PreparedSpan& span : prepared.spans) {
            const std::span<const Cell> cells{span.cells.data(), columns_};
            if (span.piece) {
                out_.append_along(batch, span.row, cells, span.piece->parts, span.piece->extras);
            } else {
                out_.append(batch, span.row, cells);
            }
        }
    }

private:
    /// Findings about the network as a whole come before those of any feature.
    void write_findings(const FeatureBatch& batch, std::size_t row) {
        const std::int64_t feature = batch.first_row() + static_cast<std::int64_t>(row);
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

    std::string name_of(const FeatureBatch& batch, std::size_t row) {
        decoder_.start(batch, row);
        std::string id = decoder_.text(span_id_);
        return id.empty() ? std::to_string(batch.fid(row)) : id;
    }

    const GroundFrame& frame_;
    LayerWriter& out_;
    FindingLog& log_;
    std::size_t columns_;
    Findings told_;  // when the spans were read
    RowDecoder decoder_;
    Column span_id_;
    Findings findings_;
    std::size_t next_finding_ = 0;
};

}  // namespace

void write_spans(const std::optional<InputLayerRef>& layer,
                 const RunData& data,
                 const GroundFrame& frame,
                 std::size_t threads,
                 SpanOutputs out,
                 RunMonitor& monitor) {
    if (!layer) {
        return;
    }
    monitor.stage("write spans", layer->schema().feature_count);
    const SpanPreparation preparation{
        data, frame.spans_path_ground(), layer->schema().geometry, out.with_verdicts};
    SpanWriting writing{*layer, data, frame, out};
    pass_over<PreparedBatch>(
        *layer,
        threads,
        [&](FeatureBatch batch) { return preparation.prepare(std::move(batch)); },
        [&](PreparedBatch prepared) {
            writing.write(prepared);
            monitor.advance(static_cast<std::int64_t>(prepared.batch.size()));
        });
}

}  // namespace linewood
