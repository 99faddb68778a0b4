#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/support/assess_program.hpp"

namespace linewood::testing {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;
using ::testing::StartsWith;

TEST(AssessCommand, WritesAndSaysWhatItCameTo) {
    const SurveyFolder f;
    const ProgramRun run = f.assess();
    EXPECT_EQ(run.exit_code, 0) << run.err;
    EXPECT_THAT(run.err, IsEmpty());
    EXPECT_THAT(run.out, StartsWith("5 poles\n"));
    for (const char* const line : {"  replace              1   20.0 %\n",
                                   "  stub                 1   20.0 %\n",
                                   "  unassessed           1   20.0 %\n",
                                   "  treat                1   20.0 %\n",
                                   "  serviceable          1   20.0 %\n",
                                   "Never climb",
                                   "out.gpkg"}) {
        EXPECT_THAT(run.out, HasSubstr(line));
    }
    EXPECT_THAT(f.names(), ElementsAre("in.gpkg", "out.gpkg"));
    EXPECT_EQ(read_table(f.output(), "poles").pole("D").at("verdict"), "replace");
}

TEST(AssessCommand, QuietSaysNothing) {
    const SurveyFolder f;
    for (const char* const quiet : {"--quiet", "-q"}) {
        const ProgramRun run = f.assess({quiet, "--overwrite"});
        EXPECT_EQ(run.exit_code, 0);
        EXPECT_THAT(run.out, IsEmpty());
        EXPECT_THAT(run.err, IsEmpty());
    }
}

TEST(AssessCommand, TheInputIsNeverChanged) {
    const SurveyFolder f;
    const std::string before = content_of(f.input());
    EXPECT_EQ(f.assess().exit_code, 0);
    EXPECT_EQ(content_of(f.input()), before);
}

TEST(AssessCommand, AnOutputThatExistsIsNotReplacedUnasked) {
    const SurveyFolder f;
    f.folder().file("out.gpkg", "mine");
    const ProgramRun refused = f.assess();
    EXPECT_EQ(refused.exit_code, 1);
    EXPECT_THAT(refused.err, HasSubstr("--overwrite"));
    EXPECT_THAT(refused.out, IsEmpty());
    EXPECT_EQ(content_of(f.output()), "mine");
    EXPECT_EQ(f.assess({"--overwrite"}).exit_code, 0);
    EXPECT_EQ(read_table(f.output(), "poles").rows.size(), 5U);
    EXPECT_THAT(f.names(), ElementsAre("in.gpkg", "out.gpkg"));
}

TEST(AssessCommand, LayersByName) {
    const SurveyFolder f;
    Table poles = five_poles().poles;
    poles.name = "masts";
    write_table(f.folder() / "other.gpkg", poles);
    write_table(f.folder() / "found.csv", five_poles().defects);
    const ProgramRun run = linewood({"assess",
                                     "--poles",
                                     f.path("other.gpkg") + ":masts",
                                     "--spans=" + f.input().string(),
                                     "--inspections",
                                     f.input().string() + ":Inspections",
                                     "--defects",
                                     f.path("found.csv"),
                                     "--out",
                                     f.output().string()});
    EXPECT_EQ(run.exit_code, 0) << run.err;
    const Table out = read_table(f.output(), "poles");
    EXPECT_EQ(out.pole("D").at("verdict"), "replace");
    EXPECT_EQ(out.pole("C").at("line_role"), "tangent");
}

TEST(AssessCommand, OptionsReachTheRun) {
    const SurveyFolder f;
    const ProgramRun run =
        f.assess({"--units", "si", "--snap", "3.5", "--nearest-line", "25", "--threads", "2"});
    EXPECT_EQ(run.exit_code, 0) << run.err;
    const Table statements = read_table(f.output(), "run");
    EXPECT_EQ(statements.row("item", "job_units").at("value"), "si");
    EXPECT_EQ(statements.row("item", "job_snap_tolerance").at("value"), "3.5 m");
    EXPECT_EQ(statements.row("item", "job_nearest_line").at("value"), "25 m");
    EXPECT_NEAR(
        read_table(f.output(), "poles").pole("D").at("original_circumference").get<double>(),
        1016.0,
        1e-9);
}

TEST(AssessCommand, FoldersByFormat) {
    const SurveyFolder f;
    const std::pair<const char*, const char*> formats[] = {
        {"geojson", "poles.geojson"}, {"FlatGeobuf", "poles.fgb"}, {"shapefile", "poles.shp"}};
    for (const auto& [format, file] : formats) {
        const std::string out = f.path(std::string{"out-"} + format);
        const ProgramRun run =
            linewood({"assess", f.input().string(), "--out", out, "--format", format});
        EXPECT_EQ(run.exit_code, 0) << run.err;
        EXPECT_EQ(read_table(std::filesystem::path{out} / file).rows.size(), 5U);
    }
}

TEST(AssessCommand, HelpIsOnStandardOutput) {
    for (const Arguments& arguments :
         {Arguments{"--help"}, Arguments{"assess", "--help"}, Arguments{"assess", "-h"}}) {
        const ProgramRun run = linewood(arguments);
        EXPECT_EQ(run.exit_code, 0);
        EXPECT_THAT(run.err, IsEmpty());
        EXPECT_THAT(run.out, HasSubstr("Exit codes: 0 done, 1 failed"));
    }
    const ProgramRun assess = linewood({"assess", "--help"});
    for (const char* const word : {"--out",
                                   "--format",
                                   "--overwrite",
                                   "--units",
                                   "--criteria",
                                   "--wood-tables",
                                   "--snap",
                                   "--nearest-line",
                                   "--plane-unit",
                                   "--threads",
                                   "--poles",
                                   "--spans",
                                   "--inspections",
                                   "--defects",
                                   "--quiet",
                                   "--log",
                                   "never climb"}) {
        EXPECT_THAT(assess.out, HasSubstr(word));
    }
    EXPECT_THAT(linewood({"--help"}).out, HasSubstr("assess"));
    const ProgramRun version = linewood({"--version"});
    EXPECT_EQ(version.exit_code, 0);
    EXPECT_THAT(version.out, StartsWith("linewood "));
}

/// What is typed wrongly, and the words that the message must hold.
struct Wrong {
    Arguments arguments;
    std::vector<std::string> words;
};

TEST(AssessCommand, CalledWronglyIsExitCodeTwoAndSaysWhatToType) {
    const SurveyFolder f;
    const std::string in = f.input().string();
    const std::string out = f.output().string();
    const std::vector<Wrong> table{
        {{}, {"name a command", "assess"}},
        {{"asess"}, {"\"asess\"", "did you mean \"assess\""}},
        {{"--frob"}, {"--frob"}},
        {{"assess"}, {"--out is required", "linewood assess --help"}},
        {{"assess", in}, {"--out is required"}},
        {{"assess", "--out", out}, {"no poles", "--poles"}},
        {{"assess", in, "--out"}, {"--out"}},
        {{"assess", in, "--ot", out}, {"--ot", "did you mean \"--out\""}},
        {{"assess", in, "--out", out, "--polse=x"}, {"\"--polse\"", "did you mean \"--poles\""}},
        {{"assess", in, "more", "--out", out}, {"\"more\"", "one word too many"}},
        {{"assess", in, "--out", out, "--units", "furlong"}, {"--units", "furlong", "us", "si"}},
        {{"assess", in, "--out", out, "--snap", "nan"}, {"--snap", "nan", "0 to 1000"}},
        {{"assess", in, "--out", out, "--snap", "-1"}, {"--snap", "-1", "0 to 1000"}},
        {{"assess", in, "--out", out, "--snap", "wide"}, {"--snap", "wide"}},
        {{"assess", in, "--out", out, "--snap", "1", "--snap", "2"}, {"--snap"}},
        {{"assess", in, "--out", out, "--nearest-line", "inf"}, {"--nearest-line", "inf"}},
        {{"assess", in, "--out", out, "--threads", "0"}, {"--threads", "1 to 256"}},
        {{"assess", in, "--out", out, "--threads", "2.5"}, {"--threads", "2.5"}},
        {{"assess", in, "--out", out, "--plane-unit", "mile"}, {"--plane-unit", "us-ft"}},
        {{"assess", in, "--out", out, "--log", "xml"}, {"--log", "json"}},
        {{"assess", in, "--out", f.path("folder")}, {"is a folder", "--format", "geojson"}},
        {{"assess", in, "--out", f.path("folder"), "--format", "dxf"}, {"dxf", "flatgeobuf"}},
        {{"assess", in, "--out", f.path("folder"), "--format", "geopackage"}, {".gpkg"}},
        {{"assess", in, "--out", out, "--format", "geojson"}, {"is a GeoPackage"}},
        {{"assess", in, "--out", "PG:dbname=x", "--format", "csv"}, {"is a database"}},
        {{"assess", in, "--out", out, "--criteria", f.path("none.json")}, {"none.json"}},
        {{"assess", in, "--out", out, "--criteria", f.path("")}, {"is a folder"}},
        {{"assess", in, "--out", out, "--wood-tables", f.path("none.json")}, {"none.json"}},
        {{"assess", in, "--out", in, "--overwrite"}, {"where the input is"}},
    };
    for (const Wrong& wrong : table) {
        const ProgramRun run = linewood(wrong.arguments);
        SCOPED_TRACE(run.err);
        EXPECT_EQ(run.exit_code, 2);
        EXPECT_THAT(run.out, IsEmpty());
        EXPECT_THAT(run.err, StartsWith("linewood: error: "));
        for (const std::string& word : wrong.words) {
            EXPECT_THAT(run.err, HasSubstr(word));
        }
        EXPECT_EQ(std::count(run.err.begin(), run.err.end(), '\n'), 1);
        EXPECT_THAT(f.names(), ElementsAre("in.gpkg"));
    }
}

}  // namespace
}  // namespace linewood::testing
