#include <algorithm>
#include <cmath>
#include <set>
#include <utility>
#include <vector>

#include "src/report/pole_elevation_drawing.hpp"
#include "src/report/pole_elevation_marks.hpp"

namespace linewood {
namespace elevation {

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
    svg_.line({kGroundLeft - 8.0, ground}, {kGroundRight + 8.0, ground}, {{"class", "lw-level"}});
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
    svg_.element("path", {{"class", sure ? "lw-sound" : "lw-original"}, {"d", svg_path({ring})}});
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

}  // namespace elevation

std::string pole_elevation(const PoleElevationInput& in) { return elevation::Elevation{in}.draw(); }

}  // namespace linewood
