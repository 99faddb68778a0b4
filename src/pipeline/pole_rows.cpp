#include "src/pipeline/pole_rows.hpp"

#include <algorithm>
#include <optional>
#include <string>

namespace linewood {
namespace {

Cell girth_cell(Maybe<Length> l, UnitSystem units) {
    return l ? Cell{girth_figure(*l, units)} : Cell{};
}

Cell percent_cell(std::optional<double> share) {
    return share ? Cell{percent_figure(*share)} : Cell{};
}

/// Rounding must not bring a figure up to the end of its half-open range.
double wrapped(double degrees, double period) {
    const double r = rounded(degrees);
    return r >= period ? 0.0 : r;
}

/// Whether the worst section has figures of its own. Where a section's strength is not known and nothing
/// fails, the worst may be that one: the best of the others must not stand for the pole.
bool worst_is_known(const PoleAssessment& a) {
    const auto unknown = [](const SectionCondition& s) { return !s.strengths || s.upper_bound; };
    if (!a.worst_section || unknown(a.sections[*a.worst_section])) {
        return false;
    }
    return a.verdict != Verdict::unassessed ||
           std::none_of(a.sections.begin(), a.sections.end(), unknown);
}

}  // namespace

Cell cell_of(Maybe<Axis> axis) { return axis ? Cell{wrapped(axis->degrees(), 180.0)} : Cell{}; }

Cell cell_of(Maybe<Bearing> bearing) {
    return bearing ? Cell{wrapped(bearing->degrees(), 360.0)} : Cell{};
}

Cell text_cell(std::string_view text) { return text.empty() ? Cell{} : Cell{std::string{text}}; }

std::string_view name_of(LineRole role) {
    switch (role) {
        case LineRole::tangent:
            return "tangent";
        case LineRole::angle:
            return "angle";
        case LineRole::dead_end:
            return "dead_end";
        case LineRole::junction:
            return "junction";
        case LineRole::isolated:
            return "isolated";
    }
    return "";
}

std::string_view name_of(LineSource source) {
    switch (source) {
        case LineSource::spans:
            return "spans";
        case LineSource::given:
            return "given";
        case LineSource::nearest_line:
            return "nearest_line";
        case LineSource::none:
            return "none";
    }
    return "";
}

LineCells line_cells(const LineDirection& line, LineTrust trust) {
    return {cell_of(line.axis),
            text_cell(name_of(line.role)),
            line.deflection ? Cell{rounded(line.deflection->degrees())} : Cell{},
            text_cell(name_of(line.source)),
            text_cell(linewood::name_of(trust.quality)),
            text_cell(linewood::name_of(trust.reason))};
}

PoleCells pole_cells(const PoleAssessment& a, const LineCells& line, UnitSystem units) {
    PoleCells c;
    std::copy(line.begin(), line.end(), c.begin());
    c[6] = girth_cell(a.original, units);
    c[7] = text_cell(name_of(a.original_source));
    if (worst_is_known(a)) {
        const SectionCondition& worst = a.sections[*a.worst_section];
        const SectionStrengths& s = *worst.strengths;
        c[8] = percent_cell(s.governing);
        c[9] = percent_cell(s.transverse);
        c[10] = percent_cell(s.longitudinal);
        c[11] = percent_cell(s.weakest);
        c[12] = cell_of(s.weakest_axis);
        c[13] = height_figure(worst.height, units);
    }
    c[14] = girth_cell(a.shell_min, units);
    c[15] = static_cast<std::int64_t>(a.sections.size());
    c[16] = text_cell(name_of(a.verdict));
    c[17] = text_cell(name_of(a.urgency));
    c[18] = text_cell(a.reasons.to_string());
    c[19] = a.inspected_on ? Cell{*a.inspected_on} : Cell{};
    return c;
}

std::optional<double> known_worst_strength(const PoleAssessment& a) {
    return worst_is_known(a) ? std::optional{a.sections[*a.worst_section].strengths->governing}
                             : std::nullopt;
}

SectionCells section_cells(std::string_view pole_id, const SectionCondition& s, UnitSystem units) {
    SectionCells c;
    c[0] = text_cell(pole_id);
    c[1] = height_figure(s.height, units);
    c[2] = girth_cell(s.original, units);
    c[3] = girth_cell(s.present, units);
    if (s.strengths && !s.upper_bound) {
        c[4] = percent_cell(s.strengths->area);
        c[5] = percent_cell(s.strengths->transverse);
        c[6] = percent_cell(s.strengths->longitudinal);
        c[7] = percent_cell(s.strengths->weakest);
        c[8] = cell_of(s.strengths->weakest_axis);
        c[9] = percent_cell(s.strengths->governing);
        c[11] = static_cast<std::int64_t>(s.pieces);
    }
    c[10] = girth_cell(s.shell_min, units);
    c[12] = s.outcome == SectionOutcome::incomplete ? Cell{}
                                                    : Cell{s.outcome == SectionOutcome::passes};
    c[13] = text_cell(s.reasons.to_string());
    return c;
}

}  // namespace linewood
