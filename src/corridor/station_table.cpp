#include "src/corridor/station_table.hpp"

#include "src/corridor/corridor_output.hpp"
#include "src/pipeline/pole_rows.hpp"

namespace linewood {

std::int64_t write_stations(OutputDataset& dataset,
                            const LineModel& line,
                            const std::vector<const std::string*>* corridor_of) {
    std::vector<Field> fields(3);
    fields[0].name = "pole_id";
    fields[0].meaning = "the pole";
    fields[1].name = "run_id";
    fields[1].meaning = "start~second pole~end~circuits of its run";
    fields[2].name = "station_m";
    fields[2].type = FieldType::real;
    fields[2].unit = "m";
    fields[2].meaning =
        "along the run from its start; null, as the run is, where an earlier pole has the id or it "
        "is missing";
    if (corridor_of != nullptr) {
        fields.push_back(Field{.name = "corridor_id", .meaning = "its corridor; null = in none"});
    }
    LayerWriter& out = dataset.add_layer(own_layer(
        "stations", std::move(fields), {}, line.data(), "Every pole with its run and station"));
    std::vector<Cell> cells(corridor_of == nullptr ? 3 : 4);
    for (std::uint32_t pole = 0; pole < line.data().poles.size(); ++pole) {
        cells[0] = text_cell(line.pole_id(pole));
        if (line.counts(pole)) {
            const Runs::Place place = line.runs().place(pole);
            cells[1] = text_cell(line.run_id(place.run));
            cells[2] = place.station_m;
        } else {
            cells[1] = Cell{};
            cells[2] = Cell{};
        }
        if (corridor_of != nullptr) {
            const std::string* id = (*corridor_of)[pole];
            cells[3] = id == nullptr ? Cell{} : text_cell(*id);
        }
        out.append(cells, std::nullopt);
    }
    return out.count();
}

}  // namespace linewood
