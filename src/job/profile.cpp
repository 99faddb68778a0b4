#include "src/job/profile.hpp"

#include <array>
#include <cmath>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "src/job/checksum.hpp"
#include "src/job/profile_settings.hpp"
#include "src/job/shipped_profiles.hpp"
#include "src/job/strict_json.hpp"
#include "src/job/unit_system.hpp"

namespace linewood {
namespace {

constexpr std::size_t kMostBytes = std::size_t{1} << 20U;
constexpr std::size_t kMostText = 2000;
constexpr double kMostFactor = 100.0;

constexpr std::array<std::string_view, 9> kTopKeys{
    "$schema", "name", "extends", "note", "sources", "limits", "sectors", "line", "rules"};
constexpr std::array<std::string_view, 2> kFactorKeys{"factor_at_installation",
                                                      "factor_at_replacement"};
constexpr std::string_view kGirthFollows =
    "cube root of governing_strength_min: strength goes with girth cubed";

/// A value as given, with what has to be said of where it came from.
struct GivenValue {
    double value = 0.0;
    std::string derivation;  ///< how it follows from what was written; empty where it stands there
};

/// A limit by the load factors of a code: what is left when a structure must be replaced.
GivenValue read_load_factors(const JsonNode& node) {
    node.only_keys(kFactorKeys);
    const auto factor = [&](std::string_view key) {
        const JsonNode f = node.at(key);
        const double v = f.number(0.0, kMostFactor);
        if (v == 0.0) {
            f.fail_value("is out of range: above 0 is wanted");
        }
        return v;
    };
    const double installation = factor(kFactorKeys[0]);
    const double replacement = factor(kFactorKeys[1]);
    if (replacement > installation) {
        node.at(kFactorKeys[1])
            .fail_value(fmt::format("is more than the factor at installation, {}", installation));
    }
    return {replacement / installation,
            fmt::format(
                "load factors {} at installation, {} at replacement", installation, replacement)};
}

/// A share written as a percentage is the likely slip.
void refuse_percent(const JsonNode& node, const ProfileSetting& s) {
    const auto written = s.unit == SettingUnit::share ? node.if_number() : std::nullopt;
    if (written && *written > s.most && *written <= 100.0) {
        node.fail_value(fmt::format("is out of range: {} to {} is wanted; {} % is written {}",
                                    s.least,
                                    s.most,
                                    *written,
                                    *written / 100.0));
    }
}

GivenValue read_value(const JsonNode& node, const ProfileSetting& s) {
    if (s.unit == SettingUnit::flag) {
        return {node.boolean() ? 1.0 : 0.0, {}};
    }
    if (s.takes_load_factors && node.is_object()) {
        return read_load_factors(node);
    }
    refuse_percent(node, s);
    const double value = node.number(s.least, s.most);
    if (s.above_least && value <= s.least) {
        node.fail_value(fmt::format("is out of range: above {} is wanted", s.least));
    }
    if (s.unit == SettingUnit::days && value != std::floor(value)) {
        node.fail_value("is not a whole number");
    }
    return {value, {}};
}

/// Puts the settings of a document over those of the profile it extends.
class Overlay {
public:
    Overlay(const JsonNode& document, Profile& profile) : document_{document}, profile_{profile} {}

    void apply() {
        read_given_sources();
        for (const std::string_view name : setting_groups()) {
            if (const auto group = document_.find(name)) {
                group->only_keys(setting_keys(name));
                apply_group(*group, name);
            }
        }
        follow_girth();
        const Criteria& c = profile_.criteria;
        if (c.in_line_sector.degrees() + c.out_of_line_sector.degrees() > 90.0) {
            document_.at("sectors").fail(
                fmt::format("in_line_deg {} and out_of_line_deg {} together are wider than 90 "
                            "degrees; make one of them narrower",
                            rounded(c.in_line_sector.degrees()),
                            rounded(c.out_of_line_sector.degrees())));
        }
        for (auto& [key, source] : given_sources_) {
            profile_.criteria.sources[key] = std::move(source);
        }
    }

private:
    /// Sources are words for people, each for one setting.
    void read_given_sources() {
        if (const auto sources = document_.find("sources")) {
            sources->only_keys(setting_keys());
            for (const auto& member : sources->members(setting_keys().size())) {
                given_sources_[member.key] = member.value.text(kMostText);
            }
        }
    }

    void apply_group(const JsonNode& group, std::string_view name) {
        for (const ProfileSetting& s : profile_settings()) {
            if (s.group != name) {
                continue;
            }
            const auto node = group.find(s.key);
            if (!node || node->is_null()) {
                continue;
            }
            const GivenValue given = read_value(*node, s);
            const auto before = s.get(profile_);
            s.set(profile_, given.value);
            settle_source(s, before != s.get(profile_), given.derivation);
            if (s.key == "governing_strength_min") {
                strength_given_ = true;
            }
            girth_given_ = girth_given_ || s.key == "girth_ratio_min";
        }
    }

    void settle_source(const ProfileSetting& s, bool changed, const std::string& derivation) {
        std::string& source = profile_.criteria.sources[std::string{s.key}];
        const auto given = given_sources_.find(std::string{s.key});
        const bool has_own = given != given_sources_.end();
        if (changed && !has_own) {
            source = fmt::format("{} in profile \"{}\"", kNoSourceGiven, profile_.criteria.name);
        }
        if (!derivation.empty()) {
            std::string& named = has_own ? given->second : source;
            named += "; " + derivation;
        }
    }

    void follow_girth() {
        if (strength_given_ && !girth_given_) {
            Criteria& c = profile_.criteria;
            c.girth_ratio_min = std::cbrt(c.governing_strength_min);
            c.sources["girth_ratio_min"] = kGirthFollows;
        }
    }

    const JsonNode& document_;
    Profile& profile_;
    std::map<std::string, std::string> given_sources_;
    bool strength_given_ = false;
    bool girth_given_ = false;
};

}  // namespace

Profile read_profile(std::string_view json_text) {
    const auto document = parse_strict_json(json_text, "criteria", kMostBytes);
    const JsonNode node{document};
    node.only_keys(kTopKeys);
    Profile p;
    if (const auto base = node.find("extends")) {
        const auto names = shipped_profile_names();
        p = *shipped_profile(names[base->choice(names)]);
        p.extends = p.criteria.name;
    }
    p.criteria.name = node.at("name").text(100);
    const auto note = node.find("note");
    p.note = note ? note->free_text(kMostText) : std::string{};
    if (const auto schema = node.find("$schema")) {
        schema->text(kMostText);
    }
    Overlay{node, p}.apply();
    return p;
}

std::string profile_to_json(const Profile& profile) {
    nlohmann::json json{{"name", profile.criteria.name}, {"sources", profile.criteria.sources}};
    for (const ProfileSetting& s : profile_settings()) {
        json[std::string{s.group}][std::string{s.key}] = setting_json(s, profile);
    }
    return json.dump();
}

std::string profile_hash(const Profile& profile) { return sha256_of(profile_to_json(profile)); }

}  // namespace linewood
