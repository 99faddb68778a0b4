#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace linewood {

/// Column names for Shapefiles, whose tables allow ten bytes a name.
///
/// The tool's own fields have a fixed, hand-chosen short name each (`remaining_pct` is `remain_pct`), in
/// every dataset the same. Other names of up to ten ASCII letters, digits and underscores stay. Longer ones
/// are shortened by one rule: other characters become `_`, then vowels within words go from the end until
/// ten are left, then the middle goes. Where two would be equal (without case), the later one
/// ends in two letters made of its full name, so that the result depends on the names and not on their
/// order of arrival wherever that is possible; never in a running number.
///
/// @return one name for each of `names`, in order, all different without case, 1 to 10 bytes.
std::vector<std::string> short_names(const std::vector<std::string>& names);

/// The hand-chosen short name of one of the tool's own fields; empty for any other.
std::string_view own_short_name(std::string_view name);

}  // namespace linewood
