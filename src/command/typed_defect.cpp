#include "src/command/typed_defect.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <optional>
#include <vector>

#include "src/job/job_error.hpp"
#include "src/job/nearest_word.hpp"

namespace linewood {
namespace {

constexpr std::string_view kPocketForm =
    "--pocket AZIMUTH,WIDTH,DEPTH (as 90,5,3), WIDTH,DEPTH where the direction is not known (5,3), "
    "or "
    "POSITION,WIDTH,DEPTH (out_of_line,5,3)";
constexpr std::string_view kBoreForm =
    "--bore AZIMUTH,SHELL (as 180,2.5), or SHELL where the direction is not known (2.5)";

constexpr std::array<std::pair<std::string_view, FacePosition>, 5> kPositions{
    {{"inline", FacePosition::in_line},
     {"outofline", FacePosition::out_of_line},
     {"out", FacePosition::out_of_line},
     {"across", FacePosition::out_of_line},
     {"oblique", FacePosition::oblique}}};
constexpr std::array<std::pair<std::string_view, DefectCause>, 7> kCauses{
    {{"decay", DefectCause::decay},
     {"insect", DefectCause::insect},
     {"mechanical", DefectCause::mechanical},
     {"woodpecker", DefectCause::woodpecker},
     {"fire", DefectCause::fire},
     {"check", DefectCause::check},
     {"bolthole", DefectCause::bolt_hole}}};
constexpr std::array<std::pair<std::string_view, double>, 16> kCompass{{{"n", 0.0},
                                                                        {"nne", 22.5},
                                                                        {"ne", 45.0},
                                                                        {"ene", 67.5},
                                                                        {"e", 90.0},
                                                                        {"ese", 112.5},
                                                                        {"se", 135.0},
                                                                        {"sse", 157.5},
                                                                        {"s", 180.0},
                                                                        {"ssw", 202.5},
                                                                        {"sw", 225.0},
                                                                        {"wsw", 247.5},
                                                                        {"w", 270.0},
                                                                        {"wnw", 292.5},
                                                                        {"nw", 315.0},
                                                                        {"nnw", 337.5}}};
/// Every word a pocket may hold, as it is usually written, for advice.
constexpr std::array<std::string_view, 10> kPocketWords{"in_line",
                                                        "out_of_line",
                                                        "oblique",
                                                        "decay",
                                                        "insect",
                                                        "mechanical",
                                                        "woodpecker",
                                                        "fire",
                                                        "check",
                                                        "bolt_hole"};

/// Units at the end of a number, the longer first; in metres.
constexpr std::array<std::pair<std::string_view, double>, 9> kUnits{{{"mm", 0.001},
                                                                     {"cm", 0.01},
                                                                     {"inches", 0.0254},
                                                                     {"inch", 0.0254},
                                                                     {"in", 0.0254},
                                                                     {"\"", 0.0254},
                                                                     {"ft", 0.3048},
                                                                     {"'", 0.3048},
                                                                     {"m", 1.0}}};

[[noreturn]] void fail(std::string_view option,
                       std::string_view text,
                       std::string_view what,
                       std::string_view form) {
    std::string message{option};
    message.append(" \"").append(text).append("\": ").append(what);
    if (!form.empty()) {
        message.append("; type ").append(form);
    }
    throw JobError{message};
}

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

std::string key_of(std::string_view word) {
    std::string key;
    for (const char c : word) {
        if (c != '_' && c != '-') {
            key += lower(c);
        }
    }
    return key;
}

template <typename Value, std::size_t n>
std::optional<Value> find_word(const std::array<std::pair<std::string_view, Value>, n>& words,
                               std::string_view text) {
    const std::string key = key_of(text);
    for (const auto& [word, value] : words) {
        if (word == key) {
            return value;
        }
    }
    return std::nullopt;
}

/// A plain decimal number that is the whole of `text`, with an optional sign.
std::optional<double> whole_number(std::string_view text) {
    if (!text.empty() && text.front() == '+') {
        text.remove_prefix(1);
    }
    double v = 0.0;
    const auto [end, error] =
        std::from_chars(text.data(), text.data() + text.size(), v, std::chars_format::fixed);
    const bool whole = error == std::errc{} && end == text.data() + text.size();
    return whole && std::isfinite(v) ? std::optional{v} : std::nullopt;
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// Begins like a number: a measure, if a bad one, and no word.
bool looks_like_number(std::string_view text) {
    const std::size_t sign = !text.empty() && (text[0] == '-' || text[0] == '+') ? 1 : 0;
    return sign < text.size() && (is_digit(text[sign]) || text[sign] == '.');
}

/// Parts of a list. A direction after `@` is moved to the front, where directions stand.
std::vector<std::string_view> parts_of(std::string_view text) {
    std::vector<std::string_view> parts;
    std::vector<std::string_view> directions;
    std::size_t begin = 0;
    bool after_at = false;
    const auto take = [&](std::size_t end) {
        if (end > begin) {
            (after_at ? directions : parts).push_back(text.substr(begin, end - begin));
        }
        begin = end + 1;
    };
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        const bool times = (c == 'x' || c == 'X') && i > begin &&
                           looks_like_number(text.substr(begin)) && i + 1 < text.size() &&
                           looks_like_number(text.substr(i + 1));
        if (c == ',' || c == ':' || c == ';' || c == ' ' || c == '@' || times) {
            take(i);
            after_at = c == '@';
        }
    }
    take(text.size());
    parts.insert(parts.begin(), directions.begin(), directions.end());
    return parts;
}

/// A typed list sorted into numbers and what its words said.
struct TypedList {
    std::vector<std::string_view> numbers;
    std::optional<Bearing> compass;
};

/// @param take_word whether a word meant something
template <typename TakeWord>
TypedList sort_list(std::string_view text, TakeWord take_word) {
    TypedList list;
    for (const std::string_view part : parts_of(text)) {
        if (looks_like_number(part)) {
            list.numbers.push_back(part);
        } else if (const auto point = find_word(kCompass, part)) {
            list.compass = Bearing::degrees(*point);
        } else {
            take_word(part);
        }
    }
    return list;
}

/// Takes the direction off a list that holds one number more than its sizes, or a compass point.
Maybe<Bearing> take_direction(std::string_view option, TypedList& list, std::size_t sizes) {
    if (list.compass) {
        return *list.compass;
    }
    if (list.numbers.size() != sizes + 1) {
        return {};
    }
    const Bearing direction = typed_direction(option, list.numbers.front());
    list.numbers.erase(list.numbers.begin());
    return direction;
}

void take_pocket_word(std::string_view text, std::string_view word, UnitSystem units, Defect& d) {
    constexpr std::string_view kExtent = "extent=";
    if (word.substr(0, kExtent.size()) == kExtent) {
        d.extent = typed_length("--pocket extent", word.substr(kExtent.size()), units);
    } else if (const auto position = find_word(kPositions, word)) {
        d.position = *position;
    } else if (const auto cause = find_word(kCauses, word)) {
        d.cause = *cause;
    } else {
        fail("--pocket",
             text,
             "\"" + std::string{word} + "\" is no number, direction, position or cause" +
                 did_you_mean(word, kPocketWords),
             kPocketForm);
    }
}

/// A number of degrees, with or without the unit.
std::optional<double> number_of_degrees(std::string_view text) {
    for (const std::string_view unit : {"\u00b0", "degrees", "deg"}) {
        if (text.size() > unit.size() && text.substr(text.size() - unit.size()) == unit) {
            text.remove_suffix(unit.size());
            break;
        }
    }
    return whole_number(text);
}

}  // namespace

Length typed_length(std::string_view option, std::string_view text, UnitSystem units) {
    std::string_view digits = text;
    double metres = units == UnitSystem::us ? 0.0254 : 0.001;
    for (const auto& [unit, factor] : kUnits) {
        if (digits.size() > unit.size() && digits.substr(digits.size() - unit.size()) == unit) {
            digits.remove_suffix(unit.size());
            metres = factor;
            break;
        }
    }
    const auto v = whole_number(digits);
    const std::string unit{girth_unit(units)};
    if (!v) {
        fail(option,
             text,
             "is no length",
             "a number in " + unit + ", or with its unit, as 40in or 1016mm");
    }
    if (*v < 0.0) {
        fail(option, text, "is less than nothing", "a length of at least 0");
    }
    if (*v * metres > 100.0) {
        fail(option, text, "is over 100 m", "a number in " + unit);
    }
    // By name where the number has the usual unit, so that 40 in is 40 in to the last digit.
    return metres == 0.0254  ? Length::inches(*v)
           : metres == 0.001 ? Length::millimetres(*v)
                             : Length::metres(*v * metres);
}

Bearing typed_direction(std::string_view option, std::string_view text) {
    if (const auto point = find_word(kCompass, text)) {
        return Bearing::degrees(*point);
    }
    const auto v = number_of_degrees(text);
    if (!v || std::abs(*v) > 360.0) {
        fail(option,
             text,
             "is no direction",
             "degrees clockwise from true north (0 to 360), or a compass point (N, NE, ...)");
    }
    return Bearing::degrees(*v);
}

Angle typed_line_angle(std::string_view option, std::string_view text) {
    const auto v = number_of_degrees(text);
    if (!v || !(*v >= 0.0 && *v <= 180.0)) {
        fail(option, text, "is no line angle", "degrees from 0 (straight on) to 180");
    }
    return Angle::degrees(*v);
}

Defect typed_pocket(std::string_view text, UnitSystem units) {
    Defect d;
    d.kind = DefectKind::external_pocket;
    TypedList list =
        sort_list(text, [&](std::string_view word) { take_pocket_word(text, word, units, d); });
    d.azimuth = take_direction("--pocket", list, 2);
    if (list.numbers.size() != 2) {
        fail("--pocket", text, "does not hold a width and a depth", kPocketForm);
    }
    d.width = typed_length("--pocket width", list.numbers[0], units);
    d.depth = typed_length("--pocket depth", list.numbers[1], units);
    return d;
}

Defect typed_bore(std::string_view text, UnitSystem units) {
    Defect d;
    d.kind = DefectKind::internal_rot;
    const TypedList list = sort_list(text, [&](std::string_view word) {
        if (key_of(word) != "pocket" && key_of(word) != "frompocket") {
            fail("--bore",
                 text,
                 "\"" + std::string{word} + R"(" is no number, direction or "pocket")",
                 kBoreForm);
        }
        d.bore_from = BoreFrom::pocket;
    });
    std::vector<std::string_view> numbers = list.numbers;
    if (list.compass) {
        d.azimuth = *list.compass;
    } else if (numbers.size() > 1) {
        d.azimuth = typed_direction("--bore", numbers.front());
        numbers.erase(numbers.begin());
    }
    if (numbers.empty() || numbers.size() > 2) {
        fail("--bore", text, "does not hold one shell thickness", kBoreForm);
    }
    d.shell_thickness = typed_length("--bore shell", numbers[0], units);
    if (numbers.size() == 2) {
        const auto angle = whole_number(numbers[1]);
        if (!angle || *angle < 0.0 || *angle >= 90.0) {
            fail("--bore",
                 text,
                 "the bore's angle is not between 0 and 90 degrees",
                 "--bore AZIMUTH,SHELL,ANGLE (as 180,3.5,45)");
        }
        d.bore_angle = Angle::degrees(*angle);
    }
    return d;
}

Defect typed_sound_bore(std::string_view text) {
    Defect d;
    d.kind = DefectKind::bore;
    d.azimuth = typed_direction("--sound", text);
    return d;
}

Defect typed_shell_rot(std::string_view text, UnitSystem units) {
    Defect d;
    d.kind = DefectKind::shell_rot;
    d.depth = typed_length("--shell-rot", text, units);
    return d;
}

}  // namespace linewood
