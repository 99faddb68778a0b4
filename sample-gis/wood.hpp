#pragma once

#include <string_view>

#include "sample-gis/random.hpp"
#include "sample-gis/records.hpp"

namespace linewood::sample {

/// Gives a pole its record: species, class, length, year, and what of it the books still know.
/// @param line_year the year its line was built; most poles of a line were set then
void record_pole(Random& random, Pole& pole, int line_year);

/// The year a line of this kind was built.
int line_year(Random& random, LineKind kind);

/// Girth lost for each foot up the pole, inches: the average taper of the species.
double taper_in_per_ft(std::string_view species);
/// The usual depth from butt to groundline, feet.
double setting_ft(double length_ft);

}  // namespace linewood::sample
