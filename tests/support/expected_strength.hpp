#pragma once

#include <cmath>
#include <initializer_list>
#include <numbers>

#include "assess/section/remaining_section.hpp"
#include "tests/support/section_builder.hpp"

namespace linewood::test {

/// (C/C0)^3, the strength of a smaller round section.
inline double cubed(double ratio) { return ratio * ratio * ratio; }

/// What an even shell keeps of a round section: 1 - (1 - 2 pi t / C)^4.
inline double hollow_share(double shell_in, double girth_in) {
    const double inner = 1.0 - 2.0 * std::numbers::pi * shell_in / girth_in;
    return 1.0 - inner * inner * inner * inner;
}

/// The shell that keeps this share of a round section: the above, solved for t.
inline double shell_keeping(double share, double girth_in) {
    return (1.0 - std::sqrt(std::sqrt(1.0 - share))) * girth_in / (2.0 * std::numbers::pi);
}

/// A section written out by hand: everything in inches and degrees.
inline SectionShape shape_in(double girth_in,
                             std::initializer_list<Cut> cuts,
                             std::initializer_list<Bore> bores = {}) {
    SectionShape s;
    s.radius = Length::inches(girth_in) / (2.0 * std::numbers::pi);
    for (const Cut& c : cuts) {
        s.pockets.push_back({Bearing::degrees(c.azimuth),
                             Length::inches(c.width),
                             Length::inches(c.depth),
                             c.local});
    }
    for (const Bore& b : bores) {
        s.shell.push_back({Bearing::degrees(b.azimuth), Length::inches(b.shell)});
    }
    return s;
}

/// Strength under load from a bearing, as a share of the sound section of girth `original_in`.
inline double share_from(double load, const SectionShape& shape, double original_in) {
    return RemainingSection{shape}.modulus(Bearing::degrees(load)) /
           solid_modulus(Length::inches(original_in));
}

inline double weakest_share(const SectionShape& shape, double original_in) {
    return RemainingSection{shape}.weakest().modulus / solid_modulus(Length::inches(original_in));
}

}  // namespace linewood::test
