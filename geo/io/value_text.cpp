#include "geo/io/value_text.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <chrono>
#include <cmath>
#include <cstring>

#include "geo/io/layer_schema.hpp"

namespace linewood {
namespace {

std::string_view trimmed(std::string_view text) {
    constexpr std::string_view kBlanks = " \t\r\n";
    const std::size_t first = text.find_first_not_of(kBlanks);
    if (first == std::string_view::npos) {
        return {};
    }
    return text.substr(first, text.find_last_not_of(kBlanks) - first + 1);
}

void append_padded(std::string& out, int value, std::size_t width) {
    const std::string digits = std::to_string(value);
    if (digits.size() < width) {
        out.append(width - digits.size(), '0');
    }
    out += digits;
}

/// Bytes that may follow a lead byte of three or four: overlong forms, surrogates and what lies beyond
/// U+10FFFF are ill-formed.
bool second_byte_fits(unsigned lead, unsigned second) {
    switch (lead) {
        case 0xE0U:
            return second >= 0xA0U;
        case 0xEDU:
            return second < 0xA0U;
        case 0xF0U:
            return second >= 0x90U;
        case 0xF4U:
            return second < 0x90U;
        default:
            return true;
    }
}

/// Length of the well-formed character at the front of `text`, 0 where it is ill-formed.
/// @pre not empty.
std::size_t character_length(std::string_view text) {
    const unsigned lead = static_cast<unsigned char>(text[0]);
    if (lead < 0x80U) {
        return 1;
    }
    std::size_t length = 0;
    if (lead >= 0xC2U && lead <= 0xDFU) {
        length = 2;
    } else if (lead >= 0xE0U && lead <= 0xEFU) {
        length = 3;
    } else if (lead >= 0xF0U && lead <= 0xF4U) {
        length = 4;
    }
    if (length == 0 || text.size() < length ||
        !second_byte_fits(lead, static_cast<unsigned char>(text[1]))) {
        return 0;
    }
    const bool good = std::all_of(
        text.begin() + 1, text.begin() + static_cast<std::ptrdiff_t>(length), [](char c) {
            return (static_cast<unsigned>(c) & 0xC0U) == 0x80U;
        });
    return good ? length : 0;
}

}  // namespace

std::string number_text(double value) {
    if (std::isnan(value)) {
        return "nan";
    }
    if (std::isinf(value)) {
        return value > 0.0 ? "inf" : "-inf";
    }
    std::array<char, 64> buffer{};
    const double size = std::abs(value);
    const bool plain = value == 0.0 || (size >= 1e-5 && size < 1e17);
    const auto format = plain ? std::chars_format::fixed : std::chars_format::scientific;
    const auto result = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, format);
    return {buffer.data(), result.ptr};
}

std::string number_text(std::int64_t value) { return std::to_string(value); }

Read<double, ValueStatus> checked_number(double value) {
    if (!std::isfinite(value)) {
        return {std::nullopt, ValueStatus::not_finite};
    }
    return {value, ValueStatus::ok};
}

Read<double, ValueStatus> parse_number(std::string_view text) {
    std::string_view body = trimmed(text);
    if (body.empty()) {
        return {};
    }
    if (body.size() > 1 && body[0] == '+' && body[1] != '-' && body[1] != '+') {
        body.remove_prefix(1);
    }
    double value = 0.0;
    const char* last = body.data() + body.size();
    const auto [end, error] = std::from_chars(body.data(), last, value);
    if (error == std::errc::result_out_of_range && end == last) {
        return {std::nullopt, ValueStatus::not_finite};
    }
    if (error != std::errc{} || end != last) {
        return {std::nullopt, ValueStatus::unreadable};
    }
    return checked_number(value);
}

Read<Date, ValueStatus> parse_date(std::string_view text) {
    const std::string_view body = trimmed(text);
    if (body.empty()) {
        return {};
    }
    if (const auto date = Date::parse(body)) {
        return {date, ValueStatus::ok};
    }
    return {std::nullopt, ValueStatus::unreadable};
}

Read<bool, ValueStatus> parse_boolean(std::string_view text) {
    const std::string_view body = trimmed(text);
    if (body.empty()) {
        return {};
    }
    for (const std::string_view word : {"true", "t", "yes", "y", "1"}) {
        if (same_name(body, word)) {
            return {true, ValueStatus::ok};
        }
    }
    for (const std::string_view word : {"false", "f", "no", "n", "0"}) {
        if (same_name(body, word)) {
            return {false, ValueStatus::ok};
        }
    }
    return {std::nullopt, ValueStatus::unreadable};
}

