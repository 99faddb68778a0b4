#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "assess/record/pole.hpp"
#include "assess/units/length.hpp"
#include "assess/wood/dimension_table.hpp"
#include "assess/wood/species.hpp"

namespace linewood {

/// Species and dimension tables in use: the built-in ones, or those with a user's own on top.
/// Read from many threads at once; changed only while being put together.
class WoodTables {
public:
    WoodTables() = default;  ///< no species, no tables; the published setting depths

    /// The built-in tables, made once. Southern pine and Douglas-fir from a published table; western
    /// redcedar (also used for ponderosa pine), lodgepole/jack/red pine, northern white cedar and
    /// western larch generated. The others have a strength only.
    static const WoodTables& built_in();

    /// By code or alias, compared without case, white space, hyphens, underscores and brackets.
    /// @return nothing for an unknown name: no nearest match is ever taken.
    std::optional<SpeciesIndex> find_species(std::string_view text) const;
    std::optional<TableIndex> find_table(std::string_view code) const;

    /// @pre i < species_count()
    const Species& species(SpeciesIndex i) const { return species_[i]; }
    std::size_t species_count() const { return species_.size(); }
    /// @pre i < table_count()
    const DimensionTable& table(TableIndex i) const { return tables_[i]; }
    std::size_t table_count() const { return tables_.size(); }

    /// The table of a species, or null; also for kNoSpecies.
    const DimensionTable* table_of(SpeciesIndex i) const;

    /// Setting depth by length alone, for a pole of any species: within 0.5 ft of a published row.
    static std::optional<Length> standard_setting_depth(Length pole_length);

    /// Adds a table, or replaces the one of that code where it stands. @return its place.
    /// @pre rows sorted by length; each length over 6 ft, its setting depth in [0, length);
    /// each girth has a top girth of its class, above zero and not above it; fewer than 65,535 tables.
    TableIndex put_table(DimensionTable table);
    /// Adds a species, or replaces the one of that code where it stands. An alias that stood for
    /// another species now stands for this one; a code never does. @return its place, or nothing
    /// (and no change) where the code is another species' alias or an alias another's code.
    /// @pre fewer than 65,535 species; `table`, where given, is of this object.
    std::optional<SpeciesIndex> put_species(Species species);

private:
    /// Makes `key` stand for `place`, and takes it off the aliases of whom it stood for.
    void take_alias(const std::string& key, SpeciesIndex place);

    std::vector<Species> species_;
    std::vector<DimensionTable> tables_;
    std::unordered_map<std::string, SpeciesIndex> by_name_;  ///< species_key -> place
};

}  // namespace linewood
