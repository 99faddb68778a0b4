#include "src/clusters/drawn_groups.hpp"

#include <algorithm>
#include <map>
#include <memory>

#include "geo/cluster/density_groups.hpp"
#include "geo/cluster/plane_neighbours.hpp"
#include "geo/cluster/span_neighbours.hpp"
#include "geo/shape/area_lookup.hpp"
#include "src/clusters/outlines.hpp"

namespace linewood {
namespace {

std::unique_ptr<NeighbourSource> source_of(const Population& population,
                                           const std::vector<std::uint32_t>& decayed) {
    if (!population.edges.empty()) {
        std::vector<std::uint32_t> nodes;
        for (const std::uint32_t i : decayed) {
            nodes.push_back(population.counted[i]);
        }
        return std::make_unique<SpanNeighbours>(population.pole_of.size(), population.edges, nodes);
    }
    std::vector<Point> places;
    for (const std::uint32_t i : decayed) {
        places.push_back(population.places[i]);
    }
    return std::make_unique<PlaneNeighbours>(places);
}

/// The middle distance to the fourth nearest.
double middle_distance(const NeighbourSource& source) {
    const NeighbourRows rows = nearest_rows(source, kGroupPoles);
    std::vector<double> far;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        if (rows.row(i).size() == kGroupPoles) {
            far.push_back(to_metres(rows.row(i).back().um));
        }
    }
    if (far.empty()) {
        return 0.0;
    }
    const auto middle = far.begin() + static_cast<std::ptrdiff_t>(far.size() / 2);
    std::nth_element(far.begin(), middle, far.end());
    return *middle;
}

/// `G1, circuit N7, near P104`: after the circuit most of its poles are of, and its first pole.
std::string name_of_group(std::size_t number,
                          const std::vector<std::uint32_t>& members,
                          const AssessedData& data,
                          const Population& population) {
    std::map<std::string_view, std::size_t> circuits;
    for (const std::uint32_t i : members) {
        ++circuits[data.poles.circuits.text(population.pole(i))];
    }
    const auto most =
        std::max_element(circuits.begin(), circuits.end(), [](const auto& a, const auto& b) {
            return a.second < b.second;
        });
    std::string name = "G" + std::to_string(number);
    if (!most->first.empty()) {
        name += ", circuit " + std::string{most->first};
    }
    return name + ", near " +
           std::string{data.poles.ids.id(population.pole(members[members.size() / 2]))};
}

void count_within(const AssessedData& data, const Population& population, ClusterResults& results) {
    std::vector<Polygons> outlines;
    for (const DrawnGroup& g : results.groups) {
        outlines.push_back(g.outline);
    }
    const AreaLookup lookup{outlines};
    std::size_t next = 0;
    for (std::uint32_t node = 0; node < population.pole_of.size(); ++node) {
        const bool counted = next < population.counted.size() && population.counted[next] == node;
        const std::uint32_t pole = population.pole_of[node];
        if (data.poles.has_place(pole)) {
            for (const std::uint32_t g : lookup.areas_at(data.poles.places[pole])) {
                RateFigures& f = results.groups[g].figures;
                ++f.poles;
                f.inspected += counted ? 1U : 0U;
                f.decayed += counted ? population.decayed[next] : 0U;
            }
        }
        next += counted ? 1U : 0U;
    }
}

}  // namespace

void draw_groups(const AssessedData& data, const Population& population, ClusterResults& results) {
    std::vector<std::uint32_t> decayed;
    for (std::uint32_t i = 0; i < population.counted.size(); ++i) {
        if (population.decayed[i] != 0) {
            decayed.push_back(i);
        }
    }
    if (decayed.size() < kGroupPoles) {
        return;
    }
    const auto source = source_of(population, decayed);
    results.group_reach_m =
        population.edges.empty() ? middle_distance(*source) : 2.0 * population.median_span_m();
    const std::vector<std::uint8_t> all(decayed.size(), 1);
    const DensityGroups found =
        density_groups(all, band_rows(*source, results.group_reach_m), kGroupPoles);
    std::vector<std::vector<std::uint32_t>> members(found.count);
    for (std::size_t k = 0; k < decayed.size(); ++k) {
        if (found.group[k] != 0) {
            members[found.group[k] - 1].push_back(decayed[k]);
            results.scores[decayed[k]].group = found.group[k];
        }
    }
    Outliner outliner{data, population};
    for (std::size_t g = 0; g < members.size(); ++g) {
        DrawnGroup group;
        group.name = name_of_group(g + 1, members[g], data, population);
        std::vector<std::uint32_t> nodes;
        for (const std::uint32_t i : members[g]) {
            nodes.push_back(population.counted[i]);
        }
        group.outline = outliner.around(nodes, true);
        group.members = std::move(members[g]);
        results.groups.push_back(std::move(group));
    }
    count_within(data, population, results);
    for (DrawnGroup& g : results.groups) {
        work_out(g.figures);
    }
}

}  // namespace linewood
