#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "geo/io/data_error.hpp"
#include "tests/src/pipeline/assess_survey.hpp"

namespace linewood::testing {
namespace {

using ::testing::SizeIs;

const Row kSound{
    {"method", "excavated"}, {"original_circumference", 40.0}, {"present_circumference", 40.0}};

TEST(LineOfAPole, AJunctionWithoutAStraightPairHasNone) {
    Survey s;
    s.add_pole("J", 0, 0);
    s.add_visit("J", "2024-05-01", kSound);
    const std::pair<const char*, Position> arms[] = {
        {"N", {0, 40}}, {"SE", {35, -20}}, {"SW", {-35, -20}}};
    for (const auto& [id, at] : arms) {
        s.add_pole(id, at.first, at.second);
        s.add_span({{0, 0}, at});
    }
    const AssessedSurvey a{s};
    EXPECT_EQ(a.pole("J").at("line_role"), "junction");
    EXPECT_TRUE(a.pole("J").at("line_azimuth").is_null());
    EXPECT_TRUE(a.pole("J").at("line_deflection").is_null());
    // Without an axis there is no across and no along; the weakest direction governs.
    EXPECT_TRUE(a.pole("J").at("transverse_pct").is_null());
    EXPECT_TRUE(a.pole("J").at("longitudinal_pct").is_null());
    EXPECT_EQ(a.pole("J").at("remaining_pct"), a.pole("J").at("weakest_pct"));
}

TEST(LineOfAPole, TheDirectionIsThatInWhichTheLineLeaves) {
    Survey s;
    s.add_pole("A", 0, 0);
    s.add_pole("B", 40, 40);
    s.add_span({{0, 0}, {0, 40}, {40, 40}});  // north first, then east; no pole at the bend
    const AssessedSurvey a{s};
    EXPECT_NEAR(a.pole("A").at("line_azimuth").get<double>(), 0.0, 1e-6);
    EXPECT_NEAR(a.pole("B").at("line_azimuth").get<double>(), 90.0, 1e-3);
    EXPECT_NEAR(a.layer("spans").rows.at(0).at("span_length_m").get<double>(), 80.0 / 0.9996, 1e-3);
}

// Torn apart at its bend, the branch would end at no pole and the junction pass for a tangent.
TEST(LineOfAPole, ALineInPartsThatMeetIsOneSpan) {
    for (const bool in_parts : {false, true}) {
        Survey s;
        s.spans.geometry = "GEOMETRY";
        s.add_pole("W", -40, 0);
        s.add_pole("J", 0, 0);
        s.add_pole("E", 40, 0);
        s.add_pole("B", 20, 40);
        s.add_span({{-40, 0}, {0, 0}});
        s.add_span({{0, 0}, {40, 0}});
        Row& branch = s.add_span({{0, 0}, {0, 20}, {20, 40}});
        if (in_parts) {
            branch.erase("@path");
            branch["@wkt"] =
                "MULTILINESTRING ((500000 5000000,500000 5000020),"
                "(500000 5000020,500020 5000040))";
        }
        const AssessedSurvey a{s};
        EXPECT_EQ(a.pole("J").at("line_role"), "junction") << in_parts;
        EXPECT_EQ(a.pole("B").at("line_role"), "dead_end") << in_parts;
        EXPECT_THAT(a.layer("spans").rows, SizeIs(3)) << in_parts;
    }
}

TEST(LineOfAPole, PolesBesideALineTakeItsDirectionWhereAskedFor) {
    Survey s;
    s.add_pole("A", 0, 0);
    s.add_pole("B", 100, 0);
    s.add_pole("beside", 50, 8);
    s.add_pole("far", 50, 60);
    s.add_span({{0, 0}, {100, 0}});
    EXPECT_EQ(AssessedSurvey{s}.pole("beside").at("line_source"), "none");
    const AssessedSurvey a{s,
                           [](AssessJob& job) { job.network.nearest_line = Length::metres(10.0); }};
    EXPECT_EQ(a.pole("beside").at("line_source"), "nearest_line");
    EXPECT_NEAR(a.pole("beside").at("line_azimuth").get<double>(), 90.0, 1e-3);
    EXPECT_EQ(a.pole("far").at("line_source"), "none");
}

TEST(LineOfAPole, LayersWithoutACoordinateSystemAreAPlaneOfTheUnitStated) {
    Survey s = five_poles();
    s.set_crs("");
    const AssessedSurvey metres{s};
    EXPECT_THAT(metres.doubts("crs_unknown"), SizeIs(1));
    EXPECT_EQ(metres.layer("spans").rows.at(0).at("span_length_m"), 40.0);
    const AssessedSurvey feet{s, [](AssessJob& job) { job.plane_metres_per_unit = 0.3048; }};
    EXPECT_NEAR(feet.layer("spans").rows.at(0).at("span_length_m").get<double>(), 12.192, 1e-9);
    EXPECT_EQ(feet.pole("C").at("line_role"), "tangent");
    // What GeoPackage has for "none": a plane of its own.
    EXPECT_THAT(feet.layer("poles").crs, ::testing::HasSubstr("Undefined Cartesian"));
}

TEST(LineOfAPole, ALocalSystemIsAPlaneInItsOwnUnit) {
    Survey s = five_poles();
    s.set_crs(
        R"(LOCAL_CS["site grid",UNIT["foot",0.3048],AXIS["Easting",EAST],AXIS["Northing",NORTH]])");
    const AssessedSurvey a{s, [](AssessJob& job) { job.plane_metres_per_unit = 1.0; }};
    EXPECT_NEAR(a.layer("spans").rows.at(0).at("span_length_m").get<double>(), 12.192, 1e-9);
    EXPECT_EQ(a.pole("C").at("line_role"), "tangent");
    EXPECT_EQ(a.doubt("crs_local").at("value"), "site grid");
    EXPECT_THAT(a.doubts("crs_unknown"), ::testing::IsEmpty());
    // A layer beside it that states nothing is in the same plane.
    Survey half = s;
    half.spans.crs = "";
    const AssessedSurvey b{half};
    EXPECT_NEAR(b.layer("spans").rows.at(0).at("span_length_m").get<double>(), 12.192, 1e-9);
    EXPECT_EQ(b.doubt("crs_assumed").at("layer"), "spans");
    // Degrees cannot be had of it.
    const auto as_json = [](AssessJob& job) {
        job.format = OutputFormat::geojson;
        job.out.replace_extension();
    };
    EXPECT_THROW((AssessedSurvey{s, as_json}), DataError);
}

TEST(LineOfAPole, AGeocentricSystemIsRefused) {
    Survey s = five_poles();
    s.set_crs("EPSG:4978");
    try {
        const AssessedSurvey a{s};
        FAIL() << "expected DataError";
    } catch (const DataError& error) {
        EXPECT_THAT(error.what(), ::testing::HasSubstr("layer 'poles'"));
        EXPECT_THAT(error.what(), ::testing::HasSubstr("geocentric"));
    }
}

TEST(LineOfAPole, AGivenAzimuthFarOffTheSpansIsSaid) {
    Survey s = five_poles();
    const double given[] = {0.0, 15.0, 15.001, 165.0, 280.0};
    for (std::size_t i = 0; i < 5; ++i) {
        s.poles.rows[i]["given_azimuth"] = given[i];
    }
    const AssessedSurvey a{s};
    const std::vector<Row> doubts = a.doubts("given_azimuth_off");
    ASSERT_THAT(doubts, SizeIs(2));
    const Row& first = doubts.at(0);
    EXPECT_EQ(first.at("feature"), "C");
    EXPECT_EQ(first.at("field"), "given_azimuth");
    EXPECT_EQ(first.at("value"), "15.001");
    EXPECT_EQ(first.at("@wkt"), "POINT (500000 5000080)");
    const Row& second = doubts.at(1);
    EXPECT_EQ(second.at("feature"), "E");
    EXPECT_EQ(second.at("value"), "280") << "as recorded";
    EXPECT_THAT(second.at("message").get<std::string>(),
                ::testing::HasSubstr("the spans run along 0.0 degrees, 80.0 off"));
    EXPECT_EQ(a.pole("E").at("line_azimuth"), 100.0);  // the one given was used
    for (const char* const id : {"A", "B", "C", "D", "E"}) {
        const bool off = id[0] == 'C' || id[0] == 'E';
        EXPECT_EQ(a.pole(id).at("line_quality"), off ? "weak" : "sure") << id;
        EXPECT_EQ(a.pole(id).at("line_quality_reason"), "given") << id;
    }
    const AssessedSurvey lenient{
        s, [](AssessJob& job) { job.network.given_axis_limit = Angle::degrees(90.0); }};
    EXPECT_THAT(lenient.doubts("given_azimuth_off"), ::testing::IsEmpty());
}

TEST(LineOfAPole, ALayerWithoutACoordinateSystemTakesThatOfTheOther) {
    for (const bool poles_lack_it : {true, false}) {
        Survey s = five_poles();
        (poles_lack_it ? s.poles : s.spans).crs = "";
        const AssessedSurvey a{s};
        EXPECT_EQ(a.doubt("crs_assumed").at("layer"), poles_lack_it ? "poles" : "spans");
        EXPECT_EQ(a.pole("C").at("line_role"), "tangent");
        EXPECT_NEAR(a.layer("spans").row("from_pole", "A").at("span_length_m").get<double>(),
                    40.0 / 0.9996,
                    1e-5);
    }
}

TEST(LineOfAPole, CoordinateSystemsAreKeptLayerByLayer) {
    Survey s = five_poles();
    s.spans = in_crs(s, "EPSG:4326").spans;
    const AssessedSurvey a{s};
    for (const char* const layer : {"poles", "sections", "findings", "defects"}) {
        EXPECT_THAT(a.layer(layer).crs, ::testing::HasSubstr("UTM zone 10N")) << layer;
    }
    EXPECT_THAT(a.layer("spans").crs, ::testing::StartsWith("GEOGCS"));
    EXPECT_EQ(a.layer("inspections").crs, "");
}

TEST(OriginalGirth, ComesFromWhereTheContractSays) {
    Survey s;
    const auto add = [&](const char* id, const Row& pole, const Row& visit) {
        s.add_pole(id, 20.0 * static_cast<double>(s.poles.rows.size()), 0, pole);
        merge(s.add_visit(id, "2024-05-01", {{"method", "excavated"}}), visit);
    };
    const Row listed{{"species", "douglas_fir"}, {"pole_class", "4"}, {"length", 40.0}};
    const Row recorded{{"recorded_circumference", 41.0}};
    const auto both = [](Row a, const Row& b) { return merge(a, b); };
    add("measured", both(listed, recorded), {{"original_circumference", 40.0}});
    add("recorded", both(listed, recorded), {});
    add("tables", listed, {});
    // Measured 5 ft up on a pole of which nothing else is known: not carried.
    add("measured_above", {}, {{"original_circumference", 40.0}, {"original_height", 5.0}});
    add("none", {}, {{"present_circumference", 39.0}});
    const AssessedSurvey a{s};
    for (const char* const id : {"measured", "recorded", "tables", "measured_above"}) {
        EXPECT_EQ(a.pole(id).at("original_source"), id);
    }
    EXPECT_TRUE(a.pole("none").at("original_source").is_null());
    EXPECT_EQ(a.verdict("none"), "unassessed");
    EXPECT_THAT(a.pole("tables").at("reasons").get<std::string>(),
                ::testing::HasSubstr("original_from_tables"));
    EXPECT_EQ(a.doubts("taper_unknown").size(), 1U);

    const AssessedSurvey b{s,
                           [](AssessJob& job) { job.criteria.present_stands_for_original = true; }};
    EXPECT_EQ(b.pole("none").at("original_source"), "present");
    EXPECT_EQ(b.pole("none").at("original_circumference"), 39.0);
}

TEST(OriginalGirth, ALengthBetweenTheRowsHasNoTableValue) {
    Survey s;
    const std::pair<const char*, double> lengths[] = {
        {"40", 40.0}, {"39.6", 39.6}, {"40.5", 40.5}, {"42", 42.0}};
    for (const auto& [id, length] : lengths) {
        s.add_pole(id,
                   20.0 * static_cast<double>(s.poles.rows.size()),
                   0,
                   {{"species", "southern_pine"}, {"pole_class", "4"}, {"length", length}});
        s.add_visit(id, "2024-05-01", {{"method", "excavated"}});
    }
    const AssessedSurvey a{s};
    EXPECT_EQ(a.pole("39.6").at("original_circumference"),
              a.pole("40").at("original_circumference"));
    EXPECT_EQ(a.pole("40.5").at("original_circumference"),
              a.pole("40").at("original_circumference"));
    EXPECT_TRUE(a.pole("42").at("original_circumference").is_null());
    EXPECT_EQ(a.doubt("length_without_table_row").at("feature"), "42");
    EXPECT_EQ(a.doubt("length_without_table_row").at("layer"), "poles");
}

}  // namespace
}  // namespace linewood::testing
