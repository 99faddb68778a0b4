#include <chrono>
#include <csignal>
#include <memory>
#include <thread>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/support/assess_program.hpp"
#include "tests/support/postgres.hpp"

namespace linewood::testing {
namespace {

using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

/// One server for all tests here; each test has a schema of its own.
class slow_Postgis : public ::testing::Test {
protected:
    static void SetUpTestSuite() {
        if (PostgresServer::is_installed()) {
            server_ = std::make_unique<PostgresServer>();
        }
    }
    static void TearDownTestSuite() { server_.reset(); }

    void SetUp() override {
        if (!server_) {
            GTEST_SKIP() << "not run: PostgreSQL 15 with PostGIS is not there (.ci/install long)";
        }
        server_->psql(
            "DROP SCHEMA IF EXISTS given CASCADE; DROP SCHEMA IF EXISTS made CASCADE; "
            "CREATE SCHEMA given; CREATE SCHEMA made");
    }

    /// The survey as tables of the schema `given`, by GDAL's own program.
    void load(const SurveyFolder& f) {
        const ProgramRun run = run_program_file("/usr/bin/ogr2ogr",
                                                {"-f",
                                                 "PostgreSQL",
                                                 in(),
                                                 f.input().string(),
                                                 "-lco",
                                                 "GEOMETRY_NAME=geom",
                                                 "-lco",
                                                 "FID=fid",
                                                 "-lco",
                                                 "LAUNDER=NO"});
        ASSERT_EQ(run.exit_code, 0) << run.err;
    }

    static std::string in() { return server_->connection("given"); }
    static std::string out() { return server_->connection("made"); }
    static std::string psql(const std::string& sql) { return server_->psql(sql); }

