#pragma once

#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include "assess/limits/limit_tables.hpp"
#include "tests/support/pole_builder.hpp"

namespace linewood::test {

/// The limits of the profiles that come with the program.
struct NamedCriteria {
    std::string name;
    Criteria criteria;
};
inline std::vector<NamedCriteria> shipped_limits() {
    std::vector<NamedCriteria> all;
    const auto add = [&](const char* name, double strength, double shell_in) {
        all.push_back({name, {}});
        Criteria& c = all.back().criteria;
        c.governing_strength_min = strength;
        c.girth_ratio_min = std::cbrt(strength);
        c.shell_min = Length::inches(shell_in);
    };
    add("general-practice", 0.65, 2.0);
    add("two-thirds", 2.0 / 3.0, 2.0);
    add("sixty-percent", 0.6, 2.0);
    add("transmission-3in", 2.65 / 4.0, 3.0);
    return all;
}

inline LineDirection line_north(LineRole role) {
    LineDirection line;
    line.axis = Axis::degrees(0.0);
    line.deflection = Angle::degrees(0.0);
    line.role = role;
    line.source = LineSource::given;
    return line;
}

inline LimitCase case_of(double girth_in,
                         const Criteria& criteria,
                         LineRole role = LineRole::tangent) {
    return {Length::inches(girth_in), line_north(role), criteria, Length::inches(0.01)};
}

/// From the first to the last that is not beyond `to`.
inline std::vector<double> from_to(double from, double to, double step) {
    std::vector<double> all;
    const int steps = static_cast<int>(std::floor((to - from) / step + 1e-9));
    for (int i = 0; i <= steps; ++i) {
        all.push_back(from + step * i);
    }
    return all;
}

inline double diameter_in(double girth_in) { return girth_in / std::numbers::pi; }

// The same sections through the front door, built by other code.

inline bool passes(PoleCase c, const Criteria& criteria, LineRole role = LineRole::tangent) {
    c.criteria = criteria;
    return c.role(role).assess().groundline().outcome != SectionOutcome::fails;
}
inline PoleCase with_girth(double original_in, double present_in) {
    return PoleCase{}.original(original_in).present(present_in);
}
inline PoleCase with_shell(double girth_in, double shell_in) {
    return with_girth(girth_in, girth_in).with(rot(shell_in));
}
inline PoleCase with_pocket(double girth_in, double angle, double width_in, double depth_in) {
    return with_girth(girth_in, girth_in).with(pocket(width_in, depth_in).toward(angle));
}
inline PoleCase with_mouth(double girth_in, double angle, double width_in, double shell_in) {
    return with_pocket(girth_in, angle, width_in, shell_in).with(rot(shell_in));
}

}  // namespace linewood::test
