#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace linewood {

/// Part of a sequence, from `begin` up to but not with `end`, and the sum of its scores.
struct Stretch {
    std::size_t begin = 0;
    std::size_t end = 0;
    std::int64_t score = 0;

    friend bool operator==(const Stretch&, const Stretch&) = default;
};

/// All maximal scoring stretches of a sequence (W. L. Ruzzo and M. Tompa, ISMB 1999, 234-241), in
/// order, in linear time. A stretch is one where the running sum is least at its beginning only and
/// greatest at its end only; maximal is one that lies in no other. They do not touch each other's
/// poles, their scores are positive, and zeros at their ends are left outside.
std::vector<Stretch> maximal_stretches(std::span<const std::int64_t> scores);

/// What a rejected and a sound pole score, in thousandths, so that equal sums are equal.
struct StretchScores {
    std::int64_t reject = 0;
    std::int64_t sound = 0;
};

/// The log-likelihood ratio of a bad stretch against the rest: reject 1000 ln(p1/p0), sound
/// 1000 ln((1-p1)/(1-p0)), rounded. p0 is the share of rejects overall, p1 that in a bad stretch:
/// 3 p0, at most 0.5 (own choice, no source). Where p0 is so high that no stretch could be that much
/// worse (p0 >= 0.5), or 0, there is nothing to find: both scores are 0.
StretchScores stretch_scores(std::int64_t rejects, std::int64_t assessed);

}  // namespace linewood
