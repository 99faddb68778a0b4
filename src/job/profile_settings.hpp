#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include <nlohmann/json_fwd.hpp>

#include "src/job/profile.hpp"

namespace linewood {

/// What a setting is measured in, in a profile and wherever it is shown. Its key ends in the unit.
enum class SettingUnit : std::uint8_t { share, inches, feet, degrees, metres, days, flag };

/// Which way of a setting lets more poles fail.
enum class Stricter : std::uint8_t { neither, higher, lower };

/// One setting of a profile: where it stands, what it may be, what it means.
struct ProfileSetting {
    std::string_view group;  ///< `limits`, `sectors`, `line`, `rules`
    std::string_view key;
    SettingUnit unit;
    double least;  ///< a flag is 0 or 1
    double most;
    Stricter stricter;
    bool takes_load_factors;   ///< may be given by the two load factors of a code
    std::string_view meaning;  ///< for people, to be read after the key
    /// In the unit of the key, at most nine decimals of a length; nothing where it is switched off.
    std::optional<double> (*get)(const Profile&) = nullptr;
    void (*set)(Profile&, double) = nullptr;
    bool above_least = false;  ///< `least` itself is refused
};

/// All settings, group by group, in the order in which they are shown. Keys are unique.
std::span<const ProfileSetting> profile_settings();

/// The groups in that order.
std::span<const std::string_view> setting_groups();

/// The value of a setting as a profile has it: a number, true or false; null where it is switched off.
nlohmann::json setting_json(const ProfileSetting& setting, const Profile& profile);

/// The keys of a group, or all keys where `group` is empty.
std::vector<std::string_view> setting_keys(std::string_view group = {});

}  // namespace linewood
