// The styles that outputs carry, from the command line on.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/support/assess_program.hpp"

namespace linewood::testing {
namespace {

using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::Not;

std::string sql(const std::filesystem::path& file, const std::string& statement) {
    const ProgramRun run = run_program_file("/usr/bin/sqlite3", {file.string(), statement});
    std::string out = run.out + run.err;
    while (!out.empty() && out.back() == '\n') {
        out.pop_back();
    }
    return out;
}

const char* const kNames =
    "SELECT f_table_name || ' ' || styleName || ' ' || useAsDefault FROM layer_styles ORDER BY id";
const char* const kOfAssess =
    "poles poles_by_verdict 1\n"
    "poles poles_by_urgency 0\n"
    "poles poles_by_strength 0\n"
    "poles poles_weakest_direction 0\n"
    "spans spans_by_verdict 1\n"
    "defects defects_by_position 1\n"
    "sections sections_by_result 1\n"
    "findings findings_by_severity 1";

TEST(StoredStylesOfAssess, AreThoseOfItsLayers) {
    const SurveyFolder f;
    ASSERT_EQ(f.assess().exit_code, 0);
    EXPECT_EQ(sql(f.output(), kNames), kOfAssess);
    const std::string style = "FROM layer_styles WHERE styleName = 'poles_by_verdict'";
    EXPECT_EQ(sql(f.output(), "SELECT styleQML " + style) + "\n",
              linewood({"styles", "poles_by_verdict", "--format", "qml"}).out);
    EXPECT_EQ(sql(f.output(), "SELECT styleSLD " + style) + "\n",
              linewood({"styles", "poles_by_verdict", "--format", "sld"}).out);
}

TEST(StoredStylesOfAssess, AreNoDataWhenTheOutputIsRead) {
    const SurveyFolder f;
    ASSERT_EQ(f.assess().exit_code, 0);
    const ProgramRun described = linewood({"describe", f.output().string()});
    EXPECT_EQ(described.exit_code, 0) << described.err;
    EXPECT_THAT(described.out, AllOf(HasSubstr("sections"), Not(HasSubstr("layer_styles"))));
    const ProgramRun again =
        linewood({"assess", f.output().string(), "--out", f.path("again.gpkg")});
    EXPECT_EQ(again.exit_code, 0) << again.err;
    EXPECT_THAT(again.err + again.out, Not(HasSubstr("layer_styles")));
    EXPECT_EQ(sql(f.path("again.gpkg"), kNames), kOfAssess);
}

TEST(StoredStylesOfAssess, InPlaceAreForTheLayersAsTheyAreCalledThere) {
    const SurveyFolder f;
    ASSERT_EQ(linewood({"assess", f.input().string(), "--in-place"}).exit_code, 0);
    EXPECT_THAT(sql(f.input(), kNames), HasSubstr("line_spans spans_by_verdict 1"));
    EXPECT_THAT(sql(f.input(), kNames), HasSubstr("poles poles_by_verdict 1"));
    EXPECT_THAT(
        sql(f.input(), "SELECT styleSLD FROM layer_styles WHERE styleName = 'spans_by_verdict'"),
        HasSubstr("<Name>line_spans</Name>"));
    // What the owner adds stays, on layers that are made anew as well.
    sql(f.input(),
        "INSERT INTO layer_styles (f_table_catalog, f_table_schema, f_table_name, "
        "f_geometry_column, styleName, useAsDefault, owner) VALUES "
        "('', '', 'sections', 'geom', 'mine', 1, 'me'), ('', '', 'poles', 'geom', 'mine', 1, "
        "'me')");
    const ProgramRun again = linewood({"assess", f.input().string(), "--in-place"});
    ASSERT_EQ(again.exit_code, 0) << again.err;
    EXPECT_THAT(sql(f.input(), kNames),
                AllOf(HasSubstr("sections mine 1"),
                      HasSubstr("poles mine 1"),
                      HasSubstr("poles poles_by_verdict 0"),
                      HasSubstr("sections sections_by_result 0")));
    // The defects are a plain table there: no style.
    EXPECT_EQ(sql(f.input(), "SELECT count(*) FROM layer_styles"), "9");
}

TEST(StoredStylesOfNetwork, AreNoneWhereNothingIsAssessed) {
    const SurveyFolder f;
    const ProgramRun run = linewood({"network", f.input().string(), "--out", f.output().string()});
    ASSERT_EQ(run.exit_code, 0) << run.err;
    EXPECT_EQ(sql(f.output(), kNames), "findings findings_by_severity 1");
}

}  // namespace
}  // namespace linewood::testing