    /// Names of the tables of a schema.
    static std::string tables(const std::string& schema) {
        return psql(
            "SELECT string_agg(tablename, ' ' ORDER BY tablename) FROM pg_tables WHERE "
            "schemaname = '" +
            schema + "'");
    }

private:
    static std::unique_ptr<PostgresServer> server_;
};

std::unique_ptr<PostgresServer> slow_Postgis::server_;

TEST_F(slow_Postgis, ReadsAssessesWritesAndWritesAgain) {
    const SurveyFolder f;
    load(f);
    ASSERT_EQ(f.assess().exit_code, 0);
    const ProgramRun run = linewood({"assess", in(), "--out", out()});
    ASSERT_EQ(run.exit_code, 0) << run.err;
    EXPECT_EQ(tables("made"), "defects findings inspections poles run sections spans");
    EXPECT_EQ(psql("SELECT string_agg(pole_id || ' ' || verdict, ',' ORDER BY pole_id) FROM "
                   "made.poles"),
              "A serviceable,B treat,C stub,D replace,E unassessed");
    EXPECT_EQ(psql("SELECT count(*) FROM made.sections"),
              std::to_string(read_table(f.output(), "sections").rows.size()));
    EXPECT_EQ(psql("SELECT count(*) FROM made.poles WHERE ST_SRID(geom) = 32610"), "5");
    EXPECT_THAT(psql("SELECT col_description('made.poles'::regclass, attnum) FROM pg_attribute "
                     "WHERE attrelid = 'made.poles'::regclass AND attname = 'remaining_pct'"),
                HasSubstr("[%]"));
    const ProgramRun again = linewood({"assess", in(), "--out", out()});
    EXPECT_EQ(again.exit_code, 1);
    EXPECT_THAT(again.err, HasSubstr("--overwrite"));
    const ProgramRun replaced = linewood({"assess", in(), "--out", out(), "--overwrite"});
    EXPECT_EQ(replaced.exit_code, 0) << replaced.err;
    EXPECT_EQ(psql("SELECT count(*) FROM made.poles"), "5");
    // What was written can be read.
    const ProgramRun third = linewood({"assess", out(), "--out", f.path("third.gpkg")});
    EXPECT_EQ(third.exit_code, 0) << third.err;
    EXPECT_EQ(read_table(f.folder() / "third.gpkg", "poles").pole("D").at("verdict"), "replace");
}

/// Nulls, empty texts, days, answers, signs of other scripts and whole numbers beyond 53 bits come through, and again.
TEST_F(slow_Postgis, EveryValueComesBack) {
    const SurveyFolder f;
    load(f);
    psql(
        "ALTER TABLE given.poles ADD name text, ADD empty text, ADD big bigint, ADD small "
        "smallint, "
        "ADD r double precision, ADD ok boolean, ADD day date, ADD at timestamptz, ADD raw bytea, "
        "ADD \"Group\" text");
    psql(
        "UPDATE given.poles SET name = 'Sjöström ± 木', empty = '', big = 9007199254740993, small "
        "= "
        "-5, r = 0.1, ok = true, day = '2024-02-29', at = '2024-05-01 12:30:00+02', raw = "
        "'\\x00ff41', \"Group\" = E'a\\tb\\\\c''\"\\nd' WHERE pole_id = 'A'");
    psql("UPDATE given.poles SET ok = false, big = -9223372036854775807 WHERE pole_id = 'B'");
    const auto values = [](const std::string& schema) {
        return psql(
            "SELECT pole_id, name, empty, empty IS NULL, big, small, r, ok, day, at AT TIME "
            "ZONE 'UTC', raw, \"Group\", ST_AsText(geom) FROM " +
            schema + ".poles ORDER BY pole_id");
    };
    const std::string before = values("given");
    ASSERT_THAT(before, HasSubstr("9007199254740993"));
    const ProgramRun run = linewood({"assess", in(), "--out", out()});
    ASSERT_EQ(run.exit_code, 0) << run.err;
    EXPECT_EQ(values("made"), before);
    const ProgramRun in_place = linewood({"assess", in(), "--in-place"});
    ASSERT_EQ(in_place.exit_code, 0) << in_place.err;
    EXPECT_EQ(values("given"), before);
}

/// A row numbered 0 is a row: it is read, assessed, changed in place, and the database numbers what it gets itself, so
/// that the next row has a number too.
TEST_F(slow_Postgis, ARowNumberedZero) {
    const SurveyFolder f;
    load(f);
    psql("UPDATE given.poles SET fid = 0 WHERE pole_id = 'D'");
    ASSERT_EQ(psql("SELECT fid FROM given.poles WHERE pole_id = 'D'"), "0");
    const ProgramRun run = linewood({"assess", in(), "--out", out()});
    ASSERT_EQ(run.exit_code, 0) << run.err;
    const std::string verdicts =
        "SELECT string_agg(pole_id || ' ' || verdict, ',' ORDER BY pole_id) FROM ";
    const std::string expected = "A serviceable,B treat,C stub,D replace,E unassessed";
    EXPECT_EQ(psql(verdicts + "made.poles"), expected);
    EXPECT_EQ(psql("INSERT INTO made.poles (pole_id) VALUES ('new'); SELECT count(DISTINCT fid) "
                   "FROM made.poles"),
              "6");
    const ProgramRun in_place = linewood({"assess", in(), "--in-place"});
    ASSERT_EQ(in_place.exit_code, 0) << in_place.err;
    EXPECT_EQ(psql(verdicts + "given.poles"), expected);
    EXPECT_EQ(psql("SELECT verdict FROM given.poles WHERE fid = 0"), "replace");
    EXPECT_EQ(psql("INSERT INTO given.line_spans (from_pole) VALUES ('new'); SELECT count(*) > 1 "
                   "FROM given.line_spans"),
              "t");
}

TEST_F(slow_Postgis, TheInputsTablesAreNeverReplaced) {
    const SurveyFolder f;
    load(f);
    const ProgramRun run = linewood({"assess", in(), "--out", in(), "--overwrite"});
    EXPECT_EQ(run.exit_code, 2);
    EXPECT_EQ(tables("given"), "defects inspections poles spans");
    EXPECT_EQ(psql("SELECT count(*) FROM given.poles"), "5");
}

TEST_F(slow_Postgis, InPlaceInOneTransaction) {
    const SurveyFolder f;
    load(f);
    const ProgramRun run = linewood({"assess", in(), "--in-place"});
    ASSERT_EQ(run.exit_code, 0) << run.err;
    EXPECT_EQ(tables("given"), "defects findings inspections line_spans poles run sections spans");
    EXPECT_EQ(psql("SELECT verdict FROM given.poles WHERE pole_id = 'D'"), "replace");
    const std::string before = psql("SELECT * FROM given.poles ORDER BY fid");
    const ProgramRun again = linewood({"assess", in(), "--in-place"});
    ASSERT_EQ(again.exit_code, 0) << again.err;
    EXPECT_EQ(psql("SELECT * FROM given.poles ORDER BY fid"), before);
    EXPECT_EQ(tables("given"), "defects findings inspections line_spans poles run sections spans");
}

TEST_F(slow_Postgis, AStoppedRunLeavesTheOldState) {
    const SurveyFolder f;
    load(f);
    const std::string before = psql("SELECT * FROM given.poles ORDER BY fid");
    for (const int signal : {SIGINT, SIGKILL}) {
        for (int wait = 0; wait < 400; wait += 40) {
            RunningProgram run{linewood_program(), {"assess", in(), "--in-place"}};
            std::this_thread::sleep_for(std::chrono::milliseconds{wait});
            run.send(signal);
            const ProgramRun ended = run.wait();
            if (ended.exit_code == 0) {
                break;  // it was done before
            }
            ASSERT_EQ(psql("SELECT * FROM given.poles ORDER BY fid"), before);
            ASSERT_EQ(tables("given"), "defects inspections poles spans");
        }
        const SurveyFolder anew;
        psql("DROP SCHEMA given CASCADE; CREATE SCHEMA given");
        load(anew);
    }
}

/// Layer, field and filter names are names and no statements.
TEST_F(slow_Postgis, NamesThatWouldBeStatements) {
    const SurveyFolder f;
    load(f);
    psql(R"(ALTER TABLE given.poles ADD COLUMN "a""; drop table given.poles; --" text)");
    psql(R"(CREATE TABLE given."a""; drop table given.poles; --" (fid int primary key, t text))");
    const ProgramRun run = linewood({"assess", in(), "--out", out()});
    ASSERT_EQ(run.exit_code, 0) << run.err;
    EXPECT_EQ(psql("SELECT count(*) FROM given.poles"), "5");
    EXPECT_EQ(
        psql(R"(SELECT count(*) FROM information_schema.columns WHERE table_schema = 'made' AND
                      column_name = 'a"; drop table given.poles; --')"),
        "1");
    ASSERT_EQ(linewood({"assess", in(), "--in-place"}).exit_code, 0);
    EXPECT_EQ(psql("SELECT count(*) FROM given.poles"), "5");
    const ProgramRun filter = linewood({"assess",
                                        in(),
                                        "--out",
                                        out(),
                                        "--overwrite",
                                        "--line-where",
                                        "1 = 1); drop table given.poles; --"});
    EXPECT_EQ(filter.exit_code, 2);
    EXPECT_EQ(psql("SELECT count(*) FROM given.poles"), "5");
}

TEST_F(slow_Postgis, PasswordsAreNeverShown) {
    const std::string secret = "PG:host=127.0.0.1 port=1 dbname=gis password=hunter2 user=u";
    for (const Arguments& arguments : {Arguments{"assess", secret, "--out", "x.gpkg"},
                                       Arguments{"assess", in(), "--out", secret}}) {
        const ProgramRun run = linewood(arguments);
        EXPECT_NE(run.exit_code, 0);
        EXPECT_THAT(run.err + run.out, Not(HasSubstr("hunter2")));
    }
}

}  // namespace
}  // namespace linewood::testing
