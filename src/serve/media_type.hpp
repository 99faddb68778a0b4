#pragma once

#include <string_view>

namespace linewood {

/// What a browser shall take a file for, by the ending of its name, in any case; `application/octet-stream`
/// for endings that a published folder does not have.
std::string_view media_type_of(std::string_view file_name);

}  // namespace linewood
