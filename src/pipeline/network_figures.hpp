#pragma once

#include <array>
#include <cstdint>

#include "geo/network/line_quality.hpp"
#include "geo/network/snap_tally.hpp"
#include "geo/network/span_lengths.hpp"
#include "src/pipeline/run_data.hpp"

namespace linewood {

/// What the report of a network states.
struct NetworkFigures {
    bool poles_made = false;
    bool has_spans = true;
    std::int64_t poles = 0;
    std::array<std::int64_t, 5> roles{};                      ///< by LineRole
    std::array<std::int64_t, 4> sources{};                    ///< by LineSource
    std::array<std::int64_t, 4> qualities{};                  ///< by LineQuality
    std::array<std::int64_t, kQualityReasonCount> reasons{};  ///< by QualityReason

    std::int64_t features = 0;  ///< of the spans layer
    std::int64_t spans = 0;     ///< pole to pole, or left over
    std::int64_t joined = 0;    ///< those that make neighbours
    std::int64_t one_end = 0;   ///< lines joined at one end only
    std::int64_t no_end = 0;    ///< at none
    SnapTally ends;
    LengthQuantiles lengths;

    std::int64_t zero_length = 0;
    std::int64_t closed = 0;   ///< both ends at one pole
    std::int64_t doubled = 0;  ///< a span before it joins the same poles
    std::int64_t very_long = 0;
    std::int64_t far_from_names = 0;
};

NetworkFigures network_figures(const RunData& data);

}  // namespace linewood
