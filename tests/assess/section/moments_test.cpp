#include "assess/section/moments.hpp"

#include <cmath>
#include <functional>

#include <gtest/gtest.h>

namespace linewood::polar {
namespace {

void expect_near(const Moments& a, const Moments& b, double tolerance) {
    EXPECT_NEAR(a.area, b.area, tolerance);
    EXPECT_NEAR(a.x, b.x, tolerance);
    EXPECT_NEAR(a.y, b.y, tolerance);
    EXPECT_NEAR(a.xx, b.xx, tolerance);
    EXPECT_NEAR(a.xy, b.xy, tolerance);
    EXPECT_NEAR(a.yy, b.yy, tolerance);
}

/// Composite Simpson over the angle, with so many steps that rounding is all that is left.
Moments by_simpson(const std::function<double(double)>& r, double begin, double span) {
    constexpr int kSteps = 20000;
    Moments sum;
    for (int i = 0; i <= kSteps; ++i) {
        const double w = (i == 0 || i == kSteps ? 1.0
                          : i % 2 == 1          ? 4.0
                                                : 2.0) *
                         span / kSteps / 3.0;
        const double a = begin + span * i / kSteps;
        const double at = r(a);
        const Vec u{std::cos(a), std::sin(a)};
        sum += {w * at * at / 2.0,
                w * std::pow(at, 3) / 3.0 * u.x,
                w * std::pow(at, 3) / 3.0 * u.y,
                w * std::pow(at, 4) / 4.0 * u.x * u.x,
                w * std::pow(at, 4) / 4.0 * u.x * u.y,
                w * std::pow(at, 4) / 4.0 * u.y * u.y};
    }
    return sum;
}

TEST(moments, of_the_whole_disc) {
    expect_near(
        under_arc(2.0, 0.3, kTurn), {4.0 * kPi, 0.0, 0.0, 4.0 * kPi, 0.0, 4.0 * kPi}, 1e-13);
}

TEST(moments, of_a_sector) {
    expect_near(
        under_arc(0.7, -0.4, 2.1), by_simpson([](double) { return 0.7; }, -0.4, 2.1), 1e-13);
}

TEST(moments, of_a_triangle) {
    // Legs 3 and 2 along the axes: area bh/2, centroid b/3, moments b^3 h/12 and b^2 h^2/24.
    expect_near(under_edge({3.0, 0.0}, {0.0, 2.0}), {3.0, 3.0, 2.0, 4.5, 1.5, 2.0}, 1e-13);
    expect_near(under_edge({0.0, 2.0}, {3.0, 0.0}), {-3.0, -3.0, -2.0, -4.5, -1.5, -2.0}, 1e-13);
}

TEST(moments, under_an_edge_match_the_polar_integral) {
    const double distance = 0.4;
    const double normal = 1.1;
    const auto r = [&](double a) { return distance / std::cos(a - normal); };
    const double begin = normal - 0.9;
    const double end = normal + 1.2;
    expect_near(under_edge(r(begin) * direction(begin), r(end) * direction(end)),
                by_simpson(r, begin, end - begin),
                1e-11);
}

struct Spiral {
    double r0;
    double slope;
    double begin;
    double span;
};

class Spirals : public testing::TestWithParam<Spiral> {};

TEST_P(Spirals, match_the_polar_integral) {
    const Spiral s = GetParam();
    const auto r = [&](double a) { return s.r0 + s.slope * (a - s.begin); };
    expect_near(
        under_spiral(s.r0, s.slope, s.begin, s.span), by_simpson(r, s.begin, s.span), 1e-13);
}

INSTANTIATE_TEST_SUITE_P(moments,
                         Spirals,
                         testing::Values(Spiral{0.0, 1.0 / kTurn, 0.7, kTurn},
                                         Spiral{1.0, -1.0 / 6.2, 3.0, 6.2},
                                         Spiral{0.2, 0.5, 5.0, 1.5},
                                         Spiral{0.0, 57.0, 2.0, 1.0 / 57.0},
                                         Spiral{0.5, 0.0, 1.0, 0.5 * kPi},
                                         Spiral{0.3, 0.1, 0.0, kPi}));

TEST(moments, a_level_spiral_is_an_arc) {
    expect_near(under_spiral(0.8, 0.0, 1.0, 4.0), under_arc(0.8, 1.0, 4.0), 1e-14);
}

TEST(moments, a_strip_is_two_triangles_and_a_sector) {
    for (const double h : {0.0, 1e-6, 0.3, 0.8999, 0.9}) {
        const double r = 0.9;
        const double a = std::asin(h / r);
        const double foot = std::sqrt(r * r - h * h);
        const Moments sum = under_edge({0.0, 0.0}, {foot, -h}) + under_arc(r, -a, 2.0 * a) +
                            under_edge({foot, h}, {0.0, h}) + under_edge({0.0, -h}, {foot, -h});
        expect_near(under_strip(r, h), sum, 1e-14);
    }
}

TEST(moments, move_with_the_origin) {
    // A disc of radius 0.5 about (0.3, -0.2), seen from the origin.
    const Moments moved = under_arc(0.5, 0.0, kTurn).about({-0.3, 0.2});
    const double area = kPi * 0.25;
    const double own = kPi / 64.0;
    expect_near(moved,
                {area, 0.3 * area, -0.2 * area, own + 0.09 * area, -0.06 * area, own + 0.04 * area},
                1e-15);
    expect_near(moved.about(moved.centroid()), {area, 0.0, 0.0, own, 0.0, own}, 1e-15);
}

}  // namespace
}  // namespace linewood::polar
