#pragma once

#include <string_view>

#include "assess/wood/wood_tables.hpp"

namespace linewood {

/// A user's own species and dimension tables, from JSON, put on top of `base`:
///
///     {
///       "units": "us",
///       "note": "free text",
///       "species": [
///         {"code": "spruce", "name": "Spruce", "aliases": ["picea abies"], "fibre_stress": 7200,
///          "average_taper": 0.25, "table": "spruce", "source": "...", "confidence": "..."}
///       ],
///       "tables": [
///         {"code": "spruce", "title": "Spruce", "source": "...", "confidence": "...",
///          "top_girth": {"4": 21},
///          "rows": [{"length": 40, "setting_depth": 6, "girth": {"4": 34, "5": 31.5}}]}
///       ]
///     }
///
/// `units`, required: `us` (girth in, length ft, fibre stress psi, taper in/ft) or `si` (mm, m, MPa, mm/m).
/// A species whose `code` is known replaces what it states and keeps the rest (aliases are added); `null`
/// makes a figure or the table unknown. A table whose `code` is known replaces all of it.
/// `girth` is 6 ft (1.829 m) from the butt. `top_girth` may be left out, class by class: the class
/// system's own stands. `setting_depth` may be left out where the published depths have that length.
/// `code` is lower case letters, digits and underscores. `code`, `source` and, of a table, `rows` are
/// required. An alias taken from a built-in species now means the user's; one that is another's code,
/// or is given to two species of the file, is an error.
///
/// Read: up to 4 MiB, 1000 species, 200 tables of 1000 rows, 100 aliases a species; fibre stress up to
/// 500 MPa, taper up to 100 mm/m, girths up to 5 m, lengths over 6 ft and up to 60 m.
/// @throws JobError naming the JSON path, the value that stands there and, for words, the nearest valid
/// one; nothing is half taken over.
WoodTables read_wood_tables(std::string_view json_text, const WoodTables& base);

}  // namespace linewood
