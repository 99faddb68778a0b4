// Boundaries that fall together, touch, pass through the centre or leave nothing. Radius 1 m.

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "assess/section/remaining_section.hpp"
#include "assess/section/sweep.hpp"
#include "tests/support/section_builder.hpp"

namespace linewood::test {
namespace {

constexpr double kPi = std::numbers::pi;

RemainingSection remaining(std::initializer_list<Cut> cuts,
                           std::initializer_list<Bore> bores = {},
                           bool void_local = false) {
    return RemainingSection{section_of(cuts, bores, void_local)};
}

/// Of the circular segment beyond a chord at distance c.
double segment(double c) { return std::acos(c) - c * std::sqrt(1.0 - c * c); }

/// Of the strip |t| <= h from the centre line out to the unit circle, on one side.
double strip(double h) { return std::asin(h) + h * std::sqrt(1.0 - h * h); }

void expect_nothing(const RemainingSection& s) {
    EXPECT_EQ(s.area(), 0.0);
    EXPECT_EQ(s.pieces(), 0);
    EXPECT_EQ(s.lost_share(), 0.0);
    EXPECT_FALSE(s.acts_together());
    EXPECT_EQ(s.modulus(Bearing::degrees(20.0)), 0.0);
    EXPECT_EQ(s.weakest().modulus, 0.0);
    EXPECT_FALSE(s.weakest().axis.has_value());
}

TEST(nothing_left, in_every_way_there_is) {
    expect_nothing(remaining({}, {{0.0, 0.0}}));
    expect_nothing(remaining({}, {{0.0, 0.0}, {120.0, 0.0}, {240.0, 0.0}}));
    expect_nothing(remaining({{40.0, 2.0, 2.0}}));
    expect_nothing(remaining({{40.0, 50.0, 50.0}}));
    expect_nothing(remaining({{0.0, 2.0, 1.0}, {180.0, 2.0, 1.0}}));
    expect_nothing(remaining({{0.0, 2.0, 0.5}, {180.0, 2.0, 0.5}}, {{77.0, 0.5}}));
    expect_nothing(RemainingSection{SectionShape{}});
    SectionShape no_radius = section_of({{0.0, 0.3, 0.2}}, {{0.0, 0.1}});
    no_radius.radius = Length{};
    expect_nothing(RemainingSection{no_radius});
}

TEST(coincidence, cavities_of_no_size_take_nothing) {
    for (const auto& s : {remaining({{10.0, 0.0, 0.5}}),
                          remaining({{10.0, 0.5, 0.0}}),
                          remaining({{10.0, 0.0, 0.5}, {20.0, 1.0, 0.0}}),
                          remaining({}, {{50.0, 1.0}}),
                          remaining({}, {{50.0, 1.0}, {170.0, 1.0}}),
                          remaining({{10.0, 1e-14, 2.0}}, {{50.0, 1.0 - 1e-14}})}) {
        EXPECT_NEAR(s.area(), kPi, 1e-12);
        EXPECT_EQ(s.pieces(), 1);
        EXPECT_NEAR(s.weakest().modulus, kPi / 4.0, 1e-11);
    }
}

TEST(coincidence, void_that_just_meets_the_pocket_floor) {
    // A ring 0.3 thick, slit through: still one piece.
    const double h = 0.2;
    const double r = 0.7;
    const double bottom = r * r * std::asin(h / r) + h * std::sqrt(r * r - h * h);
    const RemainingSection s = remaining({{33.0, 2.0 * h, 0.3}}, {{0.0, 0.3}});
    EXPECT_EQ(s.pieces(), 1);
    EXPECT_NEAR(s.area(), kPi * (1.0 - r * r) - (strip(h) - bottom), 1e-11);
}

TEST(coincidence, opposite_pockets_of_one_width_with_sides_in_line) {
    // Break through to the void on both sides: two equal pieces.
    const RemainingSection s = remaining({{60.0, 0.4, 0.5}, {240.0, 0.4, 0.5}}, {{0.0, 0.3}});
    EXPECT_EQ(s.pieces(), 2);
    EXPECT_NEAR(s.lost_share(), 0.5, 1e-11);
    // Meeting at the centre line without a void: the halves part too, the void being the slot.
    const RemainingSection slot = remaining({{60.0, 0.4, 1.0}, {240.0, 0.4, 1.0}});
    EXPECT_EQ(slot.pieces(), 2);
    EXPECT_NEAR(slot.area(), 2.0 * segment(0.2), 1e-11);
    // One pocket right through is the same slot.
    const RemainingSection through = remaining({{60.0, 0.4, 2.0}});
    EXPECT_NEAR(through.area(), slot.area(), 1e-11);
    EXPECT_NEAR(through.weakest().modulus, slot.weakest().modulus, 1e-11);
}

TEST(coincidence, pockets_crossing_at_the_centre_leave_four_quarters) {
    const RemainingSection s = remaining({{45.0, 0.2, 2.0}, {135.0, 0.2, 2.0}});
    EXPECT_EQ(s.pieces(), 4);
    EXPECT_NEAR(s.lost_share(), 0.75, 1e-10);
    EXPECT_NEAR(s.area(), kPi - 4.0 * strip(0.1) + 4.0 * 0.01, 1e-11);
}

TEST(coincidence, neighbouring_pockets_with_a_corner_in_common) {
    // At right angles, half-width 0.3: the sides cross at (0.3, 0.3), and the floors reach just
    // there, so the wood between and the core meet in a point.
    const double depth = 1.0 - 0.3 * std::numbers::sqrt2;
    const RemainingSection s = remaining({{0.0, 0.6, depth}, {90.0, 0.6, depth}});
    EXPECT_EQ(s.pieces(), 2);
    const double corner = kPi / 4.0 - strip(0.3) + 0.09;  // {x > 0.3, y > 0.3} of the disc
    EXPECT_NEAR(s.lost_share() * s.area(), corner, 1e-10);
    // A little shallower and it is one piece.
    EXPECT_EQ(remaining({{0.0, 0.6, depth - 0.01}, {90.0, 0.6, depth - 0.01}}).pieces(), 1);
}

TEST(coincidence, equal_floors_and_nested_pockets) {
    const RemainingSection alone = remaining({{100.0, 0.8, 0.4}});
    const RemainingSection nested = remaining({{100.0, 0.8, 0.4}, {100.0, 0.5, 0.4}});
    const RemainingSection inside = remaining({{100.0, 0.8, 0.4}, {100.0, 0.8, 0.2}});
    for (const RemainingSection* s : {&nested, &inside}) {
        EXPECT_NEAR(s->area(), alone.area(), 1e-12);
        EXPECT_NEAR(
            s->modulus(Bearing::degrees(77.0)), alone.modulus(Bearing::degrees(77.0)), 1e-11);
        EXPECT_NEAR(s->weakest().modulus, alone.weakest().modulus, 1e-11);
    }
}

TEST(coincidence, depth_on_either_side_of_the_radius) {
    const double at = remaining({{10.0, 0.6, 1.0}}).weakest().modulus;
    EXPECT_NEAR(remaining({{10.0, 0.6, 1.0 - 1e-10}}).weakest().modulus, at, 1e-8);
    EXPECT_NEAR(remaining({{10.0, 0.6, 1.0 + 1e-10}}).weakest().modulus, at, 1e-8);
}

TEST(coincidence, width_of_the_diameter_and_more) {
    const RemainingSection exact = remaining({{10.0, 2.0, 0.3}});
    const RemainingSection more = remaining({{10.0, 7.0, 0.3}});
    EXPECT_EQ(exact.area(), more.area());
    EXPECT_EQ(exact.weakest().modulus, more.weakest().modulus);
    EXPECT_NEAR(remaining({{10.0, 2.0 - 1e-9, 0.3}}).area(), exact.area(), 1e-8);
}

TEST(coincidence, rings_from_two_sides_leave_the_core) {
    const RemainingSection s = remaining({{0.0, 2.0, 0.25}, {180.0, 2.0, 0.25}});
    EXPECT_EQ(s.pieces(), 1);
    EXPECT_NEAR(s.area(), kPi * 0.5625, 1e-12);
    EXPECT_NEAR(s.weakest().modulus, kPi / 4.0 * std::pow(0.75, 3), 1e-12);
    EXPECT_FALSE(s.weakest().axis.has_value());
}

TEST(coincidence, azimuths_either_side_of_north) {
    const RemainingSection across = remaining({{0.0, 0.5, 0.4}}, {{359.5, 0.4}, {0.5, 0.5}});
    const RemainingSection away = remaining({{200.0, 0.5, 0.4}}, {{199.5, 0.4}, {200.5, 0.5}});
    EXPECT_EQ(across.pieces(), away.pieces());
    EXPECT_NEAR(across.area(), away.area(), 1e-12);
    EXPECT_NEAR(
        across.modulus(Bearing::degrees(30.0)), away.modulus(Bearing::degrees(230.0)), 1e-12);
}

TEST(coincidence, shell_of_nothing_at_one_bore) {
    // The void reaches the surface at one azimuth only, in a point.
    const RemainingSection s = remaining({}, {{0.0, 0.0}, {120.0, 1.0}, {240.0, 1.0}});
    EXPECT_EQ(s.pieces(), 1);
    // Twice the integral of r^2 / 2 from 0 to a third of a turn, r falling from 1 to 0.
    EXPECT_NEAR(s.area(), kPi - 2.0 * kPi / 9.0, 1e-12);
}

TEST(local_cavities, all_that_part_must_be_local) {
    const Cut a{60.0, 0.4, 0.5, true};
    const Cut b{240.0, 0.4, 0.5, true};
    const Cut aside{150.0, 0.2, 0.1, false};  // touches one piece only
    EXPECT_TRUE(remaining({a, b, aside}, {{0.0, 0.3}}, true).acts_together());
    EXPECT_FALSE(remaining({a, b, aside}, {{0.0, 0.3}}, false).acts_together());
    const Cut long_b{240.0, 0.4, 0.5, false};
    EXPECT_FALSE(remaining({a, long_b, aside}, {{0.0, 0.3}}, true).acts_together());
}

TEST(local_cavities, a_section_in_one_does_not_act_together) {
    EXPECT_FALSE(remaining({{60.0, 0.4, 0.5, true}}, {{0.0, 0.8}}, true).acts_together());
}

TEST(local_cavities, two_wide_pockets_part_the_core) {
    EXPECT_TRUE(remaining({{0.0, 1.2, 0.5, true}, {180.0, 1.2, 0.5, true}}).acts_together());
    EXPECT_FALSE(remaining({{0.0, 1.2, 0.5, true}, {180.0, 1.2, 0.5, false}}).acts_together());
}

TEST(local_cavities, overlapping_pairs_part_it_though_none_alone_does) {
    // North and south a pair of pockets overlaps: of each pair one borders the wood to the west, the
    // other the wood to the east, and neither reaches both. The void lies inside the pockets.
    const Cut north_west{0.0, 0.6, 0.9, true};
    const Cut north_east{10.0, 0.6, 0.9, true};
    const Cut south_west{180.0, 0.6, 0.9, true};
    const Cut south_east{170.0, 0.6, 0.9, true};
    const Bore bore{0.0, 0.8};
    const RemainingSection all_local =
        remaining({north_west, north_east, south_west, south_east}, {bore}, false);
    EXPECT_EQ(all_local.pieces(), 2);
    EXPECT_TRUE(all_local.acts_together());
    const Cut tall{170.0, 0.6, 0.9, false};
    EXPECT_FALSE(
        remaining({north_west, north_east, south_west, tall}, {bore}, true).acts_together());
}

TEST(pieces, a_scrap_is_no_piece) {
    // Two wide pockets leave a core of radius 1e-5 between two segments.
    const RemainingSection s = remaining({{0.0, 1.2, 1.0 - 1e-5}, {180.0, 1.2, 1.0 - 1e-5}});
    EXPECT_EQ(s.pieces(), 2);
    EXPECT_NEAR(s.area(), 2.0 * segment(0.6), 1e-11);
    EXPECT_EQ(remaining({{0.0, 1.2, 1.0 - 1e-4}, {180.0, 1.2, 1.0 - 1e-4}}).pieces(), 3);
}

TEST(pieces, of_equally_large_ones_the_weakest_carries) {
    // The core, and a segment on either side with the area of the core.
    const double core = 0.3;
    double narrow = core;
    double wide = 1.0;
    for (int i = 0; i < 60; ++i) {
        const double half = 0.5 * (narrow + wide);
        (segment(half) > kPi * core * core ? narrow : wide) = half;
    }
    for (const double azimuth : {0.0, 40.0, 90.0, 155.0}) {
        const RemainingSection s = remaining(
            {{azimuth, 2.0 * narrow, 1.0 - core}, {azimuth + 180.0, 2.0 * narrow, 1.0 - core}});
        EXPECT_EQ(s.pieces(), 3);
        EXPECT_NEAR(s.lost_share(), 2.0 / 3.0, 1e-10);
        // A segment is weakest across its chord; the core would carry more in every direction.
        EXPECT_LT(s.weakest().modulus, 0.5 * kPi / 4.0 * core * core * core);
        EXPECT_NEAR(s.weakest().modulus, s.modulus(Bearing::degrees(azimuth + 90.0)), 1e-12);
    }
}

}  // namespace
}  // namespace linewood::test
