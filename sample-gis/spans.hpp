#pragma once

#include "sample-gis/layout.hpp"
#include "sample-gis/random.hpp"
#include "sample-gis/records.hpp"

namespace linewood::sample {

/// Draws the lines of an area as three hands would have: the first circuit span by span, mostly with
/// pole ids and now and then backwards; the second as routes through many poles; the tie span by span
/// without ids, its ends up to 1.5 m off the poles. Service drops and guys come with them.
/// With `single`, the second too is drawn span by span.
void draw_spans(Random& random, const Layout& layout, bool single, Area& area);

}  // namespace linewood::sample
