#include <algorithm>
#include <tuple>
#include <utility>

#include "geo/corridor/job_split.hpp"

namespace linewood {

namespace {

/// One way to deal with the part of the tree below a node: what is closed is paid; the project that
/// holds the node itself is still open, and its mobilisation not yet counted.
struct Plan {
    std::int64_t cost = 0;
    std::int64_t projects = 0;
    JobLoad load;  ///< of the open project; without poles there is none
    std::uint32_t history = kNone;

    auto order() const {
        return std::tuple{cost, projects, load.poles, load.day_thousandths, load.millimetres};
    }
};

/// What was done with one child.
struct Past {
    std::uint32_t before = kNone;  ///< what was done with the children taken earlier
    std::uint32_t child = kNone;
    std::uint32_t of_child = kNone;  ///< history of the child's own plan
    bool joined = false;
};

class TreeSplitter {
public:
    TreeSplitter(const JobTree& tree, std::int64_t mobilisation, const JobLoad& limits)
        : tree_{tree}, mobilisation_{mobilisation}, limits_{limits}, plans_(tree.nodes.size()) {}

    JobSplit split() {
        for (std::size_t i = 0; i < plans_.size(); ++i) {
            const JobTree::Node& node = tree_.nodes[i];
            plans_[i].push_back(
                {0, 0, node.job ? JobLoad{1, node.day_thousandths, 0} : JobLoad{}, kNone});
        }
        for (std::size_t i = plans_.size(); i-- > 1;) {
            join(tree_.nodes[i].parent, static_cast<std::uint32_t>(i));
            plans_[i] = {};
        }
        result_.cut.assign(plans_.size(), false);
        const Plan best = closed(plans_.front());
        result_.cost = best.cost;
        trace(best.history);
        return std::move(result_);
    }

private:
    /// The cheapest plan with its open project closed and paid.
    Plan closed(const std::vector<Plan>& plans) const {
        const auto paid = [&](Plan plan) {
            if (plan.load.poles > 0) {
                plan.cost += mobilisation_;
                ++plan.projects;
            }
            return plan;
        };
        Plan best = paid(plans.front());
        for (const Plan& plan : plans) {
            const Plan other = paid(plan);
            if (std::pair{other.cost, other.projects} < std::pair{best.cost, best.projects}) {
                best = other;
            }
        }
        return best;
    }

    std::uint32_t remember(const Past& past) {
        history_.push_back(past);
        return static_cast<std::uint32_t>(history_.size()) - 1U;
    }

    void join(std::uint32_t parent, std::uint32_t child) {
        const Plan apart = closed(plans_[child]);
        const JobTree::Node& node = tree_.nodes[child];
        if (plans_[parent].size() > 1 && plans_[child].size() > 1) {
            thin(plans_[parent], kMostAtBranch);
            thin(plans_[child], kMostAtBranch);
        }
        struct Candidate {
            Plan plan;
            Past past;
        };
        std::vector<Candidate> candidates;
        for (const Plan& here : plans_[parent]) {
            candidates.push_back(
                {{here.cost + apart.cost, here.projects + apart.projects, here.load, kNone},
                 {here.history, child, apart.history, false}});
            for (const Plan& below : plans_[child]) {
                const JobLoad load = here.load + below.load + JobLoad{0, 0, node.way_mm};
                if (below.load.poles > 0 && load.within(limits_)) {
                    candidates.push_back({{here.cost + below.cost + node.way,
                                           here.projects + below.projects,
                                           load,
                                           kNone},
                                          {here.history, child, below.history, true}});
                }
            }
        }
        std::stable_sort(
            candidates.begin(), candidates.end(), [](const Candidate& a, const Candidate& b) {
                return a.plan.order() < b.plan.order();
            });
        std::vector<Candidate> kept;
        for (const Candidate& candidate : candidates) {
            const bool beaten = std::any_of(kept.begin(), kept.end(), [&](const Candidate& k) {
                return k.plan.load.within(candidate.plan.load);
            });
            if (!beaten) {
                kept.push_back(candidate);
            }
        }
        thin(kept, kMostPlans);
        plans_[parent].clear();
        for (Candidate& candidate : kept) {
            candidate.plan.history = remember(candidate.past);
            plans_[parent].push_back(candidate.plan);
        }
    }

    /// Leaves so many, spread over all: the cheapest and the last (the lightest) among them.
    template <typename Entry>
    void thin(std::vector<Entry>& entries, std::size_t most) {
        if (entries.size() <= most) {
            return;
        }
        result_.exact = false;
        for (std::size_t i = 0; i < most; ++i) {
            entries[i] = entries[i * (entries.size() - 1U) / (most - 1U)];
        }
        entries.resize(most);
    }

    void trace(std::uint32_t last) {
        std::vector<std::uint32_t> open{last};
        while (!open.empty()) {
            const std::uint32_t at = open.back();
            open.pop_back();
            if (at != kNone) {
                const Past& past = history_[at];
                result_.cut[past.child] = !past.joined;
                open.push_back(past.before);
                open.push_back(past.of_child);
            }
        }
    }

    const JobTree& tree_;
    std::int64_t mobilisation_;
    JobLoad limits_;
    std::vector<std::vector<Plan>> plans_;
    std::vector<Past> history_;
    JobSplit result_;
};

}  // namespace

JobSplit split_tree(const JobTree& tree, std::int64_t mobilisation, const JobLoad& limits) {
    return TreeSplitter{tree, mobilisation, limits}.split();
}

}  // namespace linewood
