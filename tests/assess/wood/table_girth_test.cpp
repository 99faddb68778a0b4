#include "assess/wood/table_girth.hpp"

#include <string>

#include <gtest/gtest.h>

#include "assess/wood/pole_class.hpp"
#include "assess/wood/round_strength.hpp"
#include "tests/support/published_table.hpp"

namespace linewood {
namespace {

const WoodTables& tables() { return WoodTables::built_in(); }

Pole pole(std::string_view species, Maybe<Length> length, std::string_view pole_class) {
    Pole p;
    p.species = tables().find_species(species).value_or(kNoSpecies);
    p.length = length;
    if (const auto c = parse_pole_class(pole_class)) {
        p.has_class = true;
        p.pole_class = *c;
    }
    return p;
}

// Groundline girths to their printed 0.001 in; moments from the printed girth, to the foot-pound.
TEST(TableGirthTest, GroundlineGirthAndMomentOfEveryExample) {
    const auto rows = test::published_table("groundline_moments.txt");
    ASSERT_EQ(rows.size(), 57U);
    for (const auto& w : rows) {
        const std::string name = w[0] + " ft class " + w[1];
        const TableLookup got =
            look_up(tables(), pole("southern_pine", Length::feet(test::number(w[0])), w[1]));
        ASSERT_EQ(got.answer, TableAnswer::found) << name;
        EXPECT_NEAR(got.groundline_girth.value().inches(), test::number(w[5]), 0.00051) << name;
        const double moment = resisting_moment_nm(8000 * kPascalsPerPsi, *got.groundline_girth) /
                              (0.3048 * kNewtonsPerPound);
        EXPECT_NEAR(moment, test::number(w[6]), 0.51) << name;
        EXPECT_NEAR(moment * 0.000264 * 12 * 32 * 9.869604401089358, test::number(w[7]), 0.51)
            << name;
    }
}

TEST(TableGirthTest, TwelvePointTwoMetresIsFortyFeet) {
    const TableLookup feet = look_up(tables(), pole("DF", Length::feet(40), "4"));
    const TableLookup metres = look_up(tables(), pole("DF", Length::metres(12.2), "4"));
    ASSERT_EQ(metres.answer, TableAnswer::found);
    EXPECT_EQ(metres.groundline_girth, feet.groundline_girth);
    EXPECT_EQ(metres.taper->girth_at(Length::feet(10)), feet.taper->girth_at(Length::feet(10)));
    EXPECT_DOUBLE_EQ(feet.groundline_girth.value().inches(), 33.5);
    EXPECT_EQ(feet.kind, TableKind::quoted);
}

TEST(TableGirthTest, SaysWhatKeptItFromAnAnswer) {
    const Length forty = Length::feet(40);
    const struct {
        Pole p;
        TableAnswer answer = TableAnswer::found;
        bool scales = false;  // an average taper is left
    } cases[] = {
        {pole("southern_pine", forty, "4"), TableAnswer::found, true},
        {pole("no such wood", forty, "4"), TableAnswer::no_species, false},
        {pole("scots_pine", forty, "4"), TableAnswer::no_table, false},
        {pole("southern_pine", {}, "4"), TableAnswer::no_length, true},
        {pole("southern_pine", Length::feet(42.5), "4"), TableAnswer::no_row, true},
        {pole("southern_pine", Length::feet(-40), "4"), TableAnswer::no_row, true},
        {pole("southern_pine", forty, "8"), TableAnswer::no_class, true},
        {pole("southern_pine", forty, "10"), TableAnswer::no_cell, true},
        {pole("southern_pine", forty, "H6"), TableAnswer::no_cell, true},
    };
    for (const auto& c : cases) {
        const TableLookup got = look_up(tables(), c.p);
        EXPECT_EQ(name_of(got.answer), name_of(c.answer));
        EXPECT_EQ(got.groundline_girth.has_value(), c.answer == TableAnswer::found);
        EXPECT_EQ(got.taper.has_value(), c.scales) << name_of(c.answer);
        if (got.taper) {
            EXPECT_EQ(got.taper->has_girth(), c.answer == TableAnswer::found);
        }
    }
}

TEST(TableGirthTest, UsesTheRecordedSettingDepth) {
    Pole p = pole("southern_pine", Length::feet(40), "4");
    p.setting_depth = Length::feet(8);
    const TableLookup got = look_up(tables(), p);
    // 33.5 in 6 ft from the butt, 21 in at the tip: 12.5 in over 34 ft, 2 ft further up.
    EXPECT_NEAR(got.groundline_girth.value().inches(), 33.5 - 2 * 12.5 / 34, 1e-12);
    EXPECT_FALSE(got.setting_depth_refused);
}

TEST(TableGirthTest, RefusesAnImpossibleSettingDepth) {
    for (const double depth_ft : {-1.0, 40.0, 400.0}) {
        Pole p = pole("southern_pine", Length::feet(40), "4");
        p.setting_depth = Length::feet(depth_ft);
        const TableLookup got = look_up(tables(), p);
        EXPECT_TRUE(got.setting_depth_refused) << depth_ft;
        EXPECT_DOUBLE_EQ(got.groundline_girth.value().inches(), 33.5) << depth_ft;
    }
}

TEST(TableGirthTest, GeneratedGroupsSayThatTheyAre) {
    for (const char* species : {"western_redcedar",
                                "ponderosa_pine",
                                "lodgepole_pine",
                                "jack_pine",
                                "red_pine",
                                "northern_white_cedar",
                                "western_larch"}) {
        const TableLookup got = look_up(tables(), pole(species, Length::feet(40), "4"));
        EXPECT_EQ(got.answer, TableAnswer::found) << species;
        EXPECT_EQ(got.kind, TableKind::generated) << species;
    }
    for (const char* species : {"southern_pine", "douglas_fir", "douglas_fir_interior_north"}) {
        EXPECT_EQ(look_up(tables(), pole(species, Length::feet(40), "4")).kind, TableKind::quoted);
    }
}

TEST(TableGirthTest, EndsOfThePole) {
    Pole p = pole("southern_pine", Length::feet(40), "4");
    EXPECT_NEAR(pole_ends(tables(), p).tip.value().feet(), 34.0, 1e-12);
    EXPECT_NEAR(pole_ends(tables(), p).butt.value().feet(), -6.0, 1e-12);
    p.setting_depth = Length::feet(10);
    EXPECT_NEAR(pole_ends(tables(), p).tip.value().feet(), 30.0, 1e-12);
    EXPECT_NEAR(pole_ends(tables(), p).butt.value().feet(), -10.0, 1e-12);
    p.setting_depth = Length::feet(50);
    EXPECT_NEAR(pole_ends(tables(), p).butt.value().feet(), -6.0, 1e-12);
}

TEST(TableGirthTest, EndsNeedALengthAndADepth) {
    EXPECT_FALSE(pole_ends(tables(), pole("southern_pine", {}, "4")).tip);
    EXPECT_FALSE(pole_ends(tables(), pole("southern_pine", Length::feet(42.5), "4")).tip);
    EXPECT_NEAR(
        pole_ends(tables(), pole("oak", Length::feet(40), "")).butt.value().feet(), -6.0, 1e-12);
    Pole p = pole("oak", Length::feet(42.5), "");
    p.setting_depth = Length::feet(6);
    EXPECT_NEAR(pole_ends(tables(), p).tip.value().feet(), 36.5, 1e-12);
}

}  // namespace
}  // namespace linewood
