#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "assess/condition/sectors.hpp"
#include "src/report/section_drawing_parts.hpp"

namespace linewood {
namespace {

constexpr double kRow = 23.0;
constexpr double kHead = 30.0;
constexpr double kNumbersX = 30.0;
constexpr double kValueEnd = kNumbersX + 288.0;
constexpr double kDefectsX = 458.0;
constexpr double kLegendX = 702.0;
constexpr std::size_t kRowLetters = 33;  // of a defect: fits between kDefectsX and kLegendX
constexpr std::array<double, 3> kMoreX{kNumbersX, 315.0, 600.0};  // defects below the rest

/// One line of the key numbers.
struct NumberRow {
    std::string label;
    std::string value;
    std::string limit;
    bool meets = true;
};

std::string plain_percent(double share) { return svg_number(share * 100.0) + " %"; }

std::string load_words(Maybe<Axis> axis) {
    return axis ? fmt::format("load at {:.1f}\u00b0", axis->degrees())
                : std::string{"every direction"};
}

void add_strengths(const SectionDrawingInput& in, std::vector<NumberRow>& rows) {
    const SectionStrengths& s = *in.section.strengths;
    const Criteria& c = in.criteria;
    const bool transverse = transverse_governs(in.line, c);
    // Where something needed is missing the strengths are no values, only what they are at most.
    const std::string at_most = in.section.upper_bound ? "\u2264 " : "";
    rows.push_back({transverse ? "Governs: A, across the line" : "Governs: W, weakest",
                    at_most + share_text(s.governing, c.governing_strength_min),
                    plain_percent(c.governing_strength_min),
                    c.meets(s.governing, c.governing_strength_min)});
    rows.push_back({"W weakest, " + load_words(s.weakest_axis),
                    at_most + share_text(s.weakest, c.weakest_strength_min),
                    plain_percent(c.weakest_strength_min),
                    c.meets(s.weakest, c.weakest_strength_min)});
    if (s.transverse && !transverse) {
        rows.push_back({"A across the line", share_text(*s.transverse), "", true});
    }
    if (s.longitudinal) {
        rows.push_back({"L along the line", share_text(*s.longitudinal), "", true});
    }
}

std::vector<NumberRow> number_rows(const SectionDrawingInput& in) {
    const SectionCondition& s = in.section;
    const Criteria& c = in.criteria;
    std::vector<NumberRow> rows;
    if (s.strengths && s.original && s.present) {
        add_strengths(in, rows);
        const double girth = *s.present / *s.original;
        rows.push_back({"Girth, share of the original",
                        share_text(girth, c.girth_ratio_min),
                        share_text(c.girth_ratio_min),
                        c.meets(girth, c.girth_ratio_min)});
        rows.push_back({"Area, share of the original", share_text(s.strengths->area), "", true});
    }
    if (s.shell_min) {
        rows.push_back({fmt::format("Least sound shell, {}", girth_unit(in.units)),
                        figure_text(*s.shell_min, in.units),
                        figure_text(c.shell_min, in.units),
                        c.meets(s.shell_min->metres(), c.shell_min.metres())});
    }
    if (s.pieces != 1) {
        rows.push_back({"Pieces", std::to_string(s.pieces), s.split ? "in one" : "", !s.split});
    }
    return rows;
}

std::string girth_line(const SectionDrawingInput& in) {
    const auto figure = [&](Maybe<Length> l) {
        return l ? fmt::format("{} {}", figure_text(*l, in.units), girth_unit(in.units))
                 : std::string{"not known"};
    };
    return "Girth now " + figure(in.section.present) + ", original " + figure(in.section.original);
}

std::string sector_words(const SectionDrawingInput& in, Bearing azimuth) {
    if (!in.line.axis) {
        return "";
    }
    switch (sector_of(azimuth, *in.line.axis, in.criteria)) {
        case FacePosition::in_line:
            return ", in line";
        case FacePosition::out_of_line:
            return ", out of line";
        default:
            return ", oblique";
    }
}

std::size_t letters_in(std::string_view text) {
    return static_cast<std::size_t>(
        std::count_if(text.begin(), text.end(), [](char c) { return (c & 0xC0) != 0x80; }));
}

/// A defect, with its sector on a line of its own where there is no room beside it.
void add_defect(std::vector<std::string>& rows,
                const std::string& what,
                const std::string& sector) {
    if (letters_in(what) + letters_in(sector) <= kRowLetters) {
        rows.push_back(what + sector);
        return;
    }
    rows.push_back(what + ",");
    rows.push_back("\u00a0\u00a0\u00a0" + sector.substr(2));
}

std::string azimuth_text(Bearing azimuth) {
    return svg_number(std::round(azimuth.degrees() * 10.0) / 10.0) + "\u00b0";
}

std::vector<std::string> defect_rows(const SectionParts& parts) {
    const SectionDrawingInput& in = parts.in;
    const SectionShape& shape = in.section.shape;
    std::vector<std::string> rows;
    for (std::size_t i = 0; i < shape.pockets.size(); ++i) {
        const Pocket& p = shape.pockets[i];
        const bool placed = std::count(in.placed_pockets.begin(), in.placed_pockets.end(), i) > 0;
        add_defect(rows,
                   fmt::format("P{}{} {} \u00d7 {} at {}",
                               i + 1,
                               placed ? "*" : "",
                               figure_text(p.width, in.units),
                               figure_text(p.depth, in.units),
                               azimuth_text(p.azimuth)),
                   sector_words(in, p.azimuth));
    }
    for (std::size_t i = 0; i < parts.shell.size(); ++i) {
        const ShellReading& r = parts.shell[i];
        if (in.shell_all_round) {
            rows.push_back(
                fmt::format("Shell {} all round: bores", figure_text(r.thickness, in.units)));
            rows.emplace_back("without a direction");
        } else if (r.thickness >= shape.radius) {
            rows.push_back(fmt::format("B{} sound at {}", i + 1, azimuth_text(r.azimuth)));
        } else {
            rows.push_back(fmt::format("B{} shell {} at {}",
                                       i + 1,
                                       figure_text(r.thickness, in.units),
                                       azimuth_text(r.azimuth)));
        }
    }
    if (!in.placed_pockets.empty()) {
        rows.emplace_back("* direction not certain:");
        rows.emplace_back("put where it costs most");
    }
    const std::vector<bool> shown = shown_labels(label_azimuths(parts), kLabelGap);
    if (std::count(shown.begin(), shown.end(), false) > 0) {
        rows.emplace_back("In the plan only every so many");
        rows.emplace_back("has its number: no room");
    }
    if (rows.empty()) {
        rows.emplace_back(parts.has_shape() ? "none" : "not drawn without a girth");
    }
    return rows;
}

/// What a swatch of the legend shows.
enum class Swatch {
    wood,
    lost,
    pocket,
    rot,
    original,
    line,
    across,
    in_line,
    out_of_line,
    bore,
    sound,
    curve,
    limit,
    weakest_limit
};

struct LegendRow {
    Swatch swatch;
    std::string_view words;
};

std::vector<LegendRow> legend_rows(const SectionParts& parts) {
    const SectionDrawingInput& in = parts.in;
    const auto& shell = parts.shell;
    const bool bores = !in.shell_all_round && !shell.empty();
    const auto is_sound = [&](const ShellReading& r) {
        return r.thickness >= in.section.shape.radius;
    };
    const bool any_sound = bores && std::any_of(shell.begin(), shell.end(), is_sound);
    const bool any_rot = bores && !std::all_of(shell.begin(), shell.end(), is_sound);
    const bool drawn = parts.has_shape();
    const bool assumed = parts.is_outline_assumed();
    const bool axis = drawn && in.line.axis.has_value();
    const std::array<std::pair<bool, LegendRow>, 14> all{{
        {drawn && !assumed, {Swatch::wood, "wood that carries"}},
        {parts.has_lost_pieces(), {Swatch::lost, "carries nothing"}},
        {!in.section.shape.pockets.empty(), {Swatch::pocket, "P pocket"}},
        {!parts.rot.empty(), {Swatch::rot, "internal rot, void"}},
        {any_rot, {Swatch::bore, "B bore, shell to rot"}},
        {any_sound, {Swatch::sound, "B bore, sound"}},
        {assumed || parts.outer_radius() > in.section.shape.radius,
         {Swatch::original, "original outline"}},
        {axis, {Swatch::line, "the line"}},
        {axis, {Swatch::across, "across the line"}},
        {axis, {Swatch::in_line, "in-line sector"}},
        {axis, {Swatch::out_of_line, "out-of-line sector"}},
        {parts.has_strengths(), {Swatch::curve, "remaining strength"}},
        {parts.has_strengths(), {Swatch::limit, "limit, governing"}},
        {parts.has_strengths() &&
             in.criteria.weakest_strength_min != in.criteria.governing_strength_min,
         {Swatch::weakest_limit, "limit, weakest"}},
    }};
    std::vector<LegendRow> rows;
    for (const auto& [shown, row] : all) {
        if (shown) {
            rows.push_back(row);
        }
    }
    return rows;
}

const char* look_of(Swatch s) {
    switch (s) {
        case Swatch::wood:
            return "lw-wood";
        case Swatch::lost:
            return "lw-lost";
        case Swatch::pocket:
            return "lw-pocket";
        case Swatch::rot:
            return "lw-void";
        case Swatch::in_line:
            return "lw-inline";
        case Swatch::out_of_line:
            return "lw-outofline";
        case Swatch::original:
            return "lw-original";
        case Swatch::line:
            return "lw-line";
        case Swatch::across:
            return "lw-across";
        case Swatch::curve:
            return "lw-curve";
        case Swatch::limit:
            return "lw-limit";
        case Swatch::weakest_limit:
            return "lw-limit2";
        case Swatch::bore:
        case Swatch::sound:
            return "lw-bore";
    }
    return "lw-thin";
}

void draw_swatch(SvgWriter& svg, Swatch s, SvgPoint at) {
    constexpr double kSwatchWidth = 34.0;
    const bool line = s == Swatch::original || s == Swatch::line || s == Swatch::across ||
                      s == Swatch::curve || s == Swatch::limit || s == Swatch::weakest_limit;
    const bool bore = s == Swatch::bore || s == Swatch::sound;
    if (line || bore) {
        svg.line(at, {at.x + kSwatchWidth, at.y}, {{"class", look_of(s)}});
        if (bore) {
            svg.element("circle",
                        {{"class", s == Swatch::sound ? "lw-ring" : "lw-dot"},
                         {"cx", at.x + kSwatchWidth},
                         {"cy", at.y},
                         {"r", 4.5}});
        }
        return;
    }
    const bool band = s == Swatch::in_line || s == Swatch::out_of_line;
    const double half = band ? 4.0 : 7.0;
    svg.element("rect",
                {{"class", look_of(s)},
                 {"x", at.x},
                 {"y", at.y - half},
                 {"width", kSwatchWidth},
                 {"height", 2.0 * half}});
}

void draw_numbers(SvgWriter& svg, const SectionDrawingInput& in, double y) {
    svg.text({kNumbersX, y}, girth_line(in), {});
    for (const NumberRow& row : number_rows(in)) {
        y += kRow;
        svg.text({kNumbersX, y}, row.label, {{"class", "lw-small"}});
        svg.text({kValueEnd, y}, row.value, {{"text-anchor", "end"}, {"class", "lw-bold"}});
        if (!row.limit.empty()) {
            svg.text({kNumbersX + 364.0, y}, row.limit, {{"text-anchor", "end"}});
            svg.text({kNumbersX + 372.0, y},
                     row.meets ? "meets" : "FAILS",
                     {{"class", row.meets ? "lw-small" : "lw-small lw-bold"}});
        }
    }
}

/// Rows of the three columns side by side, and of what did not find room among the defects.
struct NoteRows {
    std::size_t beside = 0;
    std::size_t below = 0;  ///< in each of the columns of kMoreX
};

NoteRows note_rows(const SectionParts& parts, std::size_t defects) {
    constexpr std::size_t kFew = 12;  // that many defects stand in their own column anyway
    const std::size_t others =
        std::max(number_rows(parts.in).size() + 1, legend_rows(parts).size());
    const std::size_t beside = std::max(others, std::min(defects, kFew));
    const std::size_t rest = defects > beside ? defects - beside : 0;
    return {beside, (rest + kMoreX.size() - 1) / kMoreX.size()};
}

void draw_defects(SvgWriter& svg, const SectionParts& parts, double y) {
    const std::vector<std::string> defects = defect_rows(parts);
    const NoteRows rows = note_rows(parts, defects.size());
    for (std::size_t i = 0; i < defects.size(); ++i) {
        double x = kDefectsX;
        std::size_t row = i + 1;
        if (i >= rows.beside) {
            x = kMoreX.at((i - rows.beside) / rows.below);
            row = rows.beside + 1 + (i - rows.beside) % rows.below;
        }
        svg.text({x, y + kRow * static_cast<double>(row)}, defects[i], {{"class", "lw-small"}});
    }
}

}  // namespace

double height_of_notes(const SectionParts& parts) {
    const NoteRows rows = note_rows(parts, defect_rows(parts).size());
    return kHead + kRow * static_cast<double>(rows.beside + rows.below) + 14.0;
}

void draw_notes(SvgWriter& svg, const SectionParts& parts, double top) {
    svg.line({kNumbersX, top}, {870.0, top}, {{"class", "lw-rule"}});
    const double y = top + 24.0;
    svg.text({kNumbersX, y}, "Key numbers", {{"class", "lw-head"}});
    svg.text({kNumbersX + 364.0, y}, "limit", {{"text-anchor", "end"}});
    svg.text({kDefectsX, y},
             fmt::format("Defects, {}", girth_unit(parts.in.units)),
             {{"class", "lw-head"}});
    svg.text({kDefectsX + 124.0, y}, "width \u00d7 depth", {{"class", "lw-small"}});
    svg.text({kLegendX, y}, "Legend", {{"class", "lw-head"}});
    draw_numbers(svg, parts.in, y + kRow);
    draw_defects(svg, parts, y);
    double row = y;
    for (const LegendRow& l : legend_rows(parts)) {
        row += kRow;
        draw_swatch(svg, l.swatch, {kLegendX, row - 5.0});
        svg.text({kLegendX + 44.0, row}, l.words, {{"class", "lw-small"}});
    }
}

}  // namespace linewood
