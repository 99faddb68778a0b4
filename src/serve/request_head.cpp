#include "src/serve/request_head.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include "geo/io/layer_schema.hpp"
#include "src/pipeline/row_decoder.hpp"

namespace linewood {
namespace {

/// The next line without its end; nothing where there is none.
std::optional<std::string_view> take_line(std::string_view& bytes) {
    const std::size_t end = bytes.find('\n');
    if (end == std::string_view::npos) {
        return std::nullopt;
    }
    std::string_view line = bytes.substr(0, end);
    bytes.remove_prefix(end + 1);
    if (!line.empty() && line.back() == '\r') {
        line.remove_suffix(1);
    }
    return line;
}

bool is_clean(std::string_view line) {
    return std::all_of(line.begin(), line.end(), [](char c) {
        const auto byte = static_cast<unsigned char>(c);
        return (byte >= 0x20 && byte != 0x7F) || c == '\t';
    });
}

/// Characters of a token (RFC 9110, 5.6.2).
bool is_token(std::string_view text) {
    constexpr std::string_view kMarks = "!#$%&'*+-.^_`|~";
    return !text.empty() && std::all_of(text.begin(), text.end(), [&](char c) {
        return (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') ||
               kMarks.find(c) != std::string_view::npos;
    });
}

bool read_request_line(std::string_view line, RequestHead& head) {
    const std::size_t first = line.find(' ');
    const std::size_t second = line.find(' ', first == std::string_view::npos ? first : first + 1);
    if (second == std::string_view::npos) {
        return false;
    }
    const std::string_view protocol = line.substr(second + 1);
    head.method = line.substr(0, first);
    head.target = line.substr(first + 1, second - first - 1);
    return is_token(head.method) && !head.target.empty() &&
           (protocol == "HTTP/1.1" || protocol == "HTTP/1.0");
}

class HeaderLines {
public:
    bool take(std::string_view line) {
        const std::size_t colon = line.find(':');
        if (colon == std::string_view::npos || !is_token(line.substr(0, colon))) {
            return false;
        }
        for (auto& [name, value] : wanted_) {
            if (same_name(line.substr(0, colon), name)) {
                if (value) {
                    return false;
                }
                value = trimmed(line.substr(colon + 1));
            }
        }
        return true;
    }
    void give(RequestHead& head) {
        head.host = wanted_[0].second.value_or("");
        head.range = std::move(wanted_[1].second);
        head.if_range = std::move(wanted_[2].second);
        head.if_none_match = std::move(wanted_[3].second);
        head.if_modified_since = std::move(wanted_[4].second);
    }

private:
    std::array<std::pair<std::string_view, std::optional<std::string>>, 5> wanted_{
        {{"host", std::nullopt},
         {"range", std::nullopt},
         {"if-range", std::nullopt},
         {"if-none-match", std::nullopt},
         {"if-modified-since", std::nullopt}}};
};

}  // namespace

std::optional<std::size_t> end_of_head(std::string_view bytes) {
    std::string_view rest = bytes;
    while (const auto line = take_line(rest)) {
        if (line->empty()) {
            return bytes.size() - rest.size();
        }
    }
    return std::nullopt;
}

std::optional<RequestHead> read_request_head(std::string_view bytes) {
    RequestHead head;
    const auto first = take_line(bytes);
    if (!first || !is_clean(*first) || !read_request_line(*first, head)) {
        return std::nullopt;
    }
    HeaderLines headers;
    for (std::size_t lines = 0; lines <= kMostHeadLines; ++lines) {
        const auto line = take_line(bytes);
        if (!line) {
            return std::nullopt;
        }
        if (line->empty()) {
            headers.give(head);
            return head;
        }
        if (!is_clean(*line) || !headers.take(*line)) {
            return std::nullopt;
        }
    }
    return std::nullopt;
}

}  // namespace linewood
