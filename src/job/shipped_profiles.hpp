#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "src/job/profile.hpp"

namespace linewood {

/// The names of the profiles that come with the program (src/job/criteria/), the default first.
std::vector<std::string_view> shipped_profile_names();

/// One of them, or nothing where none is called that.
std::optional<Profile> shipped_profile(std::string_view name);

}  // namespace linewood
