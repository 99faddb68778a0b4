#include "src/report/section_drawing.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "src/report/section_drawing_parts.hpp"
#include "src/report/svg_style.hpp"

namespace linewood {
namespace {

constexpr double kWidth = 900.0;
constexpr double kNotesTop = 540.0;
constexpr SvgPoint kPlanCentre{205.0, 305.0};
constexpr double kPlanRadius = 132.0;
constexpr SvgPoint kRoseCentre{662.0, 305.0};
constexpr double kRoseRadius = 128.0;

/// The drawing in words, for readers who do not see it.
std::string description(const SectionParts& parts) {
    const SectionCondition& s = parts.in.section;
    const std::string_view unit = girth_unit(parts.in.units);
    std::string text = "Cross-section of a wood pole, north up.";
    if (s.present) {
        text += fmt::format(" Girth now {} {}", figure_text(*s.present, parts.in.units), unit);
        text +=
            s.original
                ? fmt::format(", originally {} {}.", figure_text(*s.original, parts.in.units), unit)
                : ".";
    }
    text += fmt::format(
        " {} pockets, {} shell readings.", s.shape.pockets.size(), s.shape.shell.size());
    if (s.strengths) {
        text += fmt::format(
            " Governing remaining strength {}, in the weakest direction {}.",
            share_text(s.strengths->governing, parts.in.criteria.governing_strength_min),
            share_text(s.strengths->weakest, parts.in.criteria.weakest_strength_min));
    }
    return text;
}

}  // namespace

Length SectionParts::outer_radius() const {
    const Length original = in.section.original.value_or(Length{}) / (2.0 * std::numbers::pi);
    return std::max(original, in.section.shape.radius);
}

bool SectionParts::has_lost_pieces() const {
    return std::any_of(
        pieces.begin(), pieces.end(), [](const DrawnPiece& p) { return !p.carries; });
}

std::string PlanFrame::path(const std::vector<PlanRing>& rings) const {
    std::vector<std::vector<SvgPoint>> drawn;
    drawn.reserve(rings.size());
    for (const PlanRing& ring : rings) {
        std::vector<SvgPoint> points;
        points.reserve(ring.size());
        for (const PlanPoint p : ring) {
            points.push_back(at(p));
        }
        drawn.push_back(std::move(points));
    }
    return svg_path(drawn);
}

SvgPoint towards(SvgPoint centre, double degrees, double radius) {
    const double a = Angle::degrees(degrees).radians();
    return {centre.x + radius * std::sin(a), centre.y - radius * std::cos(a)};
}

void text_outward(
    SvgWriter& svg, SvgPoint centre, double degrees, double radius, const std::string& text) {
    const double a = Angle::degrees(degrees).radians();
    const char* anchor = std::sin(a) > 0.35 ? "start" : std::sin(a) < -0.35 ? "end" : "middle";
    SvgPoint p = towards(centre, degrees, radius);
    p.y += 5.0 - 6.0 * std::cos(a);  // the baseline is below the middle of the letters
    svg.text(p, text, {{"text-anchor", anchor}});
}

std::vector<double> spread_around(const std::vector<double>& wanted, double gap) {
    const std::size_t n = wanted.size();
    std::vector<std::size_t> order(n);
    for (std::size_t i = 0; i < n; ++i) {
        order[i] = i;
    }
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return wanted[a] < wanted[b];
    });
    std::vector<double> at = wanted;
    const double room = n > 1 ? std::min(gap, 360.0 / static_cast<double>(n)) : 0.0;
    double most_missing = n > 1 ? room : 0.0;
    for (int round = 0; most_missing > 1e-3 && round < 20000; ++round) {
        most_missing = 0.0;
        for (std::size_t i = 0; i < n; ++i) {
            double& here = at[order[i]];
            double& next = at[order[(i + 1) % n]];
            const double turn = i + 1 == n ? 360.0 : 0.0;
            const double missing = room - (next + turn - here);
            if (missing > 0.0) {
                here -= missing / 2.0;
                next += missing / 2.0;
            }
            most_missing = std::max(most_missing, missing);
        }
    }
    return at;
}

std::vector<bool> shown_labels(const std::vector<double>& azimuths, double gap) {
    const std::size_t n = azimuths.size();
    if (static_cast<double>(n) * gap <= 360.0) {
        return std::vector<bool>(n, true);
    }
    std::vector<std::size_t> order(n);
    for (std::size_t i = 0; i < n; ++i) {
        order[i] = i;
    }
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return azimuths[a] < azimuths[b];
    });
    std::vector<bool> shown(n, false);
    const double first = azimuths[order.front()];
    double last = first - 360.0;
    for (const std::size_t i : order) {
        const bool clear_of_first = i == order.front() || first + 360.0 - azimuths[i] >= gap;
        if (azimuths[i] - last >= gap && clear_of_first) {
            shown[i] = true;
            last = azimuths[i];
        }
    }
    return shown;
}

std::string figure_text(Length l, UnitSystem units) {
    const double v = girth_figure(l, units);
    return svg_number(units == UnitSystem::si ? std::round(v * 10.0) / 10.0 : v);
}

std::string share_text(double share) { return fmt::format("{:.1f} %", share * 100.0); }

std::string share_text(double share, double limit) {
    for (const int decimals : {1, 2, 3}) {
        const double scale = std::pow(10.0, decimals);
        const double shown = std::round(share * 100.0 * scale);
        const double bound = std::round(limit * 100.0 * scale);
        if (shown != bound || std::abs(share - limit) < 1e-9) {
            return fmt::format("{:.{}f} %", share * 100.0, decimals);
        }
    }
    return fmt::format("{:.4f} %", share * 100.0);
}

std::string section_drawing(const SectionDrawingInput& in) {
    SectionParts parts{in, {}, {}, in.section.shape.shell};
    std::stable_sort(
        parts.shell.begin(), parts.shell.end(), [](const ShellReading& a, const ShellReading& b) {
            return a.azimuth < b.azimuth;
        });
    if (parts.has_shape()) {
        parts.pieces = remaining_outline(in.section.shape);
        parts.rot = void_outline(in.section.shape);
    }
    const double height = kNotesTop + height_of_notes(parts);
    SvgWriter svg{kWidth, height, in.title, description(parts), kDrawingStyle, in.form};
    if (in.form == SvgForm::document) {
        define_hatches(svg);
    }
    svg.element("rect", {{"class", "lw-page"}, {"width", kWidth}, {"height", height}});
    if (in.form == SvgForm::document) {
        svg.text({30.0, 38.0}, svg_shortened(in.title, 66), {{"class", "lw-title"}});
        svg.text({30.0, 63.0}, svg_shortened(in.subtitle, 100), {{"class", "lw-sub"}});
    }
    svg.text({30.0, 96.0},
             parts.is_outline_assumed() ? "Plan, north up; girth now not known" : "Plan, north up",
             {{"class", "lw-head"}});
    svg.text({478.0, 96.0}, "Remaining strength by direction of load", {{"class", "lw-head"}});
    draw_plan(svg, parts, kPlanCentre, kPlanRadius);
    draw_rose(svg, parts, kRoseCentre, kRoseRadius);
    draw_notes(svg, parts, kNotesTop);
    return svg.finish();
}

}  // namespace linewood
