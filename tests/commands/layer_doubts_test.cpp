#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/support/assess_program.hpp"

namespace linewood::testing {
namespace {

using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

/// Poles without ids and without a coordinate system, and nothing else.
Survey bare_poles() {
    Survey s;
    s.poles.crs = "";
    s.poles.rows.push_back(Row{{"@wkt", "POINT (0 0)"}, {"name", "A"}});
    return s;
}

/// A folder with just that layer.
struct PolesOnly : SurveyFolder {
    explicit PolesOnly(const Survey& s) : SurveyFolder{Survey{}} {
        std::filesystem::remove(input());
        write_table(input(), s.poles);
    }
};

TEST(LayerDoubts, AreToldInALineEach) {
    const PolesOnly f{bare_poles()};
    const ProgramRun run = f.assess();
    EXPECT_EQ(run.exit_code, 0) << run.err;
    EXPECT_THAT(run.err,
                AllOf(HasSubstr("linewood: warning: layer poles, column pole_id: the layer has no "
                                "such column\n"),
                      HasSubstr("linewood: warning: layer spans: there is no such layer"),
                      HasSubstr("linewood: warning: layer inspections: there is no such layer"),
                      HasSubstr("linewood: warning: layer defects: there is no such layer"),
                      HasSubstr("linewood: warning: layer poles, column crs: the layer has no "
                                "coordinate system")));
    // What is wrong with single features is in the findings layer.
    EXPECT_THAT(run.err, Not(HasSubstr("a pole without an id")));
}

TEST(LayerDoubts, QuietLeavesOutNotesOnly) {
    Survey s = bare_poles();
    s.poles.fill("verdict", "mine");
    const PolesOnly f{s};
    const ProgramRun loud = f.assess();
    EXPECT_THAT(loud.err, HasSubstr("linewood: layer poles: the input field 'verdict' is kept as"));
    const ProgramRun quiet = f.assess({"-q", "--overwrite"});
    EXPECT_THAT(quiet.err, Not(HasSubstr("is kept as")));
    EXPECT_THAT(quiet.err, HasSubstr("warning: layer spans: there is no such layer"));
}

TEST(LayerDoubts, AsJsonEachHasItsCode) {
    const PolesOnly f{bare_poles()};
    const ProgramRun run = f.assess({"--log", "json"});
    EXPECT_THAT(run.err,
                HasSubstr(R"("level":"warning","code":"layer_missing","message":"layer spans)"));
    EXPECT_THAT(run.err, HasSubstr(R"("level":"warning","code":"column_missing")"));
}

TEST(LayerDoubts, TheNetworkTellsThemToo) {
    const PolesOnly f{bare_poles()};
    const ProgramRun run =
        linewood({"network", f.input().string(), "--out", f.output().string(), "-q"});
    EXPECT_EQ(run.exit_code, 0) << run.err;
    EXPECT_THAT(run.err, HasSubstr("layer poles, column pole_id: the layer has no such column"));
}

TEST(LayerDoubts, ADayOfTheRunThatIsNone) {
    const SurveyFolder f;
    for (const char* const day : {"tomorrow", "2026-02-30", "01.02.2026"}) {
        const ProgramRun run = f.assess({"--today", day});
        EXPECT_EQ(run.exit_code, 2);
        EXPECT_THAT(run.err, HasSubstr(std::string{"--today "} + day + ": a day is wanted"));
    }
    const ProgramRun run = f.assess({"--today", "2001-01-01", "-q"});
    EXPECT_EQ(run.exit_code, 0) << run.err;
    EXPECT_THAT(run.err, IsEmpty());
    EXPECT_THAT(where(read_table(f.output(), "findings"), "code", "date_in_future"),
                Not(IsEmpty()));
}

TEST(LayerDoubts, NumbersThatAreNone) {
    const SurveyFolder f;
    for (const char* const option : {"--snap", "--nearest-line", "--declination"}) {
        for (const char* const value : {"nan", "inf", "-inf", "-1000", "x", ""}) {
            const ProgramRun run = f.assess({std::string{option} + "=" + value});
            EXPECT_EQ(run.exit_code, 2) << option << value;
            EXPECT_THAT(run.err, HasSubstr(option));
        }
        EXPECT_THAT(f.assess({std::string{option} + "=nan"}).err,
                    HasSubstr("\"nan\" is not a number from"));
    }
}

}  // namespace
}  // namespace linewood::testing
