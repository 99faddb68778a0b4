#include <fstream>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "tests/support/assess_program.hpp"

namespace linewood::testing {
namespace {

using ::testing::AllOf;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

using Codes = std::map<std::string, std::string>;

/// A column under another name, its values changed.
void rename(Table& table,
            const std::string& from,
            const std::string& to,
            const std::function<Row(const Row&)>& change = {}) {
    for (Row& row : table.rows) {
        Row renamed;
        for (const auto& [key, value] : row.items()) {
            if (key != from) {
                renamed[key] = value;
            } else {
                renamed[to] = value.is_null() || !change ? value : change(value);
            }
        }
        row = renamed;
    }
    table.types.erase(from);
}

std::function<Row(const Row&)> times(double factor) {
    return [factor](const Row& v) { return Row(v.get<double>() * factor); };
}

std::function<Row(const Row&)> coded(const Codes& codes) {
    return [codes](const Row& v) { return Row(codes.at(v.get<std::string>())); };
}

/// The odd network with other names, units, codes, dates and diameters.
Survey foreign_network() {
    Survey s = odd_network();
    rename(s.poles, "pole_id", "NUM");
    s.poles.name = "SUPPORTS";
    s.spans.name = "ROUTES";
    rename(s.spans, "circuit", "KREIS");
    rename(s.spans, "voltage_kv", "SPANNUNG");
    s.inspections.name =
        "Pr\xC3\xBC"
        "fung (2024)";
    rename(s.inspections, "pole_id", "Mast Nr");
    rename(s.inspections, "inspected_on", "DATUM", [](const Row&) { return Row("01.05.2024"); });
    rename(s.inspections, "method", "ART", coded({{"excavated", "G"}}));
    rename(s.inspections, "original_circumference", "U0", times(25.4));
    rename(s.inspections, "present_circumference", "DURCHMESSER", times(2.54 / M_PI));
    s.defects.name = "SCHADEN";
    rename(s.defects, "pole_id", "MAST");
    rename(
        s.defects,
        "kind",
        "TYP",
        coded(
            {{"external_pocket", "A"}, {"internal_rot", "I"}, {"shell_rot", "S"}, {"bore", "B"}}));
    rename(s.defects, "height", "H", times(0.3048));
    rename(s.defects, "azimuth", "AZI");
    rename(s.defects, "azimuth_ref", "BEZUG", [](const Row&) { return Row("N"); });
    rename(s.defects, "width", "BREITE");
    rename(s.defects, "position", "LAGE", coded({{"out_of_line", "quer"}}));
    rename(s.defects, "shell_thickness", "REST", times(25.4));
    rename(s.defects, "depth", "T", times(2.54));
    return s;
}

constexpr const char* kForeignJob = R"job({
  // Comments may stand here,
  /* and here. */
  "name": "foreign",
  "layers": {
    "poles": {"source": "foreign.gpkg", "layer": "SUPPORTS", "fields": {"pole_id": "NUM"}},
    "spans": {"source": "foreign.gpkg", "layer": "routes",
              "fields": {"circuit": "KREIS", "voltage_kv": "SPANNUNG"}},
    "inspections": {"source": "foreign.gpkg", "layer": "Prüfung (2024)", "fields": {
      "pole_id": "Mast Nr",
      "inspected_on": {"field": "DATUM", "date": "DD.MM.YYYY"},
      "method": {"field": "ART", "codes": {"G": "excavated", "S": "visual"}},
      "original_circumference": {"field": "U0", "unit": "mm"},
      "present_circumference": {"field": "DURCHMESSER", "unit": "cm", "measure": "diameter"}}},
    "defects": {"source": "foreign.gpkg", "layer": "SCHADEN", "fields": {
      "pole_id": "MAST",
      "kind": {"field": "TYP", "codes": {"A": "external_pocket", "I": "internal_rot", "S": "shell_rot", "B": "bore"}},
      "height": {"field": "H", "unit": "m"},
      "azimuth": {"field": "AZI", "unit": "deg"},
      "azimuth_ref": {"constant": "true"},
      "position": {"field": "LAGE", "codes": {"quer": "out_of_line"}},
      "width": {"field": "BREITE", "unit": "in"},
      "depth": {"field": "T", "unit": "cm"},
      "shell_thickness": {"field": "REST", "unit": "mm"}}}
  }
})job";

