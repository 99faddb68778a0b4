#include <cassert>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <string>

#include "assess/wood/dimension_table.hpp"
#include "assess/wood/pole_class.hpp"
#include "assess/wood/round_strength.hpp"

namespace linewood {

double generated_girth_in(const GeneratingGroup& group,
                          PoleClass c,
                          double length_ft,
                          double depth_ft) {
    assert(length_ft > depth_ft + 2.0);
    const double load_lb = class_row(c).load_n / kNewtonsPerPound;
    const double moment_lb_in = 12.0 * load_lb * (length_ft - depth_ft - 2.0);
    const double groundline_in = std::cbrt(32.0 * std::numbers::pi * std::numbers::pi *
                                           moment_lb_in / group.fibre_stress_psi);
    return groundline_in + (depth_ft - 6.0) * group.average_taper_in_per_ft;
}

DimensionTable generated_table(const GeneratingGroup& group) {
    DimensionTable table;
    table.code = group.code;
    table.title = group.title;
    table.kind = TableKind::generated;
    const auto& depths = published_setting_depths();
    table.blocks.push_back(
        {depths.front().length,
         depths.back().length,
         PoleClass::h6,
         PoleClass::c10,
         "generated here from class load, designated fibre stress, setting depth and "
         "average taper; not a standard's table",
         std::string{group.confidence},
         "about 0.5 in either way of the printed standard; some lengths and classes "
         "do not exist in it"});
    for (std::size_t c = 0; c < table.top_girth.size(); ++c) {
        table.top_girth[c] = class_row(static_cast<PoleClass>(c)).top_girth;
    }
    for (const SettingDepth& d : depths) {
        DimensionRow row{d.length, d.depth, {}};
        for (std::size_t c = 0; c < row.girth.size(); ++c) {
            const double exact = generated_girth_in(
                group, static_cast<PoleClass>(c), d.length.feet(), d.depth.feet());
            // Up to the next half inch; what misses it by rounding error alone stays.
            row.girth[c] = Length::inches(std::ceil(exact * 2.0 - 1e-9) / 2.0);
        }
        table.rows.push_back(row);
    }
    return table;
}

}  // namespace linewood
