#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace linewood {

/// What a request asks for, as names from the served folder down.
struct RequestPath {
    std::vector<std::string> names;
    bool folder = false;  ///< it ends in `/`: the folder's page is meant

    /// As the path of a URL, other bytes than letters, digits and `-._~` as `%E4`.
    std::string url() const;
};

/// Reads the target of a request line: the path decoded once, what follows `?` left out. Nothing for what names no
/// file that is served: no `/` in front, empty names, `.` and `..`, hidden names, backslashes, control bytes, what is no
/// UTF-8 (overlong forms with it), broken `%`, names over 255 bytes, more than 32 names. What comes out goes
/// down from the folder name by name, whatever went in.
std::optional<RequestPath> read_request_path(std::string_view target);

}  // namespace linewood