class ForeignFolder {
public:
    ForeignFolder() { write_survey(folder / "foreign.gpkg", foreign_network()); }
    TempDir folder{fast_place()};

    ProgramRun assess(const std::string& job, const Arguments& more = {}) const {
        const auto file = folder.file("job.json", job);
        Arguments all{"assess",
                      "--job",
                      file.string(),
                      "--out",
                      (folder / "out.gpkg").string(),
                      "--overwrite"};
        all.insert(all.end(), more.begin(), more.end());
        return linewood(all);
    }
};

/// The figures the tool adds to the poles, in order, rounded where a change of units leaves a last digit.
std::vector<Row> figures(const std::filesystem::path& out) {
    std::vector<Row> all;
    for (const Row& pole : read_table(out, "poles").rows) {
        Row row;
        for (const char* const key : {"line_role",
                                      "original_source",
                                      "sections",
                                      "verdict",
                                      "urgency",
                                      "reasons",
                                      "inspected_on"}) {
            row[key] = pole.at(key);
        }
        for (const char* const key : {"line_azimuth",
                                      "original_circumference",
                                      "remaining_pct",
                                      "transverse_pct",
                                      "weakest_pct",
                                      "section_height",
                                      "shell_min"}) {
            row[key] = pole.at(key).is_null()
                           ? Row()
                           : Row(std::round(pole.at(key).get<double>() * 1e6) / 1e6);
        }
        all.push_back(row);
    }
    return all;
}

TEST(JobFile, ForeignNamesUnitsCodesAndDatesGiveTheSameFigures) {
    const SurveyFolder own{odd_network()};
    ASSERT_EQ(own.assess().exit_code, 0);
    const ForeignFolder f;
    const ProgramRun run = f.assess(kForeignJob);
    ASSERT_EQ(run.exit_code, 0) << run.err;
    EXPECT_EQ(figures(f.folder / "out.gpkg"), figures(own.output()));
}

TEST(JobFile, EveryColumnIsInTheOutputUnderItsOwnName) {
    const ForeignFolder f;
    ASSERT_EQ(f.assess(kForeignJob).exit_code, 0);
    const Survey in = foreign_network();
    const std::pair<const Table*, const char*> layers[] = {
        {&in.poles, "poles"}, {&in.inspections, "inspections"}, {&in.defects, "defects"}};
    for (const auto& [table, name] : layers) {
        const Table out = read_table(f.folder / "out.gpkg", name);
        ASSERT_EQ(out.rows.size(), table->rows.size());
        for (std::size_t i = 0; i < out.rows.size(); ++i) {
            for (const std::string& column : table->columns()) {
                if (column.front() != '@' && table->rows[i].contains(column)) {
                    EXPECT_EQ(out.rows[i].at(column), table->rows[i].at(column))
                        << name << "." << column;
                }
            }
        }
    }
    const Table notes =
        read_sql(f.folder / "out.gpkg",
                 "SELECT column_name, title, description FROM gpkg_data_columns "
                 "WHERE table_name = 'inspections' AND column_name = 'DURCHMESSER'");
    ASSERT_EQ(notes.rows.size(), 1U);
    EXPECT_THAT(notes.rows[0].dump(), AllOf(HasSubstr("cm"), HasSubstr("diameter")));
    const Table run = read_table(f.folder / "out.gpkg", "run");
    EXPECT_THAT(run.row("item", "job_file").at("value").get<std::string>(),
                HasSubstr("job.json (foreign), sha256 "));
}

