#include "geo/corridor/ascent_bound.hpp"

#include <algorithm>
#include <functional>
#include <limits>

namespace linewood {

namespace {

constexpr std::int64_t kFar = std::numeric_limits<std::int64_t>::max() / 4;

/// In how many turns bids are raised: more turns, better bounds. Own choice, no source.
constexpr std::int64_t kTurns = 64;

}  // namespace

AscentBound::AscentBound(const LineGraph& graph, const StepCosts& costs)
    : graph_{graph},
      costs_{costs},
      to_depot_(graph.node_count(), kFar),
      distance_(graph.node_count(), kFar),
      bids_(graph.node_count(), false) {
    prices_.reserve(costs.way.size() * 2U);
    for (const std::int64_t way : costs.way) {
        prices_.push_back(way);
        prices_.push_back(way);
    }
}

std::int64_t AscentBound::of(std::span<const std::uint32_t> jobs, std::int64_t mobilisation) {
    for (const std::uint32_t job : jobs) {
        to_depot_[job] = mobilisation;
        bids_[job] = true;
    }
    bound_ = 0;
    const std::int64_t turn = mobilisation / kTurns + 1;
    std::vector<std::uint32_t> bidders(jobs.begin(), jobs.end());
    while (!bidders.empty()) {
        for (const std::uint32_t job : bidders) {
            bids_[job] = raise(job, turn);
        }
        bidders.erase(
            std::remove_if(
                bidders.begin(), bidders.end(), [&](std::uint32_t job) { return !bids_[job]; }),
            bidders.end());
    }
    for (const std::uint32_t job : jobs) {
        to_depot_[job] = kFar;
    }
    for (const std::uint32_t step : changed_) {
        price(graph_.step(step).low, step) = costs_.way[step];
        price(graph_.step(step).high, step) = costs_.way[step];
    }
    changed_.clear();
    return bound_;
}

bool AscentBound::raise(std::uint32_t job, std::int64_t most) {
    const std::int64_t raised = search(job, most);
    lower_prices(raised);
    bound_ += raised;
    for (const std::uint32_t node : reached_) {
        distance_[node] = kFar;
    }
    reached_.clear();
    return raised == most;
}

/// Finds what can reach the job at the prices left; how far it is to the depot, at most `most`. 0 where
/// another bidder has come as far as the job: it bids for both.
std::int64_t AscentBound::search(std::uint32_t job, std::int64_t most) {
    heap_.assign(1, {0, job});
    distance_[job] = 0;
    reached_.push_back(job);
    std::int64_t limit = most;
    while (!heap_.empty()) {
        std::pop_heap(heap_.begin(), heap_.end(), std::greater<>{});
        const auto [distance, node] = heap_.back();
        heap_.pop_back();
        if (distance >= limit) {
            break;
        }
        if (distance > distance_[node]) {
            continue;
        }
        limit = distance == 0 && node != job && bids_[node]
                    ? 0
                    : std::min(limit, distance + to_depot_[node]);
        for (const LineGraph::Arc arc : graph_.arcs(node)) {
            const std::int64_t there = distance + price(arc.node, arc.step);
            if (there < limit) {
                reach(arc.node, there);
            }
        }
    }
    return limit;
}

void AscentBound::reach(std::uint32_t node, std::int64_t distance) {
    if (distance >= distance_[node]) {
        return;
    }
    if (distance_[node] == kFar) {
        reached_.push_back(node);
    }
    distance_[node] = distance;
    heap_.emplace_back(distance, node);
    std::push_heap(heap_.begin(), heap_.end(), std::greater<>{});
}

/// Every way into the circle round the job has been paid for as far as it leads through it.
void AscentBound::lower_prices(std::int64_t raised) {
    for (const std::uint32_t node : reached_) {
        const std::int64_t here = distance_[node];
        if (here >= raised) {
            continue;
        }
        if (to_depot_[node] < kFar) {
            to_depot_[node] -= raised - here;
        }
        for (const LineGraph::Arc arc : graph_.arcs(node)) {
            const std::int64_t paid = std::min(raised, distance_[arc.node]) - here;
            if (paid > 0) {
                price(arc.node, arc.step) -= paid;
                changed_.push_back(arc.step);
            }
        }
    }
}

}  // namespace linewood
