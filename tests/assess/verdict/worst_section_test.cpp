// "The worst section is the one of least governing strength relative to its limit; at equality the
// lowest."

#include <gtest/gtest.h>

#include "tests/support/pole_builder.hpp"

namespace linewood::test {
namespace {

/// Height in feet of the worst section.
double worst(const PoleCase& c) {
    const Assessed a = c.assess();
    return a.sections[*a.worst_section].height.feet();
}

PoleCase sound() { return PoleCase{}.original(40).present(40); }

TEST(worst_section, has_the_least_governing_strength) {
    EXPECT_NEAR(
        worst(sound().with(rot(4).at(3)).with(rot(3).at(8)).with(rot(3.5).at(12))), 8, 1e-9);
}

TEST(worst_section, at_equality_is_the_lowest) {
    EXPECT_NEAR(worst(sound().with(rot(3).at(8)).with(rot(3).at(3))), 3, 1e-9);
    EXPECT_NEAR(worst(sound().with(rot(3).at(8)).with(rot(3).at(-3))), -3, 1e-9);
    EXPECT_EQ(worst(sound().with(sound_bore().at(8)).with(sound_bore().at(3))), 0);
}

TEST(worst_section, equality_is_within_rounding) {
    EXPECT_NEAR(worst(sound().with(rot(3).at(3)).with(rot(3 - 1e-10).at(8))), 3, 1e-9);
    EXPECT_NEAR(worst(sound().with(rot(3).at(3)).with(rot(3 - 1e-5).at(8))), 8, 1e-9);
}

TEST(worst_section, is_one_with_a_figure) {
    EXPECT_NEAR(worst(PoleCase{}.original(40).with(sound_pocket(2, 1).at(8))), 8, 1e-9)
        << "the groundline is incomplete";
    EXPECT_FALSE(PoleCase{}.original(40).assess().worst_section.has_value());
}

TEST(worst_section, its_weakest_direction_does_not_choose_it) {
    // In line a pocket hardly counts for a line pole; across it does.
    EXPECT_NEAR(worst(sound()
                          .with(sound_pocket(4, 3).at(3).toward(0))
                          .with(sound_pocket(2, 1).at(8).toward(90))),
                8,
                1e-9);
}

}  // namespace
}  // namespace linewood::test