TEST(JobFile, AnUnknownCodeIsAnErrorThatListsValuesAndCounts) {
    const ForeignFolder f;
    std::string job = kForeignJob;
    const std::string codes =
        R"({"A": "external_pocket", "I": "internal_rot", "S": "shell_rot", "B": "bore"})";
    job.replace(job.find(codes), codes.size(), R"({"a": "external_pocket", "S": "shell_rot"})");
    const ProgramRun run = f.assess(job);
    EXPECT_EQ(run.exit_code, 2);
    EXPECT_THAT(run.err,
                AllOf(HasSubstr("layers.defects.fields.kind.field"),
                      HasSubstr("\"TYP\""),
                      HasSubstr("\"A\" in 8 rows (did you mean \"a\"?)"),
                      HasSubstr("\"I\" in 2 rows"),
                      HasSubstr("\"B\" in 1 row"),
                      HasSubstr("\"others\"")));
    EXPECT_THAT(f.folder.names(), ElementsAre("foreign.gpkg", "job.json"));

    job = kForeignJob;
    job.replace(job.find(codes),
                codes.size(),
                R"({"A": "external_pocket", "S": "shell_rot"}, "others": "bore")");
    EXPECT_EQ(f.assess(job).exit_code, 0);
}

TEST(JobFile, AValueThatIsNoWordOfACodedFieldIsAnErrorToo) {
    const ForeignFolder f;
    std::string job = kForeignJob;
    const std::string codes = R"(, "codes": {"quer": "out_of_line"})";
    job.replace(job.find(codes), codes.size(), "");
    const ProgramRun run = f.assess(job);
    EXPECT_EQ(run.exit_code, 2);
    EXPECT_THAT(run.err,
                AllOf(HasSubstr("layers.defects.fields.position.field"),
                      HasSubstr("\"quer\" in 1 row"),
                      HasSubstr("\"in_line\", \"out_of_line\", \"oblique\"")));
}

TEST(JobFile, ATextThatIsNoNumberStaysAFindingThatNamesTheColumn) {
    Survey s = foreign_network();
    for (Row& row : s.defects.rows) {
        row["BREITE"] = row.at("TYP") == "A" ? "4 in" : "";
    }
    const ForeignFolder f;
    std::filesystem::remove(f.folder / "foreign.gpkg");
    write_survey(f.folder / "foreign.gpkg", s);
    const ProgramRun run = f.assess(kForeignJob);
    ASSERT_EQ(run.exit_code, 0) << run.err;
    const auto doubts =
        where(read_table(f.folder / "out.gpkg", "findings"), "code", "value_unreadable");
    ASSERT_EQ(doubts.size(), 8U);
    EXPECT_EQ(doubts[0].at("field"), "width");
    EXPECT_EQ(doubts[0].at("value"), "4 in");
    EXPECT_THAT(doubts[0].at("message").get<std::string>(), HasSubstr("column BREITE"));
    for (const Row& pole : read_table(f.folder / "out.gpkg", "poles").rows) {
        EXPECT_NE(pole.at("verdict"), "serviceable")
            << "a size that cannot be read lets nothing pass";
    }
}

TEST(JobFile, IdsStayTextAndNullMarkersAreNotRecorded) {
    const TempDir folder{fast_place()};
    folder.file(
        "poles.csv",
        "NR,KL,LEN,DIA,X,Y\n007,4,\"12,2\",-9999,500000,5000000\n7,n/a,12.2,30,500000,5000040\n");
    folder.file("visits.csv", "NR,WHEN,C1,C2,OK\n007,5/1/2024,,40,J\n7,5/2/2024,-,-,N\n");
    const auto job = folder.file("job.json", R"({"layers": {
      "poles": {"source": "poles.csv", "nulls": ["n/a", -9999], "decimal": ",", "fields": {
        "pole_id": "NR", "pole_class": "KL", "species": {"constant": "southern_pine"},
        "length": {"field": "LEN", "unit": "m"},
        "recorded_circumference": {"field": "DIA", "unit": "cm", "measure": "diameter"}}},
      "inspections": {"source": "visits.csv", "nulls": ["-"], "units": {"present_circumference": "in"}, "fields": {
        "pole_id": "NR", "inspected_on": {"field": "WHEN", "date": "M/D/YYYY"},
        "present_circumference": {"first_of": ["C1", "C2"]},
        "climb_safe": {"field": "OK", "codes": {"J": true, "N": false}}}}}})");
    const ProgramRun run =
        linewood({"assess", "--job", job.string(), "--out", (folder / "out.gpkg").string()});
    ASSERT_EQ(run.exit_code, 0) << run.err;
    const Table poles = read_table(folder / "out.gpkg", "poles");
    const Row& first = poles.row("NR", "007");
    EXPECT_EQ(first.at("original_source"), "tables");
    EXPECT_EQ(first.at("inspected_on"), "2024-05-01");
    EXPECT_EQ(first.at("LEN"), "12,2");
    const Row& second = poles.row("NR", "7");
    EXPECT_EQ(second.at("original_source"), "recorded");
    EXPECT_NEAR(second.at("original_circumference").get<double>(), 30 * M_PI / 2.54, 1e-9);
    EXPECT_EQ(second.at("inspected_on"), "2024-05-02");
    EXPECT_THAT(second.at("reasons").get<std::string>(),
                AllOf(HasSubstr("unsafe_to_climb"), HasSubstr("present_circumference_missing")));
}

