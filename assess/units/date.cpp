#include "assess/units/date.hpp"

#include <charconv>
#include <chrono>
#include <cstdio>

namespace linewood {
namespace {

std::optional<int> digits(std::string_view text) {
    int value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || end != text.data() + text.size() || text.empty() ||
        text.front() == '-') {
        return std::nullopt;
    }
    return value;
}

}  // namespace

std::optional<Date> Date::from_ymd(int year, int month, int day) {
    if (year < 1 || year > 9999 || month < 1 || month > 12 || day < 1 || day > 31) {
        return std::nullopt;
    }
    const std::chrono::year_month_day ymd{std::chrono::year{year},
                                          std::chrono::month{static_cast<unsigned>(month)},
                                          std::chrono::day{static_cast<unsigned>(day)}};
    if (!ymd.ok()) {
        return std::nullopt;
    }
    return Date{static_cast<std::int32_t>(std::chrono::sys_days{ymd}.time_since_epoch().count())};
}

std::optional<Date> Date::parse(std::string_view text) {
    if (text.size() < 10 || (text.size() > 10 && text[10] != 'T' && text[10] != ' ')) {
        return std::nullopt;
    }
    const char separator = text[4];
    if ((separator != '-' && separator != '/') || text[7] != separator) {
        return std::nullopt;
    }
    const auto year = digits(text.substr(0, 4));
    const auto month = digits(text.substr(5, 2));
    const auto day = digits(text.substr(8, 2));
    if (!year || !month || !day) {
        return std::nullopt;
    }
    return from_ymd(*year, *month, *day);
}

Date::Ymd Date::ymd() const {
    const std::chrono::year_month_day ymd{std::chrono::sys_days{std::chrono::days{days_}}};
    return {static_cast<int>(ymd.year()),
            static_cast<int>(static_cast<unsigned>(ymd.month())),
            static_cast<int>(static_cast<unsigned>(ymd.day()))};
}

std::string Date::to_string() const {
    const Ymd d = ymd();
    char text[16];
    std::snprintf(text, sizeof text, "%04d-%02d-%02d", d.year, d.month, d.day);
    return text;
}

}  // namespace linewood
