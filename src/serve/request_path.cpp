#include "src/serve/request_path.hpp"

#include <algorithm>

#include "geo/io/value_text.hpp"

namespace linewood {
namespace {

constexpr std::size_t kLongestName = 255;
constexpr std::size_t kMostNames = 32;

std::optional<unsigned> hex_digit(char c) {
    if (c >= '0' && c <= '9') {
        return static_cast<unsigned>(c - '0');
    }
    const char lower = static_cast<char>(c | 0x20);
    if (lower >= 'a' && lower <= 'f') {
        return static_cast<unsigned>(lower - 'a' + 10);
    }
    return std::nullopt;
}

/// `%41` as `A`, once. Nothing where a `%` has no two digits behind it.
std::optional<std::string> decoded(std::string_view text) {
    std::string out;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] != '%') {
            out.push_back(text[i]);
            continue;
        }
        if (i + 2 >= text.size()) {
            return std::nullopt;
        }
        const auto high = hex_digit(text[i + 1]);
        const auto low = hex_digit(text[i + 2]);
        if (!high || !low) {
            return std::nullopt;
        }
        out.push_back(static_cast<char>(*high * 16 + *low));
        i += 2;
    }
    return out;
}

bool is_control(char c) {
    const auto byte = static_cast<unsigned char>(c);
    return byte < 0x20 || byte == 0x7F;
}

/// A hidden name covers `.` and `..`.
bool is_served_name(std::string_view name) {
    return !name.empty() && name.front() != '.' && name.size() <= kLongestName;
}

}  // namespace

std::string RequestPath::url() const {
    constexpr std::string_view kPlain =
        "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-._~";
    std::string out;
    for (const std::string& name : names) {
        out.push_back('/');
        for (const char c : name) {
            if (kPlain.find(c) != std::string_view::npos) {
                out.push_back(c);
            } else {
                out.append("%").append(hex_text(std::string_view{&c, 1}));
            }
        }
    }
    return folder ? out + "/" : out;
}

std::optional<RequestPath> read_request_path(std::string_view target) {
    const std::string_view raw = target.substr(0, target.find('?'));
    if (raw.empty() || raw.front() != '/' || raw.find('#') != std::string_view::npos) {
        return std::nullopt;
    }
    const auto path = decoded(raw);
    if (!path || !is_utf8(*path) || std::any_of(path->begin(), path->end(), is_control) ||
        path->find('\\') != std::string::npos) {
        return std::nullopt;
    }
    RequestPath out;
    std::string_view rest = std::string_view{*path}.substr(1);
    while (!rest.empty()) {
        const std::size_t end = rest.find('/');
        const std::string_view name = rest.substr(0, end);
        if (!is_served_name(name) || out.names.size() == kMostNames) {
            return std::nullopt;
        }
        out.names.emplace_back(name);
        rest = end == std::string_view::npos ? std::string_view{} : rest.substr(end + 1);
    }
    out.folder = path->back() == '/';
    return out;
}

}  // namespace linewood
