#include "src/pipeline/network_run.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "assess/condition/condition_findings.hpp"
#include "geo/io/feature_reader.hpp"
#include "src/job/job_error.hpp"
#include "src/report/network_report.hpp"
#include "tests/src/pipeline/assess_survey.hpp"

namespace linewood::testing {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::SizeIs;
using ::testing::UnorderedElementsAre;

class SilentMonitor : public RunMonitor {
public:
    void stage(std::string_view /*name*/, std::int64_t /*total*/) override {}
    void advance(std::int64_t /*steps*/) override {}
    void finish() override {}
};

/// A network run in this process on tables written for it.
class ResolvedSurvey {
public:
    using Change = std::function<void(NetworkJob&)>;

    explicit ResolvedSurvey(const std::vector<Table>& tables,
                            bool poles_from_spans = false,
                            const Change& change = {}) {
        for (const Table& table : tables) {
            write_table(folder_ / "in.gpkg", table);
        }
        job_.inputs.dataset = (folder_ / "in.gpkg").string();
        job_.inputs.wanted = {!poles_from_spans, true, false, false};
        job_.poles_from_spans = poles_from_spans;
        job_.out = folder_ / "out.gpkg";
        if (change) {
            change(job_);
        }
        SilentMonitor monitor;
        summary_ = run_network(job_, monitor);
    }

