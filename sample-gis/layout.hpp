#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "sample-gis/random.hpp"
#include "sample-gis/records.hpp"

namespace linewood::sample {

/// A line as it was built: the poles it runs over, in order; the first may belong to another line
/// (the pole a tap leaves from).
struct Line {
    LineKind kind = LineKind::trunk;
    std::string circuit;
    double kv = 0.0;
    std::vector<std::size_t> poles;  ///< positions in Area::poles
};

/// The poles of one area and the lines over them.
struct Layout {
    std::vector<Pole> poles;
    std::vector<Line> lines;
};

/// Three circuits over open farmland, 22 km by 18 km at most: two of 12.47 kV that leave the substation
/// on common poles and send out single-phase taps of 7.2 kV, and a 34.5 kV tie that crosses both trunks in
/// mid-span without joining them. Exactly `count` poles, some of them service poles off the line.
/// Under 400 poles there is no tie, and under about 100 there may be no taps.
/// @param number counts the areas from 0; it gives circuits and poles their names
/// @param corner the south-west corner of the area in the plane of the CRS, metres
Layout lay_out(Random& random, int number, Xy corner, int count);

/// The place `distance` from `from` in a grid azimuth (degrees).
Xy step(Xy from, double heading, double distance);
double distance(Xy a, Xy b);
/// Grid azimuth from `a` to `b`, degrees in (-180, 180].
double heading(Xy a, Xy b);

}  // namespace linewood::sample
