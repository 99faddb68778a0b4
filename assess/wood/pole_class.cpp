#include "assess/wood/pole_class.hpp"

#include <array>
#include <cstddef>

#include "assess/wood/round_strength.hpp"

namespace linewood {
namespace {

constexpr std::array<std::string_view, kPoleClassCount> kNames{
    "H6", "H5", "H4", "H3", "H2", "H1", "1", "2", "3", "4", "5", "6", "7", "9", "10"};

constexpr ClassRow row(PoleClass c,
                       double top_in,
                       std::string_view top_confidence,
                       double load_lb,
                       std::string_view load_confidence) {
    return {c, Length::inches(top_in), load_lb * kNewtonsPerPound, top_confidence, load_confidence};
}

constexpr std::string_view kMemory = "memory";
constexpr std::string_view kStep = "memory (fits the read 2-in steps)";
constexpr std::string_view kRead = "read";
constexpr std::string_view kWeak = "read (secondary, weak)";
constexpr std::string_view kTwo = "two sources";

constexpr std::array<ClassRow, kPoleClassCount> kRows{
    row(PoleClass::h6, 39, kStep, 11400, kMemory),
    row(PoleClass::h5, 37, kRead, 10000, kRead),
    row(PoleClass::h4, 35, kStep, 8700, kMemory),
    row(PoleClass::h3, 33, kStep, 7500, kMemory),
    row(PoleClass::h2, 31, kStep, 6400, kMemory),
    row(PoleClass::h1, 29, kRead, 5400, kRead),
    row(PoleClass::c1, 27, kTwo, 4500, kTwo),
    row(PoleClass::c2, 25, kRead, 3700, kWeak),
    row(PoleClass::c3, 23, kRead, 3000, kWeak),
    row(PoleClass::c4, 21, kRead, 2400, kWeak),
    row(PoleClass::c5, 19, kTwo, 1900, kTwo),
    row(PoleClass::c6, 17, kTwo, 1500, kRead),
    row(PoleClass::c7, 15, kRead, 1200, kMemory),
    row(PoleClass::c9, 15, kMemory, 740, kMemory),
    row(PoleClass::c10, 12, kRead, 370, kRead),
};

constexpr bool is_blank(char c) {
    return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\f' || c == '\v';
}

constexpr char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

std::string_view trim(std::string_view text) {
    while (!text.empty() && is_blank(text.front())) {
        text.remove_prefix(1);
    }
    while (!text.empty() && is_blank(text.back())) {
        text.remove_suffix(1);
    }
    return text;
}

/// Takes `word` (lower case) off the front of `text`, whatever its case.
bool take(std::string_view& text, std::string_view word) {
    if (text.size() < word.size()) {
        return false;
    }
    for (std::size_t i = 0; i < word.size(); ++i) {
        if (lower(text[i]) != word[i]) {
            return false;
        }
    }
    text.remove_prefix(word.size());
    return true;
}

/// `4.0` and `4.000` are the class 4 of a column of reals.
std::string_view without_zero_decimals(std::string_view text) {
    const std::size_t point = text.find('.');
    if (point == std::string_view::npos || point + 1 == text.size() ||
        text.find_first_not_of('0', point + 1) != std::string_view::npos) {
        return text;
    }
    return text.substr(0, point);
}

}  // namespace

std::optional<PoleClass> parse_pole_class(std::string_view text) {
    text = trim(text);
    if (take(text, "class") || take(text, "cl.") || take(text, "cl")) {
        text = trim(text);
    }
    const bool is_h = take(text, "h");
    if (is_h) {
        while (!text.empty() &&
               (text.front() == '-' || text.front() == '_' || is_blank(text.front()))) {
            text.remove_prefix(1);
        }
    }
    text = without_zero_decimals(text);
    for (std::size_t i = 0; i < kNames.size(); ++i) {
        std::string_view name = kNames[i];
        if (take(name, "h") == is_h && name == text) {
            return static_cast<PoleClass>(i);
        }
    }
    return std::nullopt;
}

std::string_view name_of(PoleClass c) { return kNames[static_cast<std::size_t>(c)]; }

const ClassRow& class_row(PoleClass c) { return kRows[static_cast<std::size_t>(c)]; }

}  // namespace linewood
