#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "tests/support/assess_program.hpp"

namespace linewood::testing {
namespace {

using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;
using ::testing::StartsWith;

/// Five poles, three of them with visits of poles that are not there: errors.
Survey with_errors() {
    Survey survey = five_poles();
    for (const char* const pole : {"X", "Y", "Z"}) {
        survey.add_visit(pole, "2024-05-01");
    }
    return survey;
}

TEST(FindingCommand, ListsAndExplains) {
    const ProgramRun list = linewood({"finding"});
    EXPECT_EQ(list.exit_code, 0);
    EXPECT_THAT(list.err, IsEmpty());
    EXPECT_THAT(list.out, HasSubstr("\nerror    pole_unknown "));
    const ProgramRun page = linewood({"finding", "pole_unknown"});
    EXPECT_EQ(page.exit_code, 0);
    EXPECT_THAT(page.out, StartsWith("pole_unknown (error)\n"));
    EXPECT_THAT(page.out, HasSubstr("How to mend it"));
    const ProgramRun json = linewood({"finding", "pole_unknown", "--format", "json"});
    EXPECT_EQ(nlohmann::json::parse(json.out)[0]["code"], "pole_unknown");
}

TEST(FindingCommand, ACodeThatIsNoneIsRefusedWithTheNearest) {
    const ProgramRun run = linewood({"finding", "pole_unknwon"});
    EXPECT_EQ(run.exit_code, 2);
    EXPECT_THAT(run.out, IsEmpty());
    EXPECT_THAT(run.err, HasSubstr("did you mean \"pole_unknown\""));
}

TEST(FindingOptions, StrictFailsOnErrorsAndStillWrites) {
    const SurveyFolder bad{with_errors()};
    EXPECT_EQ(bad.assess().exit_code, 0);
    const ProgramRun strict = bad.assess({"--strict", "--overwrite"});
    EXPECT_EQ(strict.exit_code, 1);
    EXPECT_THAT(strict.out, HasSubstr("written: "));
    EXPECT_EQ(read_table(bad.output(), "poles").rows.size(), 5U);
    EXPECT_EQ(linewood({"network", bad.input().string(), "--out", bad.path("n.gpkg"), "--strict"})
                  .exit_code,
              0);
    const SurveyFolder good;
    EXPECT_EQ(good.assess({"--strict"}).exit_code, 0);
}

TEST(FindingOptions, MaxFindingsLimitsTheRowsAndNotTheCounts) {
    const SurveyFolder f{with_errors()};
    const ProgramRun all = f.assess();
    const std::size_t rows = read_table(f.output(), "findings").rows.size();
    ASSERT_GT(rows, 3U);
    const ProgramRun two = f.assess({"--max-findings", "2", "--overwrite"});
    EXPECT_EQ(two.exit_code, 0) << two.err;
    EXPECT_EQ(read_table(f.output(), "findings").rows.size(), 2U);
    const std::string count = std::to_string(rows - 2);
    EXPECT_THAT(two.out, HasSubstr(count + " of them are not in the layer findings"));
    EXPECT_THAT(two.out, HasSubstr("pole_unknown                         3"));
    EXPECT_THAT(all.out, HasSubstr("pole_unknown                         3"));
    EXPECT_THAT(all.out, Not(HasSubstr("are not in the layer")));
    EXPECT_EQ(read_table(f.output(), "run").row("item", "findings_not_written").at("value"), count);
    const ProgramRun none = f.assess({"--max-findings", "0", "--overwrite"});
    EXPECT_EQ(none.exit_code, 0) << none.err;
    EXPECT_THAT(read_table(f.output(), "findings").rows, IsEmpty());
    const ProgramRun json = f.assess({"--max-findings", "2", "--overwrite", "--log", "json"});
    EXPECT_THAT(json.err, HasSubstr("\"findings_not_written\":" + count));
    EXPECT_EQ(f.assess({"--max-findings", "-1", "--overwrite"}).exit_code, 2);
}

}  // namespace
}  // namespace linewood::testing
