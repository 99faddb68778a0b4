#include "assess/wood/wood_tables.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <utility>

namespace linewood {
namespace {

// Tables of redcedar and of the 6600 psi pines are also known from memory; those memories are weaker
// than the rule, which stays within 0.5 in of them (cell by cell -0.5 to +0.9 in), so the rule is used.
constexpr std::array<GeneratingGroup, 4> kGenerated{{
    {"western_redcedar",
     "Western redcedar, 6000 psi (generated)",
     6000,
     0.38,
     "computed; stress from two sources, taper from memory, confirmed by the rule"},
    {"lodgepole_jack_red_pine",
     "Lodgepole, jack and red pine, 6600 psi (generated)",
     6600,
     0.30,
     "computed; stress read (jack pine: memory), taper from memory"},
    {"northern_white_cedar",
     "Northern white cedar, 4000 psi (generated)",
     4000,
     0.38,
     "computed; stress and taper from memory"},
    {"western_larch",
     "Western larch, 8400 psi (generated)",
     8400,
     0.21,
     "computed; stress read, taper from memory"},
}};

struct Membership {
    std::string_view species;
    std::string_view table;
    std::string_view confidence;
};
constexpr std::array<Membership, 10> kMemberships{{
    {"southern_pine", "southern_pine_douglas_fir", "two sources"},
    {"douglas_fir", "southern_pine_douglas_fir", "memory"},
    {"douglas_fir_interior_north", "southern_pine_douglas_fir", "memory"},
    {"western_redcedar", "western_redcedar", "memory"},
    {"ponderosa_pine", "western_redcedar", "memory"},
    {"lodgepole_pine", "lodgepole_jack_red_pine", "memory"},
    {"jack_pine", "lodgepole_jack_red_pine", "memory"},
    {"red_pine", "lodgepole_jack_red_pine", "memory"},
    {"northern_white_cedar", "northern_white_cedar", "made for it"},
    {"western_larch", "western_larch", "made for it"},
}};

WoodTables make_built_in() {
    WoodTables tables;
    tables.put_table(published_8000_psi_table());
    for (const GeneratingGroup& group : kGenerated) {
        tables.put_table(generated_table(group));
    }
    for (Species& species : published_species()) {
        const auto* m = std::ranges::find(kMemberships, species.code, &Membership::species);
        if (m != kMemberships.end()) {
            species.table = tables.find_table(m->table);
            species.table_confidence = m->confidence;
        }
        [[maybe_unused]] const auto place = tables.put_species(std::move(species));
        assert(place);
    }
    return tables;
}

}  // namespace

const WoodTables& WoodTables::built_in() {
    static const WoodTables kTables = make_built_in();
    return kTables;
}

std::optional<SpeciesIndex> WoodTables::find_species(std::string_view text) const {
    const auto found = by_name_.find(species_key(text));
    if (found == by_name_.end()) {
        return std::nullopt;
    }
    return found->second;
}

std::optional<TableIndex> WoodTables::find_table(std::string_view code) const {
    const auto found = std::ranges::find(tables_, code, &DimensionTable::code);
    if (found == tables_.end()) {
        return std::nullopt;
    }
    return static_cast<TableIndex>(found - tables_.begin());
}

const DimensionTable* WoodTables::table_of(SpeciesIndex i) const {
    if (i >= species_.size() || !species_[i].table) {
        return nullptr;
    }
    return &tables_[*species_[i].table];
}

std::optional<Length> WoodTables::standard_setting_depth(Length pole_length) {
    const Length reach = kRowReach + Length::metres(1e-9);
    for (const SettingDepth& d : published_setting_depths()) {
        if (std::abs((d.length - pole_length).metres()) <= reach.metres()) {
            return d.depth;
        }
    }
    return std::nullopt;
}

TableIndex WoodTables::put_table(DimensionTable table) {
    assert(std::ranges::is_sorted(table.rows, {}, &DimensionRow::length));
    if (const auto place = find_table(table.code)) {
        tables_[*place] = std::move(table);
        return *place;
    }
    tables_.push_back(std::move(table));
    return static_cast<TableIndex>(tables_.size() - 1);
}

void WoodTables::take_alias(const std::string& key, SpeciesIndex place) {
    const auto [entry, is_new] = by_name_.try_emplace(key, place);
    if (is_new || entry->second == place) {
        return;
    }
    std::erase_if(species_[entry->second].aliases,
                  [&](const std::string& alias) { return species_key(alias) == key; });
    entry->second = place;
}

std::optional<SpeciesIndex> WoodTables::put_species(Species species) {
    const std::string code_key = species_key(species.code);
    const auto standing = by_name_.find(code_key);
    auto place = static_cast<SpeciesIndex>(species_.size());
    if (standing != by_name_.end()) {
        place = standing->second;
        if (species_key(species_[place].code) != code_key) {
            return std::nullopt;
        }
    }
    for (const std::string& alias : species.aliases) {
        const auto other = by_name_.find(species_key(alias));
        if (other != by_name_.end() && other->second != place &&
            species_key(species_[other->second].code) == other->first) {
            return std::nullopt;
        }
    }
    assert(!species.table || *species.table < tables_.size());
    std::erase_if(by_name_, [place](const auto& entry) { return entry.second == place; });
    by_name_[code_key] = place;
    for (const std::string& alias : species.aliases) {
        take_alias(species_key(alias), place);
    }
    if (place == species_.size()) {
        species_.push_back(std::move(species));
    } else {
        species_[place] = std::move(species);
    }
    return place;
}

}  // namespace linewood
