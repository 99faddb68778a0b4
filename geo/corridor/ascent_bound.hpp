#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <utility>
#include <vector>

#include "geo/corridor/line_graph.hpp"
#include "geo/corridor/spanning_forest.hpp"

namespace linewood {

/// A bound from below on mobilisations and ways where the line has rings: grouping is then a Steiner
/// tree over all jobs and a depot that is a mobilisation away from each, and dual ascent (R. T. Wong,
/// Math. Program. 28, 1984) bounds that. Jobs raise their bids in turn until they reach the depot.
/// Cost: for each job a few searches no further than a mobilisation goes.
class AscentBound {
public:
    /// It is worked out for networks of up to so many jobs, in about 4 s. Own choice, no source.
    static constexpr std::size_t kMostJobs = 20'000;

    /// Both must outlive it.
    AscentBound(const LineGraph& graph, const StepCosts& costs);

    /// @param jobs nodes, ascending.
    /// @param mobilisation at most `most` of the costs.
    std::int64_t of(std::span<const std::uint32_t> jobs, std::int64_t mobilisation);

private:
    using Entry = std::pair<std::int64_t, std::uint32_t>;  ///< distance, node

    /// Raises the bid of a job by up to `most`. False where it is done: it has reached the depot, or
    /// another that still bids.
    bool raise(std::uint32_t job, std::int64_t most);
    std::int64_t search(std::uint32_t job, std::int64_t most);
    void reach(std::uint32_t node, std::int64_t distance);
    void lower_prices(std::int64_t raised);
    std::int64_t& price(std::uint32_t from, std::uint32_t step) {
        return prices_[std::size_t{step} * 2U + (graph_.step(step).low == from ? 0U : 1U)];
    }

    const LineGraph& graph_;
    const StepCosts& costs_;
    std::vector<std::int64_t>
        prices_;  ///< left of each step, from its low end and from its high end
    std::vector<std::int64_t> to_depot_;  ///< left of each job's own way; no job: never
    std::vector<std::int64_t> distance_;  ///< to the job that raises
    std::vector<std::uint32_t> reached_;
    std::vector<std::uint32_t> changed_;  ///< prices to be set back
    std::vector<Entry> heap_;
    std::vector<bool> bids_;
    std::int64_t bound_ = 0;
};

}  // namespace linewood