std::string date_text(int year, int month, int day) {
    std::string out;
    append_padded(out, year, 4);
    out += '-';
    append_padded(out, month, 2);
    out += '-';
    append_padded(out, day, 2);
    return out;
}

std::string time_text(int hour, int minute, int milliseconds) {
    std::string out;
    append_padded(out, hour, 2);
    out += ':';
    append_padded(out, minute, 2);
    out += ':';
    append_padded(out, milliseconds / 1000, 2);
    if (milliseconds % 1000 != 0) {
        out += '.';
        append_padded(out, milliseconds % 1000, 3);
    }
    return out;
}

TimeStamp in_utc(const TimeStamp& t) {
    if (!t.zone_minutes || *t.zone_minutes == 0) {
        return t;
    }
    const std::chrono::year_month_day day{std::chrono::year{t.year},
                                          std::chrono::month{static_cast<unsigned>(t.month)},
                                          std::chrono::day{static_cast<unsigned>(t.day)}};
    if (!day.ok()) {
        return t;
    }
    const auto at = std::chrono::sys_days{day} + std::chrono::hours{t.hour} +
                    std::chrono::minutes{t.minute - *t.zone_minutes};
    const auto midnight = std::chrono::floor<std::chrono::days>(at);
    const std::chrono::year_month_day date{midnight};
    const auto minutes = static_cast<int>((at - midnight).count());
    TimeStamp out = t;
    out.year = static_cast<int>(date.year());
    out.month = static_cast<int>(static_cast<unsigned>(date.month()));
    out.day = static_cast<int>(static_cast<unsigned>(date.day()));
    out.hour = minutes / 60;
    out.minute = minutes % 60;
    out.zone_minutes = 0;
    return out;
}

std::string timestamp_text(const TimeStamp& t) {
    std::string out = date_text(t.year, t.month, t.day);
    out += 'T';
    out += time_text(t.hour, t.minute, t.milliseconds);
    if (t.zone_minutes == 0) {
        out += 'Z';
    } else if (t.zone_minutes) {
        const int offset = std::abs(*t.zone_minutes);
        out += *t.zone_minutes < 0 ? '-' : '+';
        append_padded(out, offset / 60, 2);
        out += ':';
        append_padded(out, offset % 60, 2);
    }
    return out;
}

std::string hex_text(std::string_view bytes) {
    constexpr std::string_view kDigits = "0123456789ABCDEF";
    std::string out;
    out.reserve(bytes.size() * 2);
    for (const char c : bytes) {
        const auto byte = static_cast<unsigned char>(c);
        out += kDigits[byte >> 4U];
        out += kDigits[byte & 0xFU];
    }
    return out;
}

bool is_utf8(std::string_view text) {
    constexpr std::uint64_t kHighBits = 0x8080808080808080U;
    for (std::uint64_t eight = 0; text.size() >= sizeof eight;) {
        std::memcpy(&eight, text.data(), sizeof eight);
        if ((eight & kHighBits) != 0) {
            break;
        }
        text.remove_prefix(sizeof eight);
    }
    while (!text.empty()) {
        const std::size_t length = character_length(text);
        if (length == 0) {
            return false;
        }
        text.remove_prefix(length);
    }
    return true;
}

namespace {

/// `text` with what `bad` gives for each byte that is part of no well-formed character.
template <typename Bad>
std::string with_bad_bytes(std::string_view text, const Bad& bad) {
    std::string out;
    out.reserve(text.size());
    while (!text.empty()) {
        const std::size_t length = character_length(text);
        if (length == 0) {
            out += bad(text.substr(0, 1));
            text.remove_prefix(1);
        } else {
            out.append(text.substr(0, length));
            text.remove_prefix(length);
        }
    }
    return out;
}

}  // namespace

std::string repaired_utf8(std::string_view text) {
    return with_bad_bytes(text, [](std::string_view /*byte*/) { return "\xEF\xBF\xBD"; });
}

std::string escaped_utf8(std::string_view text) {
    return with_bad_bytes(text, [](std::string_view byte) { return "\\x" + hex_text(byte); });
}

std::string_view utf8_prefix(std::string_view text, std::size_t bytes) {
    if (text.size() <= bytes) {
        return text;
    }
    while (bytes > 0 && (static_cast<unsigned char>(text[bytes]) & 0xC0U) == 0x80U) {
        --bytes;
    }
    return text.substr(0, bytes);
}

}  // namespace linewood
