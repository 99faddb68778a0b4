#include <deque>

#include "geo/corridor/job_split.hpp"

namespace linewood {

namespace {

/// What plans are compared by.
struct Price {
    std::int64_t cost = 0;
    std::int64_t projects = 0;

    friend auto operator<=>(const Price&, const Price&) = default;
};

/// Sums up to each job, so that any part of the run is a difference.
struct Sums {
    std::vector<std::int64_t> way;  ///< to the job from the first
    std::vector<JobLoad> load;      ///< of the jobs before it, and the way to it

    explicit Sums(const JobTree& tree) : way(tree.nodes.size()), load(tree.nodes.size() + 1) {
        std::int64_t along = 0;
        std::int64_t along_mm = 0;
        for (std::size_t i = 0; i < tree.nodes.size(); ++i) {
            along += i == 0 ? 0 : tree.nodes[i].way;
            along_mm += i == 0 ? 0 : tree.nodes[i].way_mm;
            way[i] = along;
            load[i].millimetres = along_mm;
            load[i + 1] = {
                load[i].poles + 1, load[i].day_thousandths + tree.nodes[i].day_thousandths, 0};
        }
    }
    JobLoad of(std::size_t first, std::size_t last) const {
        return {load[last + 1].poles - load[first].poles,
                load[last + 1].day_thousandths - load[first].day_thousandths,
                load[last].millimetres - load[first].millimetres};
    }
};

}  // namespace

JobSplit split_run(const JobTree& tree, std::int64_t mobilisation, const JobLoad& limits) {
    const std::size_t n = tree.nodes.size();
    const Sums sums{tree};
    std::vector<Price> rest(n + 1);  // of the jobs from here on
    std::vector<std::size_t> last(n);
    // Ends of a project from i, the best first; those behind it are nearer, and wait for it to go.
    struct End {
        std::size_t at;
        Price price;
    };
    std::deque<End> ends;
    for (std::size_t i = n; i-- > 0;) {
        const Price here{sums.way[i] + rest[i + 1].cost, rest[i + 1].projects};
        while (!ends.empty() && here < ends.back().price) {
            ends.pop_back();
        }
        ends.push_back({i, here});
        while (ends.front().at != i && !sums.of(i, ends.front().at).within(limits)) {
            ends.pop_front();
        }
        last[i] = ends.front().at;
        rest[i] = {ends.front().price.cost - sums.way[i] + mobilisation,
                   ends.front().price.projects + 1};
    }
    JobSplit split;
    split.cut.assign(n, false);
    split.cost = rest.front().cost;
    for (std::size_t i = 0; i < n; i = last[i] + 1) {
        split.cut[i] = i != 0;
    }
    return split;
}

}  // namespace linewood
