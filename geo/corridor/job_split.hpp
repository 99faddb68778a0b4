#pragma once

#include <cstddef>
#include <cstdint>
#include <limits>
#include <span>
#include <vector>

#include "geo/network/span_feature.hpp"

namespace linewood {

/// What a project amounts to, in whole units so that nothing is decided by rounding. Also its limits.
struct JobLoad {
    std::int64_t poles = 0;
    std::int64_t day_thousandths = 0;
    std::int64_t millimetres = 0;

    static JobLoad no_limit() {
        constexpr std::int64_t kMost = std::numeric_limits<std::int64_t>::max();
        return {kMost, kMost, kMost};
    }
    bool within(const JobLoad& limit) const {
        return poles <= limit.poles && day_thousandths <= limit.day_thousandths &&
               millimetres <= limit.millimetres;
    }
    friend JobLoad operator+(const JobLoad& a, const JobLoad& b) {
        return {a.poles + b.poles,
                a.day_thousandths + b.day_thousandths,
                a.millimetres + b.millimetres};
    }
    friend bool operator==(const JobLoad&, const JobLoad&) = default;
};

/// One stretch too large for a project: its jobs, and the poles where it branches.
struct JobTree {
    struct Node {
        std::uint32_t parent = kNone;  ///< lower than its own position; kNone = the root
        std::int64_t way = 0;          ///< cost to the parent
        std::int64_t way_mm = 0;
        std::int64_t day_thousandths = 0;
        bool job = false;
    };
    std::vector<Node> nodes;
};

struct JobSplit {
    std::vector<bool> cut;  ///< of each node, from its parent
    std::int64_t cost = 0;  ///< ways and mobilisations
    bool exact = true;      ///< no cheaper one exists
};

/// Splits jobs along a run into projects of consecutive jobs, each within the limits, for the least
/// cost: mobilisation a project, ways within projects. A job that passes a limit alone is a project
/// alone. Of equally cheap plans one of fewest projects, the first of them as long as can be. Exact:
/// E(i) = M + min over j of (way i..j + E(j + 1)), the minimum kept for a sliding window; linear time.
/// @param tree a path: node 0 is its beginning, the parent of each node the one before, all are jobs.
JobSplit split_run(const JobTree& tree, std::int64_t mobilisation, const JobLoad& limits);

/// The same for a stretch that branches; a project is then a connected part, its kilometres are those
/// of its branches together. Keeps for every node the plans below it that are not both dearer and
/// heavier than another; exact where these stay few (kMostPlans, at branches kMostAtBranch), else the
/// best found among plans spread over all costs.
JobSplit split_tree(const JobTree& tree, std::int64_t mobilisation, const JobLoad& limits);

/// Own choices, no source: memory and time against exactness.
inline constexpr std::size_t kMostPlans = 64;
inline constexpr std::size_t kMostAtBranch = 24;

}  // namespace linewood
