#pragma once

#include <array>
#include <string_view>

#include "sample-gis/random.hpp"
#include "sample-gis/records.hpp"

namespace linewood::sample {

/// Gives every pole of a line its record: species, class, length, year, and what of it the books
/// still know. Poles of one line were mostly set in one year.
/// @param line_of the poles of the line, by position in `poles`, that belong to it
void record_pole(Random& random, Pole& pole, int line_year);

/// The year a line of this kind was built.
int line_year(Random& random, LineKind kind);

/// Girth lost for each foot up the pole, inches: the average taper of the species.
double taper_in_per_ft(std::string_view species);
/// The usual depth from butt to groundline, feet.
double setting_ft(double length_ft);

}  // namespace linewood::sample
