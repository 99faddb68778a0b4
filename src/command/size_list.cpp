#include "src/command/size_list.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <string>

#include "assess/condition/condition_findings.hpp"
#include "src/command/typed_defect.hpp"
#include "src/job/job_error.hpp"

namespace linewood {
namespace {

constexpr std::size_t kMost = 500;
/// Of a step: an end this near is reached.
constexpr double kReached = 1e-6;

[[noreturn]] void fail(std::string_view option, std::string_view text, const std::string& why) {
    throw JobError{std::string{option} + " \"" + std::string{text} + "\": " + why +
                   "; type a list as 30,36,42 or FROM:TO:STEP as 30:60:3"};
}

std::vector<std::string_view> split(std::string_view text, char at) {
    std::vector<std::string_view> parts;
    for (;;) {
        const std::size_t end = std::min(text.find(at), text.size());
        parts.push_back(text.substr(0, end));
        if (end == text.size()) {
            return parts;
        }
        text.remove_prefix(end + 1);
    }
}

/// @param read a number of one part
template <typename Read>
std::vector<double> typed_list(
    std::string_view option, std::string_view text, double least, double most, const Read& read) {
    std::vector<double> all;
    const auto take = [&](double v) {
        if (!(v >= least && v <= most)) {
            fail(option,
                 text,
                 plain_number(v) + " is not from " + plain_number(least) + " to " +
                     plain_number(most));
        }
        if (all.size() == kMost) {
            fail(option, text, "is more than 500 values");
        }
        all.push_back(v);
    };
    for (const std::string_view part : split(text, ',')) {
        const auto ends = split(part, ':');
        if (ends.size() == 1) {
            take(read(part));
            continue;
        }
        const double step = ends.size() == 3 ? read(ends[2]) : 0.0;
        if (!(step > 0.0)) {
            fail(option, text, "has no step above 0");
        }
        const double from = read(ends[0]);
        const double to = read(ends[1]);
        if (to < from) {
            fail(option, text, "ends before it begins");
        }
        const double steps = std::floor((to - from) / step + kReached);
        if (steps >= static_cast<double>(kMost)) {
            fail(option, text, "is more than 500 values");
        }
        for (int i = 0; i <= static_cast<int>(steps); ++i) {
            take(std::min(from + step * i, to));
        }
    }
    std::sort(all.begin(), all.end());
    all.erase(std::unique(all.begin(), all.end()), all.end());
    return all;
}

}  // namespace

std::vector<Length> typed_lengths(
    std::string_view option, std::string_view text, UnitSystem units, double least, double most) {
    std::vector<Length> lengths;
    for (const double v : typed_list(option, text, least, most, [&](std::string_view part) {
             return girth_figure(typed_length(option, part, units), units);
         })) {
        lengths.push_back(units == UnitSystem::us ? Length::inches(v) : Length::millimetres(v));
    }
    return lengths;
}

std::vector<Angle> typed_angles(std::string_view option, std::string_view text) {
    std::vector<Angle> angles;
    for (const double v : typed_list(option, text, 0.0, 90.0, [&](std::string_view part) {
             double degrees = 0.0;
             const auto [end, error] =
                 std::from_chars(part.data(), part.data() + part.size(), degrees);
             if (error != std::errc{} || end != part.data() + part.size()) {
                 fail(option, text, "\"" + std::string{part} + "\" is no number of degrees");
             }
             return degrees;
         })) {
        angles.push_back(Angle::degrees(v));
    }
    return angles;
}

}  // namespace linewood