TEST(JobFile, WideTablesBecomeDefects) {
    Survey s = five_poles();
    s.defects.rows.clear();
    Table wide{"visits", {}, "", ""};
    wide.rows = {Row{{"pole", "A"},
                     {"p1_w", 3.0},
                     {"p1_d", 1.0},
                     {"p2_w", 5.0},
                     {"p2_d", 2.0},
                     {"p3_w", nullptr},
                     {"p3_d", nullptr}},
                 Row{{"pole", "B"},
                     {"p1_w", 0.0},
                     {"p1_d", 0.0},
                     {"p2_w", 0.0},
                     {"p2_d", 0.0},
                     {"p3_w", 4.0},
                     {"p3_d", 2.0}},
                 Row{{"pole", "C"},
                     {"p1_w", 0.0},
                     {"p1_d", 0.0},
                     {"p2_w", 0.0},
                     {"p2_d", 0.0},
                     {"p3_w", 0.0},
                     {"p3_d", 0.0}}};
    const SurveyFolder f{s};
    write_table(f.folder() / "wide.gpkg", wide);
    const auto job = f.folder().file("job.json", R"({"layers": {
      "inspections": [{"layer": "inspections"}, {"source": "wide.gpkg", "fields": {"pole_id": "pole"}}],
      "defects": {"source": "wide.gpkg", "repeat": {"from": 1, "to": 3}, "units": "in", "nulls": [0], "fields": {
        "pole_id": "pole", "kind": {"constant": "external_pocket"},
        "width": "p{n}_w", "depth": "p{n}_d",
        "position": {"field": "{n}", "codes": {"1": "in_line", "2": "out_of_line", "3": "oblique"}}}}}})");
    const ProgramRun run = f.assess({"--job", job.string()});
    ASSERT_EQ(run.exit_code, 0) << run.err;
    const Table defects = read_table(f.output(), "defects");
    ASSERT_EQ(defects.rows.size(), 3U);
    EXPECT_EQ(defects.rows[0].at("pole"), "A");
    EXPECT_EQ(defects.rows[0].at("p_w"), 3.0);
    EXPECT_EQ(defects.rows[1].at("p_d"), 2.0);
    EXPECT_EQ(defects.rows[1].at("source_group"), "2");
    EXPECT_EQ(defects.rows[2].at("pole"), "B");
    EXPECT_EQ(defects.rows[2].at("source_group"), "3");
    EXPECT_EQ(defects.rows[2].at("source_fid"), 2);
    EXPECT_FALSE(defects.rows[0].at("@wkt").is_null()) << "put at its pole";
    const Table visits = read_table(f.output(), "inspections");
    EXPECT_EQ(visits.rows.size(), 4U + 3U);
    EXPECT_EQ(visits.rows[4].at("p2_w"), 5.0) << "the wide rows stay as they are";
    const Table poles = read_table(f.output(), "poles");
    EXPECT_EQ(poles.pole("A").at("verdict"), "stub");
    EXPECT_LT(poles.pole("B").at("remaining_pct").get<double>(), 100.0);
    EXPECT_EQ(poles.pole("C").at("verdict"), "serviceable");
    EXPECT_TRUE(where(read_table(f.output(), "findings"), "code", "group_not_listed").empty());
}

