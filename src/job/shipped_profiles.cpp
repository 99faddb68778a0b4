#include "src/job/shipped_profiles.hpp"

#include <algorithm>
#include <array>
#include <string>

#include "src/job/embedded_text.hpp"
#include "src/job/job_error.hpp"

namespace linewood {
namespace {

constexpr std::array<std::string_view, 4> kNames{
    "general-practice", "two-thirds", "sixty-percent", "transmission-3in"};

/// As it is compared: small letters and digits alone.
std::string bare_name(std::string_view name) {
    std::string bare;
    for (const char c : name) {
        if (c >= 'A' && c <= 'Z') {
            bare += static_cast<char>(c - 'A' + 'a');
        } else if (c != ' ' && c != '-' && c != '_' && c != '.') {
            bare += c;
        }
    }
    return bare;
}

}  // namespace

void refuse_borrowed_name(const Profile& profile) {
    for (const std::string_view name : kNames) {
        if (bare_name(profile.criteria.name) == bare_name(name) &&
            profile_to_json(*shipped_profile(name)) != profile_to_json(profile)) {
            throw JobError{
                "criteria.name: \"" + profile.criteria.name + "\" is the name of a profile that " +
                "comes with the program, and this is another; give it a name of its own, so that " +
                "its reports are not taken for those of " + std::string{name}};
        }
    }
}

std::vector<std::string_view> shipped_profile_names() { return {kNames.begin(), kNames.end()}; }

std::optional<Profile> shipped_profile(std::string_view name) {
    if (std::find(kNames.begin(), kNames.end(), name) == kNames.end()) {
        return std::nullopt;
    }
    return read_profile(embedded_text(std::string{name} + ".json"));
}

}  // namespace linewood
