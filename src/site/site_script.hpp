#pragma once

#include <string>
#include <string_view>

namespace linewood {

/// JSON that may stand in a script or in a page: `<`, `>`, `&` and the line ends of Unicode (U+2028, U+2029) as
/// `\u` sequences. All of them occur in strings only.
std::string script_safe(std::string_view json);

/// A text as a JSON string that is safe in a script; bytes that are no UTF-8 become U+FFFD.
std::string script_string(std::string_view text);

/// A number as JSON, in the shortest digits that read back the same; `null` where it is not finite.
std::string script_number(double value);

/// A coordinate in degrees: 7 decimals at most (a centimetre); `null` where it is not finite.
std::string script_degrees(double degrees);

}  // namespace linewood