TEST(JobFile, GroupsThatARepeatLeavesOutAreToldOf) {
    const Survey s = five_poles();
    Table wide;
    wide.name = "wide";
    wide.rows = {Row{{"pole", "A"},
                     {"p1_w", 3.0},
                     {"p1_d", 3.0},
                     {"P2_W", 9.0},
                     {"P2_D", 4.0},
                     {"p12_w", 1.0},
                     {"px_w", 1.0}}};
    const SurveyFolder f{s};
    write_table(f.folder() / "wide.gpkg", wide);
    const auto job = f.folder().file("job.json", R"({"layers": {
      "inspections": [{"layer": "inspections"}, {"source": "wide.gpkg", "fields": {"pole_id": "pole"}}],
      "defects": {"source": "wide.gpkg", "repeat": {"from": 1, "to": 1}, "units": "in", "fields": {
        "pole_id": "pole", "kind": {"constant": "external_pocket"},
        "width": "p{n}_w", "depth": "p{n}_d"}}}})");
    const ProgramRun run = f.assess({"--job", job.string()});
    ASSERT_EQ(run.exit_code, 0) << run.err;
    std::vector<std::string> told;
    for (const Row& row : read_table(f.output(), "findings").rows) {
        if (row.at("code") == "group_not_listed") {
            told.push_back(row.at("field").get<std::string>() + " " +
                           row.at("value").get<std::string>());
        }
    }
    EXPECT_EQ(told, (std::vector<std::string>{"P2_W 2", "p12_w 12"}));
}

TEST(JobFile, SeveralSourcesFeedOneLayer) {
    Survey north = five_poles();
    Survey south = five_poles();
    for (Row& row : south.poles.rows) {
        row["pole_id"] = "S" + row.at("pole_id").get<std::string>();
        row["owner"] = 12;
    }
    for (Row& row : north.poles.rows) {
        row["OWNER"] = "north";
    }
    south = moved(south, [](Position p) { return Position{p.first + 500.0, p.second}; });
    const SurveyFolder f{north};
    write_table(f.folder() / "south.gpkg", south.poles);
    write_table(f.folder() / "south.gpkg", south.spans);
    const auto job = f.folder().file("job.json", R"({"layers": {
      "poles": [{"layer": "poles", "where": "pole_id <> 'E'"}, {"source": "south.gpkg"}],
      "spans": [{}, {"source": "south.gpkg", "fields": {"circuit": {"constant": "south"}}}]}})");
    const ProgramRun run = f.assess({"--job", job.string()});
    ASSERT_EQ(run.exit_code, 0) << run.err;
    const Table poles = read_table(f.output(), "poles");
    ASSERT_EQ(poles.rows.size(), 9U);
    EXPECT_EQ(poles.rows[0].at("OWNER"), "north");
    EXPECT_EQ(poles.rows[4].at("OWNER"), "12") << "two types become text";
    EXPECT_EQ(poles.rows[4].at("pole_id"), "SA");
    EXPECT_EQ(poles.pole("SC").at("line_role"), "tangent");
    EXPECT_EQ(poles.pole("C").at("line_role"), "tangent");
    EXPECT_EQ(poles.pole("B").at("verdict"), "treat") << "inspections and defects are those of IN";
}

TEST(JobFile, OneSourceWithAConditionKeepsItsFids) {
    const SurveyFolder f;
    const auto job = f.folder().file(
        "job.json", R"job({"layers": {"poles": {"where": "pole_id IN ('B', 'D')"}}})job");
    ASSERT_EQ(f.assess({"--job", job.string()}).exit_code, 0);
    const Table poles = read_table(f.output(), "poles");
    ASSERT_EQ(poles.rows.size(), 2U);
    EXPECT_EQ(poles.pole("D").at("@fid"), 4);
    EXPECT_EQ(poles.pole("D").at("verdict"), "replace");
}

