#pragma once

#include <cstdint>
#include <optional>
#include <string_view>

#include "assess/record/pole.hpp"
#include "assess/units/length.hpp"
#include "assess/units/maybe.hpp"
#include "assess/wood/taper.hpp"
#include "assess/wood/wood_tables.hpp"

namespace linewood {

/// Why the tables give a girth, or the first thing that kept them from it.
enum class TableAnswer : std::uint8_t {
    found,
    no_species,  ///< species not recorded or not known
    no_table,    ///< the species has no dimension table
    no_length,   ///< length not recorded
    no_row,      ///< no row within 0.5 ft of the length
    no_class,    ///< class not recorded or not known
    no_cell,     ///< the row has no pole of that class
};
/// As a code: `found`, `no_species`, ...
std::string_view name_of(TableAnswer answer);

/// What the tables know of one pole.
struct TableLookup {
    TableAnswer answer = TableAnswer::no_species;
    /// Least original girth at the groundline of a pole of that species, class and length.
    Maybe<Length> groundline_girth;
    /// The table's taper where `found`; else the species' average taper, where it has one.
    std::optional<Taper> taper;
    /// Meaningful only where `found`.
    TableKind kind = TableKind::quoted;
    /// The recorded setting depth was negative or not less than the length, and was not used.
    bool setting_depth_refused = false;
};

/// Original girth and taper from the tables. The groundline is the recorded setting depth above the
/// butt, else the row's depth for that length. The row stands for the pole: a 12.2 m pole has the 40 ft
/// pole's taper to the last digit. No allocation, no text; a binary search and a few flops.
TableLookup look_up(const WoodTables& tables, const Pole& pole);

/// The ends of the pole over the groundline (butt negative), by its recorded length and its setting
/// depth (recorded and possible, else the table row's, else by length alone). Absent where not known.
struct PoleEnds {
    Maybe<Length> tip;
    Maybe<Length> butt;
};
PoleEnds pole_ends(const WoodTables& tables, const Pole& pole);

}  // namespace linewood
