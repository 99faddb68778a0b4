#include <cmath>
#include <numbers>
#include <tuple>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "geo/crs/magnetic.hpp"
#include "tests/src/pipeline/assess_survey.hpp"
#include "tests/support/expected_strength.hpp"

namespace linewood::testing {
namespace {

using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::ResultOf;
using ::testing::SizeIs;

/// Defects at poles of their own, in a line that runs north; the defect's number is its pole's.
class Cases {
public:
    std::size_t add(const std::string& kind, const Row& defect) {
        const std::size_t n = survey.poles.rows.size();
        const std::string id = "P" + std::to_string(n);
        survey.add_pole(id, 0, 40.0 * static_cast<double>(n));
        survey.add_visit(id,
                         "2026-05-01",
                         {{"method", "excavated"},
                          {"original_circumference", 40.0},
                          {"present_circumference", 40.0}});
        merge(survey.add_defect(id, kind, {{"height", 0.0}}), defect);
        return n;
    }
    AssessedSurvey assess() {
        std::vector<std::pair<double, double>> path;
        for (std::size_t i = 0; i < survey.poles.rows.size(); ++i) {
            path.emplace_back(0.0, 40.0 * static_cast<double>(i));
        }
        survey.add_span(path);
        return AssessedSurvey{survey};
    }