TEST(JobFile, SettingsStandInItAndTheCommandLineWins) {
    const SurveyFolder f;
    const auto job = f.folder().file(
        "job.json", R"({"settings": {"units": "si", "snap_m": 1.5, "criteria": "two-thirds"}})");
    ASSERT_EQ(f.assess({"--job", job.string()}).exit_code, 0);
    Table run = read_table(f.output(), "run");
    EXPECT_EQ(run.row("item", "job_units").at("value"), "si");
    EXPECT_EQ(run.row("item", "job_snap_tolerance").at("value"), "1.5 m");
    EXPECT_EQ(run.row("item", "criteria_name").at("value"), "two-thirds");
    ASSERT_EQ(f.assess({"--job",
                        job.string(),
                        "--snap",
                        "2.5",
                        "--units=us",
                        "--criteria",
                        "sixty-percent",
                        "--overwrite"})
                  .exit_code,
              0);
    run = read_table(f.output(), "run");
    EXPECT_EQ(run.row("item", "job_units").at("value"), "us");
    EXPECT_EQ(run.row("item", "job_snap_tolerance").at("value"), "2.5 m");
    EXPECT_EQ(run.row("item", "criteria_name").at("value"), "sixty-percent");
}

TEST(JobFile, WorksheetsAndNetworksTakeIt) {
    const ForeignFolder f;
    const auto job = f.folder.file("job.json", kForeignJob);
    const ProgramRun sheet =
        linewood({"worksheet", "--job", job.string(), "T3", "--format", "markdown"});
    ASSERT_EQ(sheet.exit_code, 0) << sheet.err;
    EXPECT_THAT(sheet.out, HasSubstr("REST"));
    const ProgramRun network =
        linewood({"network", "--job", job.string(), "--out", (f.folder / "net.gpkg").string()});
    ASSERT_EQ(network.exit_code, 0) << network.err;
    EXPECT_EQ(read_table(f.folder / "net.gpkg", "poles").row("NUM", "J").at("line_role"),
              "junction");
}

TEST(JobFile, MappedSpansAreNamedInFindingsAndServicesMakeNoPoles) {
    Survey s;
    s.add_span({{0, 0}, {40, 0}}, {{"NAME", "S-1"}, {"ART", 1}});
    s.add_span({{40, 0}, {40, 12}}, {{"NAME", "S-2"}, {"ART", 2}});
    s.add_span({{40, 0}, {0, 0}}, {{"NAME", "S-3"}, {"ART", 1}});
    const TempDir folder{fast_place()};
    write_table(folder / "lines.gpkg", s.spans);
    const auto job = folder.file("job.json", R"({"settings": {"poles_from_spans": true}, "layers": {
        "spans": {"source": "lines.gpkg", "fields": {
            "span_id": "NAME", "kind": {"field": "ART", "codes": {"1": "line", "2": "service"}}}}}})");
    const ProgramRun run =
        linewood({"network", "--job", job.string(), "--out", (folder / "net.gpkg").string()});
    ASSERT_EQ(run.exit_code, 0) << run.err;
    EXPECT_EQ(read_table(folder / "net.gpkg", "poles").rows.size(), 2U);
    const Table findings = read_table(folder / "net.gpkg", "findings");
    EXPECT_FALSE(where(findings, "feature", "S-3").empty()) << "it doubles the first";
}

TEST(JobFile, TheOutputNeverReplacesIt) {
    const ForeignFolder f;
    const auto job = f.folder.file("job.gpkg", kForeignJob);
    const ProgramRun run =
        linewood({"assess", "--job", job.string(), "--out", job.string(), "--overwrite"});
    EXPECT_EQ(run.exit_code, 2);
    EXPECT_EQ(content_of(job), kForeignJob);
}

TEST(JobCommand, ChecksAFileAgainstItsLayers) {
    const ForeignFolder f;
    const auto job = f.folder.file("job.json", kForeignJob);
    const ProgramRun run = linewood({"job", "check", job.string()});
    ASSERT_EQ(run.exit_code, 0) << run.err;
    for (const char* const line : {"poles: 7 rows",
                                   "defects: 12 rows",
                                   "diameter in cm",
                                   "written DD.MM.YYYY",
                                   "fits its layers"}) {
        EXPECT_THAT(run.out, HasSubstr(line));
    }
    EXPECT_THAT(linewood({"job", "fields"}).out,
                AllOf(HasSubstr("shell_thickness"), HasSubstr("(in, ft, mm, cm, m)")));
}

