// Which strength governs: across the line, or in the weakest direction.

#include <string>

#include <gtest/gtest.h>

#include "tests/support/expected_strength.hpp"
#include "tests/support/pole_builder.hpp"

namespace linewood::test {
namespace {

/// Pockets on the axis, which runs north: the section is weak along the line, not across it.
PoleCase weak_along_the_line() {
    return PoleCase{}
        .original(40)
        .present(40)
        .with(pocket(3, 2).toward(0))
        .with(pocket(3, 2).toward(180));
}

SectionShape weak_shape() { return shape_in(40, {{0, 3, 2}, {180, 3, 2}}); }

TEST(governing, role_and_deflection_decide) {
    const double across = share_from(90, weak_shape(), 40);
    const double weakest = weakest_share(weak_shape(), 40);
    ASSERT_GT(across, weakest + 0.05);
    struct Row {
        LineRole role;
        double deflection;
        double expected;
    };
    for (const Row& r : {
             Row{LineRole::tangent, 0, across},
             Row{LineRole::tangent, 5, across},
             Row{LineRole::angle, 6, across},
             Row{LineRole::angle, 29.9, across},
             Row{LineRole::angle, 30, across},  // up to 30, inclusive
             Row{LineRole::angle, 30.001, weakest},
             Row{LineRole::angle, 90, weakest},
             Row{LineRole::dead_end, 0, weakest},
             Row{LineRole::junction, 0, weakest},
             Row{LineRole::junction, 10, weakest},
             Row{LineRole::isolated, 0, weakest},
         }) {
        const Assessed a = weak_along_the_line().role(r.role).deflection(r.deflection).assess();
        EXPECT_NEAR(a.governing(), r.expected, 1e-9)
            << static_cast<int>(r.role) << " at " << r.deflection;
    }
}

TEST(governing, no_axis_takes_the_weakest_and_gives_no_directions) {
    const Assessed a = weak_along_the_line().no_axis().assess();
    const SectionStrengths& s = *a.groundline().strengths;
    EXPECT_NEAR(s.governing, weakest_share(weak_shape(), 40), 1e-9);
    EXPECT_FALSE(s.transverse.has_value());
    EXPECT_FALSE(s.longitudinal.has_value());
}

TEST(governing, a_tangent_without_an_axis_takes_the_weakest) {
    const Assessed a = weak_along_the_line().no_axis().role(LineRole::tangent).assess();
    EXPECT_NEAR(a.governing(), weakest_share(weak_shape(), 40), 1e-9);
}

TEST(governing, an_angle_of_unknown_deflection_takes_the_weakest) {
    PoleCase c = weak_along_the_line().role(LineRole::angle);
    c.line.deflection = {};
    EXPECT_NEAR(c.assess().governing(), weakest_share(weak_shape(), 40), 1e-9);
}

TEST(governing, the_limit_of_deflection_is_a_setting) {
    PoleCase c = weak_along_the_line().role(LineRole::angle).deflection(40);
    c.criteria.governing_deflection_max = Angle::degrees(45);
    EXPECT_NEAR(c.assess().governing(), share_from(90, weak_shape(), 40), 1e-9);
}

TEST(governing, transverse_is_across_the_axis_and_longitudinal_along_it) {
    const Assessed a =
        PoleCase{}.axis(20).original(40).present(38).with(pocket(4, 2).toward(75)).assess();
    const SectionShape shape = shape_in(38, {{75, 4, 2}});
    EXPECT_NEAR(*a.groundline().strengths->transverse, share_from(110, shape, 40), 1e-9);
    EXPECT_NEAR(*a.groundline().strengths->longitudinal, share_from(20, shape, 40), 1e-9);
}

TEST(governing, weakest_azimuth_is_below_180_and_names_the_weakest_direction) {
    const Assessed a = PoleCase{}.original(40).present(40).with(pocket(4, 3).toward(250)).assess();
    const Maybe<Axis> axis = a.groundline().strengths->weakest_axis;
    ASSERT_TRUE(axis.has_value());
    EXPECT_GE(axis->degrees(), 0.0);
    EXPECT_LT(axis->degrees(), 180.0);
    const SectionShape shape = shape_in(40, {{250, 4, 3}});
    EXPECT_NEAR(share_from(axis->degrees(), shape, 40), weakest_share(shape, 40), 1e-9);
}

}  // namespace
}  // namespace linewood::test
