#pragma once

// Private to geo/io: texts with a byte 0, which no text holds.

#include <string>
#include <string_view>

namespace linewood {

/// U+FFFD, which stands for a byte 0 in what is read.
inline constexpr std::string_view kNulReplacement{"\xEF\xBF\xBD"};
/// How a byte 0 is shown in a finding.
inline constexpr std::string_view kNulShown{"\\x00"};

inline std::string with_nul_as(std::string_view text, std::string_view sign) {
    std::string out;
    for (const char c : text) {
        if (c == '\0') {
            out += sign;
        } else {
            out += c;
        }
    }
    return out;
}

}  // namespace linewood
