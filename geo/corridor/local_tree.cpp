#include "geo/corridor/local_tree.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace linewood {

namespace {

/// The children joined to each node.
struct Children {
    std::vector<std::uint32_t> first;
    std::vector<std::uint32_t> next;  ///< the next child of the same parent

    Children(const StretchTree& tree, const StretchChoice& choice)
        : first(tree.size(), kNone), next(tree.size(), kNone) {
        for (std::size_t i = tree.size(); i-- > 0;) {
            if (choice.joined[i]) {
                const std::uint32_t up = tree.parent[i];
                next[i] = first[up];
                first[up] = static_cast<std::uint32_t>(i);
            }
        }
    }
};

/// A stretch without the poles between its jobs and branches, and which link to undo for each cut.
struct Contracted {
    JobTree jobs;
    std::vector<std::uint32_t> link;  ///< the position whose `joined` is on the way to the parent
    bool branches = false;
};

class Contractor {
public:
    Contractor(const LocalTree& local,
               const std::vector<std::int64_t>& days,
               const StretchChoice& choice)
        : local_{local}, days_{days}, choice_{choice}, children_{local.tree, choice} {}

    Contracted contract(std::span<const std::uint32_t> members) {
        Contracted out;
        std::vector<Visit> open{{least_end(members), kNone, kNone, kNone, 0, 0}};
        std::vector<std::uint32_t> around;
        while (!open.empty()) {
            Visit at = open.back();
            open.pop_back();
            gather(at.node, around);
            out.branches = out.branches || around.size() > 2;
            if (local_.tree.must[at.node] || around.size() > 2) {
                at.key = add(out, at);
                at.way = at.mm = 0;
            }
            for (std::size_t i = around.size(); i-- > 0;) {
                if (around[i] != at.from) {
                    const bool down = local_.tree.parent[around[i]] == at.node;
                    const std::uint32_t link = down ? around[i] : at.node;
                    open.push_back({around[i],
                                    at.node,
                                    at.key,
                                    link,
                                    at.way + local_.tree.way[link],
                                    at.mm + local_.way_mm[link]});
                }
            }
        }
        return out;
    }

private:
    struct Visit {
        std::uint32_t node;
        std::uint32_t from;
        std::uint32_t key;   ///< the last job or branch passed
        std::uint32_t link;  ///< the last link passed
        std::int64_t way;    ///< since `key`
        std::int64_t mm;
    };

    std::uint32_t add(Contracted& out, const Visit& at) const {
        const bool job = local_.tree.must[at.node];
        out.jobs.nodes.push_back({at.key, at.way, at.mm, job ? days_[at.node] : 0, job});
        out.link.push_back(at.link);
        return static_cast<std::uint32_t>(out.link.size()) - 1U;
    }

    /// The neighbours within the stretch, by their place in the graph.
    void gather(std::uint32_t node, std::vector<std::uint32_t>& around) const {
        around.clear();
        if (choice_.joined[node]) {
            around.push_back(local_.tree.parent[node]);
        }
        for (std::uint32_t c = children_.first[node]; c != kNone; c = children_.next[c]) {
            around.push_back(c);
        }
        std::sort(around.begin(), around.end(), [&](std::uint32_t a, std::uint32_t b) {
            return local_.node[a] < local_.node[b];
        });
    }

    std::uint32_t least_end(std::span<const std::uint32_t> members) const {
        std::uint32_t least = kNone;
        std::vector<std::uint32_t> around;
        for (const std::uint32_t member : members) {
            gather(member, around);
            if (around.size() <= 1 &&
                (least == kNone || local_.node[member] < local_.node[least])) {
                least = member;
            }
        }
        return least;
    }

