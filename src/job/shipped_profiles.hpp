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

/// A profile of a user's own must not go by the name of a shipped one that it is not: reports name it. Case, spaces and
/// underscores make no other name; the shipped profile itself, read from a file, may have it.
/// @throws JobError
void refuse_borrowed_name(const Profile& profile);

}  // namespace linewood
