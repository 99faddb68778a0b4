#include <algorithm>
#include <set>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/src/pipeline/assess_survey.hpp"

namespace linewood::testing {
namespace {

/// The rows of a layer, for comparing two outputs: without FIDs, which pieces of routes get anew, and in
/// an order of their own.
std::vector<Row> content(const AssessedSurvey& a, const char* layer) {
    std::vector<Row> rows = without(a.layer(layer).rows, {"@fid"});
    std::sort(
        rows.begin(), rows.end(), [](const Row& x, const Row& y) { return x.dump() < y.dump(); });
    return rows;
}

void expect_same(const AssessedSurvey& first, const AssessedSurvey& again) {
    for (const char* const layer : {"poles", "spans", "inspections", "defects", "sections"}) {
        EXPECT_EQ(first.layer(layer).columns(), again.layer(layer).columns()) << layer;
        EXPECT_EQ(content(first, layer), content(again, layer)) << layer;
    }
}

TEST(Rerun, OnTheToolsOwnOutputNothingChangesAndNothingGrows) {
    Survey s = five_poles();
    s.poles.fill("verdict", "theirs").fill("line_azimuth", 77.0);
    s.defects.fill("azimuth", 40.0).fill("azimuth_ref", "true").fill("azimuth_true", 3.0);
    s.spans.fill("span_azimuth", 5.0);
    s.add_span({{0, 160}, {30, 200}}, {{"circuit", "loose"}});
    const AssessedSurvey first{s};
    const AssessedSurvey second{first.output()};
    expect_same(first, second);
    const AssessedSurvey third{second.output()};
    expect_same(first, third);
    EXPECT_EQ(third.pole("A").at("in_verdict"), "theirs");
    EXPECT_FALSE(third.poles().has_column("in_in_verdict"));
}

TEST(Rerun, OwnColumnsAreNeverReadAsInput) {
    const AssessedSurvey first{five_poles()};
    // Someone writes into the results.
    TempDir folder;
    const auto path = folder / "changed.gpkg";
    for (const std::string& name : layer_names(first.output())) {
        Table table = first.layer(name);
        table.rows = without(table.rows, {"@fid"});
        if (name == "spans") {
            table.fill("from_pole", "A").fill("to_pole", "C");
        }
        if (name == "poles") {
            table.fill("verdict", "serviceable").fill("original_circumference", 99.0);
        }
        for (auto& [column, type] : table.types) {
            type = type == "Real"      ? "real"
                   : type == "Date"    ? "date"
                   : type == "boolean" ? type
                   : type == "String"  ? "text"
                                       : "integer64";
        }
        write_table(path, table);
    }
    expect_same(first, AssessedSurvey{path});
}

TEST(Rerun, ARouteThatNamedItsEndsIsStillCutTheSame) {
    Survey s = five_poles();
    s.spans.rows.at(0).update(Row{{"from_pole", "A"}, {"to_pole", "E"}});
    const AssessedSurvey first{s};
    ASSERT_EQ(first.layer("spans").rows.size(), 4U);
    expect_same(first, AssessedSurvey{first.output()});
}

// Which way such a piece was counted is known of the whole route only; its poles and their verdicts stay.
TEST(Rerun, ARouteThatNamedItsEndsAgainstItsDrawingJoinsTheSamePoles) {
    Survey s = five_poles();
    s.spans.rows.at(0).update(Row{{"from_pole", "E"}, {"to_pole", "A"}});
    const AssessedSurvey first{s};
    EXPECT_NEAR(first.layer("spans").row("from_pole", "D").at("span_azimuth"), 180.0, 1e-6);
    const AssessedSurvey second{first.output()};
    EXPECT_EQ(content(first, "poles"), content(second, "poles"));
    const auto ends = [](const AssessedSurvey& a) {
        std::multiset<std::set<std::string>> all;
        for (const Row& span : a.layer("spans").rows) {
            all.insert(
                {span.at("from_pole").get<std::string>(), span.at("to_pole").get<std::string>()});
        }
        return all;
    };
    EXPECT_EQ(ends(first), ends(second));
}

TEST(Rerun, ASpanThatIsJoinedByItsNamesAloneStaysJoined) {
    Survey s = five_poles();
    s.spans.rows.clear();
    // Drawn 10 m beside its poles: only the names join it.
    s.add_span({{10, 0}, {10, 40}}, {{"from_pole", "A"}, {"to_pole", "B"}});
    s.spans.rows.push_back(Row{{"@wkt", nullptr}, {"from_pole", "C"}, {"to_pole", "D"}});
    const AssessedSurvey first{s};
    EXPECT_EQ(first.layer("spans").rows.at(0).at("to_pole"), "B");
    EXPECT_EQ(first.layer("spans").rows.at(1).at("to_pole"), "D");
    expect_same(first, AssessedSurvey{first.output()});
}

TEST(Rerun, InOtherFormatsToo) {
    const auto as = [](OutputFormat format) {
        return [format](AssessJob& job) {
            job.out.replace_filename("out");
            job.format = format;
        };
    };
    for (const OutputFormat format : {OutputFormat::geojson, OutputFormat::flatgeobuf}) {
        const AssessedSurvey first{five_poles(), as(format)};
        const AssessedSurvey second{first.output(), as(format)};
        for (const char* const id : {"A", "B", "C", "D", "E"}) {
            EXPECT_EQ(without({first.pole(id)}, {"@fid"}), without({second.pole(id)}, {"@fid"}));
        }
        EXPECT_EQ(first.layer("spans").columns(), second.layer("spans").columns());
        EXPECT_EQ(first.layer("defects").columns(), second.layer("defects").columns());
    }
}

}  // namespace
}  // namespace linewood::testing
