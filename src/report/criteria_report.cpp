#include "src/report/criteria_report.hpp"

#include <algorithm>
#include <optional>
#include <string_view>

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "src/job/profile_settings.hpp"
#include "src/report/svg.hpp"
#include "src/report/wrapped_text.hpp"

namespace linewood {
namespace {

using Json = nlohmann::ordered_json;

std::string_view unit_text(SettingUnit u) {
    switch (u) {
        case SettingUnit::inches:
            return " in";
        case SettingUnit::feet:
            return " ft";
        case SettingUnit::degrees:
            return " degrees";
        case SettingUnit::metres:
            return " m";
        case SettingUnit::days:
            return " days";
        case SettingUnit::share:
        case SettingUnit::flag:
            return "";
    }
    return "";
}

std::string value_text(const ProfileSetting& s, const Profile& profile) {
    const auto value = s.get(profile);
    if (!value) {
        return "off";
    }
    if (s.unit == SettingUnit::flag) {
        return *value != 0.0 ? "yes" : "no";
    }
    if (s.unit == SettingUnit::share) {
        return svg_number(*value * 100.0) + " %";
    }
    return fmt::format("{:.6g}{}", *value, unit_text(s.unit));
}

std::string source_of(const ProfileSetting& s, const Profile& profile) {
    const auto& sources = profile.criteria.sources;
    const auto found = sources.find(std::string{s.key});
    return found == sources.end() ? std::string{} : found->second;
}

bool lacks_source(const ProfileSetting& s, const Profile& profile) {
    return source_of(s, profile).rfind(kNoSourceGiven, 0) == 0;
}

/// What the value of `profile` does against that of `standard`.
std::string_view effect(const ProfileSetting& s, const Profile& profile, const Profile& standard) {
    const double now = s.get(profile).value_or(0.0);
    const double before = s.get(standard).value_or(0.0);
    if (s.stricter == Stricter::neither || now == before) {
        return "";
    }
    return (now > before) == (s.stricter == Stricter::higher) ? "stricter" : "more lenient";
}

std::vector<const ProfileSetting*> differences(const CheckedCriteria& c) {
    std::vector<const ProfileSetting*> all;
    for (const ProfileSetting& s : profile_settings()) {
        if (s.get(c.profile) != s.get(c.standard)) {
            all.push_back(&s);
        }
    }
    return all;
}

/// What is allowed, but may not be meant.
std::vector<std::string> notes_on(const CheckedCriteria& c) {
    std::vector<std::string> notes;
    for (const ProfileSetting& s : profile_settings()) {
        if (lacks_source(s, c.profile)) {
            notes.push_back(
                fmt::format("{}.{} has no source; say in sources.{} where the figure "
                            "comes from",
                            s.group,
                            s.key,
                            s.key));
        }
    }
    const Criteria& k = c.profile.criteria;
    if (k.weakest_strength_min > k.governing_strength_min) {
        notes.emplace_back(
            "limits.weakest_strength_min is above governing_strength_min: the weakest direction "
            "always decides");
    }
    const double kept = k.girth_ratio_min * k.girth_ratio_min * k.girth_ratio_min;
    if (kept > k.governing_strength_min + 1e-9) {
        notes.push_back(
            fmt::format("a round section at girth_ratio_min keeps {} % of its strength: "
                        "the girth fails before governing_strength_min",
                        svg_number(kept * 100.0)));
    }
    return notes;
}

std::string head_text(const Profile& profile) {
    return profile.note.empty() ? std::string{} : wrapped("  ", profile.note, 2);
}

}  // namespace

std::string criteria_list_text(const std::vector<Profile>& profiles) {
    std::size_t widest = 0;
    for (const Profile& p : profiles) {
        widest = std::max(widest, p.criteria.name.size());
    }
    std::string out;
    for (const Profile& p : profiles) {
        const std::string first = p.note.substr(0, p.note.find(". "));
        out += fmt::format("{:<{}}  {}\n", p.criteria.name, widest, first);
    }
    return out;
}

std::string criteria_list_json(const std::vector<Profile>& profiles) {
    Json list = Json::array();
    for (const Profile& p : profiles) {
        list.push_back({{"name", p.criteria.name}, {"note", p.note}, {"sha256", profile_hash(p)}});
    }
    return list.dump(2) + "\n";
}

std::string criteria_text(const Profile& profile) {
    std::string out = profile.criteria.name + "\n" + head_text(profile);
    if (profile.extends != profile.criteria.name) {
        out += fmt::format("  on top of {}\n", profile.extends);
    }
    out += fmt::format("  SHA-256 {}\n", profile_hash(profile));
    for (const std::string_view group : setting_groups()) {
        out += fmt::format("\n{}\n", group);
        for (const ProfileSetting& s : profile_settings()) {
            if (s.group != group) {
                continue;
            }
            constexpr std::size_t kIndent = 44;
            out += wrapped(
                fmt::format("  {:<29}{:>11}  ", s.key, value_text(s, profile)), s.meaning, kIndent);
            if (const std::string source = source_of(s, profile); !source.empty()) {
                out += wrapped(std::string(kIndent, ' ') + "source: ", source, kIndent);
            }
        }
    }
    return out;
}

std::string criteria_json(const Profile& profile) {
    Json json{{"name", profile.criteria.name}};
    if (!profile.note.empty()) {
        json["note"] = profile.note;
    }
    for (const std::string_view group : setting_groups()) {
        json[std::string{group}] = Json::object();
    }
    json["sources"] = Json::object();
    for (const ProfileSetting& s : profile_settings()) {
        json[std::string{s.group}][std::string{s.key}] = setting_json(s, profile);
        if (const std::string source = source_of(s, profile); !source.empty()) {
            json["sources"][std::string{s.key}] = source;
        }
    }
    return json.dump(2) + "\n";
}

std::string criteria_check_text(const CheckedCriteria& c) {
    std::string out = fmt::format("{}: a valid profile, \"{}\", on top of {}\n",
                                  c.file,
                                  c.profile.criteria.name,
                                  c.profile.extends);
    out += head_text(c.profile);
    out += fmt::format("  SHA-256 {}\n", profile_hash(c.profile));
    const auto all = differences(c);
    const std::string& standard = c.standard.criteria.name;
    if (all.empty()) {
        out += fmt::format("asks for the same as {}\n", standard);
    } else {
        out += fmt::format(
            "differs from {} in {} setting{}\n", standard, all.size(), all.size() == 1 ? "" : "s");
    }
    for (const ProfileSetting* s : all) {
        const std::string_view what = effect(*s, c.profile, c.standard);
        out += fmt::format("  {}.{}: {} instead of {}{}\n",
                           s->group,
                           s->key,
                           value_text(*s, c.profile),
                           value_text(*s, c.standard),
                           what.empty()         ? std::string{}
                           : what == "stricter" ? ", stricter: more poles fail"
                                                : ", more lenient: fewer poles fail");
        out += wrapped("    ", s->meaning, 4);
        if (const std::string source = source_of(*s, c.profile); !source.empty()) {
            out += wrapped("    source: ", source, 4);
        }
    }
    for (const std::string& note : notes_on(c)) {
        out += wrapped("note: ", note, 2);
    }
    return out;
}

std::string criteria_check_json(const CheckedCriteria& c) {
    Json json{{"file", c.file},
              {"name", c.profile.criteria.name},
              {"note", c.profile.note},
              {"extends", c.profile.extends},
              {"sha256", profile_hash(c.profile)},
              {"compared_with", c.standard.criteria.name},
              {"differs", Json::array()},
              {"notes", notes_on(c)}};
    for (const ProfileSetting* s : differences(c)) {
        const std::string_view what = effect(*s, c.profile, c.standard);
        json["differs"].push_back({{"setting", fmt::format("{}.{}", s->group, s->key)},
                                   {"value", setting_json(*s, c.profile)},
                                   {"instead_of", setting_json(*s, c.standard)},
                                   {"effect", what.empty() ? Json() : Json(std::string{what})},
                                   {"meaning", std::string{s->meaning}},
                                   {"source", source_of(*s, c.profile)}});
    }
    return json.dump(2) + "\n";
}

}  // namespace linewood
