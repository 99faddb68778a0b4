#pragma once

#include <string>
#include <vector>

#include "sample-gis/random.hpp"
#include "sample-gis/records.hpp"

namespace linewood::sample {

/// Places where the ground is wet and decay runs faster, so that bad poles lie together.
struct WetPlaces {
    std::vector<Xy> centres;
    double radius = 900.0;  ///< in the units of the coordinates

    /// 1 far away, up to 5 at a centre.
    double wetness(Xy at) const;
};

/// A cavity open to the outside. Inches, feet, degrees (true).
struct Pocket {
    double height = 0.0;
    double azimuth = 0.0;
    double width = 0.0;
    double depth = 0.0;
    double extent = 0.0;
    std::string cause;
};

/// What a pole is like, whether or not anybody finds it.
struct Condition {
    double shell_rot = 0.0;           ///< depth lost all round at the groundline, in
    std::vector<double> heart_shell;  ///< sound shell around internal rot at `heart_azimuths`, in
    std::vector<double> heart_azimuths;
    double heart_height = 0.0;  ///< ft
    std::vector<Pocket> pockets;
    std::string damage = "none";
    bool safe_to_climb = true;
    bool deeper_than_dug = false;  ///< decay goes on below the excavation
    double severity = 0.0;         ///< 0 sound, 1 the worst there is
};

/// Ages a pole to `year`: decay grows with age and wet ground and differs between woods.
Condition aged(Random& random, const Pole& pole, int year);

}  // namespace linewood::sample
