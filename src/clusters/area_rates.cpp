#include "src/clusters/area_rates.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "geo/cluster/area_cells.hpp"
#include "geo/shape/outline.hpp"
#include "src/clusters/outlines.hpp"
#include "src/clusters/user_areas.hpp"

namespace linewood {
namespace {

/// How a pole counts: for nodes that are not counted, as a pole only.
struct Tally {
    std::vector<std::uint32_t> counted_of;  ///< of each node; kNoNode where it is not counted
    const Population& population;

    explicit Tally(const Population& p)
        : counted_of(p.pole_of.size(), Population::kNoNode), population{p} {
        for (std::uint32_t i = 0; i < p.counted.size(); ++i) {
            counted_of[p.counted[i]] = i;
        }
    }
    void add(std::uint32_t node, RateFigures& figures) const {
        ++figures.poles;
        const std::uint32_t i = counted_of[node];
        if (i != Population::kNoNode) {
            ++figures.inspected;
            figures.decayed += population.decayed[i];
        }
    }
};

/// Works out the rates of areas of one kind and adds them.
void add_kind(std::vector<AreaRate> areas, const ClusterJob& job, ClusterResults& results) {
    std::vector<AreaCount> counts;
    counts.reserve(areas.size());
    for (const AreaRate& a : areas) {
        counts.push_back({a.figures.inspected, a.figures.decayed});
    }
    const SmoothedRates smoothed = smoothed_rates(counts, RateModel::binomial);
    for (std::size_t i = 0; i < areas.size(); ++i) {
        work_out(areas[i].figures);
        areas[i].smoothed = smoothed.rate[i];
        areas[i].thin = areas[i].figures.inspected < job.min_inspected;
        results.areas.push_back(std::move(areas[i]));
    }
}

AreaGrid grid_of(CellShape shape, double side_m) {
    return shape == CellShape::hexagon ? AreaGrid::hexagons(side_m) : AreaGrid::squares(side_m);
}

/// From a fixed ladder, so that a pole more or less changes nothing: the least side by which an inhabited
/// cell has 30 inspected poles on the average.
double chosen_side(const Population& population, CellShape shape) {
    constexpr double kLeastSide = 250.0;
    constexpr double kMostSide = 32000.0;
    constexpr std::size_t kPolesWanted = 30;
    double side = kLeastSide;
    while (side < kMostSide) {
        const AreaGrid grid = grid_of(shape, side);
        std::set<CellIndex> cells;
        for (const Point p : population.places) {
            cells.insert(grid.cell_of(p));
        }
        if (cells.size() * kPolesWanted <= population.places.size()) {
            break;
        }
        side *= 2.0;
    }
    return side;
}

void rate_cells(const AssessedData& data,
                const Population& population,
                const Tally& tally,
                const ClusterJob& job,
                ClusterResults& results) {
    results.cell_side_m = job.cell_side_m ? *job.cell_side_m : chosen_side(population, job.cells);
    const AreaGrid grid = grid_of(job.cells, results.cell_side_m);
    std::map<CellIndex, RateFigures> cells;
    for (std::uint32_t node = 0; node < population.pole_of.size(); ++node) {
        const std::uint32_t pole = population.pole_of[node];
        if (data.poles.has_place(pole)) {
            tally.add(node, cells[grid.cell_of(data.poles.places[pole])]);
        }
    }
    std::vector<AreaRate> areas;
    for (const auto& [cell, figures] : cells) {
        AreaRate a;
        a.kind = job.cells == CellShape::hexagon ? "hexagon" : "square";
        a.name = "r" + std::to_string(cell.row) + "c" + std::to_string(cell.column);
        a.figures = figures;
        a.outline = {{grid.corners(cell)}};
        areas.push_back(std::move(a));
    }
    add_kind(std::move(areas), job, results);
}

/// The circuit of each node: its own, else the first by name of its spans; empty where there is none.
std::vector<std::string_view> circuits_of(const AssessedData& data, const Population& population) {
    std::vector<std::string_view> circuits(population.pole_of.size());
    for (std::size_t e = 0; e < population.edges.size(); ++e) {
        const std::string_view circuit = data.spans.circuits().text(population.edge_span[e]);
        for (const std::uint32_t node : {population.edges[e].a, population.edges[e].b}) {
            if (!circuit.empty() && (circuits[node].empty() || circuit < circuits[node])) {
                circuits[node] = circuit;
            }
        }
    }
    for (std::uint32_t node = 0; node < circuits.size(); ++node) {
        const std::string_view own = data.poles.circuits.text(population.pole_of[node]);
        circuits[node] = own.empty() ? circuits[node] : own;
    }
    return circuits;
}

void rate_circuits(const AssessedData& data,
                   const Population& population,
                   const Tally& tally,
                   const ClusterJob& job,
                   ClusterResults& results) {
    struct Circuit {
        RateFigures figures;
        std::vector<std::uint32_t> nodes;
    };
    std::map<std::string_view, Circuit> circuits;
    const auto names = circuits_of(data, population);
    for (std::uint32_t node = 0; node < names.size(); ++node) {
        if (!names[node].empty()) {
            Circuit& c = circuits[names[node]];
            tally.add(node, c.figures);
            c.nodes.push_back(node);
        }
    }
    Outliner outliner{data, population};
    std::vector<AreaRate> areas;
    for (const auto& [name, circuit] : circuits) {
        AreaRate a;
        a.kind = "circuit";
        a.name = name;
        a.figures = circuit.figures;
        a.outline = outliner.around(circuit.nodes, false);
        areas.push_back(std::move(a));
    }
    add_kind(std::move(areas), job, results);
}

void rate_user_areas(const AssessedData& data,
                     const Population& population,
                     const Tally& tally,
                     const ClusterJob& job,
                     ClusterResults& results) {
    const UserAreas user = read_user_areas(data, job);
    results.areas_mended = user.polygons->mended();
    std::vector<AreaRate> areas(user.names.size());
    for (std::uint32_t i = 0; i < areas.size(); ++i) {
        areas[i].kind = "area";
        areas[i].name = user.names[i];
        areas[i].outline = user.polygons->outline(i);
    }
    results.area_doubts = user.polygons->doubts();
    for (std::uint32_t node = 0; node < population.pole_of.size(); ++node) {
        for (const std::uint32_t i : user.polygons->areas_of(population.pole_of[node])) {
            tally.add(node, areas[i].figures);
        }
    }
    add_kind(std::move(areas), job, results);
}

}  // namespace

void rate_areas(const AssessedData& data,
                const Population& population,
                const ClusterJob& job,
                RunMonitor& monitor,
                ClusterResults& results) {
    const Tally tally{population};
    if (job.cells != CellShape::none) {
        rate_cells(data, population, tally, job, results);
    }
    monitor.advance(0);
    rate_circuits(data, population, tally, job, results);
    monitor.advance(0);
    if (!job.areas.empty()) {
        rate_user_areas(data, population, tally, job, results);
    }
}

}  // namespace linewood
