#include "src/job/profile.hpp"

#include <cmath>
#include <functional>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "src/job/job_error.hpp"

namespace linewood {
namespace {

using ::testing::HasSubstr;

using Json = nlohmann::json;

TEST(Profile, TheDefaultIsGeneralPractice) {
    const Profile p = read_profile(R"({"name": "general-practice"})");
    EXPECT_EQ(profile_to_json(p), profile_to_json(Profile{}));
    // As the contract states them.
    EXPECT_EQ(p.criteria.governing_strength_min, 0.65);
    EXPECT_EQ(p.criteria.weakest_strength_min, 0.5);
    EXPECT_NEAR(p.criteria.girth_ratio_min, std::cbrt(0.65), 1e-15);
    EXPECT_NEAR(p.criteria.shell_min.inches(), 2.0, 1e-12);
    EXPECT_NEAR(p.criteria.shell_pocket_width.inches(), 1.0, 1e-12);
    EXPECT_EQ(p.criteria.split_loss_max, 0.05);
    EXPECT_NEAR(p.criteria.zone_top.inches(), 15.0, 1e-12);
    EXPECT_NEAR(p.criteria.section_reach.feet(), 0.5, 1e-12);
    EXPECT_EQ(p.criteria.decay_girth_ratio, 0.98);
    EXPECT_FALSE(p.criteria.present_stands_for_original);
    EXPECT_NEAR(p.criteria.urgent_strength_share, 2.0 / 3.0, 1e-15);
    EXPECT_EQ(p.criteria.bore_45_factor, 0.7);
    EXPECT_NEAR(p.criteria.bore_merge.degrees(), 1.0, 1e-12);
    EXPECT_EQ(p.criteria.join_days, 30);
    EXPECT_NEAR(p.criteria.in_line_sector.degrees(), 30.0, 1e-12);
    EXPECT_NEAR(p.criteria.out_of_line_sector.degrees(), 30.0, 1e-12);
    EXPECT_NEAR(p.criteria.governing_deflection_max.degrees(), 30.0, 1e-12);
    EXPECT_NEAR(p.network.tangent_limit.degrees(), 5.0, 1e-12);
    EXPECT_NEAR(p.network.junction_pair_limit.degrees(), 30.0, 1e-12);
    EXPECT_EQ(p.network.snap_tolerance.metres(), 2.0);
    EXPECT_EQ(p.network.interior_cut.metres(), 0.5);
    EXPECT_FALSE(p.network.nearest_line.has_value());
}

/// Another value for every setting that a profile can have, each unlike its default.
const char* const kEverySetting = R"({
    "name": "ours",
    "sources": {"shell_min_in": "we say so"},
    "limits": {"governing_strength_min": 0.7, "weakest_strength_min": 0.55, "girth_ratio_min": 0.9,
               "shell_min_in": 1.75, "shell_pocket_width_in": 1.5, "split_loss_max": 0.1},
    "sectors": {"in_line_deg": 25, "out_of_line_deg": 35, "governing_deflection_max_deg": 20},
    "line": {"tangent_max_deg": 4, "junction_pair_max_deg": 25, "snap_tolerance_m": 1.25,
             "interior_cut_m": 0.25, "id_distance_max_m": 50, "nearest_line_m": 12.5},
    "rules": {"zone_top_in": 18, "section_reach_ft": 0.25, "decay_girth_ratio": 0.97,
              "present_stands_for_original": true, "urgent_strength_share": 0.5,
              "bore_45_factor": 0.6, "bore_merge_deg": 2, "join_days": 14}})";

TEST(Profile, EverySettingIsReadAndWrittenBack) {
    const Json given = Json::parse(kEverySetting);
    const Profile p = read_profile(kEverySetting);
    const Json written = Json::parse(profile_to_json(p));
    const Json defaults = Json::parse(profile_to_json(Profile{}));
    for (const auto& [group, settings] : given.items()) {
        ASSERT_TRUE(written.contains(group)) << group;
        if (group == "name") {
            EXPECT_EQ(written.at(group), settings);
            continue;
        }
        for (const auto& [key, value] : settings.items()) {
            const Json& back = written.at(group).at(key);
            if (value.is_number()) {
                EXPECT_NEAR(back.get<double>(), value.get<double>(), 1e-12) << group << '.' << key;
            } else {
                EXPECT_EQ(back, value) << group << '.' << key;
            }
            EXPECT_NE(back, defaults.at(group).value(key, Json())) << group << '.' << key;
        }
    }
    // None that is written is missing above, so none can be forgotten here.
    for (const auto& [group, settings] : defaults.items()) {
        if (group == "name" || group == "sources") {
            continue;
        }
        for (const auto& [key, value] : settings.items()) {
            EXPECT_TRUE(given.at(group).contains(key)) << group << '.' << key;
        }
    }
}

TEST(Profile, WritingWhatWasReadGivesTheSameBytes) {
    for (const char* const text : {kEverySetting, R"({"name":"x"})"}) {
        const std::string once = profile_to_json(read_profile(text));
        EXPECT_EQ(profile_to_json(read_profile(once)), once);
    }
    // Awkward figures: a third of a degree, a tenth of an inch.
    const std::string odd = profile_to_json(read_profile(
        R"({"name":"x","sectors":{"in_line_deg":33.333333333},"limits":{"shell_min_in":0.1},"rules":{"bore_merge_deg":0.7}})"));
    EXPECT_EQ(profile_to_json(read_profile(odd)), odd);
}

