#include "src/pipeline/line_pole_writer.hpp"

#include <algorithm>
#include <array>

#include "geo/io/data_error.hpp"
#include "src/pipeline/layer_pass.hpp"
#include "src/pipeline/pole_rows.hpp"

namespace linewood {
namespace {

LineCells cells_of(const RunData& data, std::uint32_t pole) {
    return line_cells(data.direction(pole), data.trust(pole));
}

void write_made(const RunData& data, LayerWriter& out, RunMonitor& monitor) {
    for (std::uint32_t pole = 0; pole < data.poles.size(); ++pole) {
        std::array<Cell, kLineColumns + 1> cells;
        cells[0] = text_cell(data.poles.ids.id(pole));
        const LineCells line = cells_of(data, pole);
        std::copy(line.begin(), line.end(), cells.begin() + 1);
        out.append(cells, data.poles.point(pole));
        monitor.advance(1);
    }
}

}  // namespace

void write_line_poles(const std::optional<InputLayerRef>& layer,
                      const RunData& data,
                      std::size_t threads,
                      LayerWriter& out,
                      RunMonitor& monitor) {
    monitor.stage("write poles", static_cast<std::int64_t>(data.poles.size()));
    if (!layer) {
        write_made(data, out, monitor);
        return;
    }
    pass_over<FeatureBatch>(
        *layer,
        threads,
        [](FeatureBatch batch) { return batch; },
        [&](FeatureBatch batch) {
            const auto first = static_cast<std::uint32_t>(batch.first_row());
            if (first + batch.size() > data.poles.size()) {
                throw DataError{"", "poles", "the layer grew while it was read; run again"};
            }
            for (std::size_t row = 0; row < batch.size(); ++row) {
                out.append(batch, row, cells_of(data, first + static_cast<std::uint32_t>(row)));
            }
            monitor.advance(static_cast<std::int64_t>(batch.size()));
        });
}

}  // namespace linewood
