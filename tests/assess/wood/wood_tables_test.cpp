#include "assess/wood/wood_tables.hpp"

#include <gtest/gtest.h>

namespace linewood {
namespace {

Species species(std::string code, std::vector<std::string> aliases) {
    Species s;
    s.code = std::move(code);
    s.aliases = std::move(aliases);
    return s;
}

std::string found(const WoodTables& tables, std::string_view text) {
    const auto i = tables.find_species(text);
    return i ? tables.species(*i).code : "";
}

TEST(WoodTablesTest, AnEmptySetKnowsNothing) {
    const WoodTables tables;
    EXPECT_FALSE(tables.find_species("southern_pine"));
    EXPECT_FALSE(tables.find_table("western_redcedar"));
    EXPECT_EQ(tables.table_of(0), nullptr);
    EXPECT_EQ(tables.table_of(kNoSpecies), nullptr);
}

TEST(WoodTablesTest, ASpeciesIsReplacedWhereItStands) {
    WoodTables tables;
    tables.put_species(species("ash", {"white ash"}));
    tables.put_species(species("elm", {"wych elm"}));
    EXPECT_EQ(tables.put_species(species("ash", {"grey ash"})), SpeciesIndex{0});
    EXPECT_EQ(tables.species_count(), 2U);
    EXPECT_EQ(found(tables, "grey-ash"), "ash");
    EXPECT_EQ(found(tables, "white ash"), "");
}

TEST(WoodTablesTest, AnAliasGoesToTheLastWhoTookIt) {
    WoodTables tables;
    tables.put_species(species("ash", {"A", "white ash"}));
    tables.put_species(species("aspen", {"a"}));
    EXPECT_EQ(found(tables, "A"), "aspen");
    EXPECT_EQ(tables.species(0).aliases, std::vector<std::string>{"white ash"});
    // Putting ash back as it now is does not take the alias back.
    tables.put_species(Species{tables.species(0)});
    EXPECT_EQ(found(tables, "A"), "aspen");
}

TEST(WoodTablesTest, ACodeIsNeverTaken) {
    WoodTables tables;
    tables.put_species(species("ash", {"white ash"}));
    EXPECT_FALSE(tables.put_species(species("aspen", {"Ash"})));
    EXPECT_FALSE(tables.put_species(species("white_ash", {})));
    EXPECT_EQ(tables.species_count(), 1U);
    EXPECT_EQ(found(tables, "white ash"), "ash");
    EXPECT_EQ(found(tables, "aspen"), "");
}

TEST(WoodTablesTest, ATableIsReplacedWhereItStands) {
    WoodTables tables = WoodTables::built_in();
    const auto place = tables.find_table("western_redcedar").value();
    DimensionTable own;
    own.code = "western_redcedar";
    EXPECT_EQ(tables.put_table(own), place);
    EXPECT_EQ(tables.table(place).kind, TableKind::user);
    EXPECT_EQ(tables.table_of(tables.find_species("WRC").value()), &tables.table(place));
    EXPECT_EQ(WoodTables::built_in().table(place).kind, TableKind::generated);
}

}  // namespace
}  // namespace linewood
