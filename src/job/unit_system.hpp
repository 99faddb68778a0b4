#pragma once

#include <cmath>
#include <cstdint>
#include <string>
#include <string_view>

#include "assess/units/length.hpp"

namespace linewood {

/// The units of the tool's own columns.
enum class UnitSystem : std::uint8_t {
    us,  ///< inches for girth, width, depth, shell; feet for heights and lengths
    si,  ///< millimetres; metres
};

inline std::string_view name_of(UnitSystem u) { return u == UnitSystem::us ? "us" : "si"; }
inline std::string_view girth_unit(UnitSystem u) { return u == UnitSystem::us ? "in" : "mm"; }
inline std::string_view height_unit(UnitSystem u) { return u == UnitSystem::us ? "ft" : "m"; }

/// Nine decimals: far below any tape, and it hides the last digits that a change of unit leaves.
inline double rounded(double v) {
    const double r = std::round(v * 1e9) / 1e9;
    return std::isfinite(r) ? r + 0.0 : v;  // + 0.0 turns -0 into 0
}

inline double girth_figure(Length l, UnitSystem u) {
    return rounded(u == UnitSystem::us ? l.inches() : l.millimetres());
}
inline double height_figure(Length l, UnitSystem u) {
    return rounded(u == UnitSystem::us ? l.feet() : l.metres());
}
inline double percent_figure(double share) { return rounded(share * 100.0); }

}  // namespace linewood
