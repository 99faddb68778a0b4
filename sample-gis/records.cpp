#include "sample-gis/records.hpp"

#include <array>
#include <chrono>
#include <cmath>
#include <cstdio>

namespace linewood::sample {

double rounded(double v, double step) {
    return std::round(std::round(v / step) * step * 1e4) / 1e4;
}

int day_of(int year, unsigned month, unsigned day) {
    const std::chrono::sys_days days{std::chrono::year{year} / std::chrono::month{month} /
                                     std::chrono::day{day}};
    return static_cast<int>(days.time_since_epoch().count());
}

std::string date_text(int day) {
    const std::chrono::year_month_day ymd{std::chrono::sys_days{std::chrono::days{day}}};
    std::array<char, 24> text{};
    std::snprintf(text.data(),
                  text.size(),
                  "%04d-%02u-%02u",
                  static_cast<int>(ymd.year()),
                  static_cast<unsigned>(ymd.month()),
                  static_cast<unsigned>(ymd.day()));
    return text.data();
}

}  // namespace linewood::sample