    const LocalTree& local_;
    const std::vector<std::int64_t>& days_;
    const StretchChoice& choice_;
    Children children_;
};

/// The positions of each stretch that passes the limits.
std::vector<std::vector<std::uint32_t>> too_large(const LocalTree& local,
                                                  const std::vector<std::int64_t>& days,
                                                  const JobLoad& limits,
                                                  const StretchChoice& choice) {
    const std::vector<std::uint32_t> root = stretch_roots(local.tree, choice);
    std::vector<JobLoad> load(root.size());
    for (std::size_t i = 0; i < root.size(); ++i) {
        if (root[i] != kNone) {
            load[root[i]] = load[root[i]] + JobLoad{local.tree.must[i] ? 1 : 0,
                                                    days[i],
                                                    choice.joined[i] ? local.way_mm[i] : 0};
        }
    }
    std::vector<std::vector<std::uint32_t>> large;
    std::vector<std::uint32_t> place(root.size(), kNone);
    for (std::uint32_t i = 0; i < root.size(); ++i) {
        const std::uint32_t r = root[i];
        if (r == kNone || load[r].poles < 2 || load[r].within(limits)) {
            continue;
        }
        if (place[r] == kNone) {
            place[r] = static_cast<std::uint32_t>(large.size());
            large.emplace_back();
        }
        large[place[r]].push_back(i);
    }
    return large;
}

/// By how much a split that is not known to be the best may be too dear.
std::int64_t slack_of(const JobTree& jobs,
                      const JobSplit& split,
                      std::int64_t mobilisation,
                      const JobLoad& limits) {
    if (split.exact) {
        return 0;
    }
    StretchTree tree;
    std::vector<std::int64_t> way_mm;
    JobLoad load;
    for (const JobTree::Node& node : jobs.nodes) {
        tree.parent.push_back(node.parent);
        tree.way.push_back(node.way);
        tree.value.push_back(0);
        tree.must.push_back(node.job);
        way_mm.push_back(node.way_mm);
        load = load +
               JobLoad{node.job ? 1 : 0, std::min(node.day_thousandths, limits.day_thousandths), 0};
    }
    return std::max<std::int64_t>(
        0, split.cost - limited_bound(tree, way_mm, {}, mobilisation, load, limits));
}

}  // namespace

LocalTrees::LocalTrees(const LineGraph& graph,
                       const SpanningForest& forest,
                       const StepCosts& costs,
                       const std::vector<bool>& job)
    : graph_{graph}, forest_{forest}, costs_{costs}, job_{job}, seen_(graph.node_count(), false) {}

LocalTree LocalTrees::around(std::uint32_t node) {
    LocalTree local;
    const auto add = [&](std::uint32_t at, std::uint32_t parent, std::uint32_t step) {
        seen_[at] = true;
        local.node.push_back(at);
        local.step.push_back(step);
        local.way_mm.push_back(step == kNone ? 0 : costs_.millimetres[step]);
        local.tree.parent.push_back(parent);
        local.tree.way.push_back(step == kNone ? 0 : costs_.way[step]);
        local.tree.value.push_back(0);
        local.tree.must.push_back(job_[at]);
    };
    add(node, kNone, kNone);
    for (std::uint32_t i = 0; i < local.node.size(); ++i) {
        for (const LineGraph::Arc arc : graph_.arcs(local.node[i])) {
            if (forest_.in_tree[arc.step] && !seen_[arc.node]) {
                add(arc.node, i, arc.step);
            }
        }
    }
    return local;
}

std::vector<std::uint32_t> stretch_roots(const StretchTree& tree, const StretchChoice& choice) {
    std::vector<std::uint32_t> root(tree.size(), kNone);
    for (std::uint32_t i = 0; i < tree.size(); ++i) {
        if (choice.taken[i]) {
            root[i] = choice.joined[i] ? root[tree.parent[i]] : i;
        }
    }
    return root;
}

LimitCut cut_to_limits(const LocalTree& local,
                       const std::vector<std::int64_t>& day_thousandths,
                       std::int64_t mobilisation,
                       const JobLoad& limits,
                       StretchChoice& choice) {
    const auto large = too_large(local, day_thousandths, limits, choice);
    if (large.empty()) {
        return {};
    }
    LimitCut cut{true, 0};
    Contractor contractor{local, day_thousandths, choice};
    std::vector<std::uint32_t> undone;
    for (const std::vector<std::uint32_t>& members : large) {
        const Contracted stretch = contractor.contract(members);
        const JobSplit split = stretch.branches ? split_tree(stretch.jobs, mobilisation, limits)
                                                : split_run(stretch.jobs, mobilisation, limits);
        cut.slack += slack_of(stretch.jobs, split, mobilisation, limits);
        for (std::size_t i = 0; i < split.cut.size(); ++i) {
            if (split.cut[i]) {
                undone.push_back(stretch.link[i]);
            }
        }
    }
    for (const std::uint32_t link : undone) {
        choice.joined[link] = false;
    }
    trim_stretches(local.tree, choice);
    return cut;
}

}  // namespace linewood
