#pragma once

#include <string>
#include <string_view>

#include "assess/record/defect.hpp"
#include "src/job/unit_system.hpp"

namespace linewood {

// Defects and lengths as people type them on a command line. A word may stand in any place of a list;
// numbers stand in the order said. Parts are set apart by commas, colons or spaces; between sizes an
// `x` will do, and a direction may follow an `@`: `90,5,3`, `NE:5x3`, `5x3@out_of_line`.
// Words are taken without case, hyphens and underscores. Everything here throws JobError naming the
// option, what stood there and what to type.

/// A length with the unit written at its end (`in`, `"`, `ft`, `'`, `mm`, `cm`, `m`), else in the unit
/// of girths (in or mm). @return at least zero.
Length typed_length(std::string_view option, std::string_view text, UnitSystem units);

/// A direction in degrees, clockwise from true north, any finite number, or a compass point (N, NE,
/// NNE ...).
Bearing typed_direction(std::string_view option, std::string_view text);

/// The angle by which a line turns, in degrees from 0 (straight on) to 180.
Angle typed_line_angle(std::string_view option, std::string_view text);

/// `[DIRECTION,]WIDTH,DEPTH`, with words: a position (in_line, out_of_line, oblique), a cause (decay,
/// insect, mechanical, woodpecker, fire, check, bolt_hole), `extent=LENGTH` (vertical).
Defect typed_pocket(std::string_view text, UnitSystem units);

/// A bore that found rot: `[DIRECTION,]SHELL[,ANGLE]` or `SHELL`, ANGLE the degrees between bore and
/// the horizontal where the shell was read along the bore; with the word `pocket` where the bore began in
/// a pocket.
Defect typed_bore(std::string_view text, UnitSystem units);

/// A bore that found sound wood: its direction.
Defect typed_sound_bore(std::string_view text);

/// Shell rot all round: its depth.
Defect typed_shell_rot(std::string_view text, UnitSystem units);

}  // namespace linewood
