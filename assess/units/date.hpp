#pragma once

#include <compare>
#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <string_view>

namespace linewood {

/// A calendar day (proleptic Gregorian) as days since 1970-01-01. Four bytes; no time, no zone.
class Date {
public:
    constexpr Date() = default;
    /// @return nothing where the three numbers are no day of the calendar (years 1 to 9999).
    static std::optional<Date> from_ymd(int year, int month, int day);
    /// Reads `YYYY-MM-DD` or `YYYY/MM/DD`, with anything after a `T` or a space dropped: the date
    /// part of a timestamp is used as written, without a time-zone shift.
    static std::optional<Date> parse(std::string_view text);

    constexpr std::int32_t days() const { return days_; }
    /// `YYYY-MM-DD`.
    std::string to_string() const;
    struct Ymd {
        int year, month, day;
    };
    Ymd ymd() const;

    friend constexpr auto operator<=>(Date, Date) = default;

private:
    explicit constexpr Date(std::int32_t days) : days_{days} {}
    std::int32_t days_ = 0;
};

}  // namespace linewood
