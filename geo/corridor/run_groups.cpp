#include "geo/corridor/run_groups.hpp"

#include <algorithm>
#include <limits>
#include <numeric>
#include <queue>
#include <tuple>
#include <utility>

#include "geo/corridor/joined_sets.hpp"

namespace linewood {

namespace {

constexpr double kFar = std::numeric_limits<double>::infinity();

/// The two ends of a run as nodes of the graph.
struct Ends {
    std::uint32_t a = 0;
    std::uint32_t b = 0;

    std::uint32_t other(std::uint32_t end) const { return end == a ? b : a; }
};

std::vector<Ends> ends_of(const LineGraph& graph, const Runs& runs) {
    std::vector<Ends> ends(runs.runs().size());
    for (std::uint32_t run = 0; run < ends.size(); ++run) {
        const auto stops = runs.stops(run);
        ends[run].a = graph.node_of(stops.front().pole);
        ends[run].b = runs.runs()[run].closed ? ends[run].a : graph.node_of(stops.back().pole);
    }
    return ends;
}

/// Runs by the node and the circuits of each of their ends: what meets there of one circuit.
class Meetings {
public:
    Meetings(const Runs& runs, const std::vector<Ends>& ends) : runs_{runs} {
        for (std::uint32_t run = 0; run < ends.size(); ++run) {
            keys_.push_back({ends[run].a, circuits(run), run});
            if (ends[run].b != ends[run].a) {
                keys_.push_back({ends[run].b, circuits(run), run});
            }
        }
        std::sort(keys_.begin(), keys_.end());
    }

    /// Calls `use` for every run of the same circuits that ends at `node`, ascending.
    template <typename Use>
    void for_each(std::uint32_t node, std::uint32_t set, Use use) const {
        for (auto at = std::lower_bound(keys_.begin(), keys_.end(), Key{node, set, 0});
             at != keys_.end() && std::get<0>(*at) == node && std::get<1>(*at) == set;
             ++at) {
            use(std::get<2>(*at));
        }
    }
    std::size_t count(std::uint32_t node, std::uint32_t set) const {
        std::size_t n = 0;
        for_each(node, set, [&](std::uint32_t) { ++n; });
        return n;
    }
    std::uint32_t circuits(std::uint32_t run) const { return runs_.runs()[run].circuits; }

private:
    using Key = std::tuple<std::uint32_t, std::uint32_t, std::uint32_t>;
    const Runs& runs_;
    std::vector<Key> keys_;
};

/// The sets of runs that hang together and are of the same circuits.
std::vector<std::vector<std::uint32_t>> circuits_of(const Meetings& meetings,
                                                    const std::vector<Ends>& ends) {
    JoinedSets sets{ends.size()};
    for (std::uint32_t run = 0; run < ends.size(); ++run) {
        for (const std::uint32_t end : {ends[run].a, ends[run].b}) {
            meetings.for_each(
                end, meetings.circuits(run), [&](std::uint32_t other) { sets.join(run, other); });
        }
    }
    std::vector<std::uint32_t> place(ends.size(), kNone);
    std::vector<std::vector<std::uint32_t>> groups;
    for (std::uint32_t run = 0; run < ends.size(); ++run) {
        std::uint32_t& at = place[sets.find(run)];
        if (at == kNone) {
            at = static_cast<std::uint32_t>(groups.size());
            groups.emplace_back();
        }
        groups[at].push_back(run);
    }
    return groups;
}

/// Cuts circuits into chains. One object for all, so that nothing of the size of the network is made
/// for each.
class ChainCutter {
public:
    ChainCutter(const LineGraph& graph,
                const Runs& runs,
                const std::vector<Ends>& ends,
                const Meetings& meetings)
        : runs_{runs},
          ends_{ends},
          meetings_{meetings},
          far_(graph.node_count(), kFar),
          way_in_(graph.node_count(), kNone),
          reach_(graph.node_count(), 0.0),
          in_chain_(ends.size(), false) {}

    void cut(const std::vector<std::uint32_t>& circuit,
             std::vector<std::vector<std::uint32_t>>& chains) {
        set_ = meetings_.circuits(circuit.front());
        std::vector<std::uint32_t> order = shortest_ways(start_of(circuit));
        measure_reach(order);
        for (const std::uint32_t node : order) {
            start_chains(node, chains);
        }
        add_leftovers(circuit, chains);
        for (const std::uint32_t node : order) {
            far_[node] = kFar;
            way_in_[node] = kNone;
            reach_[node] = 0.0;
        }
    }

private:
    std::uint32_t start_of(const std::vector<std::uint32_t>& circuit) const {
        std::pair<bool, std::uint32_t> best{true, kNone};
        for (const std::uint32_t run : circuit) {
            for (const std::uint32_t end : {ends_[run].a, ends_[run].b}) {
                best = std::min(best, {meetings_.count(end, set_) != 1, end});
            }
        }
        return best.second;
    }

