// Any section that the header allows has finite strengths within the solid section's, and the exact
// minimum is below the strength in every direction asked for.

#include <cmath>
#include <cstddef>
#include <cstdint>

#include <fuzzer/FuzzedDataProvider.h>

#include "assess/section/remaining_section.hpp"

namespace linewood {
namespace {

// A cut can take less strength than fibre distance: over 1 by little.
constexpr double kMostOfSolid = 1.2;
constexpr int kMostCavities = 12;

void require(bool holds) {
    if (!holds) {
        __builtin_trap();
    }
}

Length size(FuzzedDataProvider& data) {
    return Length::inches(data.ConsumeFloatingPointInRange<double>(0.0, 100.0));
}

Bearing direction(FuzzedDataProvider& data) {
    return Bearing::degrees(data.ConsumeFloatingPointInRange<double>(-720.0, 720.0));
}

SectionShape shape_from(FuzzedDataProvider& data) {
    SectionShape shape;
    shape.radius = size(data);
    shape.void_local = data.ConsumeBool();
    for (int i = data.ConsumeIntegralInRange(0, kMostCavities); i > 0; --i) {
        const Bearing azimuth = direction(data);
        const Length width = size(data);
        shape.pockets.push_back({azimuth, width, size(data), data.ConsumeBool()});
    }
    for (int i = data.ConsumeIntegralInRange(0, kMostCavities); i > 0; --i) {
        const Bearing azimuth = direction(data);
        shape.shell.push_back({azimuth, size(data)});
    }
    return shape;
}

void check(const SectionShape& shape, FuzzedDataProvider& data) {
    const RemainingSection section{shape};
    const double r = shape.radius.metres();
    const double disc = 3.14159265358979324 * r * r;
    const double solid = solid_modulus(shape.radius * 6.28318530717958648);
    require(section.area() >= 0.0 && section.area() <= disc * (1.0 + 1e-9));
    require(section.lost_share() >= 0.0 && section.lost_share() <= 1.0);
    require(section.pieces() >= 0);
    const double weakest = section.weakest().modulus;
    require(weakest >= 0.0 && weakest <= solid * kMostOfSolid);
    for (int i = 0; i < 8; ++i) {
        const double modulus = section.modulus(direction(data));
        require(modulus <= solid * kMostOfSolid);
        require(modulus >= weakest * (1.0 - 1e-9));
    }
}

}  // namespace
}  // namespace linewood

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    FuzzedDataProvider provider{data, size};
    const linewood::SectionShape shape = linewood::shape_from(provider);
    linewood::check(shape, provider);
    return 0;
}
