#include "src/pipeline/record_writer.hpp"

#include <array>
#include <functional>

#include "assess/condition/sectors.hpp"
#include "geo/io/data_error.hpp"
#include "geo/io/feature_reader.hpp"
#include "src/pipeline/pole_rows.hpp"

namespace linewood {
namespace {

using DefectCells = std::array<Cell, 3>;

/// Calls `take` for every row of a layer.
void each_row(const InputLayerRef& layer,
              RunMonitor& monitor,
              const std::function<void(const FeatureBatch&, std::size_t)>& take) {
    FeatureReader reader{layer.source, layer.layer};
    FeatureBatch batch;
    while (reader.next(batch)) {
        for (std::size_t row = 0; row < batch.size(); ++row) {
            take(batch, row);
        }
        monitor.advance(static_cast<std::int64_t>(batch.size()));
    }
}

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

}  // namespace

void write_inspections(const std::optional<InputLayerRef>& layer,
                       LayerWriter& out,
                       RunMonitor& monitor) {
    if (!layer) {
        return;
    }
    monitor.stage("write inspections", layer->schema().feature_count);
    each_row(*layer, monitor, [&](const FeatureBatch& batch, std::size_t row) {
        out.append(batch, row, {});
    });
}

void write_defects(const std::optional<InputLayerRef>& layer,
                   const DefectWriting& how,
                   LayerWriter& out,
                   RunMonitor& monitor) {
    if (!layer) {
        return;
    }
    monitor.stage("write defects", layer->schema().feature_count);
    each_row(*layer, monitor, [&](const FeatureBatch& batch, std::size_t row) {
        const auto i = static_cast<std::size_t>(batch.first_row()) + row;
        if (i >= how.data.defects.rows()) {
            throw DataError{"", "defects", "the layer grew while it was read; run again"};
        }
        const DefectCells cells = cells_of(how, i);
        if (how.place_at_pole && !batch.has_geometry(row)) {
            out.append_at(batch, row, cells, place_of(how, i));
        } else {
            out.append(batch, row, cells);
        }
    });
}

}  // namespace linewood
