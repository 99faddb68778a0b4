#pragma once

#include <string>
#include <vector>

#include "src/job/profile.hpp"

namespace linewood {

/// A line for each profile: its name and the first sentence of its note.
std::string criteria_list_text(const std::vector<Profile>& profiles);
/// The same as a JSON list of objects: `name`, `note`, `sha256`.
std::string criteria_list_json(const std::vector<Profile>& profiles);

/// A whole profile for people: every setting with its meaning and its source.
std::string criteria_text(const Profile& profile);
/// A whole profile as a file that `--criteria` takes.
std::string criteria_json(const Profile& profile);

/// What a checked file is, where it differs from the default and what that means.
struct CheckedCriteria {
    std::string file;
    const Profile& profile;
    const Profile& standard;  ///< the default profile
};
std::string criteria_check_text(const CheckedCriteria& checked);
std::string criteria_check_json(const CheckedCriteria& checked);

}  // namespace linewood