TEST(Profile, TheOrderOfKeysANoteAndBlanksDoNotChangeWhatIsHashed) {
    const std::string a = profile_to_json(
        read_profile(R"({"name":"x","limits":{"shell_min_in":3,"split_loss_max":0.1}})"));
    const std::string b = profile_to_json(
        read_profile("{ \"note\": \"free\\ntext\", \"limits\": { \"split_loss_max\": 1e-1, "
                     "\"shell_min_in\": 3.0 },\n \"name\": \"x\" }"));
    EXPECT_EQ(a, b);
}

TEST(Profile, TheGirthFollowsTheStrengthUnlessItIsGiven) {
    const Profile follows =
        read_profile(R"({"name":"x","limits":{"governing_strength_min":0.512}})");
    EXPECT_NEAR(follows.criteria.girth_ratio_min, 0.8, 1e-15);
    const Profile given = read_profile(
        R"({"name":"x","limits":{"governing_strength_min":0.512,"girth_ratio_min":0.85}})");
    EXPECT_EQ(given.criteria.girth_ratio_min, 0.85);
}

TEST(Profile, NullIsTheDefault) {
    const Profile p = read_profile(
        R"({"name":"general-practice","line":{"nearest_line_m":null,"snap_tolerance_m":null},"rules":{"join_days":null}})");
    EXPECT_EQ(profile_to_json(p), profile_to_json(Profile{}));
}

TEST(Profile, LimitsOfTheirRangeAreInIt) {
    EXPECT_NO_THROW(read_profile(
        R"({"name":"x","limits":{"governing_strength_min":0.001,"weakest_strength_min":1},"rules":{"join_days":366}})"));
    EXPECT_NO_THROW(
        read_profile(R"({"name":"x","sectors":{"in_line_deg":45,"out_of_line_deg":45}})"));
    EXPECT_THROW(read_profile(R"({"name":"x","limits":{"weakest_strength_min":1.0000001}})"),
                 JobError);
}

TEST(Profile, ExtendsAShippedOneAndChangesOnlyWhatItSays) {
    const Profile p = read_profile(
        R"({"name":"ours","extends":"transmission-3in","limits":{"weakest_strength_min":0.55}})");
    EXPECT_EQ(p.extends, "transmission-3in");
    EXPECT_EQ(p.criteria.name, "ours");
    EXPECT_DOUBLE_EQ(p.criteria.governing_strength_min, 2.65 / 4.0);
    EXPECT_DOUBLE_EQ(p.criteria.girth_ratio_min, std::cbrt(2.65 / 4.0));
    EXPECT_DOUBLE_EQ(p.criteria.shell_min.inches(), 3.0);
    EXPECT_EQ(p.criteria.weakest_strength_min, 0.55);
    EXPECT_TRUE(p.note.empty()) << "a note speaks of the profile it stands in";
    EXPECT_EQ(read_profile(R"({"name":"x"})").extends, "general-practice");
    EXPECT_EQ(profile_hash(p), profile_hash(read_profile(profile_to_json(p))));
}

TEST(Profile, TheGirthFollowsANewStrengthInAnExtendedProfileToo) {
    const Profile p = read_profile(
        R"({"name":"x","extends":"two-thirds","limits":{"governing_strength_min":0.512}})");
    EXPECT_NEAR(p.criteria.girth_ratio_min, 0.8, 1e-15);
}

TEST(Profile, LoadFactorsAreALimit) {
    const Profile p = read_profile(
        R"({"name":"x","limits":{"governing_strength_min":{"factor_at_installation":2.5,"factor_at_replacement":1.5},
            "weakest_strength_min":{"factor_at_installation":4,"factor_at_replacement":2}},
            "sources":{"weakest_strength_min":"our standard"}})");
    EXPECT_DOUBLE_EQ(p.criteria.governing_strength_min, 0.6);
    EXPECT_DOUBLE_EQ(p.criteria.girth_ratio_min, std::cbrt(0.6));
    EXPECT_DOUBLE_EQ(p.criteria.weakest_strength_min, 0.5);
    EXPECT_EQ(p.criteria.sources.at("governing_strength_min"),
              "no source given in profile \"x\"; load factors 2.5 at installation, 1.5 at "
              "replacement");
    EXPECT_EQ(p.criteria.sources.at("weakest_strength_min"),
              "our standard; load factors 4 at installation, 2 at replacement");
    const Json written = Json::parse(profile_to_json(p));
    EXPECT_TRUE(written.at("limits").at("governing_strength_min").is_number());
    EXPECT_EQ(profile_to_json(read_profile(written.dump())), written.dump());
}

TEST(Profile, AChangedValueDoesNotKeepTheSourceOfTheOldOne) {
    const Profile p = read_profile(
        R"({"name":"x","extends":"transmission-3in","limits":{"shell_min_in":2.5,"split_loss_max":0.05,
            "girth_ratio_min":0.9}})");
    const auto& sources = p.criteria.sources;
    EXPECT_EQ(sources.at("shell_min_in"), "no source given in profile \"x\"");
    EXPECT_EQ(sources.at("girth_ratio_min"), "no source given in profile \"x\"");
    EXPECT_EQ(sources.at("split_loss_max"), Profile{}.criteria.sources.at("split_loss_max"));
    EXPECT_NE(sources.at("governing_strength_min").find("FIST"), std::string::npos);
}

}  // namespace
}  // namespace linewood
