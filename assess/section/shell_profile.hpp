#pragma once

#include <vector>

#include "assess/section/shape.hpp"

namespace linewood {

/// The shell readings of a section in order around the circle, ready to be run between.
class ShellProfile {
public:
    struct Reading {
        double azimuth;    ///< degrees, [0, 360)
        double thickness;  ///< in radii, [0, 1]
    };

    /// Thickness is cut to the radius. Readings within 1e-7 degrees of each other are one, the least
    /// standing: a step in the shell has no meaning.
    explicit ShellProfile(const SectionShape& shape);

    const std::vector<Reading>& readings() const { return readings_; }
    /// Linear between the readings either side. @pre readings() is not empty
    double at(double azimuth_degrees) const;

private:
    std::vector<Reading> readings_;
};

}  // namespace linewood
