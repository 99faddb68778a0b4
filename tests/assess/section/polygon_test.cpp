// The exact mechanics against dense polygons cut by GEOS (tests/support/polygon_section.hpp).

#include <algorithm>

#include <gtest/gtest.h>

#include "assess/section/remaining_section.hpp"
#include "tests/support/polygon_section.hpp"
#include "tests/support/section_shapes.hpp"

namespace linewood::test {
namespace {

constexpr double kTolerance = 1e-4;  // of the sound disc's area and modulus
constexpr double kThread = 1e-3;     // radii: a link this thin is not compared
constexpr double kCrumb = 1e-5;      // squared radii: nor is a piece this small

/// Whether a hair more or less decay leaves the same pieces, one of them clearly the largest.
bool clear_cut(const Geos& geos, const SectionShape& shape, const PolygonSection& slow) {
    const PolygonSection less{geos, shape, -kThread};
    const PolygonSection more{geos, shape, kThread};
    return (slow.pieces() == 0 || slow.smallest() > kCrumb) && less.pieces() == slow.pieces() &&
           more.pieces() == slow.pieces() && less.acts_together() == slow.acts_together() &&
           more.acts_together() == slow.acts_together() &&
           (slow.acts_together() || slow.lead() > 1e-3);
}

void compare(const SectionShape& shape, const RemainingSection& exact, const PolygonSection& slow) {
    const double r = shape.radius.metres();
    const double whole = sound_modulus(shape);
    ASSERT_EQ(exact.pieces(), slow.pieces());
    ASSERT_EQ(exact.acts_together(), slow.acts_together());
    ASSERT_NEAR(exact.area(), slow.area(), kTolerance * r * r);
    ASSERT_NEAR(exact.lost_share(), slow.lost_share(), kTolerance);
    for (int i = 0; i < 12; ++i) {
        const double load = 30.0 * i + 7.0;
        ASSERT_NEAR(exact.modulus(Bearing::degrees(load)), slow.modulus(load), kTolerance * whole)
            << "load from " << load;
    }
    const WeakestDirection weakest = exact.weakest();
    if (slow.pieces() == 0) {
        ASSERT_EQ(weakest.modulus, 0.0);
        return;
    }
    ASSERT_NEAR(weakest.modulus, slow.weakest(), kTolerance * whole);
    if (weakest.axis.has_value()) {
        ASSERT_NEAR(
            slow.modulus(weakest.axis.value().degrees()), slow.weakest(), kTolerance * whole);
    }
}

struct Seen {
    int compared = 0;
    int in_pieces = 0;
    int together = 0;
    int with_void = 0;
    int deep = 0;
    int hanging = 0;
};

void check_one(const Geos& geos, const SectionShape& shape, Seen& seen) {
    SCOPED_TRACE(describe(shape));
    const RemainingSection exact{shape};
    const PolygonSection slow{geos, shape};
    if (!clear_cut(geos, shape, slow)) {
        // Which pieces there are is not for polygons to say; the area still is.
        const double r = shape.radius.metres();
        ASSERT_NEAR(exact.area(), slow.area(), kTolerance * r * r);
        ++seen.hanging;
        return;
    }
    ASSERT_NO_FATAL_FAILURE(compare(shape, exact, slow));
    ++seen.compared;
    seen.in_pieces += slow.pieces() > 1 ? 1 : 0;
    seen.together += slow.acts_together() ? 1 : 0;
    seen.with_void += shape.shell.empty() ? 0 : 1;
    seen.deep += std::any_of(shape.pockets.begin(), shape.pockets.end(), [&](const Pocket& p) {
        return p.depth >= shape.radius;
    });
}

TEST(polygons, agree_on_random_sections) {
    const Geos geos;
    SectionSource source{7};
    Seen seen;
    for (int i = 0; i < 2120; ++i) {
        SectionShape shape = source.shape(4, 5);
        const bool mostly_local = source.one_in(2);
        for (Pocket& p : shape.pockets) {
            p.local = mostly_local != source.one_in(5);
        }
        shape.void_local = mostly_local;
        ASSERT_NO_FATAL_FAILURE(check_one(geos, shape, seen));
    }
    RecordProperty("compared", seen.compared);
    RecordProperty("in_pieces", seen.in_pieces);
    RecordProperty("together", seen.together);
    RecordProperty("hanging", seen.hanging);
    EXPECT_GT(seen.compared, 2000);
    EXPECT_GT(seen.in_pieces, 200);
    EXPECT_GT(seen.together, 50);
    EXPECT_GT(seen.with_void, 1000);
    EXPECT_GT(seen.deep, 500);
}

}  // namespace
}  // namespace linewood::test
