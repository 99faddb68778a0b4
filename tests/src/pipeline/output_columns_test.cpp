#include <cmath>
#include <numbers>
#include <set>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/src/pipeline/assess_survey.hpp"
#include "tests/support/expected_strength.hpp"

namespace linewood::testing {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;
using ::testing::UnorderedElementsAre;

constexpr double kInch = 25.4;
constexpr double kFoot = 0.3048;

double number(const Row& row, const char* column) { return row.at(column).get<double>(); }

TEST(OutputColumns, EveryColumnOfSectionSixIsThereInItsOrderAndNoOther) {
    const AssessedSurvey a{five_poles()};
    const auto added = [&](const char* layer, std::size_t carried) {
        auto all = a.layer(layer).columns();
        all.erase(all.begin(), all.begin() + static_cast<std::ptrdiff_t>(carried));
        return all;
    };
    EXPECT_THAT(added("poles", 1),
                ElementsAre("line_azimuth",
                            "line_role",
                            "line_deflection",
                            "line_source",
                            "line_quality",
                            "line_quality_reason",
                            "original_circumference",
                            "original_source",
                            "remaining_pct",
                            "transverse_pct",
                            "longitudinal_pct",
                            "weakest_pct",
                            "weakest_azimuth",
                            "section_height",
                            "shell_min",
                            "sections",
                            "verdict",
                            "urgency",
                            "reasons",
                            "inspected_on"));
    EXPECT_THAT(
        added("spans", 1),
        ElementsAre("from_pole", "to_pole", "span_azimuth", "span_length_m", "worst_verdict"));
    EXPECT_THAT(added("inspections", 5), IsEmpty());
    EXPECT_THAT(added("defects", 4),
                ElementsAre("inspected_on", "azimuth_true", "position_derived", "shell_effective"));
    EXPECT_THAT(added("sections", 0),
                ElementsAre("pole_id",
                            "height",
                            "original_circumference",
                            "present_circumference",
                            "area_pct",
                            "transverse_pct",
                            "longitudinal_pct",
                            "weakest_pct",
                            "weakest_azimuth",
                            "governing_pct",
                            "shell_min",
                            "pieces",
                            "passes",
                            "reasons"));
    EXPECT_THAT(added("findings", 0),
                ElementsAre("severity", "code", "layer", "feature", "field", "value", "message"));
    EXPECT_THAT(added("run", 0), ElementsAre("item", "layer", "value"));
    // No layer, but OGR lists it: how desktop clients draw the others.
    EXPECT_THAT(layer_names(a.output()),
                UnorderedElementsAre("poles",
                                     "spans",
                                     "inspections",
                                     "defects",
                                     "sections",
                                     "findings",
                                     "run",
                                     "layer_styles"));
}

TEST(OutputColumns, PolesShowTheirWorstSection) {
    const AssessedSurvey a{five_poles()};
    EXPECT_EQ(a.verdict("A"), "serviceable");
    EXPECT_EQ(a.verdict("B"), "treat");
    EXPECT_EQ(a.verdict("C"), "stub");
    EXPECT_EQ(a.verdict("D"), "replace");
    EXPECT_EQ(a.verdict("E"), "unassessed");

    const Row& d = a.pole("D");
    const double left = 100.0 * test::hollow_share(0.75, 40.0);
    for (const char* const column :
         {"remaining_pct", "transverse_pct", "longitudinal_pct", "weakest_pct"}) {
        EXPECT_NEAR(number(d, column), left, 1e-7) << column;
    }
    EXPECT_TRUE(d.at("weakest_azimuth").is_null());  // all directions agree
    EXPECT_NEAR(number(d, "section_height"), 6.0, 1e-9);
    EXPECT_NEAR(number(d, "shell_min"), 0.75, 1e-9);
    EXPECT_EQ(d.at("sections"), 2);
    EXPECT_NEAR(number(d, "original_circumference"), 40.0, 1e-9);
    EXPECT_EQ(d.at("original_source"), "measured");
    EXPECT_EQ(d.at("reasons"),
              "decay_above_groundline;decay_present;shell_below_limit;strength_below_limit;"
              "weakest_below_limit");
    EXPECT_EQ(d.at("inspected_on"), "2024-05-01");
    EXPECT_EQ(d.at("urgency"), "now");  // under two thirds of 65 %
}

TEST(OutputColumns, PolesShowTheirLine) {
    const AssessedSurvey a{five_poles()};
    for (const Row& pole : a.poles().rows) {
        EXPECT_NEAR(number(pole, "line_azimuth"), 0.0, 1e-6) << pole;
        EXPECT_EQ(pole.at("line_source"), "spans");
    }
    EXPECT_EQ(a.pole("A").at("line_role"), "dead_end");
    EXPECT_TRUE(a.pole("A").at("line_deflection").is_null());
    EXPECT_EQ(a.pole("C").at("line_role"), "tangent");
    EXPECT_NEAR(number(a.pole("C"), "line_deflection"), 0.0, 1e-6);
    EXPECT_EQ(a.pole("E").at("line_role"), "dead_end");
}

TEST(OutputColumns, WhatIsNotKnownIsNullNeverZero) {
    Survey s;
    s.add_pole("never", 0, 0);
    s.add_pole("steel", 100, 0, {{"material", "steel"}});
    s.add_pole("looked at", 200, 0);
    s.add_pole("no girth", 300, 0);
    s.add_visit("steel", "2024-05-01");
    s.add_visit("looked at", "2024-05-01", {{"method", "visual"}});
    s.add_visit("no girth", "2024-05-01", {{"method", "bore"}, {"present_circumference", 38.0}});
    const AssessedSurvey a{s};

    for (const char* const id : {"never", "steel", "looked at", "no girth"}) {
        const Row& pole = a.pole(id);
        EXPECT_EQ(pole.at("verdict"), "unassessed") << id;
        for (const char* const column : {"urgency",
                                         "line_azimuth",
                                         "line_deflection",
                                         "remaining_pct",
                                         "transverse_pct",
                                         "longitudinal_pct",
                                         "weakest_pct",
                                         "weakest_azimuth",
                                         "section_height",
                                         "shell_min",
                                         "original_circumference",
                                         "original_source"}) {
            EXPECT_TRUE(pole.at(column).is_null()) << id << ' ' << column << ' ' << pole;
        }
        EXPECT_EQ(pole.at("line_role"), "isolated");
        EXPECT_EQ(pole.at("line_source"), "none");
    }
    EXPECT_EQ(a.pole("never").at("reasons"), "not_inspected");
    EXPECT_EQ(a.pole("never").at("sections"), 0);
    EXPECT_TRUE(a.pole("never").at("inspected_on").is_null());
    EXPECT_EQ(a.pole("steel").at("reasons"), "not_wood");
    EXPECT_EQ(a.pole("looked at").at("reasons"),
              "nothing_measured;original_circumference_missing;present_circumference_missing");
    EXPECT_EQ(a.pole("no girth").at("reasons"), "original_circumference_missing");
}

TEST(OutputColumns, SectionsStandAtTheirPoleLowestFirst) {
    const AssessedSurvey a{five_poles()};
    const Table sections = a.layer("sections");
    std::vector<std::pair<std::string, double>> heights;
    for (const Row& s : sections.rows) {
        heights.emplace_back(s.at("pole_id"), s.at("height"));
        EXPECT_EQ(s.at("@wkt"), a.pole(s.at("pole_id").get<std::string>()).at("@wkt"));
    }
    using Pair = std::pair<std::string, double>;
    EXPECT_THAT(heights,
                ElementsAre(Pair{"A", 0.0},
                            Pair{"B", 0.0},
                            Pair{"C", 0.0},
                            Pair{"C", 2.0},
                            Pair{"D", 0.0},
                            Pair{"D", 6.0}));
    const Row& hollow = sections.rows.at(2);
    const double rest = 1.0 - 2.0 * std::numbers::pi / 40.0;
    EXPECT_NEAR(number(hollow, "original_circumference"), 40.0, 1e-9);
    EXPECT_NEAR(number(hollow, "present_circumference"), 40.0, 1e-9);
    EXPECT_NEAR(number(hollow, "area_pct"), 100.0 * (1.0 - rest * rest), 1e-7);
    for (const char* const column :
         {"transverse_pct", "longitudinal_pct", "weakest_pct", "governing_pct"}) {
        EXPECT_NEAR(number(hollow, column), 100.0 * test::hollow_share(1.0, 40.0), 1e-7) << column;
    }
    EXPECT_TRUE(hollow.at("weakest_azimuth").is_null());
    EXPECT_NEAR(number(hollow, "shell_min"), 1.0, 1e-9);
    EXPECT_EQ(hollow.at("pieces"), 1);
    EXPECT_EQ(hollow.at("passes"), false);
    EXPECT_EQ(hollow.at("reasons"), "shell_below_limit;strength_below_limit;weakest_below_limit");
    EXPECT_EQ(sections.rows.at(0).at("passes"), true);
    EXPECT_TRUE(sections.rows.at(0).at("reasons").is_null());
    EXPECT_TRUE(sections.rows.at(0).at("shell_min").is_null());
}

TEST(OutputColumns, ASectionThatCannotBeJudgedPassesNeitherWay) {
    Survey s;
    s.add_pole("P", 0, 0);
    s.add_visit("P", "2024-05-01", {{"method", "excavated"}, {"original_circumference", 40.0}});
    s.add_defect("P", "external_pocket", {{"height", 0.0}, {"width", 5.0}});
    const AssessedSurvey a{s};
    const Row& section = a.layer("sections").rows.at(0);
    EXPECT_TRUE(section.at("passes").is_null());
    EXPECT_EQ(section.at("reasons"), "pocket_size_missing");
    EXPECT_EQ(a.verdict("P"), "unassessed");
    EXPECT_EQ(a.pole("P").at("reasons"), "decay_present;pocket_size_missing");
}

TEST(OutputColumns, DefectsShowDirectionPositionAndShell) {
    Survey s = five_poles();
    s.defects.rows.clear();
    s.add_defect("B",
                 "internal_rot",
                 {{"azimuth", 20.0},
                  {"azimuth_ref", "true"},
                  {"shell_thickness", 4.0},
                  {"bore_angle", 45.0}});
    s.add_defect("B",
                 "external_pocket",
                 {{"azimuth", 100.0}, {"azimuth_ref", "true"}, {"width", 4.0}, {"depth", 1.5}});
    s.add_defect("B",
                 "external_pocket",
                 {{"azimuth", 225.0}, {"azimuth_ref", "true"}, {"width", 0.5}, {"depth", 1.0}});
    s.add_defect("B", "bore", {});
    s.defects.fill("height", 0.0);
    const AssessedSurvey a{s};
    const auto defects = a.layer("defects").rows;
    ASSERT_EQ(defects.size(), 4U);
    EXPECT_EQ(defects[0].at("azimuth_true"), 20.0);
    EXPECT_EQ(defects[0].at("position_derived"), "in_line");
    EXPECT_NEAR(number(defects[0], "shell_effective"), 2.8, 1e-9);  // 4 in at 45 degrees, times 0.7
    EXPECT_EQ(defects[1].at("position_derived"), "out_of_line");
    EXPECT_NEAR(number(defects[1], "shell_effective"), 2.8 - 1.5, 1e-9);  // what is left behind it
    EXPECT_EQ(defects[2].at("position_derived"), "oblique");
    EXPECT_TRUE(defects[3].at("azimuth_true").is_null());
    EXPECT_TRUE(defects[3].at("position_derived").is_null());
    // Put at their pole: the plain table became a layer of points.
    for (const Row& d : defects) {
        EXPECT_EQ(d.at("@wkt"), a.pole("B").at("@wkt"));
    }
    EXPECT_NEAR(number(a.pole("B"), "shell_min"), 1.3, 1e-9);
}

TEST(OutputColumns, ADefectKeepsItsOwnPlace) {
    Survey s = five_poles();
    s.defects.geometry = "POINT";
    s.defects.crs = Survey::kUtm10;
    s.defects.rows[0]["@wkt"] = "POINT (1 2)";
    const auto defects = AssessedSurvey{s}.layer("defects").rows;
    EXPECT_EQ(defects[0].at("@wkt"), "POINT (1 2)");
    EXPECT_EQ(defects[1].at("@wkt"), s.poles.pole("C").at("@wkt"));
}

TEST(OutputColumns, SpansAreCutAtPolesWithTheirAttributes) {
    Survey s = five_poles();
    s.spans.rows.front()["circuit"] = "north";
    s.add_span({{0, 160}, {30, 200}}, {{"circuit", "loose"}});
    s.add_span({{900, 900}, {950, 900}}, {{"circuit", "far"}});
    const AssessedSurvey a{s};
    const Table& spans = a.layer("spans");
    ASSERT_EQ(spans.rows.size(), 6U);
    const std::string from[] = {"A", "B", "C", "D"};
    const std::string to[] = {"B", "C", "D", "E"};
    const std::string worst[] = {"treat", "stub", "replace", "replace"};
    for (std::size_t i = 0; i < 4; ++i) {
        const Row& span = spans.row("from_pole", from[i]);
        EXPECT_EQ(span.at("to_pole"), to[i]);
        EXPECT_EQ(span.at("circuit"), "north");
        EXPECT_EQ(span.at("worst_verdict"), worst[i]);
        EXPECT_NEAR(number(span, "span_azimuth"), 0.0, 1e-6);
        // On the central meridian of a UTM zone the grid is 0.9996 of the ground.
        EXPECT_NEAR(number(span, "span_length_m"), 40.0 / 0.9996, 1e-5);
    }
    EXPECT_EQ(spans.row("from_pole", "B").at("@wkt"), "LINESTRING (500000 5000040,500000 5000080)");
    const Row& loose = spans.row("circuit", "loose");
    EXPECT_EQ(loose.at("from_pole"), "E");
    EXPECT_TRUE(loose.at("to_pole").is_null());
    EXPECT_EQ(loose.at("worst_verdict"), "unassessed");
    const Row& far = spans.row("circuit", "far");
    for (const char* const column : {"from_pole", "to_pole", "worst_verdict"}) {
        EXPECT_TRUE(far.at(column).is_null()) << column;
    }
    EXPECT_NEAR(number(far, "span_length_m"), 50.0 / 0.9996, 1e-4);
    // Whole features keep their FID, as does the first piece of a cut one.
    EXPECT_EQ(spans.row("from_pole", "A").at("@fid"), 1);
    EXPECT_EQ(loose.at("@fid"), 2);
    EXPECT_EQ(far.at("@fid"), 3);
}

TEST(OutputColumns, SpansComeInInputOrderWhereTheFormatKeepsOrder) {
    Survey s = five_poles();
    s.add_span({{0, 160}, {30, 200}}, {{"circuit", "loose"}});
    const AssessedSurvey a{s, [](AssessJob& job) {
                               job.out.replace_filename("out");
                               job.format = OutputFormat::geojson;
                           }};
    std::vector<std::string> from;
    for (const Row& span : a.layer("spans").rows) {
        from.push_back(span.at("from_pole"));
    }
    EXPECT_THAT(from, ElementsAre("A", "B", "C", "D", "E"));
}

TEST(OutputColumns, TheWorseVerdictOfTwoPolesFollowsTheContractsOrder) {
    // From the worst to the best.
    const std::vector<std::string> order{"D", "C", "E", "B", "A"};
    const std::vector<std::string> verdicts{
        "replace", "stub", "unassessed", "treat", "serviceable"};
    Survey s = five_poles();
    s.spans.rows.clear();
    for (std::size_t i = 0; i < order.size(); ++i) {
        for (std::size_t j = i + 1; j < order.size(); ++j) {
            s.add_span({{-500, 0}, {-600, 0}},
                       {{"from_pole", order[j]}, {"to_pole", order[i]}, {"worst", verdicts[i]}});
        }
    }
    const AssessedSurvey a{s};
    EXPECT_EQ(a.layer("spans").rows.size(), 10U);
    for (const Row& span : a.layer("spans").rows) {
        EXPECT_EQ(span.at("worst_verdict"), span.at("worst")) << span;
    }
}

TEST(OutputColumns, SiIsTheSameFiguresInMillimetresAndMetres) {
    const AssessedSurvey us{five_poles()};
    const AssessedSurvey si{five_poles(), [](AssessJob& job) { job.units = UnitSystem::si; }};
    const std::set<std::string> girths{
        "original_circumference", "present_circumference", "shell_min", "shell_effective"};
    const std::set<std::string> heights{"height", "section_height"};
    for (const char* const layer : {"poles", "spans", "inspections", "defects", "sections"}) {
        // Carried columns stay as they are, whatever their name.
        const std::size_t carried = std::string{"inspections"} == layer ? 99
                                    : std::string{"defects"} == layer   ? 5
                                                                        : 0;
        const auto a = us.layer(layer).rows;
        const auto b = si.layer(layer).rows;
        ASSERT_EQ(a.size(), b.size());
        for (std::size_t i = 0; i < a.size(); ++i) {
            std::size_t at = 0;
            for (const auto& item : a[i].items()) {
                const Row& other = b[i].at(item.key());
                const bool own = at++ >= carried + 2;
                const double factor =
                    own && girths.count(item.key()) != 0                                ? kInch
                    : layer == std::string{"sections"} && girths.count(item.key()) != 0 ? kInch
                    : own && heights.count(item.key()) != 0                             ? kFoot
                    : layer == std::string{"sections"} && item.key() == "height"        ? kFoot
                                                                                        : 1.0;
                if (item.value().is_number_float()) {
                    // Both are rounded to nine decimals of their own unit.
                    EXPECT_NEAR(item.value().get<double>() * factor, other.get<double>(), 3e-8)
                        << layer << ' ' << item.key();
                } else {
                    EXPECT_EQ(item.value(), other) << layer << ' ' << item.key();
                }
            }
        }
    }
    EXPECT_NEAR(number(si.pole("D"), "section_height"), 6.0 * kFoot, 1e-12);
    EXPECT_EQ(si.pole("D").at("original_circumference"), 40.0 * kInch);
}

TEST(OutputColumns, UnitsAndMeaningsAreInTheFile) {
    const AssessedSurvey a{five_poles(), [](AssessJob& job) { job.units = UnitSystem::si; }};
    const Table notes = read_sql(a.output(), "SELECT * FROM gpkg_data_columns");
    const auto text_of = [&](const char* table, const char* column) {
        for (const Row& row : where(notes, "table_name", table)) {
            if (row.at("column_name") == column) {
                return row.at("description").get<std::string>();
            }
        }
        return std::string{};
    };
    EXPECT_THAT(text_of("poles", "original_circumference"), ::testing::HasSubstr("mm"));
    EXPECT_THAT(text_of("poles", "section_height"), ::testing::HasSubstr("m"));
    EXPECT_THAT(text_of("poles", "remaining_pct"), ::testing::HasSubstr("%"));
    EXPECT_THAT(text_of("sections", "shell_min"), ::testing::HasSubstr("mm"));
    EXPECT_THAT(text_of("defects", "azimuth_true"), ::testing::HasSubstr("deg"));
    EXPECT_THAT(text_of("poles", "verdict"), ::testing::HasSubstr("serviceable"));
}

}  // namespace
}  // namespace linewood::testing
