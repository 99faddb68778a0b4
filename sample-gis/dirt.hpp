#pragma once

#include <string>
#include <vector>

#include "sample-gis/random.hpp"
#include "sample-gis/records.hpp"

namespace linewood::sample {

/// One mistake put in on purpose.
struct Dirt {
    std::string layer;
    std::string feature;  ///< pole_id or span_id
    std::string what;
};

/// Spoils about two dozen records of an area, the way real data is spoilt. Where an area is too small to
/// hold a kind of mistake, that one is left out.
std::vector<Dirt> make_dirty(Random& random, Area& area);

}  // namespace linewood::sample
