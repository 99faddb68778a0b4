#include <algorithm>
#include <cmath>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "src/report/pole_elevation_drawing.hpp"
#include "src/report/pole_elevation_marks.hpp"

namespace linewood::elevation {

void Elevation::draw_scale() {
    svg_.line({kScaleX, kTop}, {kScaleX, kBottom}, {{"class", "lw-thin"}});
    const Length unit = in_.units == UnitSystem::us ? Length::feet(1.0) : Length::metres(1.0);
    for (const Length h : scale_.ticks(unit, 24.0)) {
        const double y = scale_.y(h);
        svg_.line({kScaleX - 6.0, y}, {kScaleX, y}, {{"class", "lw-thin"}});
        svg_.text({kScaleX - 10.0, y + 5.0},
                  svg_number(height_figure(h, in_.units)),
                  {{"class", "lw-small"}, {"text-anchor", "end"}});
    }
    svg_.text(
        {kScaleX, kTop - 14.0}, std::string{height_unit(in_.units)}, {{"text-anchor", "middle"}});
}

SideLabel Elevation::section_label(const SectionCondition& s) const {
    SideLabel label;
    label.y = scale_.y(s.height);
    label.first = height_text(s.height) + ": ";
    if (s.strengths) {
        label.first += s.upper_bound ? "at most " : "";
        label.first += share_text(s.strengths->governing, in_.criteria.governing_strength_min);
    } else {
        label.first += "not known";
    }
    label.fails = s.outcome == SectionOutcome::fails;
    label.first += label.fails                               ? ", FAILS"
                   : s.outcome == SectionOutcome::incomplete ? ", incomplete"
                                                             : ", meets";
    const auto figure = [&](Maybe<Length> l) {
        return l ? figure_text(*l, in_.units) : std::string{"?"};
    };
    label.second = fmt::format(
        "girth {} of {} {}", figure(s.present), figure(s.original), girth_unit(in_.units));
    return label;
}

void Elevation::draw_labels() {
    std::vector<SideLabel> labels;
    labels.push_back({tip_ ? scale_.y(*tip_) : kTop,
                      tip_ ? "tip, " + height_text(*tip_) : "tip not recorded",
                      "",
                      false});
    for (const SectionCondition& s : in_.sections) {
        labels.push_back(section_label(s));
    }
    labels.push_back(
        {butt_ ? scale_.y(*butt_) : kBottom,
         butt_ ? "butt, set " + height_text(-*butt_) + " deep" : "setting depth not recorded",
         "",
         false});
    std::stable_sort(labels.begin(), labels.end(), [](const SideLabel& a, const SideLabel& b) {
        return a.y < b.y;
    });
    std::vector<double> wanted;
    wanted.reserve(labels.size());
    for (const SideLabel& l : labels) {
        wanted.push_back(l.y);
    }
    const std::vector<double> at = spread_along(wanted, 40.0, kTop, kBottom);
    for (std::size_t i = 0; i < labels.size(); ++i) {
        const SideLabel& l = labels[i];
        svg_.element("polyline",
                     {{"class", "lw-thin"},
                      {"points",
                       fmt::format("{},{} {},{} {},{}",
                                   svg_number(kPoleX + 66.0),
                                   svg_number(l.y),
                                   svg_number(kGroundRight + 6.0),
                                   svg_number(l.y),
                                   svg_number(kLabelX - 5.0),
                                   svg_number(at[i]))}});
        svg_.text({kLabelX, at[i] + 5.0}, l.first, {{"class", l.fails ? "lw-bold" : "lw-text"}});
        if (!l.second.empty()) {
            svg_.text({kLabelX, at[i] + 22.0}, l.second, {{"class", "lw-small"}});
        }
    }
}

void Elevation::draw_defect_labels() {
    constexpr std::array<std::array<std::string_view, 2>, 4> kWords{
        {{"pocket", "pockets"},
         {"rot bore", "rot bores"},
         {"shell rot", "shell rots"},
         {"sound bore", "sound bores"}}};
    struct Line {
        double y;
        std::string text;
    };
    std::vector<Line> lines;
    for (const auto& [height, here] : defects_) {
        for (std::size_t kind = 0; kind < kWords.size(); ++kind) {
            if (const int n = here.count[kind]; n > 0) {
                lines.push_back(
                    {scale_.y(height), fmt::format("{} {}", n, kWords[kind][n == 1 ? 0 : 1])});
            }
        }
    }
    std::stable_sort(
        lines.begin(), lines.end(), [](const Line& a, const Line& b) { return a.y < b.y; });
    std::vector<double> wanted;
    wanted.reserve(lines.size());
    for (const Line& l : lines) {
        wanted.push_back(l.y);
    }
    const std::vector<double> at = spread_along(wanted, 19.0, kTop, kBottom);
    for (std::size_t i = 0; i < lines.size(); ++i) {
        svg_.text(
            {202.0, at[i] + 5.0}, lines[i].text, {{"class", "lw-small"}, {"text-anchor", "end"}});
        svg_.element("polyline",
                     {{"class", "lw-thin"},
                      {"points",
                       fmt::format("{},{} {},{} {},{}",
                                   207,
                                   svg_number(at[i]),
                                   228,
                                   svg_number(lines[i].y),
                                   250,
                                   svg_number(lines[i].y))}});
    }
}

void Elevation::draw_legend() {
    ElevationLegend legend;
    legend.girth_known = girth_known();
    legend.taper_known = in_.original.taper.has_value();
    legend.zone_top =
        figure_text(in_.criteria.zone_top, in_.units) + " " + std::string{girth_unit(in_.units)};
    legend.height_unit = height_unit(in_.units);
    draw_elevation_legend(svg_, legend, kBottom + 40.0, 30.0, kWidth - 30.0);
}

}  // namespace linewood::elevation
