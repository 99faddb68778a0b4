#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string_view>
#include <vector>

#include "assess/verdict/assessment.hpp"
#include "geo/io/cell.hpp"
#include "geo/network/line_quality.hpp"
#include "src/job/unit_system.hpp"

namespace linewood {

inline constexpr std::size_t kLineColumns = 6;
inline constexpr std::size_t kPoleColumns = kLineColumns + 14;
inline constexpr std::size_t kSectionColumns = 14;
using LineCells = std::array<Cell, kLineColumns>;
using PoleCells = std::array<Cell, kPoleColumns>;
using SectionCells = std::array<Cell, kSectionColumns>;

/// The line at one pole, in the order of line_fields().
LineCells line_cells(const LineDirection& line, LineTrust trust);

/// The added columns of one pole, in the order of pole_fields().
PoleCells pole_cells(const PoleAssessment& a, const LineCells& line, UnitSystem units);

/// The governing strength of the worst section, a share; nothing where it has no value of its own, or where
/// a section without one may be worse.
std::optional<double> known_worst_strength(const PoleAssessment& a);

/// The row of one section, in the order of section_fields().
SectionCells section_cells(std::string_view pole_id, const SectionCondition& s, UnitSystem units);

/// The code of a role or source as written to the output.
std::string_view name_of(LineRole role);
std::string_view name_of(LineSource source);

/// Shared by the writers: absent is null.
Cell cell_of(Maybe<Axis> axis);
Cell cell_of(Maybe<Bearing> bearing);
Cell text_cell(std::string_view text);

}  // namespace linewood
