#include <limits>
#include <sstream>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/support/assess_program.hpp"

namespace linewood::testing {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::MatchesRegex;
using ::testing::SizeIs;

/// A run that goes on in spite of odd data: everything is in the output, and said in the findings.
struct OddRun {
    explicit OddRun(const SurveyFolder& f) : run{f.assess({"-q"})} {
        EXPECT_EQ(run.exit_code, 0) << run.err;
        // Nothing but doubts about whole layers.
        std::istringstream lines{run.err};
        for (std::string line; std::getline(lines, line);) {
            EXPECT_THAT(line, MatchesRegex("linewood: (warning|error): layer .*: .*"));
        }
        poles = read_table(f.output(), "poles");
        findings = read_table(f.output(), "findings");
    }
    std::size_t count(const char* code) const { return where(findings, "code", code).size(); }

    ProgramRun run;
    Table poles;
    Table findings;
};

TEST(OddLayers, EmptyOnesGiveEmptyOnes) {
    Survey s;
    s.poles.types["pole_id"] = "text";
    const SurveyFolder f{s};
    const OddRun odd{f};
    EXPECT_THAT(odd.poles.rows, IsEmpty());
    EXPECT_TRUE(odd.poles.has_column("verdict"));
    for (const char* const layer : {"spans", "inspections", "defects", "sections"}) {
        EXPECT_THAT(read_table(f.output(), layer).rows, IsEmpty());
    }
}

TEST(OddLayers, PolesWithoutAnyColumn) {
    Survey s;
    s.poles.rows.push_back(Row{{"@wkt", "POINT (500000 5000000)"}});
    const OddRun odd{SurveyFolder{s}};
    EXPECT_EQ(odd.poles.rows.at(0).at("verdict"), "unassessed");
    EXPECT_GE(odd.count("column_missing"), 1U);
    EXPECT_EQ(odd.count("pole_id_missing"), 1U);
}

TEST(OddLayers, ColumnsOfTheWrongType) {
    Survey s = five_poles();
    s.poles.fill("species", 7)
        .fill("length", "long")
        .fill("reinforced", 2.5)
        .fill("given_azimuth", true);
    s.inspections.fill("inspected_on", 20240501)
        .fill("climb_safe", "2024-05-01")
        .fill("method", 1.5);
    s.inspections.types["inspected_on"] = "integer64";
    s.defects.fill("shell_thickness", "2024-05-01").fill("kind", 3).fill("height", true);
    s.spans.rows.at(0).update(Row{{"from_pole", 1}, {"voltage_kv", "high"}});
    const SurveyFolder f{s};
    const OddRun odd{f};
    EXPECT_THAT(odd.poles.rows, SizeIs(5));
    EXPECT_GE(odd.count("value_unreadable"), 15U);
    for (const Row& pole : odd.poles.rows) {
        EXPECT_NE(pole.at("verdict"), "serviceable") << pole;
    }
}

TEST(OddLayers, CoordinatesThatAreNoPlace) {
    Survey s = five_poles();
    constexpr double kNan = std::numeric_limits<double>::quiet_NaN();
    constexpr double kInfinity = std::numeric_limits<double>::infinity();
    const auto path = [](std::initializer_list<Position> points) {
        Row list = Row::array();
        for (const auto& [x, y] : points) {
            list.push_back(Row::array({x, y}));
        }
        return list;
    };
    s.poles.rows[0]["@path"] = path({{kNan, 5000000.0}});
    s.poles.rows[1]["@path"] = path({{kInfinity, 5000000.0}});
    s.poles.rows[2]["@path"] = path({{1e308, -1e308}});
    s.poles.rows[3]["@wkt"] = nullptr;
    s.add_span({{0, 160}, {0, 200}});
    s.spans.rows[1]["@path"] = path({{500000.0, 5000160.0}, {kInfinity, 5000200.0}});
    s.spans.rows[0]["@path"] = path({{500000.0, 5000000.0}, {kNan, kNan}, {500000.0, 5000160.0}});
    const SurveyFolder f{s};
    const OddRun odd{f};
    EXPECT_THAT(odd.poles.rows, SizeIs(5));
    EXPECT_EQ(odd.count("pole_without_place"), 3U);
    // The verdict needs no place.
    EXPECT_EQ(odd.poles.pole("C").at("verdict"), "stub");
    EXPECT_EQ(odd.poles.pole("D").at("verdict"), "replace");
}

TEST(OddLayers, EveryKindOfGeometryInEveryLayer) {
    Survey s = five_poles();
    const char* const shapes[] = {
        "POINT Z (1 2 3)",
        "MULTIPOINT ((1 2))",
        "MULTIPOINT ((1 2),(3 4))",
        "LINESTRING (0 0,1 1)",
        "LINESTRING EMPTY",
        "POLYGON ((0 0,1 0,1 1,0 0))",
        "GEOMETRYCOLLECTION (POINT (1 1),LINESTRING (0 0,1 1))",
        "CIRCULARSTRING (0 0,1 1,2 0)",
        "MULTILINESTRING EMPTY",
    };
    for (Table* table : {&s.poles, &s.spans, &s.defects}) {
        table->geometry = "GEOMETRY";
        table->crs = Survey::kUtm10;
        for (const char* const shape : shapes) {
            table->rows.push_back(Row{{"@wkt", shape}, {"pole_id", shape}, {"kind", "bore"}});
        }
    }
    const SurveyFolder f{s};
    const OddRun odd{f};
    const Table in = read_table(f.input(), "poles");
    for (const char* const shape : shapes) {
        if (std::string{shape}.find("EMPTY") == std::string::npos) {
            EXPECT_EQ(odd.poles.pole(shape).at("@wkt"), in.pole(shape).at("@wkt"));
        }
    }
    EXPECT_EQ(odd.poles.pole("D").at("verdict"), "replace");
    EXPECT_GE(odd.count("geometry_unused"), 5U);
    EXPECT_THAT(read_table(f.output(), "defects").rows, SizeIs(4 + std::size(shapes)));
}

TEST(OddLayers, VeryLongTextsComeThroughAndAreCutInMessagesOnly) {
    Survey s = five_poles();
    const std::string longest(10000, 'x');
    s.poles.rows[0]["pole_id"] = longest;
    s.poles.fill("species", longest);
    s.defects.rows[0]["pole_id"] = longest;
    s.inspections.rows[0]["pole_id"] = longest;
    s.inspections.fill("notes", std::string(3333, '\n') + "\xE2\x82\xAC" + longest);
    const SurveyFolder f{s};
    const OddRun odd{f};
    EXPECT_EQ(odd.poles.pole(longest).at("verdict"), "treat");
    EXPECT_EQ(odd.poles.pole(longest).at("species"), longest);
    EXPECT_EQ(read_table(f.output(), "inspections").rows.at(0).at("notes"),
              s.inspections.rows.at(0).at("notes"));
    EXPECT_EQ(odd.count("species_unknown"), 5U);
    for (const Row& doubt : odd.findings.rows) {
        EXPECT_LT(doubt.at("message").get<std::string>().size(), 500U);
        EXPECT_TRUE(doubt.at("value").is_null() ||
                    doubt.at("value").get<std::string>().size() < 300U);
    }
}

TEST(OddLayers, TextThatIsNoUtf8DoesNotStopTheRun) {
    SurveyFolder f;
    f.folder().file("latin/poles.csv",
                    "pole_id,x,y,species\nk\xE4"
                    "fer,1,2,\xFF\xFE\n");
    f.folder().file("latin/inspections.csv",
                    "pole_id,method,notes\nk\xE4"
                    "fer,bore,\x80\n");
    const ProgramRun run =
        linewood({"assess", f.path("latin"), "--out", f.output().string(), "--log", "json"});
    EXPECT_EQ(run.exit_code, 0) << run.err;
    EXPECT_THAT(read_table(f.output(), "poles").rows, SizeIs(1));
}

TEST(OddLayers, HugeAndTinyFigures) {
    Survey s = five_poles();
    s.poles.fill("length", 1e300)
        .fill("setting_depth", 1e-300)
        .fill("recorded_circumference", 5e-324);
    s.inspections.fill("original_circumference", 1e308).fill("present_circumference", 1e-308);
    s.defects.fill("shell_thickness", 1e300)
        .fill("height", -1e300)
        .fill("width", 1e308)
        .fill("depth", 1e308);
    s.spans.rows.at(0)["voltage_kv"] = 1e300;
    const SurveyFolder f{s};
    const OddRun odd{f};
    for (const Row& pole : odd.poles.rows) {
        EXPECT_NE(pole.at("verdict"), "serviceable") << pole;
    }
}

TEST(OddLayers, ManyPolesOnOneSpot) {
    Survey s;
    for (int i = 0; i < 3000; ++i) {
        s.add_pole("P" + std::to_string(i), 0.001 * (i % 10), 0);
    }
    s.add_span({{0, 0}, {40, 0}});
    const SurveyFolder f{s};
    const OddRun odd{f};
    EXPECT_THAT(odd.poles.rows, SizeIs(3000));
}

TEST(OddLayers, APoleWithThousandsOfDefectsAndInspections) {
    Survey s;
    s.add_pole("P", 0, 0);
    for (int i = 0; i < 1000; ++i) {
        const std::string date = std::to_string(1900 + i % 120) + "-05-01";
        s.add_visit("P", date, {{"original_circumference", 40.0}, {"present_circumference", 39.0}});
        s.add_defect(
            "P",
            "external_pocket",
            {{"inspected_on", date}, {"width", 3.0}, {"depth", 1.0}, {"azimuth", 1.0 * (i % 360)}});
    }
    const SurveyFolder f{s};
    const OddRun odd{f};
    EXPECT_NE(odd.poles.pole("P").at("verdict"), "serviceable");
}

TEST(OddLayers, OneLayerForTwoPurposes) {
    const SurveyFolder f;
    const std::string in = f.input().string();
    const ProgramRun run = linewood({"assess",
                                     in,
                                     "--spans",
                                     in + ":poles",
                                     "--defects",
                                     in + ":inspections",
                                     "--out",
                                     f.output().string()});
    EXPECT_EQ(run.exit_code, 0) << run.err;
    EXPECT_THAT(read_table(f.output(), "poles").rows, SizeIs(5));
    EXPECT_THAT(read_table(f.output(), "spans").rows, SizeIs(5));
}

}  // namespace
}  // namespace linewood::testing