    Table layer(const std::string& name) const { return read_table(job_.out, name); }
    std::vector<Row> doubts(std::string_view code) const {
        return where(layer("findings"), "code", code);
    }
    const NetworkSummary& summary() const { return summary_; }
    const NetworkJob& job() const { return job_; }

private:
    TempDir folder_;
    NetworkJob job_;
    NetworkSummary summary_;
};

TEST(NetworkRun, WritesTheResolvedGraphAndNothingElse) {
    const Survey s = five_poles();
    const ResolvedSurvey r{{s.poles, s.spans, s.inspections, s.defects}};
    EXPECT_THAT(layer_names(r.job().out),
                UnorderedElementsAre("poles", "spans", "findings", "run", "layer_styles"));
    const Table poles = r.layer("poles");
    EXPECT_THAT(poles.rows, SizeIs(5));
    EXPECT_EQ(poles.pole("B").at("line_role"), "tangent");
    EXPECT_EQ(poles.pole("B").at("line_quality"), "sure");
    EXPECT_EQ(poles.pole("B").at("line_quality_reason"), "snapped_near");
    EXPECT_FALSE(poles.has_column("verdict"));
    const Table spans = r.layer("spans");
    EXPECT_THAT(spans.rows, SizeIs(4));
    EXPECT_NEAR(spans.row("from_pole", "A").at("span_length_m"), 40.0, 0.05);
    EXPECT_FALSE(spans.has_column("worst_verdict"));
    EXPECT_THAT(r.doubts("layer_missing"), IsEmpty());
}

TEST(NetworkRun, GivesTheSameLinesAsAnAssessment) {
    const Survey s = five_poles();
    const ResolvedSurvey r{{s.poles, s.spans}};
    const AssessedSurvey a{s};
    for (const Row& pole : r.layer("poles").rows) {
        for (const char* const column : {"line_azimuth",
                                         "line_role",
                                         "line_deflection",
                                         "line_source",
                                         "line_quality",
                                         "line_quality_reason"}) {
            EXPECT_EQ(pole.at(column), a.pole(pole.at("pole_id").get<std::string>()).at(column));
        }
    }
}

TEST(NetworkRun, WithoutSpansItSaysWhatCannotBeKnown) {
    const ResolvedSurvey r{{five_poles().poles}};
    ASSERT_THAT(r.doubts("layer_missing"), SizeIs(1));
    EXPECT_THAT(r.doubts("layer_missing")[0].at("message").get<std::string>(),
                HasSubstr("which way the line runs"));
    EXPECT_TRUE(r.layer("poles").pole("A").at("line_quality").is_null());
    EXPECT_EQ(r.layer("poles").pole("A").at("line_quality_reason"), "no_spans");
    EXPECT_THAT(network_summary_text(r.job(), r.summary()), HasSubstr("there are no spans"));
}

TEST(NetworkRun, ADirectionGivenIsSureWhereTheSpansDoNotSayOtherwise) {
    Survey s = five_poles();
    s.poles.rows.at(1)["given_azimuth"] = 12.0;
    s.poles.rows.at(2)["given_azimuth"] = 37.0;  // 15 degrees off at most
    const ResolvedSurvey r{{s.poles, s.spans}};
    const Table poles = r.layer("poles");
    const Row& b = poles.pole("B");
    EXPECT_EQ(b.at("line_quality_reason"), "given");
    EXPECT_EQ(b.at("line_quality"), "sure");
    EXPECT_EQ(b.at("line_azimuth"), 12.0);
    EXPECT_EQ(poles.pole("C").at("line_quality_reason"), "given");
    EXPECT_EQ(poles.pole("C").at("line_quality"), "weak");
    EXPECT_EQ(poles.pole("C").at("line_azimuth"), 37.0);
}

TEST(NetworkRun, ReportCountsWhatTheLayersHold) {
    Survey s = five_poles();
    s.add_span({{0, 160}, {0, 400}});
    const ResolvedSurvey r{{s.poles, s.spans}};
    const NetworkFigures& f = r.summary().figures;
    EXPECT_EQ(f.poles, 5);
    EXPECT_EQ(f.roles[static_cast<std::size_t>(LineRole::tangent)], 3);
    EXPECT_EQ(f.one_end, 1);
    EXPECT_EQ(f.ends.left_over.total(), 1);
    EXPECT_EQ(f.lengths.spans, 4);
    const auto json = nlohmann::json::parse(network_report_json(r.job(), f));
    EXPECT_EQ(json.at("roles").at("tangent"), 3);
    EXPECT_EQ(json.at("ends").at("left_over").at("within_5_m"), 0);
    EXPECT_EQ(json.at("ends").at("left_over").at("all"), 1);
    EXPECT_NEAR(json.at("length_m").at("p50"), 40.0, 0.05);
    const std::string text = network_report_text(r.job(), f);
    for (const char* const line :
         {"span ends", "left over", "length of the spans", "tangent", "doubled", "weak"}) {
        EXPECT_THAT(text, HasSubstr(line));
    }
}

/// A straight line with a drop at its middle pole, told apart by the owner's own words only.
std::vector<Table> line_with_a_drop() {
    Survey s;
    s.add_pole("A", 0, 0);
    s.add_pole("B", 40, 0);
    s.add_pole("C", 80, 0);
    s.add_pole("H", 40, 30);
    s.add_span({{0, 0}, {40, 0}}, {{"use", "main"}, {"kv", 12.0}});
    s.add_span({{40, 0}, {80, 0}}, {{"use", "main"}, {"kv", 12.0}});
    s.add_span({{40, 0}, {40, 30}}, {{"use", "drop"}, {"kv", 0.24}});
    s.add_span({{80, 0}, {90, 30}}, {{"use", nullptr}, {"kv", nullptr}});
    return {s.poles, s.spans};
}

ResolvedSurvey with_lines(const std::string& condition) {
    return ResolvedSurvey{
        line_with_a_drop(), false, [&](NetworkJob& job) { job.line_where = condition; }};
}

TEST(LineWhere, OtherSpansAreKeptAndTurnNoLine) {
    EXPECT_EQ(ResolvedSurvey{line_with_a_drop()}.layer("poles").pole("B").at("line_role"),
              "junction");
    for (const char* const condition :
         {"use = 'main'", "\"use\" IN ('main', 'trunk')", "kv > 1", "use <> 'drop' AND kv >= 12"}) {
        SCOPED_TRACE(condition);
        const ResolvedSurvey r = with_lines(condition);
        const Table poles = r.layer("poles");
        EXPECT_EQ(poles.pole("B").at("line_role"), "tangent");
        EXPECT_EQ(poles.pole("C").at("line_role"), "dead_end");
        EXPECT_EQ(poles.pole("H").at("line_role"), "isolated");
        EXPECT_THAT(r.layer("spans").rows, SizeIs(4));
        EXPECT_EQ(r.layer("spans").row("use", "drop").at("to_pole"), "H");
        ASSERT_THAT(r.doubts("line_where_others"), SizeIs(1));
        EXPECT_EQ(r.doubts("line_where_others")[0].at("value"), "2");
        EXPECT_THAT(r.doubts("span_end_unsnapped"), IsEmpty());  // a drop needs one pole
        EXPECT_EQ(r.layer("run").row("item", "job_line_where").at("value"), condition);
    }
}

TEST(LineWhere, WhereNoSpanMeetsItItIsSaid) {
    const ResolvedSurvey r = with_lines("use = 'Main line'");
    EXPECT_EQ(r.layer("poles").pole("B").at("line_role"), "isolated");
    ASSERT_THAT(r.doubts("line_where_none"), SizeIs(1));
    EXPECT_EQ(r.doubts("line_where_none")[0].at("severity"), "warning");
}

TEST(LineWhere, WhatIsNoConditionIsSaidWithTheColumns) {
    for (const char* const condition : {"usage = 'main'", "use = ", "use > 1", "main"}) {
        SCOPED_TRACE(condition);
        try {
            with_lines(condition);
            ADD_FAILURE() << "it was taken";
        } catch (const JobError& e) {
            EXPECT_THAT(e.what(), HasSubstr("--line-where"));
            EXPECT_THAT(e.what(), HasSubstr("use, kv"));
        }
    }
}

TEST(LineWhere, DropsMakeNoPoles) {
    const ResolvedSurvey r{
        {line_with_a_drop()[1]}, true, [](NetworkJob& job) { job.line_where = "use = 'main'"; }};
    EXPECT_THAT(r.layer("poles").rows, SizeIs(3));
}

TEST(IdDistance, BeyondItThePoleAtTheDrawnEndIsTaken) {
    Survey s;
    s.add_pole("A", 0, 0);
    s.add_pole("B", 40, 0);
    s.add_pole("C", 40, 100);
    s.add_span({{0, 0}, {40, 0}}, {{"from_pole", "A"}, {"to_pole", "C"}});
    const auto end = [&](std::optional<double> metres) {
        const ResolvedSurvey r{{s.poles, s.spans}, false, [&](NetworkJob& job) {
                                   if (metres) {
                                       job.network.id_distance_limit = Length::metres(*metres);
                                   }
                               }};
        EXPECT_THAT(r.doubts("span_end_far"), SizeIs(1));
        EXPECT_EQ(r.layer("run").row("item", "job_id_distance").at("value"),
                  metres ? plain_number(*metres) + " m" : "off");
        return r.layer("spans").rows.at(0).at("to_pole").get<std::string>();
    };
    EXPECT_EQ(end(std::nullopt), "C");
    EXPECT_EQ(end(101.0), "C");
    EXPECT_EQ(end(99.0), "B");
}

TEST(NetworkRun, PiecesOfARouteKeepHeightsAndMeasures) {
    Survey s;
    s.add_pole("A", 0, 0);
    s.add_pole("B", 40, 0.2);
    s.add_pole("C", 80, 0);
    s.spans.geometry = "LINESTRINGZM";
    s.spans.rows.push_back(Row{{"@wkt",
                                "LINESTRING ZM (500000 5000000 100 0,500080 5000000 108 2,"
                                "500080 5000030 109 3)"}});
    const ResolvedSurvey r{{s.poles, s.spans}};
    FeatureReader reader{Source::open(r.job().out.string()), "spans"};
    FeatureBatch spans;
    ASSERT_TRUE(reader.next(spans));
    ASSERT_EQ(spans.size(), 3U);
    const auto near = [](double value) { return ::testing::DoubleNear(value, 1e-6); };
    const auto one = [](const auto& list) { return ElementsAre(list); };
    EXPECT_THAT(spans.path_extras(0).z, one(ElementsAre(near(100), near(104))));
    EXPECT_THAT(spans.path_extras(0).m, one(ElementsAre(near(0), near(1))));
    EXPECT_THAT(spans.path_extras(1).z, one(ElementsAre(near(104), near(108))));
    EXPECT_THAT(spans.path_extras(1).m, one(ElementsAre(near(1), near(2))));
    EXPECT_THAT(spans.path_extras(2).z, one(ElementsAre(near(108), near(109))));
    EXPECT_THAT(spans.path_extras(2).m, one(ElementsAre(near(2), near(3))));
}

TEST(NetworkRun, CurvesAndCollectionsOfLinesAreLines) {
    Survey s;
    s.add_pole("A", 0, 0);
    s.add_pole("B", 40, 0);
    s.add_pole("C", 80, 0);
    s.add_pole("D", 120, 0);
    s.spans.geometry = "GEOMETRY";
    const auto add = [&](const std::string& id, const std::string& wkt) {
        s.spans.rows.push_back(Row{{"@wkt", wkt}, {"span_id", id}});
    };
    add("arc", "CIRCULARSTRING (500000 5000000,500020 5000020,500040 5000000)");
    add("compound",
        "COMPOUNDCURVE ((500040 5000000,500060 5000000),"
        "CIRCULARSTRING (500060 5000000,500070 5000001,500080 5000000))");
    add("collection",
        "GEOMETRYCOLLECTION (LINESTRING (500080 5000000,500120 5000000),"
        "LINESTRING (500120 5000000,500120 5000050))");
    add("odd", "GEOMETRYCOLLECTION (LINESTRING (500080 5000000,500120 5000000),POINT (1 1))");
    const ResolvedSurvey r{{s.poles, s.spans}};
    const Table spans = r.layer("spans");
    EXPECT_EQ(spans.row("span_id", "arc").at("to_pole"), "B");
    // A half circle of 20 m: it leaves its chord by a right angle, but for the snap tolerance.
    EXPECT_NEAR(spans.row("span_id", "arc").at("span_azimuth").get<double>(), 3.5, 3.5);
    EXPECT_NEAR(spans.row("span_id", "arc").at("span_length_m").get<double>(), 62.83, 0.05);
    EXPECT_THAT(spans.row("span_id", "arc").at("@wkt").get<std::string>(),
                HasSubstr("CIRCULARSTRING"));
    EXPECT_EQ(spans.row("span_id", "compound").at("from_pole"), "B");
    EXPECT_THAT(where(spans, "span_id", "collection"), SizeIs(2));
    EXPECT_TRUE(spans.row("span_id", "odd").at("from_pole").is_null());
    EXPECT_THAT(r.doubts("geometry_unused"), SizeIs(1));
}

TEST(NetworkRun, AVertexThatIsNoPlaceIsSaidAsSuch) {
    Survey s = five_poles();
    s.spans.rows.push_back(
        Row{{"@path", {{500000.0, 5000000.0}, {std::nan(""), 5000040.0}}}, {"span_id", "bad"}});
    const ResolvedSurvey r{{s.poles, s.spans}};
    EXPECT_EQ(r.doubts("geometry_not_finite").at(0).at("feature"), "bad");
    EXPECT_THAT(r.doubts("geometry_not_finite").at(0).at("value").get<std::string>(),
                HasSubstr("nan"));
    EXPECT_EQ(r.doubts("geometry_not_finite").at(0).at("@wkt"), "POINT (500000 5000000)");
    EXPECT_THAT(r.doubts("span_coordinates_invalid"), IsEmpty());
    EXPECT_THAT(r.doubts("span_without_geometry"), IsEmpty());
    EXPECT_TRUE(r.layer("spans").row("span_id", "bad").at("@wkt").is_null());
    EXPECT_EQ(where(r.layer("spans"), "span_id", "bad").size(), 1U);
}

/// Three spans around a corner, without poles.
Table corner_lines() {
    Survey s;
    s.add_span({{0, 0}, {40, 0}}, {{"span_id", "one"}, {"from_pole", "X1"}});
    s.add_span({{80, 0.5}, {41, 0}}, {{"span_id", "two"}});
    s.add_span({{80, 0}, {80, 40}}, {{"span_id", "three"}});
    s.add_span({{40, 0}, {45, 20}}, {{"span_id", "house"}, {"kind", "service"}});
    return s.spans;
}

TEST(PolesFromSpans, AreMadeAtTheEndsFromWestToEast) {
    const ResolvedSurvey r{{corner_lines()}, true};
    const Table poles = r.layer("poles");
    ASSERT_THAT(poles.rows, SizeIs(4));
    EXPECT_EQ(poles.rows[0].at("pole_id"), "E1");
    EXPECT_THAT(poles.rows[0].at("@wkt").get<std::string>(), HasSubstr("500000 5000000"));
    EXPECT_EQ(poles.pole("E1").at("line_role"), "dead_end");
    EXPECT_EQ(poles.pole("E2").at("line_role"), "tangent");
    EXPECT_EQ(poles.pole("E3").at("line_role"), "angle");
    const Table spans = r.layer("spans");
    EXPECT_EQ(spans.row("span_id", "two").at("from_pole"), "E3");
    EXPECT_EQ(spans.row("span_id", "two").at("to_pole"), "E2");
    EXPECT_EQ(spans.row("span_id", "one").at("in_from_pole"), "X1");
    EXPECT_THAT(r.doubts("poles_made"), SizeIs(1));
    EXPECT_THAT(r.doubts("span_names_unused"), SizeIs(1));
    EXPECT_THAT(r.doubts("span_pole_unknown"), IsEmpty());
}

TEST(PolesFromSpans, DoNotDependOnTheOrderOfTheFeatures) {
    Table lines = corner_lines();
    const Table first = ResolvedSurvey{{lines}, true}.layer("poles");
    std::reverse(lines.rows.begin(), lines.rows.end());
    EXPECT_EQ((ResolvedSurvey{{lines}, true}.layer("poles").rows), first.rows);
}

TEST(PolesFromSpans, CanBeAssessedAndAreUnassessed) {
    TempDir folder;
    write_table(folder / "in.gpkg", corner_lines());
    const AssessedSurvey a{folder / "in.gpkg", [](AssessJob& job) {
                               job.inputs.wanted[0] = false;
                               job.poles_from_spans = true;
                           }};
    EXPECT_THAT(a.poles().rows, SizeIs(4));
    EXPECT_EQ(a.verdict("E3"), "unassessed");
    EXPECT_EQ(a.pole("E3").at("reasons"), "not_inspected");
    EXPECT_EQ(a.pole("E3").at("line_role"), "angle");
    EXPECT_THAT(a.statements("job_poles_from_spans"), SizeIs(1));
}

TEST(PolesFromSpans, AreRefusedWherePolesAre) {
    const Survey s = five_poles();
    EXPECT_THROW((ResolvedSurvey{{s.poles, s.spans}, true}), JobError);
}

/// One pocket with a compass bearing, seen on a day.
Survey compass_pocket(const char* day) {
    Survey s = five_poles();
    s.defects.rows.clear();
    s.inspections.rows.clear();
    s.add_visit("B", day, {{"method", "bore"}});
    s.add_defect("B",
                 "external_pocket",
                 {{"inspected_on", day},
                  {"azimuth", 90.0},
                  {"azimuth_ref", "magnetic"},
                  {"width", 2.0},
                  {"depth", 1.0}});
    return s;
}

TEST(Declination, OutsideTheModelsYearsIsAFindingOfItsOwn) {
    const AssessedSurvey a{compass_pocket("2019-06-01")};
    EXPECT_THAT(a.doubt("magnetic_date_outside_model").at("message").get<std::string>(),
                HasSubstr("--declination"));
    EXPECT_TRUE(a.layer("defects").rows.at(0).at("azimuth_true").is_null());
    EXPECT_THAT(AssessedSurvey{compass_pocket("2026-06-01")}.doubts("magnetic_date_outside_model"),
                IsEmpty());
}

TEST(Declination, GivenItWinsOverTheModelInAnyYear) {
    for (const char* const day : {"2019-06-01", "2026-06-01"}) {
        const AssessedSurvey a{compass_pocket(day),
                               [](AssessJob& job) { job.declination = Angle::degrees(-12.5); }};
        EXPECT_EQ(a.layer("defects").rows.at(0).at("azimuth_true"), 77.5);
        EXPECT_THAT(a.statements("job_declination"), ElementsAre("-12.5 deg"));
        EXPECT_THAT(a.doubts("magnetic_date_outside_model"), IsEmpty());
    }
}

}  // namespace
}  // namespace linewood::testing
