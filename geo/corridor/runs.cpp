#include "geo/corridor/runs.hpp"

#include <algorithm>
#include <numeric>
#include <utility>

namespace linewood {

namespace {

bool ends_runs(const LineGraph& graph, std::uint32_t node) {
    const auto arcs = graph.arcs(node);
    return arcs.size() != 2 ||
           graph.step(arcs[0].step).circuits != graph.step(arcs[1].step).circuits;
}

/// Follows a line from `node` along `arc`, calling `pass` for every arc, until a run ends or it is
/// back at `node`.
template <typename Pass>
void follow(const LineGraph& graph, std::uint32_t node, LineGraph::Arc arc, Pass pass) {
    for (;;) {
        pass(arc);
        if (arc.node == node || ends_runs(graph, arc.node)) {
            return;
        }
        const auto arcs = graph.arcs(arc.node);
        arc = arcs[0].step == arc.step ? arcs[1] : arcs[0];
    }
}

struct Start {
    std::uint32_t node = 0;
    LineGraph::Arc arc;
    bool alone = false;
};

/// Finds where runs start, each step passed once.
class StartFinder {
public:
    explicit StartFinder(const LineGraph& graph)
        : graph_{graph}, passed_(graph.steps().size(), false) {}

    std::vector<Start> find() {
        // Ascending, so that the lesser of two ends comes first; what is left then are rings.
        for (std::uint32_t node = 0; node < graph_.node_count(); ++node) {
            if (graph_.arcs(node).empty()) {
                starts_.push_back({node, {}, true});
            } else if (ends_runs(graph_, node)) {
                start_at(node);
            }
        }
        for (std::uint32_t node = 0; node < graph_.node_count(); ++node) {
            start_at(node);
        }
        std::sort(starts_.begin(), starts_.end(), [](const Start& a, const Start& b) {
            return std::pair{a.node, a.arc.node} < std::pair{b.node, b.arc.node};
        });
        return std::move(starts_);
    }

private:
    void start_at(std::uint32_t node) {
        for (const LineGraph::Arc arc : graph_.arcs(node)) {
            if (!passed_[arc.step]) {
                starts_.push_back({node, arc, false});
                follow(graph_, node, arc, [&](LineGraph::Arc on) { passed_[on.step] = true; });
            }
        }
    }

    const LineGraph& graph_;
    std::vector<bool> passed_;
    std::vector<Start> starts_;
};

}  // namespace

Runs::Runs(const LineGraph& graph) {
    stops_.reserve(graph.node_count());
    for (const Start& start : StartFinder{graph}.find()) {
        walk(graph, start.node, start.alone ? nullptr : &start.arc);
    }
    index_places(graph.node_count());
}

void Runs::walk(const LineGraph& graph, std::uint32_t node, const LineGraph::Arc* arc) {
    Run run;
    run.first = static_cast<std::uint32_t>(stops_.size());
    stops_.push_back({graph.pole_of(node), kNone, 0.0});
    if (arc != nullptr) {
        run.circuits = graph.step(arc->step).circuits;
        follow(graph, node, *arc, [&](LineGraph::Arc on) {
            run.length_m += graph.step(on.step).length_m;
            stops_.back().step = on.step;
            run.closed = on.node == node;
            if (!run.closed) {
                stops_.push_back({graph.pole_of(on.node), kNone, run.length_m});
            }
        });
    }
    run.count = static_cast<std::uint32_t>(stops_.size()) - run.first;
    runs_.push_back(run);
}

void Runs::index_places(std::size_t poles) {
    first_place_.assign(poles + 1U, 0);
    for (const Stop& stop : stops_) {
        ++first_place_[stop.pole + 1U];
    }
    std::partial_sum(first_place_.begin(), first_place_.end(), first_place_.begin());
    std::vector<std::uint32_t> next(first_place_.begin(), first_place_.end() - 1);
    places_.resize(stops_.size());
    for (std::uint32_t run = 0; run < runs_.size(); ++run) {
        for (const Stop& stop : stops(run)) {
            places_[next[stop.pole]++] = {run, stop.station_m};
        }
    }
}

}  // namespace linewood
