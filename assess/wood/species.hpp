#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "assess/record/pole.hpp"

namespace linewood {

/// Position of a dimension table in the wood tables in use.
using TableIndex = std::uint16_t;

/// A kind of wood as the tables know it. What the sources do not give is absent, not guessed.
struct Species {
    std::string code;                  ///< lower_snake: `southern_pine`
    std::string name;                  ///< as the trade writes it: `Southern pine`
    std::vector<std::string> aliases;  ///< trade use; common practice, no source
    /// Designated bending strength of the sound pole at the groundline, in pascals; a mean, with a
    /// coefficient of variation of about 20 %.
    std::optional<double> fibre_stress_pa;
    /// Average taper: metres of girth lost for each metre up the pole.
    std::optional<double> average_taper;
    std::optional<TableIndex> table;  ///< its dimension table, where its group is known
    std::string source;
    std::string confidence;        ///< of the strength: `read`, `two sources`, `memory`, ...
    std::string taper_confidence;  ///< of the average taper; empty where there is none
    std::string table_confidence;  ///< of the choice of the table; empty where there is none
};

/// The species of the published tables: codes, aliases, strengths, average tapers. Their `table` is
/// left open; WoodTables ties each to its group.
std::vector<Species> published_species();

/// `text` as species are compared: lower case, without white space, hyphens, underscores and
/// brackets of any kind. ASCII only: other letters stay as they are.
std::string species_key(std::string_view text);

}  // namespace linewood
