#pragma once

#include <initializer_list>

#include "assess/section/shape.hpp"

namespace linewood::test {

/// A pocket as its bearing in degrees, width and depth in radii of a disc of 1 m.
struct Cut {
    double azimuth = 0.0;
    double width = 0.0;
    double depth = 0.0;
    bool local = false;
};

/// A shell reading as its bearing in degrees and thickness in radii.
struct Bore {
    double azimuth = 0.0;
    double shell = 0.0;
};

/// A section of radius 1 m, where the sound modulus is pi / 4.
inline SectionShape section_of(std::initializer_list<Cut> cuts,
                               std::initializer_list<Bore> bores = {},
                               bool void_local = false) {
    SectionShape s;
    s.radius = Length::metres(1.0);
    for (const Cut& c : cuts) {
        s.pockets.push_back({Bearing::degrees(c.azimuth),
                             Length::metres(c.width),
                             Length::metres(c.depth),
                             c.local});
    }
    for (const Bore& b : bores) {
        s.shell.push_back({Bearing::degrees(b.azimuth), Length::metres(b.shell)});
    }
    s.void_local = void_local;
    return s;
}

}  // namespace linewood::test
