#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "assess/units/date.hpp"

namespace linewood {

/// What is wrong with a pattern, in words; nothing where it can be used.
///
/// A pattern is made of `YYYY`, `MM` and `DD` (two digits), `M` and `D` (one or two), `MON` (Jan to Dec, three
/// letters in English), and `*` at its end for anything that follows; all other characters stand for
/// themselves. It must hold year, month and day once each. Two digits alone are no year.
std::optional<std::string> date_pattern_fault(std::string_view pattern);

/// Patterns that people write dates by, those that fix more first.
std::span<const std::string_view> usual_date_patterns();

/// The day that the text means by the pattern; nothing where it is not written like that, or is no day.
/// @pre the pattern has no fault
std::optional<Date> date_by_pattern(std::string_view text, std::string_view pattern);

}  // namespace linewood
