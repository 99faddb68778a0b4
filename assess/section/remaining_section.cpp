#include "assess/section/remaining_section.hpp"

#include <cassert>
#include <numbers>

#include "assess/section/one_pocket.hpp"
#include "assess/section/shell_profile.hpp"
#include "assess/section/sweep.hpp"

namespace linewood {

RemainingSection::RemainingSection(const SectionShape& shape)
    : mechanics_{is_one_pocket(shape) ? one_pocket(shape) : sweep(shape)} {}

double solid_modulus(Length circumference) {
    assert(circumference.metres() >= 0.0);
    const double diameter = circumference.metres() / std::numbers::pi;
    return std::numbers::pi / 32.0 * diameter * diameter * diameter;
}

std::optional<Length> shell_at(const SectionShape& shape, Bearing azimuth) {
    const ShellProfile profile{shape};
    if (profile.readings().empty()) {
        return std::nullopt;
    }
    return profile.at(azimuth.degrees()) * shape.radius;
}

}  // namespace linewood
