#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "assess/record/line_direction.hpp"
#include "assess/verdict/verdict.hpp"

namespace linewood {

/// Characters of an id and of a mark that a strip has room for.
inline constexpr std::size_t kStripIdLetters = 13;
inline constexpr std::size_t kStripMarkLetters = 8;

/// A pole on a strip.
struct StripPole {
    std::string_view id;
    std::string label;  ///< the id as it is written
    double station_m = 0.0;
    Verdict verdict = Verdict::unassessed;
    bool now = false;
    LineRole role = LineRole::tangent;
    std::optional<double> deflection_deg;
    std::string_view mark;  ///< in the user's words: a road; empty = none
};

/// A part of one run, by rising station.
struct StripPart {
    std::string name;  ///< a few letters
    std::vector<StripPole> poles;
};

/// The straight-line diagram of some parts of the line, laid out straight in rows, each row a drawing for a
/// page (so that pages break between them); short parts share a row. At each pole its label, its mark by
/// verdict, its station in metres, its line angle, dead end or junction and the user's mark; between poles
/// the length of the span. Spans are drawn to length between a least and a greatest width; longer ones are
/// broken by a double stroke. Where a part goes on in the next row the pole between is in both.
std::vector<std::string> strip_rows(const std::vector<StripPart>& parts);

}  // namespace linewood
