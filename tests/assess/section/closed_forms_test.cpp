// Sections whose strength can be written down. Radius 1 m, so the sound modulus is pi / 4.

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "assess/section/remaining_section.hpp"
#include "assess/section/sweep.hpp"
#include "tests/support/section_builder.hpp"

namespace linewood::test {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kExact = 1e-12;

Bearing at(double degrees) { return Bearing::degrees(degrees); }

/// Circular segment beyond a chord at distance `chord` from the centre of a unit circle. Standard
/// formulas, from memory; `segment_formulas_hold` integrates them.
struct Segment {
    explicit Segment(double chord_distance)
        : chord{chord_distance}, half{std::acos(chord_distance)} {
        const double s = std::sin(half);
        const double c = std::cos(half);
        area = half - s * c;
        centroid = 2.0 * s * s * s / (3.0 * area);
        // About its own centroid: along the axis of symmetry, and across it.
        along = 0.25 * (half - s * c + 2.0 * s * s * s * c) - area * centroid * centroid;
        across = (3.0 * half - 3.0 * s * c - 2.0 * s * s * s * c) / 12.0;
    }

    double chord;
    double half;
    double area;
    double centroid;
    double along;
    double across;
    double modulus_along() const { return along / std::max(1.0 - centroid, centroid - chord); }
    double modulus_across() const { return across / (chord > 0.0 ? std::sin(half) : 1.0); }
};

TEST(closed_forms, segment_formulas_hold) {
    const Segment s{0.3};
    double area = 0.0;
    double first = 0.0;
    double along = 0.0;
    double across = 0.0;
    constexpr int kStrips = 200000;
    for (int i = 0; i < kStrips; ++i) {
        const double x = 0.3 + 0.7 * (i + 0.5) / kStrips;
        const double y = std::sqrt(1.0 - x * x);
        const double dx = 0.7 / kStrips;
        area += 2.0 * y * dx;
        first += 2.0 * y * x * dx;
        along += 2.0 * y * x * x * dx;
        across += 2.0 / 3.0 * y * y * y * dx;
    }
    EXPECT_NEAR(s.area, area, 1e-8);
    EXPECT_NEAR(s.centroid, first / area, 1e-8);
    EXPECT_NEAR(s.along, along - first * first / area, 1e-8);
    EXPECT_NEAR(s.across, across, 1e-8);
}

TEST(closed_forms, solid) {
    const SectionShape shape = section_of({});
    const Mechanics swept = sweep(shape);
    EXPECT_NEAR(swept.area, kPi, kExact);
    EXPECT_NEAR(swept.outline.modulus(at(31.0)), kPi / 4.0, kExact);
    EXPECT_FALSE(swept.outline.weakest().axis.has_value());
    const RemainingSection section{shape};
    EXPECT_NEAR(section.area(), kPi, kExact);
    EXPECT_EQ(section.pieces(), 1);
    EXPECT_EQ(section.lost_share(), 0.0);
    EXPECT_FALSE(section.acts_together());
    EXPECT_NEAR(section.modulus(at(200.0)), kPi / 4.0, kExact);
    EXPECT_NEAR(section.weakest().modulus, kPi / 4.0, kExact);
    EXPECT_FALSE(section.weakest().axis.has_value());
}

TEST(closed_forms, solid_modulus_of_a_girth) {
    // 12 in diameter: 169.646 in^3.
    const double cubic_inches =
        solid_modulus(Length::inches(12.0 * kPi)) / (0.0254 * 0.0254 * 0.0254);
    EXPECT_NEAR(cubic_inches, kPi * 12.0 * 12.0 * 12.0 / 32.0, 1e-10);
    EXPECT_EQ(solid_modulus(Length{}), 0.0);
}

TEST(closed_forms, reduced_girth_loses_with_the_cube) {
    for (const double share : {0.65, 0.8662, 0.98}) {
        SectionShape shape;
        shape.radius = Length::inches(share * 40.0) / (2.0 * kPi);
        EXPECT_NEAR(RemainingSection{shape}.weakest().modulus / solid_modulus(Length::inches(40.0)),
                    share * share * share,
                    kExact);
    }
}

TEST(closed_forms, concentric_hollow) {
    for (const double t : {1e-4, 0.05, 1.0 / 3.0, 0.8, 0.999}) {
        const double rho4 = std::pow(1.0 - t, 4);
        const double expected = kPi / 4.0 * (1.0 - rho4);
        const SectionShape one = section_of({}, {{123.0, t}});
        const SectionShape several = section_of({}, {{10.0, t}, {130.0, t}, {260.0, t}});
        for (const SectionShape& shape : {one, several}) {
            const RemainingSection fast{shape};
            const Mechanics swept = sweep(shape);
            EXPECT_NEAR(fast.modulus(at(44.0)), expected, kExact);
            EXPECT_NEAR(swept.outline.modulus(at(44.0)), expected, kExact);
            EXPECT_NEAR(swept.outline.weakest().modulus, expected, kExact);
            EXPECT_FALSE(fast.weakest().axis.has_value());
            EXPECT_FALSE(swept.outline.weakest().axis.has_value());
            EXPECT_NEAR(swept.area, kPi * (1.0 - (1.0 - t) * (1.0 - t)), kExact);
        }
    }
}

TEST(closed_forms, half_a_ring_removed) {
    // Half disc of 1 behind, half disc of 0.7 in front.
    const double r = 0.7;
    const double area = kPi / 2.0 * (1.0 + r * r);
    const double centroid = -2.0 / 3.0 * (1.0 - r * r * r) / area;
    const double across = kPi / 8.0 * (1.0 + std::pow(r, 4));
    const double along = across - area * centroid * centroid;
    const RemainingSection section{section_of({{40.0, 2.0, 0.3}})};
    EXPECT_NEAR(section.area(), area, kExact);
    EXPECT_NEAR(section.modulus(at(40.0)), along / std::max(1.0 + centroid, r - centroid), kExact);
    EXPECT_NEAR(section.modulus(at(130.0)), across, kExact);
    const WeakestDirection weakest = section.weakest();
    ASSERT_TRUE(weakest.axis.has_value());
    EXPECT_LE(weakest.modulus, section.modulus(at(40.0)));
}

TEST(closed_forms, half_disc) {
    // Depth equal to the radius, and more width than there is wood.
    const RemainingSection section{section_of({{90.0, 5.0, 1.0}})};
    const double centroid = 4.0 / (3.0 * kPi);
    EXPECT_NEAR(section.area(), kPi / 2.0, kExact);
    EXPECT_NEAR(
        section.modulus(at(90.0)), (kPi / 8.0 - 8.0 / (9.0 * kPi)) / (1.0 - centroid), kExact);
    EXPECT_NEAR(section.modulus(at(180.0)), kPi / 8.0, kExact);
}

TEST(closed_forms, segment_left) {
    for (const double depth : {1.1, 1.4, 1.8}) {
        const Segment s{depth - 1.0};
        const RemainingSection section{section_of({{250.0, 2.0, depth}})};
        EXPECT_EQ(section.pieces(), 1);
        EXPECT_NEAR(section.area(), s.area, kExact);
        EXPECT_NEAR(section.modulus(at(250.0)), s.modulus_along(), kExact);
        EXPECT_NEAR(section.modulus(at(340.0)), s.modulus_across(), kExact);
    }
}

TEST(closed_forms, two_equal_segments_apart) {
    // A slot right through, half as wide as the disc: one segment carries, the other is lost.
    const Segment s{0.5};
    const RemainingSection section{section_of({{0.0, 1.0, 2.0}})};
    EXPECT_EQ(section.pieces(), 2);
    EXPECT_FALSE(section.acts_together());
    EXPECT_NEAR(section.lost_share(), 0.5, kExact);
    EXPECT_NEAR(section.area(), 2.0 * s.area, kExact);
    EXPECT_NEAR(section.modulus(at(90.0)), s.modulus_along(), kExact);
    EXPECT_NEAR(section.modulus(at(0.0)), s.modulus_across(), kExact);
    const WeakestDirection weakest = section.weakest();
    EXPECT_NEAR(weakest.modulus, s.modulus_along(), kExact);
    EXPECT_NEAR(weakest.axis.value().degrees(), 90.0, 1e-9);
}

TEST(closed_forms, two_segments_acting_together) {
    const Segment s{0.5};
    const RemainingSection section{section_of({{0.0, 1.0, 2.0, true}})};
    EXPECT_EQ(section.pieces(), 2);
    EXPECT_TRUE(section.acts_together());
    EXPECT_EQ(section.lost_share(), 0.0);
    EXPECT_NEAR(
        section.modulus(at(90.0)), 2.0 * (s.along + s.area * s.centroid * s.centroid), kExact);
    EXPECT_NEAR(section.modulus(at(0.0)), 2.0 * s.across / std::sin(s.half), kExact);
}

TEST(closed_forms, core_left_between_two_wide_pockets) {
    // Together they go all round the core, which outweighs either segment beside them.
    const Segment s{0.6};
    const RemainingSection section{section_of({{45.0, 1.2, 0.5}, {225.0, 1.2, 0.5}})};
    EXPECT_EQ(section.pieces(), 3);
    EXPECT_NEAR(section.area(), kPi / 4.0 + 2.0 * s.area, kExact);
    EXPECT_NEAR(section.lost_share(), 2.0 * s.area / section.area(), kExact);
    EXPECT_NEAR(section.modulus(at(10.0)), kPi / 32.0, kExact);
    EXPECT_FALSE(section.weakest().axis.has_value());
}

TEST(closed_forms, linear_shell_all_round) {
    // Two opposite bores: void r = b + c |a| / pi from one to the other. Area by the integral of r^2.
    const double near = 0.2;
    const double far = 0.7;
    const RemainingSection section{section_of({}, {{30.0, 1.0 - near}, {210.0, 1.0 - far}})};
    const double hollow = kPi / 3.0 * (near * near + near * far + far * far);
    EXPECT_NEAR(section.area(), kPi - hollow, kExact);
    EXPECT_NEAR(section.modulus(at(30.0)), section.modulus(at(210.0)), kExact);
}

}  // namespace
}  // namespace linewood::test
