#include "src/pipeline/network_run.hpp"

#include <algorithm>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

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
    explicit ResolvedSurvey(const std::vector<Table>& tables, bool poles_from_spans = false) {
        for (const Table& table : tables) {
            write_table(folder_ / "in.gpkg", table);
        }
        job_.inputs.dataset = (folder_ / "in.gpkg").string();
        job_.inputs.wanted = {!poles_from_spans, true, false, false};
        job_.poles_from_spans = poles_from_spans;
        job_.out = folder_ / "out.gpkg";
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
                UnorderedElementsAre("poles", "spans", "findings", "run"));
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

TEST(NetworkRun, ADirectionGivenIsSure) {
    Survey s = five_poles();
    s.poles.rows.at(1)["given_azimuth"] = 37.0;
    const ResolvedSurvey r{{s.poles, s.spans}};
    const Table poles = r.layer("poles");
    const Row& b = poles.pole("B");
    EXPECT_EQ(b.at("line_quality_reason"), "given");
    EXPECT_EQ(b.at("line_quality"), "sure");
    EXPECT_EQ(b.at("line_azimuth"), 37.0);
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
