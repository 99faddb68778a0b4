#pragma once

#include <string>
#include <string_view>

namespace linewood {

/// Content security policy of a page of ours: the one `<style>` of the page, named by its checksum, and nothing else. No
/// scripts, nothing fetched, no `style` attributes.
/// @param style all that stands between `<style>` and `</style>`, byte for byte.
std::string page_policy(std::string_view style);

}  // namespace linewood
