#pragma once

#include <map>
#include <string>

#include "assess/units/angle.hpp"
#include "assess/units/length.hpp"

namespace linewood {

/// The limits and settings a pole is judged by. The defaults are the profile `general-practice`:
/// common practice where said so, the project's own choice otherwise; a profile file changes any.
/// Plain numbers are shares of 1.
struct Criteria {
    std::string name = "general-practice";

    // Limits, asked of every section. Met within `limit_tolerance`, relative.
    double governing_strength_min = 0.65;         ///< 35 % loss: common practice, no source
    double weakest_strength_min = 0.50;           ///< own choice, no source
    double girth_ratio_min = 0.8662391053409028;  ///< 0.65^(1/3), the girth that keeps 65 %
    Length shell_min = Length::inches(2.0);       ///< common practice, no source
    Length shell_pocket_width =
        Length::inches(1.0);       ///< pockets wider than this: shell behind them
    double split_loss_max = 0.05;  ///< area lost with the pieces that do not carry
    double limit_tolerance = 1e-9;

    // Which strength governs, and the sectors of the pole's face.
    Angle governing_deflection_max = Angle::degrees(30.0);  ///< above: the weakest direction
    Angle in_line_sector = Angle::degrees(30.0);            ///< either side of the axis
    Angle out_of_line_sector = Angle::degrees(30.0);        ///< either side of its perpendicular

    // Sections and what counts as decay.
    Length zone_top = Length::inches(15.0);    ///< TM 5-684/MO-200 (read): groundline zone
    Length section_reach = Length::feet(0.5);  ///< defects this near share a section
    double decay_girth_ratio = 0.98;           ///< a girth under this share of C0 is decay
    bool present_stands_for_original = false;  ///< C may stand for a missing C0

    double urgent_strength_share = 2.0 / 3.0;  ///< of its limit: below, `now`
    double bore_45_factor = 0.7;               ///< common practice, no source
    Angle bore_merge = Angle::degrees(1.0);    ///< bores this near: the least stands
    int join_days = 30;                        ///< a dated defect joins a visit this near

    /// Where the figures come from, by the name of the setting; for people.
    std::map<std::string, std::string> sources{
        {"governing_strength_min",
         "common practice, no source: a loss of up to 35 % is acceptable"},
        {"weakest_strength_min", "own choice, no source"},
        {"girth_ratio_min", "cube root of governing_strength_min: strength goes with girth cubed"},
        {"shell_min_in", "common practice, no source"},
        {"shell_pocket_width_in", "own choice, no source"},
        {"split_loss_max", "own choice, no source"},
        {"in_line_deg", "own choice, no source"},
        {"out_of_line_deg", "own choice, no source"},
        {"governing_deflection_max_deg", "own choice, no source"},
        {"zone_top_in", "TM 5-684/MO-200 (read)"},
        {"section_reach_ft", "own choice, no source"},
        {"decay_girth_ratio", "own choice, no source"},
        {"present_stands_for_original", "own choice, no source"},
        {"urgent_strength_share", "own choice, no source"},
        {"bore_45_factor", "common practice, no source"},
        {"bore_merge_deg", "own choice, no source"},
        {"join_days", "own choice, no source"},
        {"tangent_max_deg", "own choice, no source"},
        {"junction_pair_max_deg", "own choice, no source"},
        {"snap_tolerance_m", "own choice, no source"},
        {"interior_cut_m", "own choice, no source"},
    };

    // Beyond these a figure is reported as doubtful.
    Length girth_low = Length::inches(5.0);
    Length girth_high = Length::inches(120.0);

    /// @return whether `value` meets the lower limit `limit`.
    bool meets(double value, double limit) const {
        return value >= limit - limit_tolerance * (limit < 0.0 ? -limit : limit);
    }
};

}  // namespace linewood
