#include "src/pipeline/record_writer.hpp"

#include <array>
#include <vector>

#include "assess/condition/sectors.hpp"
#include "geo/io/data_error.hpp"
#include "src/pipeline/layer_pass.hpp"
#include "src/pipeline/pole_rows.hpp"

namespace linewood {
namespace {

using DefectCells = std::array<Cell, 3>;

DefectCells cells_of(const DefectWriting& how, std::size_t row) {
    const DefectStore& defects = how.data.defects;
    const std::uint32_t slot = defects.slot(row);
    DefectCells c;
    if (slot == DefectStore::kNowhere) {
        return c;
    }
    const Maybe<Bearing> azimuth = defects.at(slot).azimuth;
    const Maybe<Axis> axis = how.data.direction(defects.pole(row)).axis;
    c[0] = cell_of(azimuth);
    if (azimuth && axis) {
        c[1] = text_cell(name_of(sector_of(*azimuth, *axis, how.criteria)));
    }
    if (const Maybe<Length> shell = how.data.defect_shells[slot]) {
        c[2] = girth_figure(*shell, how.units);
    }
    return c;
}

std::optional<Point> place_of(const DefectWriting& how, std::size_t row) {
    const std::uint32_t pole = how.data.defects.pole(row);
    if (pole == PoleIndex::kNotFound) {
        return std::nullopt;
    }
    const auto place = how.data.poles.place(pole);
    return place ? std::optional<Point>{Point{place->x, place->y}} : std::nullopt;
}

struct PreparedDefects {
    FeatureBatch batch;
    std::vector<DefectCells> cells;
};

PreparedDefects prepare(const DefectWriting& how, FeatureBatch batch) {
    PreparedDefects result;
    const auto first = static_cast<std::size_t>(batch.first_row());
    if (first + batch.size() > how.data.defects.rows()) {
        throw DataError{"", "defects", "the layer grew while it was read; run again"};
    }
    result.cells.reserve(batch.size());
    for (std::size_t row = 0; row < batch.size(); ++row) {
        result.cells.push_back(cells_of(how, first + row));
    }
    result.batch = std::move(batch);
    return result;
}

}  // namespace

void write_inspections(const std::optional<InputLayerRef>& layer,
                       std::size_t threads,
                       LayerWriter& out,
                       RunMonitor& monitor) {
    if (!layer) {
        return;
    }
    monitor.stage("write inspections", layer->schema().feature_count);
    pass_over<FeatureBatch>(
        *layer,
        threads,
        [](FeatureBatch batch) { return batch; },
        [&](const FeatureBatch& batch) {
            for (std::size_t row = 0; row < batch.size(); ++row) {
                out.append(batch, row, {});
            }
            monitor.advance(static_cast<std::int64_t>(batch.size()));
        });
}

void write_defects(const std::optional<InputLayerRef>& layer,
                   const DefectWriting& how,
                   std::size_t threads,
                   LayerWriter& out,
                   RunMonitor& monitor) {
    if (!layer) {
        return;
    }
    monitor.stage("write defects", layer->schema().feature_count);
    pass_over<PreparedDefects>(
        *layer,
        threads,
        [&](FeatureBatch batch) { return prepare(how, std::move(batch)); },
        [&](const PreparedDefects& prepared) {
            const FeatureBatch& batch = prepared.batch;
            for (std::size_t row = 0; row < batch.size(); ++row) {
                const auto first = static_cast<std::size_t>(batch.first_row());
                if (how.place_at_pole && !batch.has_usable_geometry(row)) {
                    out.append_at(batch, row, prepared.cells[row], place_of(how, first + row));
                } else {
                    out.append(batch, row, prepared.cells[row]);
                }
            }
            monitor.advance(static_cast<std::int64_t>(batch.size()));
        });
}

}  // namespace linewood
