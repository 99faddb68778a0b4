#include "src/report/pole_elevation.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numbers>
#include <optional>
#include <set>
#include <vector>

#include <fmt/format.h>

#include "src/report/pole_elevation_marks.hpp"
#include "src/report/pole_elevation_scale.hpp"
#include "src/report/section_drawing_parts.hpp"
#include "src/report/svg.hpp"
#include "src/report/svg_style.hpp"

namespace linewood {
namespace {

constexpr double kWidth = 680.0;
constexpr double kTop = 108.0;
constexpr double kBottom = 800.0;
constexpr double kHeight = 985.0;
constexpr double kPoleX = 320.0;
constexpr double kWidest = 116.0;  // pixels of the widest girth's diameter
constexpr double kGroundLeft = 232.0;
constexpr double kGroundRight = 408.0;
constexpr double kScaleX = 66.0;
constexpr double kLabelX = 432.0;

/// Defects at one height, by kind.
struct DefectsHere {
    std::array<int, 4> count{};
    Length extent;  ///< the greatest recorded
};

/// One label beside the pole, with the place it speaks of.
struct SideLabel {
    double y = 0.0;
    std::string first;
    std::string second;
    bool fails = false;
};

class Elevation {
public:
    explicit Elevation(const PoleElevationInput& in)
        : in_{in},
          tip_{in.ends.tip},
          butt_{in.ends.butt},
          scale_{range_of(in), kTop, kBottom},
          svg_{kWidth, kHeight, in.title, description(), kDrawingStyle} {
        for (const Defect& d : in.defects) {
            DefectsHere& here = defects_[d.height.value_or(Length{})];
            ++here.count[static_cast<std::size_t>(d.kind)];
            here.extent = std::max(here.extent, d.extent.value_or(Length{}));
        }
        const Length thickest = std::max({girth_at(low()), girth_at(Length{}), girth_at(high())});
        pixels_per_metre_ = kWidest / diameter(thickest).metres();
    }

    std::string draw() {
        define_hatches(svg_);
        svg_.element("rect", {{"class", "lw-page"}, {"width", kWidth}, {"height", kHeight}});
        svg_.text({30.0, 38.0}, svg_shortened(in_.title, 48), {{"class", "lw-title"}});
        svg_.text({30.0, 63.0}, svg_shortened(in_.subtitle, 74), {{"class", "lw-sub"}});
        draw_ground();
        draw_pole();
        draw_breaks();
        draw_defects();
        draw_sections();
        draw_scale();
        draw_labels();
        draw_defect_labels();
        draw_legend();
        return svg_.finish();
    }

private:
    static HeightScale::Range range_of(const PoleElevationInput& in);

    Length low() const { return scale_.knots().back().height; }
    Length high() const { return scale_.knots().front().height; }
    static Length diameter(Length girth) { return girth / std::numbers::pi; }
    bool girth_known() const { return in_.original.groundline.has_value(); }

    /// Of the sound pole; an even 40 in where nothing is known, drawn dashed.
    Length girth_at(Length height) const {
        if (!girth_known()) {
            return Length::inches(40.0);
        }
        return in_.original.carried_to(height, *in_.original.groundline);
    }
    double half_width(Length girth) const {
        return diameter(girth).metres() * pixels_per_metre_ / 2.0;
    }
    double half_at(Length height) const { return half_width(girth_at(height)); }

    std::string height_text(Length h) const {
        const double v = height_figure(h, in_.units);
        return fmt::format(
            "{} {}", svg_number(std::round(v * 100.0) / 100.0), height_unit(in_.units));
    }

    std::string description() const;
    Length zone_bottom() const;
    void draw_ground();
    void draw_pole();
    void torn_end(double y, double half);
    void draw_breaks();
    void draw_defects();
    void draw_sections();
    void draw_scale();
    SideLabel section_label(const SectionCondition& s) const;
    void draw_labels();
    void draw_defect_labels();
    void draw_legend();