    Survey survey;
};

const Row& pole(const AssessedSurvey& a, std::size_t n) { return a.pole("P" + std::to_string(n)); }
double weakest(const AssessedSurvey& a, std::size_t n) { return pole(a, n).at("weakest_pct"); }
const Row& azimuth(const AssessedSurvey& a, std::size_t n) {
    return a.layer("defects").rows.at(n).at("azimuth_true");
}

std::vector<std::string> features(const std::vector<Row>& findings) {
    std::vector<std::string> all;
    for (const Row& f : findings) {
        all.push_back(f.at("feature").is_null() ? "" : f.at("feature").get<std::string>());
    }
    return all;
}

TEST(ReadingDefects, EveryKindInAnySpelling) {
    Cases c;
    const Row pocket{{"width", 5.0}, {"depth", 2.0}, {"azimuth", 90.0}, {"azimuth_ref", "true"}};
    std::vector<std::size_t> pockets;
    for (const char* const word :
         {"external_pocket", "External Pocket", "EXTERNAL-POCKET", " external_pocket "}) {
        pockets.push_back(c.add(word, pocket));
    }
    std::vector<std::size_t> rots;
    for (const char* const word : {"internal_rot", "Internal Rot"}) {
        rots.push_back(c.add(word, {{"shell_thickness", 3.0}}));
    }
    const std::size_t shell = c.add("Shell-Rot", {{"depth", 0.5}});
    const std::size_t bore = c.add("BORE", {});
    const AssessedSurvey a = c.assess();
    for (const std::size_t n : pockets) {
        EXPECT_NEAR(weakest(a, n), weakest(a, pockets[0]), 1e-9);
        EXPECT_LT(weakest(a, n), 99.0);
    }
    for (const std::size_t n : rots) {
        EXPECT_NEAR(weakest(a, n), 100.0 * test::hollow_share(3.0, 40.0), 1e-7);
    }
    EXPECT_EQ(pole(a, shell).at("verdict"), "treat");
    EXPECT_EQ(pole(a, bore).at("verdict"), "serviceable");
    EXPECT_THAT(a.doubts("defect_kind_unknown"), IsEmpty());
}

TEST(ReadingDefects, AKindThatIsNotKnownCannotPass) {
    Cases c;
    const std::size_t odd = c.add("rot", {{"width", 0.1}, {"depth", 0.1}});
    const std::size_t none = c.add("", {});
    c.survey.defects.rows.back()["kind"] = nullptr;
    const AssessedSurvey a = c.assess();
    for (const std::size_t n : {odd, none}) {
        EXPECT_EQ(pole(a, n).at("verdict"), "unassessed");
        EXPECT_THAT(pole(a, n).at("reasons").get<std::string>(), HasSubstr("pocket_size_missing"));
    }
    const auto doubts = a.doubts("defect_kind_unknown");
    ASSERT_THAT(doubts, SizeIs(2));
    EXPECT_EQ(doubts[0].at("severity"), "error");
    EXPECT_EQ(doubts[0].at("value"), "rot");
    EXPECT_THAT(doubts[0].at("message").get<std::string>(),
                HasSubstr("(known are external_pocket, internal_rot, shell_rot, bore)"));
    EXPECT_EQ(doubts[0].at("@wkt"), pole(a, odd).at("@wkt"));
    EXPECT_TRUE(doubts[1].at("value").is_null());
}

TEST(ReadingDefects, APocketOrShellOfSizeZeroIsNoneRecordedAndCannotPass) {
    Cases c;
    const std::size_t flat = c.add("external_pocket", {{"width", 4.0}, {"depth", 0.0}});
    const std::size_t thin = c.add("external_pocket", {{"width", 0.0}, {"depth", 4.0}});
    const std::size_t shell = c.add("shell_rot", {{"depth", 0.0}});
    const std::size_t sound = c.add("bore", {{"width", 0.0}, {"depth", 0.0}});
    const AssessedSurvey a = c.assess();
    for (const std::size_t n : {flat, thin, shell}) {
        EXPECT_EQ(pole(a, n).at("verdict"), "unassessed");
    }
    EXPECT_EQ(pole(a, sound).at("verdict"), "serviceable");
    std::vector<std::string> told;
    for (const Row& f : a.doubts("value_zero")) {
        told.push_back(f.at("layer").get<std::string>() + " " + f.at("field").get<std::string>() +
                       " " + f.at("value").get<std::string>());
    }
    EXPECT_THAT(told, ElementsAre("defects depth 0", "defects width 0", "defects depth 0"));
    EXPECT_THAT(a.doubts("bore_contradicts"), IsEmpty());
}

TEST(ReadingDefects, WithoutTheColumnKindNoDefectPasses) {
    Survey s;
    s.add_pole("P", 0, 0);
    s.add_visit("P", "2024-05-01", {{"method", "excavated"}, {"original_circumference", 40.0}});
    s.defects.rows.push_back(Row{{"pole_id", "P"}, {"width", 1.0}});
    const AssessedSurvey a{s};
    EXPECT_EQ(a.verdict("P"), "unassessed");
    EXPECT_EQ(a.doubt("column_missing").at("field"), "kind");
}

TEST(ReadingDefects, AnAbsentHeightIsTheGroundlineWithANoteEach) {
    Cases c;
    const std::size_t none = c.add("internal_rot", {{"height", nullptr}, {"shell_thickness", 1.0}});
    const std::size_t high = c.add("internal_rot", {{"height", 3.0}, {"shell_thickness", 1.0}});
    const AssessedSurvey a = c.assess();
    EXPECT_EQ(pole(a, none).at("section_height"), 0.0);
    EXPECT_EQ(pole(a, high).at("section_height"), 3.0);
    const Row& note = a.doubt("height_assumed");
    EXPECT_EQ(note.at("severity"), "note");
    EXPECT_EQ(note.at("feature"), "1");
    EXPECT_EQ(note.at("@wkt"), pole(a, none).at("@wkt"));
}

TEST(ReadingDefects, AnAbsentColumnIsOneNoteForTheLayer) {
    Cases c;
    c.add("external_pocket", {{"width", 1.0}, {"depth", 1.0}, {"azimuth", 10.0}});
    c.add("external_pocket", {{"width", 1.0}, {"depth", 1.0}, {"azimuth", 20.0}});
    for (Row& row : c.survey.defects.rows) {
        row.erase("height");
    }
    const AssessedSurvey a = c.assess();
    EXPECT_THAT(features(a.doubts("height_assumed")), ElementsAre(""));
    EXPECT_THAT(features(a.doubts("azimuth_ref_assumed")), ElementsAre(""));
    EXPECT_EQ(azimuth(a, 0), 10.0);
    EXPECT_EQ(azimuth(a, 1), 20.0);
}

TEST(ReadingDefects, AzimuthReferences) {
    Cases c;
    const auto at = [&](const Row& recorded, const Row& ref, const Row& date = {}) {
        return c.add("external_pocket",
                     {{"width", 1.0},
                      {"depth", 1.0},
                      {"azimuth", recorded},
                      {"azimuth_ref", ref},
                      {"inspected_on", date}});
    };
    const std::size_t true_north = at("350.5", "True");
    const std::size_t absent = at(10.0, nullptr);
    const std::size_t blank = at(11.0, "  ");
    const std::size_t magnetic = at(10.0, "MAGNETIC", "2026-05-01");
    const std::size_t by_visit = at(10.0, "magnetic");
    const std::size_t too_early = at(10.0, "magnetic", "2014-05-01");
    const std::size_t grid = at(10.0, "grid");
    const std::size_t twelve = at(12.0, "clock");
    const std::size_t three = at(3.0, "clock");
    const std::size_t half_past_nine = at(9.5, " Clock ");
    const std::size_t unknown = at(10.0, "sun");
    const std::size_t beyond = at(361.0, "true");
    const std::size_t thirteen = at(13.0, "clock");
    const std::size_t negative = at(-1.0, "true");
    const std::size_t none = at(nullptr, "magnetic");
    const AssessedSurvey a = c.assess();

    EXPECT_EQ(azimuth(a, true_north), 350.5);
    EXPECT_EQ(azimuth(a, absent), 10.0);
    EXPECT_EQ(azimuth(a, blank), 11.0);
    EXPECT_EQ(azimuth(a, grid), 10.0);  // on the central meridian
    // The line is drawn towards the north.
    EXPECT_NEAR(std::remainder(azimuth(a, twelve).get<double>(), 360.0), 0.0, 1e-6);
    EXPECT_NEAR(azimuth(a, three).get<double>(), 90.0, 1e-6);
    EXPECT_NEAR(azimuth(a, half_past_nine).get<double>(), 285.0, 1e-6);
    // East of true by the declination there and then, of the order of 14 degrees.
    EXPECT_NEAR(azimuth(a, magnetic).get<double>(), 24.5, 1.0);
    EXPECT_NEAR(azimuth(a, by_visit).get<double>(), azimuth(a, magnetic).get<double>(), 0.01);
    for (const std::size_t n : {unknown, too_early, beyond, thirteen, negative, none}) {
        EXPECT_TRUE(azimuth(a, n).is_null()) << n;
    }
    const auto fid = [](std::size_t n) { return std::to_string(n + 1); };
    EXPECT_THAT(features(a.doubts("azimuth_ref_assumed")), ElementsAre(fid(absent), fid(blank)));
    EXPECT_THAT(features(a.doubts("azimuth_unresolved")), ElementsAre(fid(unknown)));
    EXPECT_THAT(features(a.doubts("magnetic_date_outside_model")), ElementsAre(fid(too_early)));
    EXPECT_THAT(features(a.doubts("azimuth_out_of_range")),
                ElementsAre(fid(beyond), fid(thirteen), fid(negative)));
    EXPECT_THAT(a.doubt("azimuth_unresolved").at("message").get<std::string>(),
                ::testing::EndsWith("azimuth_ref does not say what it is counted from"));
    EXPECT_EQ(a.doubt("code_unknown").at("value"), "sun");
    // No direction: worst of all of them, so never better than with one.
    EXPECT_LE(weakest(a, unknown), weakest(a, true_north) + 1e-9);
}

TEST(ReadingDefects, GridAzimuthsTurnByTheConvergence) {
    Survey s;
    s.x0 = 700000.0;  // 200 km east of the central meridian
    s.add_pole("P", 0, 0);
    s.add_visit("P", "2024-05-01", {{"method", "bore"}, {"original_circumference", 40.0}});
    s.add_defect("P", "bore", {{"height", 0.0}, {"azimuth", 0.0}, {"azimuth_ref", "grid"}});
    const AssessedSurvey a{s};
    // Grid north lies east of true there, by about delta-lambda times the sine of the latitude.
    const double turn = std::remainder(azimuth(a, 0).get<double>(), 360.0);
    EXPECT_NEAR(turn, 2.54 * std::sin(45.1 * std::numbers::pi / 180.0), 0.02);
}

TEST(ReadingDefects, PositionIsUsedWhereThereIsNoAzimuth) {
    Cases c;
    const Row pocket{{"width", 5.0}, {"depth", 4.0}};
    std::vector<std::size_t> n;
    c.add("bore", {});  // the ends of the line are judged by their weakest direction
    for (const char* const word : {"in_line", "Out of line", "OBLIQUE", "inside", ""}) {
        n.push_back(c.add("external_pocket", pocket));
        c.survey.defects.rows.back()["position"] = word;
    }
    c.add("bore", {});
    const AssessedSurvey a = c.assess();
    const auto remaining = [&](std::size_t i) {
        return pole(a, n[i]).at("transverse_pct").get<double>();
    };
    EXPECT_GT(remaining(0), remaining(2));  // a pocket in line costs least across the line
    EXPECT_GT(remaining(2), remaining(1));
    EXPECT_NEAR(remaining(3), remaining(1), 1e-9);  // no word: the worst of all
    EXPECT_NEAR(remaining(4), remaining(1), 1e-9);
    EXPECT_EQ(a.doubt("code_unknown").at("field"), "position");
    for (const Row& d : a.layer("defects").rows) {
        EXPECT_TRUE(d.at("position_derived").is_null());
    }
}

TEST(ReadingDefects, WidthDepthShellAngleAndWhereTheBoreBegan) {
    Cases c;
    const auto shell = [&](const Row& more) {
        Row row{{"shell_thickness", "3"}};
        return c.add("internal_rot", merge(row, more));
    };
    const std::size_t plain = shell({{"bore_angle", nullptr}});
    const std::size_t slanted = shell({{"bore_angle", 45.0}});
    const std::size_t steep = shell({{"bore_angle", "60"}});
    const std::size_t odd = shell({{"bore_angle", 95.0}});
    const std::size_t from = shell({{"bore_from", "Surface"}});
    const std::size_t unknown_from = shell({{"bore_from", "ladder"}});
    const AssessedSurvey a = c.assess();
    const auto least = [&](std::size_t n) { return pole(a, n).at("shell_min"); };
    EXPECT_NEAR(least(plain).get<double>(), 3.0, 1e-9);
    EXPECT_NEAR(least(slanted).get<double>(), 2.1, 1e-9);
    EXPECT_NEAR(least(steep).get<double>(), 1.5, 1e-9);
    EXPECT_EQ(pole(a, odd).at("verdict"), "unassessed");
    EXPECT_THAT(a.doubts("bore_angle_out_of_range"), SizeIs(1));
    EXPECT_NEAR(least(from).get<double>(), 3.0, 1e-9);
    EXPECT_NEAR(least(unknown_from).get<double>(), 3.0, 1e-9);
    EXPECT_EQ(a.doubt("code_unknown").at("value"), "ladder");
}

TEST(ReadingDefects, CausesDecideWhetherItIsDecay) {
    Cases c;
    const auto cause = [&](const char* word) {
        return c.add("external_pocket",
                     {{"width", 1.0},
                      {"depth", 0.5},
                      {"azimuth", 0.0},
                      {"azimuth_ref", "true"},
                      {"cause", word}});
    };
    std::vector<std::size_t> decay;
    for (const char* const word : {"decay", "Insect", "", "moss"}) {
        decay.push_back(cause(word));
    }
    std::vector<std::size_t> other;
    for (const char* const word :
         {"mechanical", "WOODPECKER", "fire", "check", "bolt hole", "Bolt-Hole"}) {
        other.push_back(cause(word));
    }
    const AssessedSurvey a = c.assess();
    for (const std::size_t n : decay) {
        EXPECT_EQ(pole(a, n).at("verdict"), "treat") << n;
    }
    for (const std::size_t n : other) {
        EXPECT_EQ(pole(a, n).at("verdict"), "serviceable") << n;
    }
    EXPECT_EQ(a.doubt("code_unknown").at("value"), "moss");
}

TEST(ReadingDefects, ShellRotGivesTheGirthWhereItWasMeasured) {
    Cases c;
    const std::size_t girth = c.add("shell_rot", {{"present_circumference", 36.0}});
    c.survey.inspections.rows.back()["present_circumference"] = nullptr;
    const AssessedSurvey a = c.assess();
    EXPECT_NEAR(weakest(a, girth), 100.0 * test::cubed(0.9), 1e-7);
    EXPECT_EQ(a.layer("sections").rows.at(0).at("present_circumference"), 36.0);
}

TEST(ReadingDefects, SizesThatAreNoneAreSaidAndCannotPass) {
    Cases c;
    const auto pocket = [&](const Row& width, const Row& depth) {
        return c.add("external_pocket", {{"width", width}, {"depth", depth}});
    };
    const std::size_t minus = pocket("-2", "1");
    const std::size_t nan = pocket("nan", "1");
    const std::size_t word = pocket("2", "deep");
    const std::size_t zero = pocket("0", "0");
    const AssessedSurvey a = c.assess();
    for (const std::size_t n : {minus, nan, word, zero}) {
        EXPECT_EQ(pole(a, n).at("verdict"), "unassessed") << n;
        EXPECT_THAT(pole(a, n).at("reasons").get<std::string>(), HasSubstr("pocket_size_missing"));
    }
    EXPECT_EQ(a.doubt("value_negative").at("field"), "width");
    EXPECT_EQ(a.doubt("value_not_finite").at("value"), "nan");
    EXPECT_EQ(a.doubt("value_unreadable").at("field"), "depth");
    EXPECT_THAT(a.doubts("value_zero"), SizeIs(2)) << "a blank written as 0 looks like that";
}

TEST(ReadingDefects, DatesJoinDefectsToTheirInspection) {
    Survey s;
    s.add_pole("P", 0, 0);
    const Row sound{
        {"method", "excavated"}, {"original_circumference", 40.0}, {"present_circumference", 40.0}};
    s.add_visit("P", "2014-05-01", sound);
    s.add_visit("P", "2024-05-01", sound);
    s.add_defect("P",
                 "internal_rot",
                 {{"height", 0.0}, {"shell_thickness", 1.0}, {"inspected_on", "2014-05-11"}});
    s.add_defect("P",
                 "internal_rot",
                 {{"height", 0.0}, {"shell_thickness", 3.5}, {"inspected_on", "2024-05-01"}});
    s.add_defect("P",
                 "internal_rot",
                 {{"height", 0.0}, {"shell_thickness", 0.5}, {"inspected_on", "2019-05-01"}});
    const AssessedSurvey a{s};
    EXPECT_EQ(a.verdict("P"), "treat");
    EXPECT_NEAR(a.pole("P").at("shell_min").get<double>(), 3.5, 1e-9);
    EXPECT_EQ(a.doubt("defect_without_inspection").at("feature"), "3");
    EXPECT_THAT(a.doubts("recovered"), SizeIs(1));
}

TEST(ReadingDefects, OfAPoleThatIsNotThereAreKept) {
    Cases c;
    c.add("bore", {});
    c.survey.add_defect("nobody", "external_pocket", {{"azimuth", 5.0}, {"azimuth_ref", "clock"}});
    const AssessedSurvey a = c.assess();
    const Row& lost = a.layer("defects").rows.at(1);
    EXPECT_EQ(lost.at("pole_id"), "nobody");
    EXPECT_EQ(lost.at("@wkt"), nullptr);
    for (const char* const column : {"azimuth_true", "position_derived", "shell_effective"}) {
        EXPECT_TRUE(lost.at(column).is_null()) << column;
    }
    EXPECT_EQ(a.doubt("pole_unknown").at("layer"), "defects");
    EXPECT_EQ(a.doubt("pole_unknown").at("value"), "nobody");
    EXPECT_EQ(a.doubt("pole_unknown").at("@wkt"), nullptr);
}

TEST(ReadingDefects, AClockOnALineNobodyDrewIsReadAlongTheAxis) {
    Survey s;
    s.add_pole("P", 0, 0, {{"given_azimuth", 30.0}});
    s.add_visit("P", "2024-05-01", {{"method", "bore"}, {"original_circumference", 40.0}});
    s.add_pole("Q", 100, 0);
    s.add_visit("Q", "2024-05-01", {{"method", "bore"}, {"original_circumference", 40.0}});
    for (const char* const id : {"P", "Q"}) {
        s.add_defect(id, "bore", {{"height", 0.0}, {"azimuth", 1.0}, {"azimuth_ref", "clock"}});
    }
    const AssessedSurvey a{s};
    EXPECT_NEAR(azimuth(a, 0).get<double>(), 60.0, 1e-9);
    EXPECT_EQ(a.doubt("clock_direction_assumed").at("feature"), "1");
    EXPECT_TRUE(azimuth(a, 1).is_null());
    const Row& unresolved = a.doubt("azimuth_unresolved");
    EXPECT_EQ(unresolved.at("feature"), "2");
    EXPECT_EQ(unresolved.at("field"), "azimuth");
    EXPECT_EQ(unresolved.at("value"), "1");
    EXPECT_EQ(unresolved.at("@wkt"), "POINT (500100 5000000)");
    EXPECT_THAT(unresolved.at("message").get<std::string>(),
                ::testing::HasSubstr("no line runs at this pole"));
}

TEST(ReadingDefects, TheClockTurnsWithTheOrderTheLineWasDrawnIn) {
    for (const bool northward : {true, false}) {
        Survey s;
        s.add_pole("A", 0, 0);
        s.add_pole("B", 0, 40);
        s.add_pole("C", 0, 80);
        s.add_visit("B", "2024-05-01", {{"method", "bore"}, {"original_circumference", 40.0}});
        s.add_defect("B", "bore", {{"height", 0.0}, {"azimuth", 3.0}, {"azimuth_ref", "clock"}});
        northward ? s.add_span({{0, 0}, {0, 40}, {0, 80}}) : s.add_span({{0, 80}, {0, 40}, {0, 0}});
        const AssessedSurvey a{s};
        EXPECT_NEAR(azimuth(a, 0).get<double>(), northward ? 90.0 : 270.0, 1e-6);
    }
}

/// Two pockets at the middle pole of three, which nothing tells which way is ahead: both spans end there.
Survey both_arrive(const Row& first, const Row& second) {
    Survey s;
    s.add_pole("A", 0, 0);
    s.add_pole("B", 0, 40);
    s.add_pole("C", 0, 80);
    s.add_span({{0, 0}, {0, 40}});
    s.add_span({{0, 80}, {0, 40}});
    s.add_visit("B",
                "2024-05-01",
                {{"method", "excavated"},
                 {"original_circumference", 40.0},
                 {"present_circumference", 40.0}});
    for (const Row& more : {first, second}) {
        merge(
            s.add_defect("B", "external_pocket", {{"height", 0.0}, {"width", 4.0}, {"depth", 2.5}}),
            more);
    }
    return s;
}

TEST(Clock, AheadThatIsNotKnownIsNoMatterAmongClockReadings) {
    const AssessedSurvey a{both_arrive({{"azimuth", 12.0}, {"azimuth_ref", "clock"}},
                                       {{"azimuth", 2.0}, {"azimuth_ref", "clock"}})};
    EXPECT_EQ(a.layer("defects").rows.at(0).at("azimuth_true"), 0.0);
    EXPECT_EQ(a.layer("defects").rows.at(1).at("azimuth_true"), 60.0);
    EXPECT_THAT(a.doubts("clock_direction_unknown"), IsEmpty());
    ASSERT_THAT(a.doubts("clock_direction_assumed"), SizeIs(2));
    EXPECT_EQ(a.doubts("clock_direction_assumed")[0].at("severity"), "note");
    // The other way round, the same strengths.
    const AssessedSurvey b{both_arrive({{"azimuth", 6.0}, {"azimuth_ref", "clock"}},
                                       {{"azimuth", 8.0}, {"azimuth_ref", "clock"}})};
    for (const char* const column : {"transverse_pct", "longitudinal_pct", "weakest_pct"}) {
        EXPECT_NEAR(
            a.pole("B").at(column).get<double>(), b.pole("B").at(column).get<double>(), 1e-6);
    }
}

TEST(Clock, BesideAnAzimuthFromNorthNothingRestsOnAGuess) {
    const auto assess = [](const Row& first, const Row& second) {
        return AssessedSurvey{both_arrive(first, second)};
    };
    const Row clock{{"azimuth", 3.0}, {"azimuth_ref", "clock"}};
    const Row east{{"azimuth", 90.0}, {"azimuth_ref", "true"}};
    const Row west{{"azimuth", 270.0}, {"azimuth_ref", "true"}};
    // The order of the two is of no matter.
    for (const AssessedSurvey& a : {assess(clock, east), assess(east, clock)}) {
        ASSERT_THAT(a.doubts("clock_direction_unknown"), SizeIs(1));
        EXPECT_EQ(a.doubts("clock_direction_unknown")[0].at("severity"), "warning");
        EXPECT_THAT(a.doubts("clock_direction_assumed"), IsEmpty());
        EXPECT_THAT(
            a.layer("defects").rows,
            Contains(ResultOf([](const Row& r) { return r.at("azimuth_true").is_null(); }, true)));
        // Neither of the two guesses comes out weaker.
        const double found = a.pole("B").at("remaining_pct");
        for (const Row& guess : {east, west}) {
            EXPECT_LE(found,
                      assess(guess, east).pole("B").at("remaining_pct").get<double>() + 1e-6);
        }
    }
    // Where ahead is known there is no doubt.
    Survey s = both_arrive(clock, east);
    s.poles.rows[0]["station"] = 100.0;
    s.poles.rows[1]["station"] = 60.0;
    s.poles.rows[2]["station"] = "20";
    const AssessedSurvey known{s};
    EXPECT_NEAR(known.layer("defects").rows.at(0).at("azimuth_true").get<double>(), 270.0, 1e-6);
    EXPECT_THAT(known.doubts("clock_direction_unknown"), IsEmpty());
}

TEST(Clock, StationsWinOverTheWayTheSpansAreDrawn) {
    Survey s;
    for (const auto& [id, y, station] : {std::tuple{"A", 0.0, 300.0},
                                         std::tuple{"B", 40.0, 200.0},
                                         std::tuple{"C", 80.0, 100.0}}) {
        s.add_pole(id, 0, y, {{"station", station}});
    }
    s.add_visit("B", "2024-05-01", {{"method", "bore"}, {"original_circumference", 40.0}});
    s.add_defect("B", "bore", {{"height", 0.0}, {"azimuth", 3.0}, {"azimuth_ref", "clock"}});
    s.add_span({{0, 0}, {0, 40}, {0, 80}});
    const AssessedSurvey a{s};
    EXPECT_NEAR(azimuth(a, 0).get<double>(), 270.0, 1e-6);
    // Not a number: said, and the drawing decides.
    s.poles.types["station"] = "text";
    for (Row& p : s.poles.rows) {
        p["station"] = "km " + p.at("station").dump();
    }
    const AssessedSurvey b{s};
    EXPECT_NEAR(azimuth(b, 0).get<double>(), 90.0, 1e-6);
    EXPECT_THAT(b.doubts("value_unreadable"), SizeIs(3));
}

TEST(ReadingDefects, AGridAzimuthOnALayerWithoutAGridIsSaid) {
    Cases c;
    const std::size_t n = c.add("bore", {{"azimuth", 10.0}, {"azimuth_ref", "grid"}});
    EXPECT_THAT(c.assess().doubts("grid_north_assumed"), IsEmpty());
    const AssessedSurvey a{in_crs(c.survey, "EPSG:4326")};
    EXPECT_EQ(azimuth(a, n), 10.0);
    EXPECT_EQ(a.doubt("grid_north_assumed").at("value"), "10");
}

TEST(ReadingDefects, GridAzimuthsOfTheInputAreSaidWhereTheOutputHasAnotherGrid) {
    Survey s = five_poles();
    s.defects.rows.clear();
    for (const char* const id : {"A", "B"}) {
        s.add_defect(id, "bore", {{"height", 0.0}, {"azimuth", 10.0}, {"azimuth_ref", "grid"}});
    }
    s.add_defect("C", "bore", {{"height", 0.0}, {"azimuth", 10.0}, {"azimuth_ref", "true"}});
    EXPECT_THAT(AssessedSurvey{s}.doubts("grid_azimuth_of_input"), IsEmpty());
    const AssessedSurvey moved{s, [](AssessJob& job) { job.crs = "EPSG:32611"; }};
    const Row& doubt = moved.doubt("grid_azimuth_of_input");
    EXPECT_EQ(doubt.at("layer"), "defects");
    EXPECT_EQ(doubt.at("field"), "azimuth");
    EXPECT_EQ(doubt.at("value"), "2");
    EXPECT_EQ(azimuth(moved, 0), 10.0);  // true, on the central meridian of the input
    EXPECT_EQ(moved.layer("defects").rows.at(0).at("azimuth"), 10.0);  // as read
    s.defects.rows.erase(s.defects.rows.begin(), s.defects.rows.begin() + 2);
    const AssessedSurvey none{s, [](AssessJob& job) { job.crs = "EPSG:32611"; }};
    EXPECT_THAT(none.doubts("grid_azimuth_of_input"), IsEmpty());
}

TEST(ReadingDefects, ASoundBoreWithAShellCountsAsTheRotItWouldBe) {
    Survey s = five_poles();
    s.defects.rows.clear();
    s.add_defect("A", "bore", {{"height", 0.0}, {"shell_thickness", 1.0}});
    s.add_defect("B", "bore", {{"height", 0.0}});
    const AssessedSurvey a{s};
    EXPECT_EQ(a.verdict("A"), "stub");
    EXPECT_EQ(a.verdict("B"), "serviceable");
    EXPECT_EQ(a.doubt("bore_contradicts").at("value"), "1");
}

}  // namespace
}  // namespace linewood::testing