    /// Ends of runs in the order of their distance; `way_in_` is the run that leads there.
    std::vector<std::uint32_t> shortest_ways(std::uint32_t start) {
        using Item = std::tuple<double, std::uint32_t, std::uint32_t>;  // metres, node, run
        std::priority_queue<Item, std::vector<Item>, std::greater<>> queue;
        std::vector<std::uint32_t> order;
        queue.emplace(0.0, start, kNone);
        while (!queue.empty()) {
            const auto [metres, node, run] = queue.top();
            queue.pop();
            if (far_[node] != kFar) {
                continue;
            }
            far_[node] = metres;
            way_in_[node] = run;
            order.push_back(node);
            meetings_.for_each(node, set_, [&, node = node, metres = metres](std::uint32_t on) {
                const std::uint32_t next = ends_[on].other(node);
                if (far_[next] == kFar) {
                    queue.emplace(metres + runs_.runs()[on].length_m, next, on);
                }
            });
        }
        return order;
    }

    /// How far it goes on from each end, away from the start.
    void measure_reach(const std::vector<std::uint32_t>& order) {
        for (std::size_t i = order.size(); i-- > 1;) {
            const std::uint32_t run = way_in_[order[i]];
            const std::uint32_t before = ends_[run].other(order[i]);
            reach_[before] =
                std::max(reach_[before], reach_[order[i]] + runs_.runs()[run].length_m);
        }
    }

    /// The run out of `node` that reaches furthest of those in no chain; kNone: there is none.
    std::uint32_t next_run(std::uint32_t node) const {
        std::uint32_t best = kNone;
        double furthest = -1.0;
        meetings_.for_each(node, set_, [&](std::uint32_t run) {
            const std::uint32_t next = ends_[run].other(node);
            if (way_in_[next] != run || next == node || in_chain_[run]) {
                return;
            }
            const double reach = reach_[next] + runs_.runs()[run].length_m;
            if (reach > furthest) {
                furthest = reach;
                best = run;
            }
        });
        return best;
    }

    void start_chains(std::uint32_t node, std::vector<std::vector<std::uint32_t>>& chains) {
        for (std::uint32_t run = next_run(node); run != kNone; run = next_run(node)) {
            std::vector<std::uint32_t>& chain = chains.emplace_back();
            for (std::uint32_t at = node; run != kNone; run = next_run(at)) {
                chain.push_back(run);
                in_chain_[run] = true;
                at = ends_[run].other(at);
            }
        }
    }

    void add_leftovers(const std::vector<std::uint32_t>& circuit,
                       std::vector<std::vector<std::uint32_t>>& chains) const {
        for (const std::uint32_t run : circuit) {
            if (!in_chain_[run]) {
                chains.push_back({run});
            }
        }
    }

    const Runs& runs_;
    const std::vector<Ends>& ends_;
    const Meetings& meetings_;
    std::vector<double> far_;  ///< of each node, as the next two
    std::vector<std::uint32_t> way_in_;
    std::vector<double> reach_;
    std::vector<bool> in_chain_;  ///< of each run
    std::uint32_t set_ = 0;
};

}  // namespace

std::vector<RunGroup> group_runs(const LineGraph& graph, const Runs& runs, RunGrouping grouping) {
    const std::vector<Ends> ends = ends_of(graph, runs);
    std::vector<std::vector<std::uint32_t>> sets;
    if (grouping == RunGrouping::run) {
        for (std::uint32_t run = 0; run < ends.size(); ++run) {
            sets.push_back({run});
        }
    } else {
        const Meetings meetings{runs, ends};
        sets = circuits_of(meetings, ends);
        if (grouping == RunGrouping::chain) {
            ChainCutter cutter{graph, runs, ends, meetings};
            std::vector<std::vector<std::uint32_t>> chains;
            for (const auto& circuit : sets) {
                cutter.cut(circuit, chains);
            }
            sets = std::move(chains);
        }
    }
    std::sort(sets.begin(), sets.end(), [](const auto& a, const auto& b) {
        return *std::min_element(a.begin(), a.end()) < *std::min_element(b.begin(), b.end());
    });
    std::vector<RunGroup> groups;
    groups.reserve(sets.size());
    for (auto& set : sets) {
        RunGroup group{std::move(set), 0.0};
        for (const std::uint32_t run : group.runs) {
            group.length_m += runs.runs()[run].length_m;
        }
        groups.push_back(std::move(group));
    }
    return groups;
}

}  // namespace linewood
