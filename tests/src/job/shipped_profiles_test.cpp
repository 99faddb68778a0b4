// The profiles that come with the program, and the table of settings behind every profile.

#include "src/job/shipped_profiles.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "src/job/embedded_text.hpp"
#include "src/job/profile_settings.hpp"
#include "src/report/criteria_report.hpp"

namespace linewood {
namespace {

using Json = nlohmann::json;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::UnorderedElementsAreArray;

Criteria criteria_of(std::string_view name) { return shipped_profile(name).value().criteria; }

TEST(ShippedProfiles, AreThoseOfTheFilesEachUnderItsName) {
    EXPECT_THAT(shipped_profile_names(),
                ElementsAre("general-practice", "two-thirds", "sixty-percent", "transmission-3in"));
    std::set<std::string> files;
    for (const EmbeddedText& t : embedded_texts()) {
        files.emplace(t.name);
    }
    std::set<std::string> wanted{"criteria.schema.json"};
    for (const std::string_view name : shipped_profile_names()) {
        wanted.insert(std::string{name} + ".json");
        EXPECT_EQ(criteria_of(name).name, name);
        EXPECT_FALSE(shipped_profile(name)->note.empty());
    }
    EXPECT_TRUE(std::includes(files.begin(), files.end(), wanted.begin(), wanted.end()));
    EXPECT_FALSE(shipped_profile("two-third").has_value());
    EXPECT_FALSE(shipped_profile("").has_value());
}

TEST(ShippedProfiles, AskForWhatTheirSourcesSay) {
    EXPECT_EQ(profile_to_json(*shipped_profile("general-practice")), profile_to_json(Profile{}));

    const Criteria thirds = criteria_of("two-thirds");
    EXPECT_DOUBLE_EQ(thirds.governing_strength_min, 2.0 / 3.0);
    EXPECT_DOUBLE_EQ(thirds.girth_ratio_min, std::cbrt(2.0 / 3.0));
    EXPECT_DOUBLE_EQ(thirds.shell_min.inches(), 2.0);

    const Criteria sixty = criteria_of("sixty-percent");
    EXPECT_DOUBLE_EQ(sixty.governing_strength_min, 0.6);
    EXPECT_DOUBLE_EQ(sixty.girth_ratio_min, std::cbrt(0.6));

    const Criteria transmission = criteria_of("transmission-3in");
    EXPECT_DOUBLE_EQ(transmission.governing_strength_min, 2.65 / 4.0);
    EXPECT_DOUBLE_EQ(transmission.girth_ratio_min, std::cbrt(2.65 / 4.0));
    EXPECT_DOUBLE_EQ(transmission.shell_min.inches(), 3.0);
    EXPECT_THAT(transmission.sources.at("governing_strength_min"),
                HasSubstr("load factors 4 at installation, 2.65 at replacement"));
}

TEST(ShippedProfiles, EverySettingThatIsOnHasItsSource) {
    for (const std::string_view name : shipped_profile_names()) {
        const Profile p = *shipped_profile(name);
        for (const ProfileSetting& s : profile_settings()) {
            const auto source = p.criteria.sources.find(std::string{s.key});
            if (!s.get(p)) {
                EXPECT_EQ(source, p.criteria.sources.end()) << name << ' ' << s.key;
                continue;
            }
            ASSERT_NE(source, p.criteria.sources.end()) << name << ' ' << s.key;
            EXPECT_FALSE(source->second.empty()) << name << ' ' << s.key;
            EXPECT_NE(source->second.rfind("no source given", 0), 0U) << name << ' ' << s.key;
        }
    }
}

TEST(ShippedProfiles, WhatIsShownAsAFileIsTheSameProfile) {
    for (const std::string_view name : shipped_profile_names()) {
        const Profile p = *shipped_profile(name);
        const Profile again = read_profile(criteria_json(p));
        EXPECT_EQ(profile_hash(again), profile_hash(p)) << name;
        EXPECT_EQ(again.note, p.note) << name;
    }
}

TEST(ProfileSettings, SchemaAndProgramKnowTheSameKeysAndRanges) {
    const Json schema = Json::parse(embedded_text("criteria.schema.json"));
    const Json& top = schema.at("properties");
    EXPECT_EQ(top.at("extends").at("enum"), Json(shipped_profile_names()));
    const auto keys_of = [](const Json& object) {
        std::vector<std::string> keys;
        for (const auto& item : object.items()) {
            keys.push_back(item.key());
        }
        return keys;
    };
    EXPECT_THAT(keys_of(top.at("sources").at("properties")),
                UnorderedElementsAreArray(setting_keys()));
    for (const std::string_view group : setting_groups()) {
        EXPECT_THAT(keys_of(top.at(std::string{group}).at("properties")),
                    UnorderedElementsAreArray(setting_keys(group)));
    }
    for (const ProfileSetting& s : profile_settings()) {
        SCOPED_TRACE(s.key);
        Json node = top.at(std::string{s.group}).at("properties").at(std::string{s.key});
        EXPECT_EQ(node.contains("anyOf"), s.takes_load_factors);
        if (s.takes_load_factors) {
            node = node.at("anyOf").at(0);
        }
        if (s.unit == SettingUnit::flag) {
            EXPECT_EQ(node.at("type"), Json({"boolean", "null"}));
        } else {
            EXPECT_EQ(node.at(s.above_least ? "exclusiveMinimum" : "minimum").get<double>(),
                      s.least);
            EXPECT_EQ(node.at("maximum").get<double>(), s.most);
            EXPECT_EQ(node.at("type").at(0),
                      s.unit == SettingUnit::days ? Json("integer") : Json("number"));
        }
    }
}

}  // namespace
}  // namespace linewood
