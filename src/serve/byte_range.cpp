#include "src/serve/byte_range.hpp"

#include <algorithm>
#include <charconv>
#include <limits>
#include <optional>

#include "geo/io/layer_schema.hpp"
#include "src/pipeline/row_decoder.hpp"

namespace linewood {
namespace {

constexpr std::size_t kMostRanges = 8;

/// Digits only; what is too large for 64 bits is as large as can be.
std::optional<std::uint64_t> read_number(std::string_view text) {
    if (text.empty() || text.find_first_not_of("0123456789") != std::string_view::npos) {
        return std::nullopt;
    }
    std::uint64_t value = 0;
    const auto end = std::from_chars(text.data(), text.data() + text.size(), value);
    return end.ec == std::errc{} ? value : std::numeric_limits<std::uint64_t>::max();
}

/// One range as it is written.
struct Written {
    std::optional<std::uint64_t> first;
    std::optional<std::uint64_t> last;
};

std::optional<Written> read_written(std::string_view text) {
    const std::size_t dash = text.find('-');
    if (dash == std::string_view::npos) {
        return std::nullopt;
    }
    const std::string_view first = text.substr(0, dash);
    const std::string_view last = text.substr(dash + 1);
    const Written out{read_number(first), read_number(last)};
    const bool understood = (first.empty() || out.first) && (last.empty() || out.last) &&
                            (out.first || out.last) &&
                            !(out.first && out.last && *out.last < *out.first);
    return understood ? std::optional{out} : std::nullopt;
}

/// Nothing where the file has no such bytes.
std::optional<ByteRange> in_file(const Written& asked, std::uint64_t bytes) {
    if (!asked.first) {
        const std::uint64_t length = std::min(*asked.last, bytes);
        return length > 0 ? std::optional{ByteRange{bytes - length, length}} : std::nullopt;
    }
    if (*asked.first >= bytes) {
        return std::nullopt;
    }
    const std::uint64_t last = std::min(asked.last.value_or(bytes - 1), bytes - 1);
    return ByteRange{*asked.first, last - *asked.first + 1};
}

bool overlap(std::vector<ByteRange> ranges) {
    std::sort(ranges.begin(), ranges.end(), [](const ByteRange& a, const ByteRange& b) {
        return a.begin < b.begin;
    });
    return std::adjacent_find(
               ranges.begin(), ranges.end(), [](const ByteRange& a, const ByteRange& b) {
                   return a.begin + a.length > b.begin;
               }) != ranges.end();
}

}  // namespace

AskedRanges read_ranges(std::string_view header, std::uint64_t file_bytes) {
    const std::size_t equals = header.find('=');
    if (equals == std::string_view::npos || !same_name(header.substr(0, equals), "bytes")) {
        return {};
    }
    AskedRanges out;
    std::string_view rest = header.substr(equals + 1);
    for (std::size_t count = 0;; ++count) {
        const std::size_t comma = rest.find(',');
        const auto written = read_written(trimmed(rest.substr(0, comma)));
        if (!written || count == kMostRanges) {
            return {};
        }
        if (const auto range = in_file(*written, file_bytes)) {
            out.ranges.push_back(*range);
        }
        if (comma == std::string_view::npos) {
            break;
        }
        rest = rest.substr(comma + 1);
    }
    if (overlap(out.ranges)) {
        return {};
    }
    out.kind = out.ranges.empty() ? AskedRanges::Kind::unsatisfiable : AskedRanges::Kind::parts;
    return out;
}

}  // namespace linewood
