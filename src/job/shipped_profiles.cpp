#include "src/job/shipped_profiles.hpp"

#include <algorithm>
#include <array>
#include <string>

#include "src/job/embedded_text.hpp"

namespace linewood {
namespace {

constexpr std::array<std::string_view, 4> kNames{
    "general-practice", "two-thirds", "sixty-percent", "transmission-3in"};

}  // namespace

std::vector<std::string_view> shipped_profile_names() { return {kNames.begin(), kNames.end()}; }

std::optional<Profile> shipped_profile(std::string_view name) {
    if (std::find(kNames.begin(), kNames.end(), name) == kNames.end()) {
        return std::nullopt;
    }
    return read_profile(embedded_text(std::string{name} + ".json"));
}

}  // namespace linewood
