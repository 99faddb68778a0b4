#include "src/job/profile_settings.hpp"

#include <array>
#include <type_traits>

#include <nlohmann/json.hpp>

#include "src/job/unit_system.hpp"

namespace linewood {
namespace {

constexpr std::array<std::string_view, 4> kGroups{"limits", "sectors", "line", "rules"};

// How a setting is reached: by the member that holds it. The unit of a length is in the name, since a
// profile says inches, feet or metres.

template <auto member>
constexpr ProfileSetting plain(ProfileSetting s) {
    s.get = [](const Profile& p) -> std::optional<double> {
        return static_cast<double>(p.criteria.*member);
    };
    s.set = [](Profile& p, double v) {
        using Member = std::remove_reference_t<decltype(p.criteria.*member)>;
        if constexpr (std::is_same_v<Member, bool>) {
            p.criteria.*member = v != 0.0;
        } else {
            p.criteria.*member = static_cast<Member>(v);
        }
    };
    return s;
}

/// A strength to keep. Of 0 nothing would be asked, and a section without wood would pass.
template <auto member>
constexpr ProfileSetting strength(ProfileSetting s) {
    s.above_least = true;
    return plain<member>(s);
}

template <auto member>
constexpr auto inches(std::string_view group,
                      std::string_view key,
                      double most,
                      Stricter stricter,
                      std::string_view meaning) {
    return ProfileSetting{group,
                          key,
                          SettingUnit::inches,
                          0.0,
                          most,
                          stricter,
                          false,
                          meaning,
                          [](const Profile& p) -> std::optional<double> {
                              return rounded((p.criteria.*member).inches());
                          },
                          [](Profile& p, double v) { p.criteria.*member = Length::inches(v); }};
}

template <auto member>
constexpr auto feet(std::string_view group,
                    std::string_view key,
                    double most,
                    std::string_view meaning) {
    return ProfileSetting{group,
                          key,
                          SettingUnit::feet,
                          0.0,
                          most,
                          Stricter::neither,
                          false,
                          meaning,
                          [](const Profile& p) -> std::optional<double> {
                              return rounded((p.criteria.*member).feet());
                          },
                          [](Profile& p, double v) { p.criteria.*member = Length::feet(v); }};
}

template <auto part, auto member>
constexpr auto degrees(std::string_view group,
                       std::string_view key,
                       double most,
                       std::string_view meaning) {
    return ProfileSetting{
        group,
        key,
        SettingUnit::degrees,
        0.0,
        most,
        Stricter::neither,
        false,
        meaning,
        [](const Profile& p) -> std::optional<double> { return (p.*part.*member).degrees(); },
        [](Profile& p, double v) { p.*part.*member = Angle::degrees(v); }};
}

/// Of the network, up to 10 km; a Maybe<Length> may be switched off.
template <auto member>
constexpr auto metres(std::string_view key, std::string_view meaning) {
    return ProfileSetting{"line",
                          key,
                          SettingUnit::metres,
                          0.0,
                          10000.0,
                          Stricter::neither,
                          false,
                          meaning,
                          [](const Profile& p) -> std::optional<double> {
                              const Maybe<Length> l = p.network.*member;
                              return l ? std::optional{l->metres()} : std::nullopt;
                          },
                          [](Profile& p, double v) { p.network.*member = Length::metres(v); }};
}

constexpr auto kCriteria = &Profile::criteria;
constexpr auto kNetwork = &Profile::network;

constexpr std::array kSettings{
    strength<&Criteria::governing_strength_min>(
        {"limits",
         "governing_strength_min",
         SettingUnit::share,
         0.0,
         1.0,
         Stricter::higher,
         true,
         "strength that a section must keep against the load that governs, of the sound section"}),
    strength<&Criteria::weakest_strength_min>(
        {"limits",
         "weakest_strength_min",
         SettingUnit::share,
         0.0,
         1.0,
         Stricter::higher,
         true,
         "strength that a section must keep in its weakest direction, of the sound section"}),
    plain<&Criteria::girth_ratio_min>({"limits",
                                       "girth_ratio_min",
                                       SettingUnit::share,
                                       0.0,
                                       1.0,
                                       Stricter::higher,
                                       false,
                                       "girth that a section must keep, of the original girth"}),
    inches<&Criteria::shell_min>("limits",
                                 "shell_min_in",
                                 60.0,
                                 Stricter::higher,
                                 "sound shell that internal rot must leave, at bores and behind "
                                 "wide pockets; no shell at all meets not even 0"),
    inches<&Criteria::shell_pocket_width>(
        "limits",
        "shell_pocket_width_in",
        60.0,
        Stricter::lower,
        "pockets wider than this must have that shell behind them, where there is internal rot"),
    plain<&Criteria::split_loss_max>(
        {"limits",
         "split_loss_max",
         SettingUnit::share,
         0.0,
         1.0,
         Stricter::lower,
         false,
         "area that may be lost with pieces that no longer carry, where a section falls apart"}),
    degrees<kCriteria, &Criteria::in_line_sector>(
        "sectors", "in_line_deg", 90.0, "a defect this near to the line's axis is in line"),
    degrees<kCriteria, &Criteria::out_of_line_sector>(
        "sectors",
        "out_of_line_deg",
        90.0,
        "a defect this near to the perpendicular of the axis is out of line"),
    degrees<kCriteria, &Criteria::governing_deflection_max>(
        "sectors",
        "governing_deflection_max_deg",
        180.0,
        "up to this line angle strength across the line governs, above it the weakest direction"),
    degrees<kNetwork, &NetworkSettings::tangent_limit>(
        "line",
        "tangent_max_deg",
        180.0,
        "up to this line angle a pole with two spans is a tangent"),
    degrees<kNetwork, &NetworkSettings::junction_pair_limit>(
        "line",
        "junction_pair_max_deg",
        180.0,
        "up to this line angle a pair of spans gives a junction its axis"),
    metres<&NetworkSettings::snap_tolerance>("snap_tolerance_m",
                                             "a span end this near to a pole belongs to it"),
    metres<&NetworkSettings::interior_cut>("interior_cut_m",
                                           "a route is cut at a pole this near to it"),
    metres<&NetworkSettings::id_distance_limit>(
        "id_distance_max_m", "a pole that a span names counts only up to this distance"),
    metres<&NetworkSettings::nearest_line>(
        "nearest_line_m", "a pole on no span takes the direction of a line this near"),
    inches<&Criteria::zone_top>(
        "rules", "zone_top_in", 240.0, Stricter::neither, "height of the groundline zone"),
    feet<&Criteria::section_reach>(
        "rules", "section_reach_ft", 10.0, "defects this near in height share a section"),
    plain<&Criteria::decay_girth_ratio>({"rules",
                                         "decay_girth_ratio",
                                         SettingUnit::share,
                                         0.0,
                                         1.0,
                                         Stricter::neither,
                                         false,
                                         "a girth under this share of the original is decay"}),
    plain<&Criteria::present_stands_for_original>(
        {"rules",
         "present_stands_for_original",
         SettingUnit::flag,
         0.0,
         1.0,
         Stricter::lower,
         false,
         "the present girth may stand for an original girth that is not known"}),
    plain<&Criteria::urgent_strength_share>(
        {"rules",
         "urgent_strength_share",
         SettingUnit::share,
         0.0,
         1.0,
         Stricter::neither,
         false,
         "a failed pole under this share of its strength limit is to be dealt with now"}),
    plain<&Criteria::bore_45_factor>(
        {"rules",
         "bore_45_factor",
         SettingUnit::share,
         0.0,
         1.0,
         Stricter::lower,
         false,
         "a shell read along a bore at 45 degrees counts as this share of it"}),
    degrees<kCriteria, &Criteria::bore_merge>(
        "rules", "bore_merge_deg", 30.0, "of bores this near to each other the least shell stands"),
    plain<&Criteria::join_days>({"rules",
                                 "join_days",
                                 SettingUnit::days,
                                 0.0,
                                 366.0,
                                 Stricter::neither,
                                 false,
                                 "a dated defect joins an inspection this near in time"}),
};

}  // namespace

std::span<const ProfileSetting> profile_settings() { return kSettings; }

std::span<const std::string_view> setting_groups() { return kGroups; }

nlohmann::json setting_json(const ProfileSetting& s, const Profile& profile) {
    const auto value = s.get(profile);
    if (!value) {
        return {};
    }
    if (s.unit == SettingUnit::flag) {
        return *value != 0.0;
    }
    if (s.unit == SettingUnit::days) {
        return static_cast<int>(*value);
    }
    return *value;
}

std::vector<std::string_view> setting_keys(std::string_view group) {
    std::vector<std::string_view> keys;
    for (const ProfileSetting& s : kSettings) {
        if (group.empty() || s.group == group) {
            keys.push_back(s.key);
        }
    }
    return keys;
}

}  // namespace linewood
