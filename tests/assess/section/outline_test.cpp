#include "assess/section/outline.hpp"

#include <algorithm>
#include <cmath>

#include <gtest/gtest.h>

#include "assess/section/remaining_section.hpp"
#include "tests/support/section_builder.hpp"
#include "tests/support/section_shapes.hpp"

namespace linewood::test {
namespace {

/// Least modulus by a scan of bearings, then ever finer scans around the best one.
double scanned(const RemainingSection& section) {
    double best = 0.0;
    double least = section.modulus(Bearing::degrees(0.0));
    const auto scan = [&](double centre, double step, int count) {
        for (int i = -count; i <= count; ++i) {
            const double a = centre + step * i;
            const double m = section.modulus(Bearing::degrees(a));
            if (m < least) {
                least = m;
                best = a;
            }
        }
    };
    scan(90.0, 0.25, 360);
    double step = 0.25;
    for (int round = 0; round < 13; ++round) {
        step /= 5.0;
        scan(best, step, 10);
    }
    return least;
}

TEST(outline, weakest_direction_is_the_scanned_minimum) {
    SectionSource source{31};
    for (int i = 0; i < 3000; ++i) {
        const SectionShape shape = source.shape(4, 5);
        SCOPED_TRACE(describe(shape));
        const RemainingSection section{shape};
        const double whole = sound_modulus(shape);
        ASSERT_NEAR(section.weakest().modulus, scanned(section), 1e-11 * whole);
    }
}

TEST(outline, several_weakest_directions_give_the_least_azimuth) {
    // Symmetric about 90 degrees with two weakest directions either side of it, 90 - v and 90 + v.
    const RemainingSection section{section_of({{90.0, 1.2, 0.4}})};
    const WeakestDirection weakest = section.weakest();
    ASSERT_TRUE(weakest.axis.has_value());
    const double named = weakest.axis.value().degrees();
    EXPECT_LE(named, 90.0);
    const double other = 180.0 - named;
    EXPECT_NEAR(section.modulus(Bearing::degrees(other)), weakest.modulus, 1e-12);
    // Turned by a right angle the pair stands either side of north: the one in (0, 90) is named.
    const RemainingSection north{section_of({{0.0, 1.2, 0.4}})};
    EXPECT_NEAR(north.weakest().axis.value().degrees(),
                std::fmod(named < 90.0 ? 90.0 - named : 0.0, 180.0),
                1e-6);
}

TEST(outline, north_is_named_0_and_not_180) {
    // A slot right through along east-west leaves equal segments, weakest along north-south.
    for (const double azimuth : {90.0, 270.0, 90.0 + 1e-12}) {
        const RemainingSection section{section_of({{azimuth, 1.0, 2.0}})};
        EXPECT_NEAR(section.weakest().axis.value().degrees(), 0.0, 1e-8) << azimuth;
    }
}

TEST(outline, threefold_symmetry_has_no_weakest_direction) {
    const RemainingSection pockets{
        section_of({{10.0, 0.3, 0.2}, {130.0, 0.3, 0.2}, {250.0, 0.3, 0.2}})};
    EXPECT_FALSE(pockets.weakest().axis.has_value());
    const double any = pockets.modulus(Bearing::degrees(0.0));
    for (int a = 0; a < 180; ++a) {
        EXPECT_NEAR(pockets.modulus(Bearing::degrees(a)), any, 1e-9 * any);
    }
    const RemainingSection star{section_of(
        {}, {{0.0, 0.2}, {60.0, 0.7}, {120.0, 0.2}, {180.0, 0.7}, {240.0, 0.2}, {300.0, 0.7}})};
    EXPECT_FALSE(star.weakest().axis.has_value());
    // Wider pockets leave gaps in the rim that no opposite wood fills.
    const RemainingSection wide{
        section_of({{10.0, 1.2, 0.2}, {130.0, 1.2, 0.2}, {250.0, 1.2, 0.2}})};
    EXPECT_TRUE(wide.weakest().axis.has_value());
    // Four pockets: stiff alike in all directions, but the rim has gaps.
    const RemainingSection four{
        section_of({{0.0, 0.3, 0.2}, {90.0, 0.3, 0.2}, {180.0, 0.3, 0.2}, {270.0, 0.3, 0.2}})};
    ASSERT_TRUE(four.weakest().axis.has_value());
}

TEST(outline, a_scratch_is_below_what_a_direction_needs) {
    const RemainingSection scratch{section_of({{20.0, 1e-6, 1e-6}})};
    EXPECT_FALSE(scratch.weakest().axis.has_value());
    const RemainingSection notch{section_of({{20.0, 1e-3, 1e-2}})};
    EXPECT_TRUE(notch.weakest().axis.has_value());
}

TEST(outline, empty) {
    const Outline nothing;
    EXPECT_EQ(nothing.modulus(Bearing::degrees(1.0)), 0.0);
    EXPECT_EQ(nothing.weakest().modulus, 0.0);
    EXPECT_FALSE(nothing.weakest().axis.has_value());
}

}  // namespace
}  // namespace linewood::test
