#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace linewood {

/// A request without its body, as far as files are concerned.
struct RequestHead {
    std::string method;
    std::string target;
    std::string host;  ///< empty where none is stated
    std::optional<std::string> range;
    std::optional<std::string> if_range;
    std::optional<std::string> if_none_match;
    std::optional<std::string> if_modified_since;
};

inline constexpr std::size_t kMostHeadLines = 100;

/// Reads a request line and header lines up to the empty line (RFC 9112; a lone line feed ends a line as well).
/// Nothing for anything else: control bytes, lines without a colon, folded lines, a header this reads that comes
/// twice, another protocol than HTTP/1.0 and HTTP/1.1, more than kMostHeadLines lines.
std::optional<RequestHead> read_request_head(std::string_view bytes);

/// Where the empty line behind the head ends; nothing where it has not come yet.
std::optional<std::size_t> end_of_head(std::string_view bytes);

}  // namespace linewood
