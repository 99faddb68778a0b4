#include <set>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "geo/io/column_plan.hpp"
#include "geo/io/csv_writer.hpp"
#include "geo/io/layer_schema.hpp"
#include "geo/io/short_names.hpp"
#include "geo/io/value_text.hpp"
#include "tests/geo/io/vector_files.hpp"
#include "tests/support/temp_dir.hpp"

namespace linewood {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using testing::TempDir;

std::vector<Field> fields(const std::vector<std::string>& names) {
    std::vector<Field> out;
    for (const std::string& name : names) {
        out.push_back({name});
    }
    return out;
}

std::vector<std::string> planned(const std::vector<std::string>& source,
                                 const std::vector<std::string>& added,
                                 const std::vector<std::string>& drop = {}) {
    std::vector<std::string> names;
    for (const CarriedColumn& c :
         plan_columns(fields(source), added, {"fid", "geom"}, drop).carried) {
        names.push_back(c.name);
    }
    return names;
}

TEST(ColumnPlan, KeepsNamesThatAreFree) {
    EXPECT_THAT(planned({"a", "B"}, {"verdict"}), ElementsAre("a", "B"));
    EXPECT_THAT(plan_columns(fields({"a"}), {"verdict"}).notes, IsEmpty());
}

TEST(ColumnPlan, KeepsAnInputFieldOfATakenNameAsIn) {
    EXPECT_THAT(planned({"Verdict", "FID", "geom", "a"}, {"verdict"}),
                ElementsAre("in_Verdict", "in_FID", "in_geom", "a"));
    EXPECT_THAT(plan_columns(fields({"Verdict"}), {"verdict"}).notes,
                ElementsAre(HasSubstr("'Verdict' is kept as 'in_Verdict'")));
}

TEST(ColumnPlan, GoesOnUntilTheNameIsFree) {
    EXPECT_THAT(planned({"verdict", "in_verdict"}, {"verdict"}),
                ElementsAre("in_in_verdict", "in_verdict"));
    EXPECT_THAT(planned({"in_verdict", "IN_IN_VERDICT", "verdict"}, {"verdict"}),
                ElementsAre("in_verdict", "IN_IN_VERDICT", "in_in_in_verdict"));
    EXPECT_THAT(planned({"verdict", "VERDICT"}, {"verdict"}),
                ElementsAre("in_verdict", "in_in_VERDICT"));
}

TEST(ColumnPlan, KeepsBothOfTwoFieldsThatDifferByCase) {
    EXPECT_THAT(planned({"name", "Name", "name_2"}, {}), ElementsAre("name", "Name_3", "name_2"));
}

TEST(ColumnPlan, LeavesOutTheToolsOwnColumnsOfAnEarlierRun) {
    const ColumnPlan plan =
        plan_columns(fields({"a", "Verdict", "b"}), {"verdict"}, {"fid", "geom"}, {"verdict"});
    EXPECT_THAT(plan.carried, ElementsAre(CarriedColumn{0, "a"}, CarriedColumn{2, "b"}));
    EXPECT_THAT(plan.notes, IsEmpty());
}

TEST(ColumnPlan, NamesAFieldWithoutAName) {
    EXPECT_THAT(planned({"a", ""}, {}), ElementsAre("a", "field_2"));
}

TEST(ShortNames, AreFixedForTheToolsOwnFields) {
    EXPECT_THAT(short_names({"remaining_pct", "verdict", "original_circumference", "shell_min"}),
                ElementsAre("remain_pct", "verdict", "orig_circ", "shell_min"));
}

TEST(ShortNames, CoverEveryFieldTheToolWrites) {
    const std::vector<std::string> own{"line_azimuth",
                                       "line_role",
                                       "line_deflection",
                                       "line_source",
                                       "original_circumference",
                                       "original_source",
                                       "remaining_pct",
                                       "transverse_pct",
                                       "longitudinal_pct",
                                       "weakest_pct",
                                       "weakest_azimuth",
                                       "section_height",
                                       "shell_min",
                                       "sections",
                                       "verdict",
                                       "urgency",
                                       "reasons",
                                       "inspected_on",
                                       "from_pole",
                                       "to_pole",
                                       "span_azimuth",
                                       "span_length_m",
                                       "worst_verdict",
                                       "azimuth_true",
                                       "position_derived",
                                       "shell_effective",
                                       "pole_id",
                                       "height",
                                       "present_circumference",
                                       "area_pct",
                                       "governing_pct",
                                       "pieces",
                                       "passes",
                                       "severity",
                                       "code",
                                       "layer",
                                       "feature",
                                       "field",
                                       "value",
                                       "message"};
    std::set<std::string> seen;
    for (const std::string& name : own) {
        const std::string brief{own_short_name(name)};
        if (name.size() > 10) {
            EXPECT_FALSE(brief.empty()) << name;
        }
        EXPECT_LE(brief.size(), 10U);
        EXPECT_TRUE(seen.insert(brief.empty() ? name : brief).second) << name;
    }
}

TEST(ShortNames, ShortenOthersByOneRuleWithoutRunningNumbers) {
    const auto names = short_names(
        {"remaining_life_years", "remaining_life_yield", "pole number", "Überprüfung_Datum", "木"});
    EXPECT_EQ(names[0], "rmnnglfyrs");
    EXPECT_EQ(names[2], "pole_numbr");
    std::set<std::string> seen;
    for (const std::string& name : names) {
        EXPECT_LE(name.size(), 10U);
        EXPECT_GE(name.size(), 1U);
        EXPECT_TRUE(seen.insert(name).second);
    }
}

TEST(ShortNames, AreAllDifferentWithoutCase) {
    std::vector<std::string> many;
    for (int i = 0; i < 300; ++i) {
        many.push_back("a_rather_long_name_number_" + std::to_string(i));
    }
    many.insert(many.end(), {"ABC", "abc", "remain_pct", "remaining_pct"});
    std::set<std::string> seen;
    for (std::string name : short_names(many)) {
        EXPECT_LE(name.size(), 10U);
        for (char& c : name) {
            c = static_cast<char>(std::tolower(c));
        }
        EXPECT_TRUE(seen.insert(name).second) << name;
    }
}

std::string csv_of(const std::vector<Cell>& cells) {
    const TempDir dir;
    const std::vector<std::string> header{"h"};
    CsvWriter writer{dir / "t.csv", header};
    writer.write_row(cells);
    writer.finish();
    return testing::content_of(dir / "t.csv").substr(3);
}

TEST(CsvWriter, WritesEachKindOfCell) {
    EXPECT_EQ(csv_of({std::monostate{},
                      std::string{},
                      0.1,
                      std::int64_t{-7},
                      true,
                      false,
                      Date::from_ymd(2024, 2, 29).value()}),
              ",\"\",0.1,-7,true,false,2024-02-29\r\n");
    EXPECT_EQ(csv_of({std::string{"a,b"}, std::string{"say \"x\""}, std::string{"two\nlines"}}),
              "\"a,b\",\"say \"\"x\"\"\",\"two\nlines\"\r\n");
}

TEST(CsvWriter, GuardsFormulasButNotNumbers) {
    EXPECT_EQ(guarded_csv_text("=1+1"), "'=1+1");
    EXPECT_EQ(guarded_csv_text("@x"), "'@x");
    EXPECT_EQ(guarded_csv_text("\tx"), "'\tx");
    EXPECT_EQ(guarded_csv_text("\rx"), "'\rx");
    EXPECT_EQ(guarded_csv_text("-1+cmd"), "'-1+cmd");
    EXPECT_EQ(guarded_csv_text("+1 a"), "'+1 a");
    EXPECT_EQ(guarded_csv_text("-12.5"), "-12.5");
    EXPECT_EQ(guarded_csv_text("+3"), "+3");
    EXPECT_EQ(guarded_csv_text("pole -1"), "pole -1");
    EXPECT_EQ(guarded_csv_text(""), "");
    EXPECT_EQ(csv_of({std::string{"=A1,B1"}, -1.5}), "\"'=A1,B1\",-1.5\r\n");
}

TEST(CsvWriter, SaysThatAFolderIsMissing) {
    const TempDir dir;
    EXPECT_THAT(testing::error_of([&] {
                    const std::vector<std::string> header{"h"};
                    const CsvWriter writer{dir / "none/t.csv", header};
                }),
                HasSubstr("cannot be created"));
}

TEST(ValueText, NumbersReadBackTheSame) {
    for (const double v : {0.1, 1.0 / 3.0, 1e16, 123456.789, 1e300, 5e-324, -0.5, 2.5e-5}) {
        EXPECT_EQ(parse_number(number_text(v)).value, v) << number_text(v);
    }
    EXPECT_EQ(number_text(100000.0), "100000");
    EXPECT_EQ(number_text(1e16), "10000000000000000");
    EXPECT_EQ(number_text(0.00001), "0.00001");
    EXPECT_EQ(number_text(0.0), "0");
}

TEST(ValueText, BringsTimesToUtcAcrossMidnightAndYears) {
    TimeStamp t{2023, 12, 31, 23, 30, 15250, -300};
    EXPECT_EQ(timestamp_text(t), "2023-12-31T23:30:15.250-05:00");
    EXPECT_EQ(timestamp_text(in_utc(t)), "2024-01-01T04:30:15.250Z");
    t = {2024, 3, 1, 0, 15, 0, 330};
    EXPECT_EQ(timestamp_text(in_utc(t)), "2024-02-29T18:45:00Z");
    t.zone_minutes.reset();
    EXPECT_EQ(timestamp_text(in_utc(t)), "2024-03-01T00:15:00");
}

TEST(ValueText, RepairsAndCutsUtf8BetweenCharacters) {
    EXPECT_TRUE(is_utf8("aé木😀"));
    EXPECT_FALSE(is_utf8("\xC0\xAF"));      // overlong
    EXPECT_FALSE(is_utf8("\xED\xA0\x80"));  // surrogate
    EXPECT_FALSE(is_utf8("\xE6\x9C"));      // cut
    EXPECT_EQ(repaired_utf8("a\xE6\x9C"
                            "b"),
              "a\xEF\xBF\xBD\xEF\xBF\xBD"
              "b");
    EXPECT_EQ(utf8_prefix("木木", 5), "木");
    EXPECT_EQ(utf8_prefix("木木", 6), "木木");
}

}  // namespace
}  // namespace linewood
