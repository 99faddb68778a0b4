#include "assess/section/one_pocket.hpp"

#include <gtest/gtest.h>

#include "assess/section/sweep.hpp"
#include "tests/support/section_shapes.hpp"

namespace linewood::test {
namespace {

void expect_same(const Mechanics& a, const Mechanics& b, const SectionShape& shape) {
    SCOPED_TRACE(describe(shape));
    const double whole = sound_modulus(shape);
    const double radius = shape.radius.metres();
    ASSERT_NEAR(a.area, b.area, 1e-12 * radius * radius);
    ASSERT_EQ(a.pieces, b.pieces);
    ASSERT_EQ(a.lost_share, b.lost_share);
    for (int degrees = 0; degrees < 180; degrees += 15) {
        const Bearing load = Bearing::degrees(degrees + 0.25);
        ASSERT_NEAR(a.outline.modulus(load), b.outline.modulus(load), 1e-11 * whole) << degrees;
    }
    const WeakestDirection wa = a.outline.weakest();
    const WeakestDirection wb = b.outline.weakest();
    ASSERT_NEAR(wa.modulus, wb.modulus, 1e-11 * whole);
    ASSERT_EQ(wa.axis.has_value(), wb.axis.has_value());
    if (wa.axis.has_value()) {
        // The least stress rises with the square of the angle off it: 1e-9 of it is some 1e-4 degrees
        // where two directions compete.
        const Bearing along = Bearing::degrees(wa.axis.value().degrees());
        ASSERT_LT(angle_off(along, wb.axis.value()).degrees(), 1e-3);
    }
}

TEST(one_pocket, agrees_with_the_sweep) {
    SectionSource source{20};
    int tried = 0;
    while (tried < 5000) {
        SectionShape shape = source.shape(1, 0);
        if (source.one_in(2)) {
            const Length t = source.between(0.0, 1.1) * shape.radius;
            for (int i = source.whole(1, 3); i > 0; --i) {
                shape.shell.push_back({Bearing::degrees(100.0 * i), t});
            }
        }
        if (!is_one_pocket(shape)) {
            continue;
        }
        ++tried;
        ASSERT_NO_FATAL_FAILURE(expect_same(one_pocket(shape), sweep(shape), shape));
    }
}

}  // namespace
}  // namespace linewood::test
