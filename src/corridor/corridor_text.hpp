#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "geo/corridor/money.hpp"
#include "geo/corridor/projects.hpp"
#include "src/corridor/line_model.hpp"

namespace linewood {

/// `12,345` or `12,345.50`: thousands set apart, decimals only where there are some.
std::string money_text(Money amount);
/// At most so many decimals, without zeros at the end.
std::string plain_text(double value, int decimals);
/// Where on the line something is: `run from-to m`, several with `; `.
std::string places_text(const LineModel& line, const std::vector<RunPart>& parts);

}  // namespace linewood
