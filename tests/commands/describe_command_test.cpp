#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "tests/support/assess_program.hpp"

namespace linewood::testing {
namespace {

using ::testing::AllOf;
using ::testing::HasSubstr;

nlohmann::json described(const Arguments& more) {
    Arguments all{"describe", "--format", "json", "--today", "2025-01-01"};
    all.insert(all.end(), more.begin(), more.end());
    const ProgramRun run = linewood(all);
    EXPECT_EQ(run.exit_code, 0) << run.err;
    return nlohmann::json::parse(run.out);
}

const nlohmann::json& named(const nlohmann::json& list,
                            const std::string& key,
                            const std::string& name) {
    for (const auto& one : list) {
        if (one.at(key) == name) {
            return one;
        }
    }
    throw std::out_of_range{name};
}

TEST(DescribeCommand, SaysCountsExtentsRangesInBothSystemsAndWhatIsSuspicious) {
    Survey s = five_poles();
    s.poles.rows[4]["pole_id"] = "A";
    s.add_visit("nobody", "2031-05-01", {{"present_circumference", 400.0}});
    s.add_defect("B", "pokcet", {{"width", -2.0}, {"height", 3.0}});
    const SurveyFolder f{s};
    const auto json = described({f.input().string()});
    const auto& poles = named(json.at("layers"), "layer", "poles");
    EXPECT_EQ(poles.at("rows"), 5);
    EXPECT_EQ(poles.at("geometry"), "points");
    EXPECT_THAT(poles.at("crs").get<std::string>(), HasSubstr("UTM zone 10N"));
    EXPECT_EQ(poles.at("extent"), nlohmann::json::parse("[500000.0,5000000.0,500000.0,5000160.0]"));
    const auto& visits = named(json.at("read"), "layer", "inspections");
    const auto& girth = named(visits.at("fields"), "field", "present_circumference");
    EXPECT_EQ(girth.at("us"), nlohmann::json::parse(R"({"unit":"in","least":40.0,"most":400.0})"));
    EXPECT_EQ(girth.at("si"),
              nlohmann::json::parse(R"({"unit":"mm","least":1016.0,"most":10160.0})"));
    EXPECT_EQ(named(girth.at("doubts"), "code", "size_unusual").at("count"), 1);
    EXPECT_EQ(named(named(visits.at("fields"), "field", "inspected_on").at("doubts"),
                    "code",
                    "date_in_future")
                  .at("count"),
              1);
    EXPECT_EQ(
        named(named(visits.at("fields"), "field", "pole_id").at("doubts"), "code", "pole_unknown")
            .at("first_value"),
        "nobody");
    const auto& ids =
        named(named(json.at("read"), "layer", "poles").at("fields"), "field", "pole_id");
    EXPECT_EQ(named(ids.at("doubts"), "code", "pole_id_duplicate").at("first_value"), "A");
    const auto& defects = named(json.at("read"), "layer", "defects");
    EXPECT_EQ(
        named(named(defects.at("fields"), "field", "kind").at("doubts"), "code", "code_unknown")
            .at("first_value"),
        "pokcet");
    EXPECT_EQ(
        named(named(defects.at("fields"), "field", "width").at("doubts"), "code", "size_unusual")
            .at("count"),
        1);

    const ProgramRun text = linewood({"describe", f.input().string()});
    EXPECT_THAT(
        text.out,
        AllOf(HasSubstr("40 to 400 in = 1016 to 10160 mm"), HasSubstr("! 1 of pole_unknown")));
}

TEST(DescribeCommand, DescribesWhatAJobFileMapsAndWhatHasNoNamesOfOurs) {
    const TempDir folder{fast_place()};
    folder.file("a.csv", "NR,U_CM,OWNER\n1,100,x\n2,90,y\n");
    const ProgramRun plain = linewood({"describe", (folder / "a.csv").string()});
    EXPECT_EQ(plain.exit_code, 0) << plain.err;
    EXPECT_THAT(plain.out, AllOf(HasSubstr("layer a: 2 rows"), HasSubstr("linewood draft")));
    const auto job = folder.file("job.json", R"({"layers": {"poles": {"source": "a.csv", "fields": {
        "pole_id": "NR", "recorded_circumference": {"field": "U_CM", "unit": "cm"}}}}})");
    const auto json = described({"--job", job.string()});
    const auto& read = named(json.at("read"), "layer", "poles");
    EXPECT_EQ(named(read.at("fields"), "field", "recorded_circumference").at("si").at("most"),
              1000.0);
    EXPECT_EQ(read.at("carried"), nlohmann::json::parse(R"(["OWNER"])"));
    EXPECT_EQ(linewood({"describe"}).exit_code, 2);
}

}  // namespace
}  // namespace linewood::testing
