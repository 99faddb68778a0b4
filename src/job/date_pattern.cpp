#include "src/job/date_pattern.hpp"

#include <array>

#include "src/job/nearest_word.hpp"

namespace linewood {
namespace {

enum class Part { year, month, day, month_name, rest, literal };

struct Token {
    Part part = Part::literal;
    std::size_t least = 1;  ///< characters of the text
    std::size_t most = 1;
    std::size_t length = 1;  ///< characters of the pattern
};

/// The token at the beginning of a pattern that is not empty.
Token token_of(std::string_view pattern) {
    constexpr std::array<std::pair<std::string_view, Token>, 7> kTokens{{
        {"YYYY", {Part::year, 4, 4, 4}},
        {"MON", {Part::month_name, 3, 3, 3}},
        {"MM", {Part::month, 2, 2, 2}},
        {"M", {Part::month, 1, 2, 1}},
        {"DD", {Part::day, 2, 2, 2}},
        {"D", {Part::day, 1, 2, 1}},
        {"*", {Part::rest, 0, 0, 1}},
    }};
    for (const auto& [text, token] : kTokens) {
        if (pattern.substr(0, text.size()) == text) {
            return token;
        }
    }
    return {};
}

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

/// 1 to 12, or 0.
int month_named(std::string_view name) {
    constexpr std::string_view kMonths = "janfebmaraprmayjunjulaugsepoctnovdec";
    if (name.size() != 3) {
        return 0;
    }
    const std::array<char, 3> low{lower(name[0]), lower(name[1]), lower(name[2])};
    for (std::size_t month = 0; month < 12; ++month) {
        if (kMonths.substr(month * 3, 3) == std::string_view{low.data(), low.size()}) {
            return static_cast<int>(month) + 1;
        }
    }
    return 0;
}

/// Takes the digits of a token off the text; -1 where there are too few.
int take_number(std::string_view& text, const Token& token) {
    int value = 0;
    std::size_t digits = 0;
    while (digits < token.most && digits < text.size() && text[digits] >= '0' &&
           text[digits] <= '9') {
        value = value * 10 + (text[digits] - '0');
        ++digits;
    }
    text.remove_prefix(digits);
    return digits < token.least ? -1 : value;
}

}  // namespace

namespace {

std::optional<std::string> fault_of(std::string_view pattern) {
    int years = 0;
    int months = 0;
    int days = 0;
    for (std::string_view left = pattern; !left.empty();) {
        const Token token = token_of(left);
        years += token.part == Part::year ? 1 : 0;
        months += token.part == Part::month || token.part == Part::month_name ? 1 : 0;
        days += token.part == Part::day ? 1 : 0;
        if (token.part == Part::rest && left.size() > 1) {
            return "has something after *";
        }
        if (token.part == Part::literal && left.front() == 'Y') {
            return "has a year of other than four digits; YYYY is wanted";
        }
        left.remove_prefix(token.length);
    }
    if (years != 1 || months != 1 || days != 1) {
        return "must hold year (YYYY), month (MM, M or MON) and day (DD or D) once each, as "
               "DD.MM.YYYY";
    }
    return std::nullopt;
}

/// ` (did you mean "DD.MM.YYYY"?)`: the same in capitals where that is one, else the nearest usual one.
std::string nearest_pattern(std::string_view pattern) {
    std::string capitals{pattern};
    for (char& c : capitals) {
        c = c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
    }
    const std::array<std::string_view, 1> itself{capitals};
    return fault_of(capitals) ? did_you_mean(capitals, usual_date_patterns())
                              : did_you_mean(pattern, itself);
}

}  // namespace

std::optional<std::string> date_pattern_fault(std::string_view pattern) {
    const auto fault = fault_of(pattern);
    return fault ? std::optional{*fault + nearest_pattern(pattern)} : std::nullopt;
}

std::span<const std::string_view> usual_date_patterns() {
    static constexpr std::array<std::string_view, 9> kPatterns{"YYYY-MM-DD*",
                                                               "DD.MM.YYYY*",
                                                               "MM/DD/YYYY*",
                                                               "DD/MM/YYYY*",
                                                               "M/D/YYYY*",
                                                               "D/M/YYYY*",
                                                               "D.M.YYYY*",
                                                               "YYYYMMDD",
                                                               "DD-MON-YYYY*"};
    return kPatterns;
}

std::optional<Date> date_by_pattern(std::string_view text, std::string_view pattern) {
    int year = 0;
    int month = 0;
    int day = 0;
    while (!pattern.empty()) {
        const Token token = token_of(pattern);
        pattern.remove_prefix(token.length);
        switch (token.part) {
            case Part::rest:
                return Date::from_ymd(year, month, day);
            case Part::year:
                year = take_number(text, token);
                break;
            case Part::month:
                month = take_number(text, token);
                break;
            case Part::day:
                day = take_number(text, token);
                break;
            case Part::month_name:
                month = month_named(text.substr(0, 3));
                text.remove_prefix(month == 0 ? 0 : 3);
                break;
            case Part::literal:
                // The pattern moved on: its character is the one before what is left.
                if (text.empty() || text.front() != *(pattern.data() - 1)) {
                    return std::nullopt;
                }
                text.remove_prefix(1);
                break;
        }
    }
    return text.empty() ? Date::from_ymd(year, month, day) : std::nullopt;
}

}  // namespace linewood
