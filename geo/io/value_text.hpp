#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "geo/io/feature_batch.hpp"

namespace linewood {

/// The shortest digits that read back as the same double; never an exponent for |value| in [1e-5, 1e17).
/// `nan`, `inf`, `-inf` for what is not finite. Locale-free.
std::string number_text(double value);
std::string number_text(std::int64_t value);

/// The text as one number in full: blanks around it and a leading `+` allowed, decimal point only.
/// `null` for blank text.
Read<double, ValueStatus> parse_number(std::string_view text);
Read<Date, ValueStatus> parse_date(std::string_view text);
/// true/false, t/f, yes/no, y/n, 1/0 without case.
Read<bool, ValueStatus> parse_boolean(std::string_view text);

/// `value` with `null` and `not_finite` told apart.
Read<double, ValueStatus> checked_number(double value);

/// A point in time as files have it. `zone_minutes`: offset from UTC; nothing = none stated.
struct TimeStamp {
    int year = 0, month = 0, day = 0, hour = 0, minute = 0;
    int milliseconds = 0;  ///< of the minute, 0 to 60999
    std::optional<int> zone_minutes = std::nullopt;
};
/// The same instant on UTC's clock; unchanged where no zone is stated, or the numbers are no day.
TimeStamp in_utc(const TimeStamp& t);
/// `YYYY-MM-DDTHH:MM:SS[.mmm][Z|+HH:MM]`
std::string timestamp_text(const TimeStamp& t);
/// `HH:MM:SS[.mmm]`
std::string time_text(int hour, int minute, int milliseconds);
/// `YYYY-MM-DD`, for any numbers.
std::string date_text(int year, int month, int day);

/// Two digits a byte, upper case.
std::string hex_text(std::string_view bytes);

/// Is it well-formed UTF-8 (no overlong forms, no surrogates)?
bool is_utf8(std::string_view text);
/// Each byte that is part of no well-formed character replaced by U+FFFD.
std::string repaired_utf8(std::string_view text);
/// The same with such bytes as `\xE4`.
std::string escaped_utf8(std::string_view text);
/// The longest prefix of well-formed `text` of at most `bytes` bytes that ends between characters.
std::string_view utf8_prefix(std::string_view text, std::size_t bytes);

}  // namespace linewood
