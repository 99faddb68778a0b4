#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "geo/corridor/corridor_condition.hpp"
#include "geo/corridor/runs.hpp"
#include "geo/stats/rate_interval.hpp"

namespace linewood {

/// A part of a run where rejected poles stand closer together than on the rest of the line.
struct BadStretch {
    std::uint32_t run = 0;
    std::uint32_t first_pole = 0;
    std::uint32_t last_pole = 0;
    double from_m = 0.0;  ///< station of the first
    double to_m = 0.0;
    std::int64_t assessed = 0;
    std::int64_t rejects = 0;
    RateInterval
        reject_share_limits;  ///< 95 %, Wilson; of a place that was picked because it is bad
    std::int64_t score = 0;   ///< log-likelihood ratio, thousandths
    /// How often chance alone has a stretch somewhere that is as bad: (1 + as good or better) /
    /// (1 + relabellings), never less than one in so many. 1 where none were asked for.
    double p = 1.0;
};

struct StretchSearch {
    std::int64_t least_rejects = 2;    ///< own choice, no source
    std::uint32_t relabellings = 999;  ///< 0 = p is not worked out
    std::uint64_t seed = 1;
};

/// Maximal scoring stretches of every run (stretches.hpp), the best score first; equal: by run and
/// station.
///
/// Only assessed poles are in the sequences; those between, without a verdict, are passed over. A pole
/// between runs is in the one it is given. A stretch ends with its run, and at the start of a ring.
///
/// `p` is for all places at once: rejects are dealt anew to all assessed poles, as many as there are,
/// and the best stretch found anywhere is compared. It says that rejects stand together, not why: old
/// poles may stand together.
///
/// @param conditions one a pole.
/// Cost: linear; relabelling about 5 ns a pole each time.
std::vector<BadStretch> bad_stretches(const Runs& runs,
                                      std::span<const PoleCondition> conditions,
                                      const StretchSearch& search = {});

}  // namespace linewood
