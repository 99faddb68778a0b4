#include "geo/corridor/stretches.hpp"

#include <algorithm>
#include <cmath>

namespace linewood {

namespace {

/// A stretch that may still grow, with the sums of all scores before it and to its end.
struct Candidate {
    std::size_t begin = 0;
    std::size_t end = 0;
    std::int64_t before = 0;
    std::int64_t to_end = 0;
    std::size_t link = 0;  ///< one more than the last candidate with a lesser `before`; 0 = none
};

/// One more than the last candidate whose `before` is less, 0 where there is none. Those between a
/// candidate and its link cannot be it, so they are skipped.
std::size_t last_lower(const std::vector<Candidate>& candidates, std::int64_t before) {
    std::size_t at = candidates.size();
    while (at != 0 && candidates[at - 1U].before >= before) {
        at = candidates[at - 1U].link;
    }
    return at;
}

}  // namespace

std::vector<Stretch> maximal_stretches(std::span<const std::int64_t> scores) {
    std::vector<Candidate> candidates;
    std::int64_t sum = 0;
    for (std::size_t i = 0; i < scores.size(); ++i) {
        const std::int64_t before = sum;
        sum += scores[i];
        if (scores[i] <= 0) {
            continue;
        }
        Candidate fresh{i, i + 1U, before, sum, 0};
        for (;;) {
            fresh.link = last_lower(candidates, fresh.before);
            if (fresh.link == 0 || candidates[fresh.link - 1U].to_end >= fresh.to_end) {
                break;
            }
            const Candidate& joined = candidates[fresh.link - 1U];
            fresh.begin = joined.begin;
            fresh.before = joined.before;
            candidates.resize(fresh.link - 1U);
        }
        candidates.push_back(fresh);
    }
    std::vector<Stretch> stretches;
    stretches.reserve(candidates.size());
    for (const Candidate& c : candidates) {
        stretches.push_back({c.begin, c.end, c.to_end - c.before});
    }
    return stretches;
}

StretchScores stretch_scores(std::int64_t rejects, std::int64_t assessed) {
    if (rejects <= 0 || 2 * rejects >= assessed) {
        return {};
    }
    const double p0 = static_cast<double>(rejects) / static_cast<double>(assessed);
    const double p1 = std::min(3.0 * p0, 0.5);
    return {std::llround(1000.0 * std::log(p1 / p0)),
            std::llround(1000.0 * std::log((1.0 - p1) / (1.0 - p0)))};
}

}  // namespace linewood
