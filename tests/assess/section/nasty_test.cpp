// Shapes made of the values that break geometry code: every answer is finite and in range.

#include <array>
#include <cmath>

#include <gtest/gtest.h>

#include "assess/section/remaining_section.hpp"
#include "tests/support/section_shapes.hpp"

namespace linewood::test {
namespace {

class Nasty {
public:
    explicit Nasty(unsigned seed) : source_{seed} {}

    SectionShape shape() {
        static constexpr std::array<double, 7> kRadii = {0.15, 1.0, 0.1, 1e-9, 1e6, 1e-90, 0.0};
        SectionShape s;
        const double r = kRadii[static_cast<std::size_t>(source_.whole(0, 6))];
        s.radius = Length::metres(r);
        for (int i = source_.whole(0, 4); i > 0; --i) {
            s.pockets.push_back({azimuth(), length(r), length(r), source_.one_in(2)});
        }
        for (int i = source_.whole(0, 5); i > 0; --i) {
            s.shell.push_back({azimuth(), length(r)});
        }
        s.void_local = source_.one_in(2);
        return s;
    }

private:
    Length length(double r) {
        static constexpr std::array<double, 20> kShares = {0.0,
                                                           1.0,
                                                           2.0,
                                                           0.5,
                                                           1.5,
                                                           1e-15,
                                                           1e-13,
                                                           1e-12,
                                                           1e-11,
                                                           1e-9,
                                                           1e-6,
                                                           1.0 - 1e-15,
                                                           1.0 + 1e-15,
                                                           2.0 - 1e-13,
                                                           1e3,
                                                           1e300,
                                                           0.70710678118654752,
                                                           0.29289321881345248,
                                                           0.6,
                                                           0.8};
        return Length::metres(r * kShares[static_cast<std::size_t>(source_.whole(0, 19))]);
    }

    Bearing azimuth() {
        static constexpr std::array<double, 14> kAzimuths = {0.0,
                                                             90.0,
                                                             180.0,
                                                             270.0,
                                                             45.0,
                                                             225.0,
                                                             30.0,
                                                             210.0,
                                                             1e-13,
                                                             1e-9,
                                                             360.0 - 1e-13,
                                                             120.0,
                                                             240.0,
                                                             179.9999999999};
        return Bearing::degrees(kAzimuths[static_cast<std::size_t>(source_.whole(0, 13))]);
    }

    SectionSource source_;
};

void expect_in_range(const SectionShape& shape) {
    const RemainingSection s{shape};
    const double r = shape.radius.metres();
    const double whole = sound_modulus(shape);
    ASSERT_TRUE(s.area() >= 0.0 && s.area() <= 3.1415926536 * r * r) << s.area();
    ASSERT_GE(s.pieces(), 0);
    ASSERT_LT(s.pieces(), 100);
    ASSERT_TRUE(s.lost_share() >= 0.0 && s.lost_share() < 1.0) << s.lost_share();
    ASSERT_TRUE(!s.acts_together() || s.pieces() > 1);
    const WeakestDirection weakest = s.weakest();
    // Over the sound section by the little that cuts at the extreme fibre can give.
    const double most = 1.05 * whole;
    ASSERT_TRUE(weakest.modulus >= 0.0 && weakest.modulus <= most) << weakest.modulus;
    if (weakest.axis.has_value()) {
        const double a = weakest.axis.value().degrees();
        ASSERT_TRUE(a >= 0.0 && a < 180.0) << a;
    }
    for (const double load : {0.0, 45.0, 90.0, 133.0}) {
        const double m = s.modulus(Bearing::degrees(load));
        ASSERT_TRUE(m >= 0.0 && m <= most) << m;
    }
    ASSERT_EQ(s.pieces() == 0, s.area() == 0.0);
}

TEST(nasty, shapes_give_finite_answers_in_range) {
    Nasty nasty{5};
    for (int i = 0; i < 20000; ++i) {
        const SectionShape shape = nasty.shape();
        SCOPED_TRACE(describe(shape));
        ASSERT_NO_FATAL_FAILURE(expect_in_range(shape));
    }
}

}  // namespace
}  // namespace linewood::test
