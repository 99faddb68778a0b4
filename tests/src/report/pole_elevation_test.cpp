#include "src/report/pole_elevation.hpp"

#include <cmath>

#include <gtest/gtest.h>

#include "src/report/pole_elevation_scale.hpp"
#include "src/report/section_drawing_parts.hpp"
#include "tests/src/report/xml_check.hpp"
#include "tests/support/pole_builder.hpp"

namespace linewood {
namespace {

using test::PoleCase;
using test::XmlCheck;
using test::XmlElement;

std::string elevation_of(const PoleCase& c,
                         const std::string& title = "Pole",
                         UnitSystem units = UnitSystem::us) {
    const test::Assessed a = c.assess();
    const WoodTables& tables = WoodTables::built_in();
    OriginalGirth original;
    original.groundline = a.original;
    original.source = a.original_source;
    original.taper = look_up(tables, c.pole).taper;
    PoleElevationInput in{pole_ends(tables, c.pole), original, a.sections, c.defects, c.criteria};
    in.title = title;
    in.units = units;
    return pole_elevation(in);
}

PoleCase forty_foot_pole() {
    PoleCase c;
    c.listed("southern_pine", 40.0, "4").original(40.0).present(38.0).excavated();
    return c;
}

TEST(PoleElevation, NamesEndsSectionsAndDefects) {
    PoleCase c = forty_foot_pole();
    c.with(test::pocket(5.0, 2.0).toward(90.0))
        .with(test::rot(2.5).toward(10.0))
        .with(test::rot(3.0).toward(100.0))
        .with(test::pocket(4.0, 4.0).at(20.0).toward(90.0).extent(12.0));
    const std::string document = elevation_of(c);
    const XmlCheck xml{document};
    EXPECT_EQ(xml.fault(), "");
    EXPECT_TRUE(xml.has_text("tip, 34 ft"));
    EXPECT_TRUE(xml.has_text("butt, set 6 ft deep"));
    EXPECT_TRUE(xml.has_text("2 rot bores"));
    const test::Assessed a = c.assess();
    for (const double height : {0.0, 20.0}) {
        const SectionCondition& s = a.section(height);
        const std::string label = svg_number(height) +
                                  " ft: " + share_text(s.strengths->governing, 0.65) +
                                  (s.outcome == SectionOutcome::fails ? ", FAILS" : ", meets");
        EXPECT_TRUE(xml.has_text(label)) << label;
    }
    EXPECT_TRUE(xml.has_text("girth 38 of 40 in"));
}

TEST(PoleElevation, IsWellFormedAndOnItsPageInHardCases) {
    PoleCase crowded = forty_foot_pole();
    for (const double h :
         {-1.0, -0.4, 0.0, 0.1, 0.6, 1.2, 1.8, 2.5, 10.0, 11.0, 12.0, 30.0, 33.0}) {
        crowded.with(test::pocket(3.0, 1.0).at(h)).with(test::rot(2.5).at(h).toward(90.0));
    }
    PoleCase beyond = forty_foot_pole();
    beyond.with(test::pocket(3.0, 1.0).at(60.0)).with(test::rot(2.0).at(-9.0));
    PoleCase short_pole;
    short_pole.pole.length = Length::feet(1.0);
    short_pole.pole.setting_depth = Length::feet(0.5);
    const std::vector<PoleCase> cases{
        forty_foot_pole(), crowded, beyond, short_pole, PoleCase{}, PoleCase{}.never_inspected()};
    for (const PoleCase& c : cases) {
        for (const UnitSystem units : {UnitSystem::us, UnitSystem::si}) {
            const std::string document = elevation_of(c, "<script>alert(1)</script>", units);
            const XmlCheck xml{document};
            ASSERT_EQ(xml.fault(), "");
            EXPECT_TRUE(xml.has_text("&lt;script&gt;alert(1)&lt;/script&gt;"));
            const double height = std::stod(xml.elements().front().at("height"));
            for (const XmlElement& e : xml.elements()) {
                EXPECT_EQ(e.attributes.count("style"), 0U) << "forbidden in pages";
                if (e.name == "text") {
                    const double y = std::stod(e.at("y"));
                    EXPECT_TRUE(y > 10.0 && y < height - 5.0) << e.text;
                }
            }
        }
    }
}

TEST(PoleElevation, SaysWhatIsNotRecorded) {
    PoleCase c;
    c.with(test::rot(2.5));
    const std::string document = elevation_of(c);
    const XmlCheck xml{document};
    EXPECT_TRUE(xml.has_text("tip not recorded"));
    EXPECT_TRUE(xml.has_text("setting depth not recorded"));
    EXPECT_TRUE(xml.has_text("girth not known: an even 40 in drawn"));
    PoleCase measured;
    measured.original(40.0).present(39.0);
    const std::string even = elevation_of(measured);
    EXPECT_TRUE(XmlCheck{even}.has_text("sound pole, taper not known: even"));
}

TEST(HeightScale, IsStraightBetweenItsKnotsAndBreaksOnlyThere) {
    const HeightScale scale{
        {Length::feet(-6.0), Length::feet(-1.0), Length::feet(2.0), Length::feet(34.0)},
        100.0,
        800.0};
    EXPECT_EQ(scale.y(Length::feet(34.0)), 100.0);
    EXPECT_EQ(scale.y(Length::feet(-6.0)), 800.0);
    EXPECT_EQ(scale.y(Length::feet(90.0)), 100.0);
    EXPECT_EQ(scale.y(Length::feet(-90.0)), 800.0);
    EXPECT_NEAR(scale.y(Length::feet(0.5)),
                (scale.y(Length::feet(-1.0)) + scale.y(Length::feet(2.0))) / 2.0,
                1e-9);
    double before = scale.y(Length::feet(-6.0));
    for (double h = -5.9; h < 34.0; h += 0.1) {
        EXPECT_LT(scale.y(Length::feet(h)), before);
        before = scale.y(Length::feet(h));
    }
    EXPECT_EQ(scale.breaks(), (std::vector<Length>{Length::feet(2.0), Length::feet(-1.0)}));
    const HeightScale even{{Length{}, Length{}, Length::feet(2.0), Length::feet(2.0)}, 0.0, 100.0};
    EXPECT_TRUE(even.breaks().empty());
}

TEST(HeightScale, LabelsRoundHeightsClearOfEachOther) {
    const HeightScale scale{
        {Length::feet(-6.0), Length::feet(-1.0), Length::feet(2.0), Length::feet(34.0)},
        100.0,
        800.0};
    const auto ticks = scale.ticks(Length::feet(1.0), 24.0);
    ASSERT_GT(ticks.size(), 6U);
    EXPECT_NE(std::find(ticks.begin(), ticks.end(), Length{}), ticks.end());
    for (std::size_t i = 1; i < ticks.size(); ++i) {
        EXPECT_GE(scale.y(ticks[i - 1]) - scale.y(ticks[i]), 24.0);
    }
}

TEST(SpreadAlong, KeepsLabelsApartAndOnThePage) {
    const auto at = spread_along({10.0, 10.0, 11.0, 95.0, 99.0}, 15.0, 0.0, 100.0);
    for (std::size_t i = 1; i < at.size(); ++i) {
        EXPECT_GE(at[i] - at[i - 1], 14.9);
    }
    EXPECT_GE(at.front(), 0.0);
    EXPECT_LE(at.back(), 100.0);
    EXPECT_TRUE(spread_along({}, 15.0, 0.0, 100.0).empty());
}

}  // namespace
}  // namespace linewood
