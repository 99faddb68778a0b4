#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numbers>
#include <string>

#include <fmt/format.h>

#include "src/report/pole_elevation.hpp"
#include "src/report/pole_elevation_scale.hpp"
#include "src/report/section_drawing_parts.hpp"
#include "src/report/svg.hpp"
#include "src/report/svg_style.hpp"

namespace linewood::elevation {

inline constexpr double kWidth = 680.0;
inline constexpr double kTop = 108.0;
inline constexpr double kBottom = 800.0;
inline constexpr double kHeight = 985.0;
inline constexpr double kPoleX = 320.0;
inline constexpr double kWidest = 116.0;  // pixels of the widest girth's diameter
inline constexpr double kGroundLeft = 232.0;
inline constexpr double kGroundRight = 408.0;
inline constexpr double kScaleX = 66.0;
inline constexpr double kLabelX = 432.0;

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

/// One elevation being drawn: the pole in pole_elevation.cpp, what stands beside it in
/// pole_elevation_labels.cpp.
class Elevation {
public:
    explicit Elevation(const PoleElevationInput& in)
        : in_{in},
          tip_{in.ends.tip},
          butt_{in.ends.butt},
          scale_{range_of(in), kTop, kBottom},
          svg_{kWidth, kHeight, in.title, description(), kDrawingStyle, in.form} {
        for (const Defect& d : in.defects) {
            DefectsHere& here = defects_[d.height.value_or(Length{})];
            ++here.count[static_cast<std::size_t>(d.kind)];
            here.extent = std::max(here.extent, d.extent.value_or(Length{}));
        }
        const Length thickest = std::max({girth_at(low()), girth_at(Length{}), girth_at(high())});
        pixels_per_metre_ = kWidest / diameter(thickest).metres();
    }

    std::string draw() {
        if (in_.form == SvgForm::document) {
            define_hatches(svg_);
        }
        svg_.element("rect", {{"class", "lw-page"}, {"width", kWidth}, {"height", kHeight}});
        if (in_.form == SvgForm::document) {
            svg_.text({30.0, 38.0}, svg_shortened(in_.title, 48), {{"class", "lw-title"}});
            svg_.text({30.0, 63.0}, svg_shortened(in_.subtitle, 74), {{"class", "lw-sub"}});
        }
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

}  // namespace linewood::elevation
