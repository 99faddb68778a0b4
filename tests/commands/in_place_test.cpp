#include <chrono>
#include <csignal>
#include <random>
#include <thread>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/support/assess_program.hpp"

namespace linewood::testing {
namespace {

using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

ProgramRun in_place(const SurveyFolder& f, const Arguments& more = {}) {
    Arguments all{"assess", f.input().string(), "--in-place"};
    all.insert(all.end(), more.begin(), more.end());
    return linewood(all);
}

/// A shell command's output, without the line break at its end.
std::string said(const std::string& command) {
    const ProgramRun run = run_program_file("/bin/sh", {"-c", command});
    std::string out = run.out + run.err;
    while (!out.empty() && out.back() == '\n') {
        out.pop_back();
    }
    return out;
}

std::string sql(const std::filesystem::path& file, const std::string& statement) {
    return said("sqlite3 '" + file.string() + "' \"" + statement + "\"");
}

TEST(InPlace, PutsColumnsAndLayersIntoTheInput) {
    const SurveyFolder f;
    ASSERT_EQ(f.assess().exit_code, 0);
    const ProgramRun run = in_place(f);
    EXPECT_EQ(run.exit_code, 0) << run.err;
    EXPECT_THAT(f.names(), ElementsAre("in.gpkg", "out.gpkg"));
    const Table poles = read_table(f.input(), "poles");
    const Table expected = read_table(f.output(), "poles");
    ASSERT_EQ(poles.rows.size(), expected.rows.size());
    for (const char* const id : {"A", "B", "C", "D", "E"}) {
        for (const char* const column : {"verdict", "reasons", "remaining_pct", "line_azimuth"}) {
            EXPECT_EQ(poles.pole(id).at(column), expected.pole(id).at(column)) << id << column;
        }
    }
    for (const char* const layer : {"sections", "findings", "run"}) {
        EXPECT_EQ(read_table(f.input(), layer).rows.size(),
                  read_table(f.output(), layer).rows.size())
            << layer;
    }
    EXPECT_EQ(read_table(f.input(), "line_spans").rows.size(),
              read_table(f.output(), "spans").rows.size());
    EXPECT_EQ(sql(f.input(), "PRAGMA integrity_check"), "ok");
}

TEST(InPlace, TheOwnersRoutesAndOtherTablesStay) {
    const SurveyFolder f;
    sql(f.input(), "CREATE TABLE mine (a TEXT); INSERT INTO mine VALUES ('kept')");
    const std::string spans = sql(f.input(), "SELECT * FROM spans");
    const std::string inspections = sql(f.input(), "SELECT * FROM inspections");
    ASSERT_EQ(in_place(f).exit_code, 0);
    EXPECT_EQ(sql(f.input(), "SELECT a FROM mine"), "kept");
    EXPECT_EQ(sql(f.input(), "SELECT * FROM spans"), spans);
    EXPECT_EQ(sql(f.input(), "SELECT * FROM inspections"), inspections);
}

TEST(InPlace, ASecondRunReplacesTheFirst) {
    const SurveyFolder f;
    ASSERT_EQ(in_place(f).exit_code, 0);
    const std::string poles = sql(f.input(), "SELECT * FROM poles");
    const std::string spans = sql(f.input(), "SELECT * FROM line_spans");
    const std::string columns = sql(f.input(), "SELECT name FROM pragma_table_info('poles')");
    const ProgramRun again = in_place(f);
    EXPECT_EQ(again.exit_code, 0) << again.err;
    EXPECT_EQ(sql(f.input(), "SELECT * FROM poles"), poles);
    EXPECT_EQ(sql(f.input(), "SELECT * FROM line_spans"), spans);
    EXPECT_EQ(sql(f.input(), "SELECT name FROM pragma_table_info('poles')"), columns);
    EXPECT_EQ(sql(f.input(), "SELECT count(*) FROM gpkg_metadata"), "1");
    EXPECT_EQ(sql(f.input(), "SELECT mapping_table_name FROM gpkgext_relations ORDER BY 1"),
              "poles_defects\npoles_sections");
}

TEST(InPlace, AFieldOfTheOwnersIsKeptUnderAnotherName) {
    Survey survey = five_poles();
    for (Row& row : survey.poles.rows) {
        row["verdict"] = "mine";
    }
    const SurveyFolder f{survey};
    const ProgramRun run = in_place(f);
    ASSERT_EQ(run.exit_code, 0) << run.err;
    EXPECT_EQ(read_table(f.input(), "poles").pole("D").at("in_verdict"), "mine");
    EXPECT_EQ(read_table(f.input(), "poles").pole("D").at("verdict"), "replace");
}

TEST(InPlace, OnlyOfAGeoPackageThatIsWhole) {
    const SurveyFolder f;
    EXPECT_EQ(in_place(f, {"--out", f.path("x.gpkg")}).exit_code, 2);
    EXPECT_EQ(in_place(f, {"--overwrite"}).exit_code, 2);
    ASSERT_EQ(linewood({"assess", f.input().string(), "--out", f.path("g"), "--format", "geojson"})
                  .exit_code,
              0);
    const ProgramRun other = linewood({"assess", f.path("g"), "--in-place"});
    EXPECT_EQ(other.exit_code, 2);
    EXPECT_THAT(other.err, HasSubstr("only a GeoPackage"));
    f.folder().file("in.gpkg-journal", "unfinished");
    EXPECT_NE(in_place(f).exit_code, 0);
}

/// A writer of another program: SQLite itself, which holds its lock while it waits for its input.
TEST(InPlace, NotWhileAnotherProgramWrites) {
    const SurveyFolder f;
    const std::string before = content_of(f.input());
    const std::string line = "(echo 'BEGIN IMMEDIATE;'; echo '.print ready'; sleep 4) | sqlite3 '" +
                             f.input().string() + "' > '" + f.path("said") + "' & " +
                             "while [ ! -s '" + f.path("said") + "' ]; do sleep 0.05; done; '" +
                             linewood_program() + "' assess '" + f.input().string() +
                             "' --in-place; echo code $?; wait";
    const std::string answer = said(line);
    EXPECT_THAT(answer, HasSubstr("code 1"));
    EXPECT_THAT(answer, HasSubstr("another program"));
    EXPECT_EQ(content_of(f.input()), before);
    EXPECT_EQ(in_place(f).exit_code, 0);
}

/// Starts a run in place and kills it after so long. @return whether it was killed before its end
bool killed_after(const SurveyFolder& f, std::chrono::microseconds time) {
    RunningProgram program{linewood_program(), {"assess", f.input().string(), "--in-place"}};
    std::this_thread::sleep_for(time);
    program.send(SIGKILL);
    return program.wait().signal == SIGKILL;
}

/// Everything of the owner's, as text.
std::string owners_state(const std::filesystem::path& file) {
    return sql(file,
               "PRAGMA integrity_check; SELECT fid, hex(geom), pole_id FROM poles; SELECT * FROM "
               "spans; SELECT * FROM inspections; SELECT fid, pole_id, kind FROM defects");
}

TEST(slow_InPlace, KilledAtAnyMomentTheSourceIsWhole) {
    const SurveyFolder f;
    const std::string untouched = content_of(f.input());
    const std::string state = owners_state(f.input());
    const auto start = std::chrono::steady_clock::now();
    ASSERT_EQ(in_place(f).exit_code, 0);
    const auto took = std::chrono::duration_cast<std::chrono::microseconds>(
        std::chrono::steady_clock::now() - start);
    ASSERT_EQ(owners_state(f.input()), state);

    std::mt19937 random{20240501};
    std::uniform_int_distribution<std::int64_t> moment{0, took.count()};
    int killed = 0;
    for (int i = 0; i < 200; ++i) {
        const std::string before = i % 2 == 0 ? untouched : content_of(f.input());
        f.folder().file("in.gpkg", before);
        killed += killed_after(f, std::chrono::microseconds{moment(random)}) ? 1 : 0;
        const std::string after = content_of(f.input());
        // The old state to the byte, or the new one whole.
        if (after != before) {
            ASSERT_EQ(owners_state(f.input()), state) << "run " << i;
            ASSERT_EQ(sql(f.input(), "SELECT count(*) > 0 FROM run"), "1") << "run " << i;
        }
        for (const char* const side : {"in.gpkg-journal", "in.gpkg-wal", "in.gpkg-shm"}) {
            ASSERT_THAT(f.names(), Not(Contains(side)));
        }
    }
    EXPECT_GT(killed, 20);
    // The next run clears what the dead ones left.
    const ProgramRun last = in_place(f);
    EXPECT_EQ(last.exit_code, 0) << last.err;
    EXPECT_THAT(f.names(), ElementsAre("in.gpkg"));
    EXPECT_EQ(owners_state(f.input()), state);
}

TEST(InPlace, LeftoversOfAKilledRunAreClearedWithANote) {
    const SurveyFolder f;
    ASSERT_EQ(in_place(f).exit_code, 0);
    // Killed at ever later moments until one leaves its copy.
    constexpr std::chrono::milliseconds kStep{5};
    for (int steps = 1; steps < 400 && f.names().size() < 2; ++steps) {
        killed_after(f, kStep * steps);
    }
    ASSERT_GE(f.names().size(), 2U);
    const ProgramRun run = in_place(f);
    EXPECT_EQ(run.exit_code, 0) << run.err;
    EXPECT_THAT(run.out, HasSubstr("left unfinished by an earlier run"));
    EXPECT_THAT(f.names(), ElementsAre("in.gpkg"));
}

TEST(InPlace, LayersOfTheOwnersAreNotReplaced) {
    for (const char* const layer : {"run", "sections", "findings", "line_spans"}) {
        const SurveyFolder f;
        sql(f.input(),
            std::string{"CREATE TABLE "} + layer +
                " (fid INTEGER PRIMARY KEY, note TEXT); INSERT INTO " + layer +
                " VALUES (1, 'mine'); INSERT INTO gpkg_contents (table_name, data_type, "
                "identifier) "
                "VALUES ('" +
                layer + "', 'attributes', '" + layer + "')");
        const ProgramRun run = in_place(f);
        EXPECT_EQ(run.exit_code, 1) << run.err;
        EXPECT_THAT(run.err, HasSubstr(layer));
        EXPECT_THAT(run.err, HasSubstr("rename it, or use --out"));
        EXPECT_THAT(run.err, Not(HasSubstr("disk")));
        EXPECT_EQ(sql(f.input(), std::string{"SELECT note FROM "} + layer), "mine");
    }
}

// A layer that is only called like the tool's says nothing of the columns beside it.
TEST(InPlace, ALayerCalledRunDoesNotMakeColumnsTheTools) {
    const SurveyFolder f;
    sql(f.input(),
        "ALTER TABLE poles ADD COLUMN verdict TEXT DEFAULT 'guilty'; "
        "CREATE TABLE run (fid INTEGER PRIMARY KEY, note TEXT); "
        "INSERT INTO gpkg_contents (table_name, data_type, identifier) "
        "VALUES ('run', 'attributes', 'run')");
    ASSERT_EQ(f.assess().exit_code, 0);
    EXPECT_EQ(read_table(f.output(), "poles").pole("A").at("in_verdict"), "guilty");
}

TEST(InPlace, TheNetworkAloneRemovesNoAssessment) {
    const SurveyFolder f;
    ASSERT_EQ(in_place(f).exit_code, 0);
    const ProgramRun run = linewood({"network", f.input().string(), "--in-place"});
    EXPECT_EQ(run.exit_code, 1);
    EXPECT_THAT(run.err, HasSubstr("assessed in place"));
    EXPECT_FALSE(read_table(f.input(), "sections").rows.empty());
}

}  // namespace
}  // namespace linewood::testing
