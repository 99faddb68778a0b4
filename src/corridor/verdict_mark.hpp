#pragma once

#include "assess/verdict/verdict.hpp"
#include "src/report/svg.hpp"

namespace linewood {

/// Draws a pole by its verdict, told apart by shape and filling alone: `replace` a black square, `stub` a
/// square of which the lower half is black, `treat` a ring with a dot, `serviceable` a ring, `unassessed`
/// an open diamond. One that cannot wait has a second line around it.
void draw_verdict_mark(SvgWriter& svg, SvgPoint at, Verdict verdict, bool now, double half);

/// All marks with their words, side by side. @return how wide it is.
double draw_mark_key(SvgWriter& svg, SvgPoint at);

}  // namespace linewood
