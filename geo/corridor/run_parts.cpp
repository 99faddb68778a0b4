#include <algorithm>
#include <utility>

#include "geo/corridor/projects.hpp"

namespace linewood {

RunParts::RunParts(const LineGraph& graph, const Runs& runs)
    : runs_{runs}, leg_of_(graph.steps().size()) {
    for (std::uint32_t run = 0; run < runs.runs().size(); ++run) {
        const auto stops = runs.stops(run);
        for (std::uint32_t stop = 0; stop < stops.size(); ++stop) {
            if (stops[stop].step != kNone) {
                leg_of_[stops[stop].step] = {run, stop};
            }
        }
    }
}

std::vector<RunPart> RunParts::of(const ProjectPlan& plan, const Project& project) const {
    const Runs::Place place = runs_.place(project.pole);
    if (project.steps == 0) {
        return {{place.run, place.station_m, place.station_m}};
    }
    std::vector<Leg> legs;
    for (const std::uint32_t step : plan.steps(project)) {
        legs.push_back(leg_of_[step]);
    }
    std::sort(legs.begin(), legs.end(), [](const Leg& a, const Leg& b) {
        return std::pair{a.run, a.stop} < std::pair{b.run, b.stop};
    });
    std::vector<RunPart> parts;
    for (std::size_t i = 0; i < legs.size(); ++i) {
        const auto stops = runs_.stops(legs[i].run);
        const std::uint32_t next = legs[i].stop + 1U;
        const double to =
            next < stops.size() ? stops[next].station_m : runs_.runs()[legs[i].run].length_m;
        const bool goes_on =
            i > 0 && legs[i].run == legs[i - 1].run && legs[i].stop == legs[i - 1].stop + 1U;
        if (goes_on) {
            parts.back().to_m = to;
        } else {
            parts.push_back({legs[i].run, stops[legs[i].stop].station_m, to});
        }
    }
    return parts;
}

}  // namespace linewood