    const PoleElevationInput& in_;
    Maybe<Length> tip_;
    Maybe<Length> butt_;
    HeightScale scale_;
    SvgWriter svg_;
    std::map<Length, DefectsHere> defects_;
    double pixels_per_metre_ = 1.0;
};

/// From the butt to the tip, with whatever was recorded beyond them; where an end is not known, a
/// little beyond the last thing recorded.
HeightScale::Range Elevation::range_of(const PoleElevationInput& in) {
    Length lowest;
    Length highest = in.criteria.zone_top;
    std::set<Length> heights;
    const auto take = [&](Length h) {
        lowest = std::min(lowest, h);
        highest = std::max(highest, h);
        heights.insert(h);
    };
    for (const SectionCondition& s : in.sections) {
        take(s.height);
    }
    for (const Defect& d : in.defects) {
        take(d.height.value_or(Length{}));
    }
    const Length margin = Length::feet(0.6);
    HeightScale::Range r;
    r.low = std::min(in.ends.butt.value_or(lowest - Length::feet(3.0)), lowest);
    r.high = std::max(in.ends.tip.value_or(highest + Length::feet(4.0)), highest);
    r.focus_low = std::max(r.low, lowest - margin);
    r.focus_high = in.criteria.zone_top + margin;
    for (const Length h : heights) {  // no break mark over anything recorded
        const bool covered = h > r.focus_high - margin * 0.75 && h < r.focus_high + margin * 0.75;
        r.focus_high = covered ? h + margin : r.focus_high;
    }
    r.focus_high = std::min(r.high, r.focus_high);
    if (!(r.focus_low < r.focus_high)) {
        r.focus_high = r.focus_low + margin;
    }
    r.high = std::max(r.high, r.focus_high);
    return r;
}

std::string Elevation::description() const {
    std::string text = "Side view of a wood pole.";
    text += tip_ ? " Tip " + height_text(*tip_) + " above the groundline." : " Tip not recorded.";
    text += butt_ ? " Set " + height_text(-*butt_) + " deep." : " Setting depth not recorded.";
    for (const SectionCondition& s : in_.sections) {
        text += " Section at " + height_text(s.height);
        text += s.strengths
                    ? ": " +
                          share_text(s.strengths->governing, in_.criteria.governing_strength_min) +
                          " remains."
                    : std::string{": strength not known."};
    }
    return text;
}

/// The zone reaches down to the lowest section.
Length Elevation::zone_bottom() const {
    Length bottom;
    for (const SectionCondition& s : in_.sections) {
        bottom = std::min(bottom, s.height);
    }
    return bottom;
}

void Elevation::draw_ground() {
    const double ground = scale_.y(Length{});
    const double zone_high = scale_.y(in_.criteria.zone_top);
    const double zone_low = std::max(scale_.y(zone_bottom()), ground + 6.0);
    svg_.element("rect",
                 {{"class", "lw-ground"},
                  {"x", kGroundLeft},
                  {"y", ground},
                  {"width", kGroundRight - kGroundLeft},
                  {"height", kBottom + 14.0 - ground}});
    svg_.element("rect",
                 {{"class", "lw-zone"},
                  {"x", kGroundLeft},
                  {"y", zone_high},
                  {"width", kGroundRight - kGroundLeft},
                  {"height", zone_low - zone_high}});
    svg_.line({kGroundLeft - 8.0, ground},
              {kGroundRight + 8.0, ground},
              {{"class", "lw-thin"}, {"style", "stroke-width:2"}});
}

void Elevation::draw_pole() {
    std::vector<Length> heights;
    for (const HeightScale::Knot& k : scale_.knots()) {
        heights.push_back(k.height);
    }
    const Length top = tip_ ? std::max(*tip_, low()) : high();
    const Length bottom = butt_ ? std::min(*butt_, top) : low();
    heights.push_back(top);
    heights.push_back(bottom);
    std::sort(heights.rbegin(), heights.rend());
    std::vector<SvgPoint> left;
    std::vector<SvgPoint> right;
    for (const Length h : heights) {
        if (h <= top && h >= bottom) {
            left.push_back({kPoleX - half_at(h), scale_.y(h)});
            right.push_back({kPoleX + half_at(h), scale_.y(h)});
        }
    }
    std::vector<SvgPoint> ring = left;
    ring.insert(ring.end(), right.rbegin(), right.rend());
    const bool sure = girth_known() && in_.original.taper.has_value();
    svg_.element("path", {{"class", "lw-page"}, {"d", svg_path({ring})}});
    svg_.element("path",
                 {{"class", sure ? "lw-thin" : "lw-original"},
                  {"fill", "#f0dfc0"},
                  {"style", sure ? "fill:#f0dfc0" : "fill:none"},
                  {"d", svg_path({ring})}});
    if (!tip_) {
        torn_end(scale_.y(top), half_at(top));
    }
    if (!butt_) {
        torn_end(scale_.y(bottom), half_at(bottom));
    }
}

void Elevation::torn_end(double y, double half) {
    svg_.element("rect",
                 {{"class", "lw-page"},
                  {"x", kPoleX - half - 3.0},
                  {"y", y - 4.0},
                  {"width", 2.0 * half + 6.0},
                  {"height", 8.0}});
    draw_zigzag(svg_, y, kPoleX - half - 3.0, kPoleX + half + 3.0);
}

/// Two zigzag lines with a gap between, where the height scale changes.
void Elevation::draw_breaks() {
    for (const Length h : scale_.breaks()) {
        const double y = scale_.y(h);
        const double half = half_at(h) + 6.0;
        for (const auto& [left, right] :
             {std::pair{kPoleX - half, kPoleX + half}, std::pair{kScaleX - 12.0, kScaleX + 12.0}}) {
            svg_.element("rect",
                         {{"class", "lw-page"},
                          {"x", left},
                          {"y", y - 3.0},
                          {"width", right - left},
                          {"height", 6.0}});
            draw_zigzag(svg_, y - 3.5, left, right);
            draw_zigzag(svg_, y + 3.5, left, right);
        }
    }
}

void Elevation::draw_defects() {
    for (const auto& [height, here] : defects_) {
        const SvgPoint at{kPoleX, scale_.y(height)};
        const double half = half_at(height);
        for (const DefectKind kind : {DefectKind::internal_rot,
                                      DefectKind::external_pocket,
                                      DefectKind::shell_rot,
                                      DefectKind::bore}) {
            if (here.count[static_cast<std::size_t>(kind)] > 0) {
                draw_defect_mark(svg_, kind, at, half);
            }
        }
        if (here.extent > Length{}) {
            draw_extent_mark(svg_,
                             kPoleX - half - 8.0,
                             scale_.y(height + here.extent / 2.0),
                             scale_.y(height - here.extent / 2.0));
        }
    }
}

void Elevation::draw_sections() {
    for (const SectionCondition& s : in_.sections) {
        const double half = s.present ? half_width(*s.present) : half_at(s.height);
        draw_section_mark(svg_, {kPoleX, scale_.y(s.height)}, half, s.present.has_value());
    }
}

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

}  // namespace

std::string pole_elevation(const PoleElevationInput& in) { return Elevation{in}.draw(); }

}  // namespace linewood
