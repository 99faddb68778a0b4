#include "src/serve/file_answer.hpp"

#include <algorithm>
#include <array>
#include <optional>

#include <fmt/format.h>

#include "src/pipeline/row_decoder.hpp"
#include "src/serve/byte_range.hpp"
#include "src/serve/media_type.hpp"

namespace linewood {
namespace {

/// Between the parts of several ranges. Nothing a file holds can pass for it: the length of each part is known.
constexpr const char* kBoundary = "linewood-part";

/// Every answer has these: nothing is taken for what it is not said to be, read by pages from elsewhere, shown
/// inside of them, or kept without asking again.
void add_common_headers(HttpAnswer& answer) {
    answer.headers.insert(answer.headers.end(),
                          {{"Accept-Ranges", "bytes"},  // the library says so of HEAD in any case
                           {"X-Content-Type-Options", "nosniff"},
                           {"Cross-Origin-Resource-Policy", "same-origin"},
                           {"Content-Security-Policy", "frame-ancestors 'self'"},
                           {"Referrer-Policy", "no-referrer"},
                           {"Cache-Control", "no-cache"}});
}

/// Does a list of tags name this one? `*` names any.
bool names_tag(std::string_view list, std::string_view tag) {
    while (!list.empty()) {
        const std::size_t comma = list.find(',');
        std::string_view one = trimmed(list.substr(0, comma));
        if (one.starts_with("W/")) {
            one.remove_prefix(2);
        }
        if (one == "*" || one == tag) {
            return true;
        }
        list = comma == std::string_view::npos ? std::string_view{} : list.substr(comma + 1);
    }
    return false;
}

bool is_unchanged(const RequestHead& request, const ServedFile& file) {
    if (request.if_none_match) {
        return names_tag(*request.if_none_match, file.tag());
    }
    // Dates are compared as they are given out: one that is written otherwise is not known.
    return request.if_modified_since && *request.if_modified_since == http_date(file.changed());
}

/// The ranges, where they are of the file that there is.
AskedRanges ranges_of(const RequestHead& request, const ServedFile& file) {
    const bool same = !request.if_range || *request.if_range == file.tag() ||
                      *request.if_range == http_date(file.changed());
    return request.range && same ? read_ranges(*request.range, file.bytes()) : AskedRanges{};
}

std::string content_range(const ByteRange& range, std::uint64_t bytes) {
    return fmt::format("bytes {}-{}/{}", range.begin, range.begin + range.length - 1, bytes);
}

void add_parts(HttpAnswer& answer, const std::vector<ByteRange>& ranges) {
    answer.status = 206;
    const std::uint64_t bytes = answer.file->bytes();
    if (ranges.size() == 1) {
        answer.headers.emplace_back("Content-Range", content_range(ranges.front(), bytes));
        answer.parts.push_back({"", ranges.front().begin, ranges.front().length});
        return;
    }
    for (const ByteRange& range : ranges) {
        answer.parts.push_back(
            {fmt::format("{}--{}\r\nContent-Type: {}\r\nContent-Range: {}\r\n\r\n",
                         answer.parts.empty() ? "" : "\r\n",
                         kBoundary,
                         answer.media_type,
                         content_range(range, bytes)),
             range.begin,
             range.length});
    }
    answer.parts.push_back({fmt::format("\r\n--{}--\r\n", kBoundary), 0, 0});
    answer.media_type = fmt::format("multipart/byteranges; boundary={}", kBoundary);
}

HttpAnswer answer_with_file(const RequestHead& request,
                            std::shared_ptr<const ServedFile> file,
                            std::string_view name) {
    HttpAnswer answer;
    answer.file = std::move(file);
    answer.media_type = media_type_of(name);
    answer.headers = {{"ETag", answer.file->tag()},
                      {"Last-Modified", http_date(answer.file->changed())}};
    if (is_unchanged(request, *answer.file)) {
        answer.status = 304;
        answer.media_type.clear();
        add_common_headers(answer);
        return answer;
    }
    const AskedRanges asked = ranges_of(request, *answer.file);
    if (asked.kind == AskedRanges::Kind::unsatisfiable) {
        HttpAnswer none = short_answer(416, "the file has none of these bytes");
        none.headers.emplace_back("Content-Range", fmt::format("bytes */{}", answer.file->bytes()));
        return none;
    }
    if (asked.kind == AskedRanges::Kind::parts) {
        add_parts(answer, asked.ranges);
    } else {
        answer.parts.push_back({"", 0, answer.file->bytes()});
    }
    add_common_headers(answer);
    return answer;
}

/// A folder asked for without `/` at its end: pages in it would look for their files beside it.
std::optional<HttpAnswer> sent_to_folder(RequestPath path, const ServedFolder& folder) {
    path.folder = true;
    if (!folder.open(path)) {
        return std::nullopt;
    }
    HttpAnswer answer = short_answer(301, "the folder is at " + path.url());
    answer.headers.emplace_back("Location", path.url());
    return answer;
}

}  // namespace

std::uint64_t HttpAnswer::bytes() const {
    std::uint64_t bytes = 0;
    for (const AnswerPart& part : parts) {
        bytes += part.words.size() + part.length;
    }
    return bytes;
}

std::string HttpAnswer::piece(std::uint64_t offset, std::size_t most) const {
    for (const AnswerPart& part : parts) {
        if (offset < part.words.size()) {
            return part.words.substr(offset, most);
        }
        offset -= part.words.size();
        if (offset < part.length) {
            const std::uint64_t length = std::min<std::uint64_t>(most, part.length - offset);
            return file->read(part.begin + offset, length);
        }
        offset -= part.length;
    }
    return {};
}

HttpAnswer short_answer(int status, const std::string& words) {
    HttpAnswer answer;
    answer.status = status;
    answer.media_type = "text/plain; charset=utf-8";
    answer.parts.push_back({words + "\n", 0, 0});
    add_common_headers(answer);
    return answer;
}

HttpAnswer answer_request(const RequestHead& request,
                          const ServedFolder& folder,
                          const HostCheck& host) {
    if (!host.allows(request.host)) {
        return short_answer(421, "this server does not go by that name");
    }
    if (request.method != "GET" && request.method != "HEAD") {
        HttpAnswer answer = short_answer(405, "files can be looked at only");
        answer.headers.emplace_back("Allow", "GET, HEAD");
        return answer;
    }
    if (const auto path = read_request_path(request.target)) {
        const std::string_view name =
            path->folder ? kFolderPage : std::string_view{path->names.back()};
        if (auto file = folder.open(*path)) {
            return answer_with_file(request, std::move(file), name);
        }
        if (!path->folder) {
            if (auto answer = sent_to_folder(*path, folder)) {
                return *answer;
            }
        }
    }
    return short_answer(404, "there is no such file");
}

std::string http_date(std::time_t time) {
    constexpr std::array<const char*, 7> kDays{"Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"};
    constexpr std::array<const char*, 12> kMonths{
        "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
    std::tm t = {};
    if (::gmtime_r(&time, &t) == nullptr) {
        return {};
    }
    return fmt::format("{}, {:02} {} {:04} {:02}:{:02}:{:02} GMT",
                       kDays[static_cast<std::size_t>(t.tm_wday)],
                       t.tm_mday,
                       kMonths[static_cast<std::size_t>(t.tm_mon)],
                       t.tm_year + 1900,
                       t.tm_hour,
                       t.tm_min,
                       t.tm_sec);
}

}  // namespace linewood
