#include <gtest/gtest.h>

#include "tests/support/pole_builder.hpp"

namespace linewood::test {
namespace {

PoleCase sound() { return PoleCase{}.original(40).excavated(); }

TEST(unreadable, nothing_passes_on_a_value_that_cannot_be_read) {
    ASSERT_EQ(sound().assess().verdict, Verdict::serviceable);
    PoleCase visit = sound();
    visit.visits.back().unreadable = true;
    EXPECT_EQ(visit.assess().verdict, Verdict::unassessed);
    EXPECT_TRUE(visit.assess().reasons.has(Reason::value_unreadable));
    PoleCase pole = sound();
    pole.pole.unreadable = true;
    EXPECT_EQ(pole.assess().verdict, Verdict::unassessed);
    PoleCase defect = sound().with(pocket(1, 0.5));
    ASSERT_EQ(defect.assess().verdict, Verdict::treat);
    defect.defects.back().unreadable = true;
    EXPECT_EQ(defect.assess().verdict, Verdict::unassessed);
}

TEST(unreadable, whatever_kind_of_defect_it_was_recorded_of) {
    // As a bore angle that cannot be read: absent, it would mean that the figure is effective.
    for (const DefectCase& d : {pocket(1, 1), rot(4), shell_rot().girth(39.8), sound_bore()}) {
        for (const double feet : {0.0, 10.0}) {
            PoleCase c = PoleCase{}.original(40).present(40).with(DefectCase{d}.at(feet));
            c.defects.back().unreadable = true;
            EXPECT_EQ(c.assess().verdict, Verdict::unassessed)
                << static_cast<int>(d.defect().kind) << " at " << feet;
        }
    }
}

TEST(unreadable, a_failure_stays_a_failure) {
    PoleCase c = PoleCase{}.original(40).present(30);
    ASSERT_EQ(c.assess().verdict, Verdict::stub);
    c.visits.back().unreadable = true;
    EXPECT_EQ(c.assess().verdict, Verdict::stub);
}

}  // namespace
}  // namespace linewood::test