TEST(JobCommand, NamesAnActionThatThereIsNot) {
    const ProgramRun run = linewood({"job", "chek", "x.json"});
    EXPECT_EQ(run.exit_code, 2);
    EXPECT_THAT(run.err, HasSubstr("did you mean \"check\""));
}

struct Wrong {
    std::string json;
    std::vector<std::string> words;
};

TEST(JobFile, WhatDoesNotFitItsLayersIsNamedByItsPlaceAndTheNearestWord) {
    const SurveyFolder f;
    const std::vector<Wrong> table{
        {R"({"layers": {"poles": {"source": "im.gpkg"}}})",
         {"layers.poles.source", "im.gpkg", "did you mean \"in.gpkg\""}},
        {R"({"layers": {"poles": {"layer": "pole"}}})",
         {"layers.poles.layer", "\"pole\"", "did you mean \"poles\""}},
        {R"({"layers": {"poles": {"fields": {"pole_id": "poleid"}}}})",
         {"layers.poles.fields.pole_id", "\"poleid\"", "did you mean \"pole_id\""}},
        {R"({"layers": {"poles": {"where": "nope = 1"}}})",
         {"layers.poles.where", "nope", "pole_id"}},
        {R"({"layers": {"poles": {"where": "1 ="}}})", {"layers.poles.where"}},
        {R"({"layers": {"inspections": {}, "defects": {"layer": "inspections", "repeat": [1, 2], "fields": {"pole_id": "pole_id", "kind": {"constant": "bore"}, "width": {"field": "w{n}", "unit": "in"}}}}})",
         {"layers.defects"}},
        {R"({"settings": {"criteria": "two-third"}})",
         {"settings.criteria", "did you mean \"two-thirds\""}},
    };
    for (const Wrong& wrong : table) {
        const auto file = f.folder().file("job.json", wrong.json);
        const ProgramRun run = f.assess({"--job", file.string()});
        SCOPED_TRACE(wrong.json + "\n" + run.err);
        EXPECT_EQ(run.exit_code, 2);
        for (const std::string& word : wrong.words) {
            EXPECT_THAT(run.err, HasSubstr(word));
        }
        EXPECT_THAT(f.names(), ElementsAre("in.gpkg", "job.json"));
    }
}

/// The examples that tests/schema holds the schema against.
TEST(JobFile, TakesAndRefusesWhatTheSchemaDoes) {
    std::ifstream in{test_file("schema/job_examples.json")};
    const auto examples = nlohmann::json::parse(in);
    const TempDir folder{fast_place()};
    folder.file("a.csv", "x,y\n1,2\n");
    for (const auto& good : examples.at("good")) {
        const auto file = folder.file("job.json", good.dump());
        const ProgramRun run = linewood({"job", "check", file.string()});
        // Whether it fits its layers is another question: those messages name a layer's file or column.
        EXPECT_THAT(run.err, Not(HasSubstr("unknown key"))) << good.dump();
        EXPECT_TRUE(run.exit_code == 0 || run.err.find("has no column") != std::string::npos ||
                    run.err.find("no dataset is named") != std::string::npos ||
                    run.err.find("no layer") != std::string::npos ||
                    run.err.find("nothing is mapped") != std::string::npos ||
                    run.err.find("values are not") != std::string::npos ||
                    run.err.find("is met by none") != std::string::npos)
            << good.dump() << "\n"
            << run.err;
    }
    for (const char* const kind : {"bad", "bad_beyond_the_schema"}) {
        for (const auto& bad : examples.at(kind)) {
            const auto file = folder.file("job.json", bad.at("profile").dump());
            const ProgramRun run = linewood({"job", "check", file.string()});
            EXPECT_EQ(run.exit_code, 2) << bad.dump();
            std::string path = bad.at("path");
            EXPECT_THAT(run.err, HasSubstr(": " + path + ":")) << bad.dump();
        }
    }
}

}  // namespace
}  // namespace linewood::testing
