// The figures shown for a check by hand: area, centroid, second moments and the extreme fibre.

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "assess/section/remaining_section.hpp"
#include "tests/support/section_builder.hpp"
#include "tests/support/section_shapes.hpp"

namespace linewood::test {
namespace {

constexpr double kPi = std::numbers::pi;

/// Area, centroid and moments of a shape of radius 1, by counting a grid: x east, y north.
BendingFigures by_grid(const SectionShape& shape, int cells) {
    const auto is_wood = [&](double x, double y) {
        const double r = std::hypot(x, y);
        if (r > 1.0) {
            return false;
        }
        for (const Pocket& p : shape.pockets) {
            const double a = p.azimuth.radians();
            const double out = x * std::sin(a) + y * std::cos(a);
            const double across = x * std::cos(a) - y * std::sin(a);
            const double bottom = 1.0 - p.depth.metres();
            if (std::abs(across) <= p.width.metres() / 2.0 && out >= std::min(0.0, bottom) &&
                r >= bottom) {
                return false;
            }
        }
        if (shape.shell.empty()) {
            return true;
        }
        const Bearing b = Bearing::degrees(std::atan2(x, y) * 180.0 / kPi);
        return r > 1.0 - shell_at(shape, b)->metres();
    };
    BendingFigures f;
    const double side = 2.0 / cells;
    double x1 = 0.0;
    double y1 = 0.0;
    for (int i = 0; i < cells; ++i) {
        for (int j = 0; j < cells; ++j) {
            const double x = -1.0 + (i + 0.5) * side;
            const double y = -1.0 + (j + 0.5) * side;
            if (is_wood(x, y)) {
                f.area += 1.0;
                x1 += x;
                y1 += y;
                f.xx += x * x;
                f.xy += x * y;
                f.yy += y * y;
            }
        }
    }
    f.centroid_x = x1 / f.area;
    f.centroid_y = y1 / f.area;
    const double cell = side * side;
    f.xx = cell * (f.xx - f.area * f.centroid_x * f.centroid_x);
    f.xy = cell * (f.xy - f.area * f.centroid_x * f.centroid_y);
    f.yy = cell * (f.yy - f.area * f.centroid_y * f.centroid_y);
    f.area *= cell;
    return f;
}

void expect_near(const BendingFigures& a, const BendingFigures& b, double tolerance) {
    EXPECT_NEAR(a.area, b.area, tolerance);
    EXPECT_NEAR(a.centroid_x, b.centroid_x, tolerance);
    EXPECT_NEAR(a.centroid_y, b.centroid_y, tolerance);
    EXPECT_NEAR(a.xx, b.xx, tolerance);
    EXPECT_NEAR(a.xy, b.xy, tolerance);
    EXPECT_NEAR(a.yy, b.yy, tolerance);
}

TEST(SectionFigures, OfTheWholeDisc) {
    const RemainingSection section{section_of({})};
    expect_near(section.figures(), {kPi, 0.0, 0.0, kPi / 4.0, 0.0, kPi / 4.0}, 1e-12);
    const ExtremeFibre east = section.extreme_fibre(Bearing::degrees(90.0));
    EXPECT_NEAR(std::abs(east.x), 1.0, 1e-12);
    EXPECT_NEAR(east.y, 0.0, 1e-12);
    EXPECT_NEAR(east.modulus, kPi / 4.0, 1e-12);
}

TEST(SectionFigures, MatchAGrid) {
    for (const SectionShape& shape : {section_of({{30.0, 0.6, 0.3}}),
                                      section_of({{200.0, 0.4, 0.2}, {80.0, 0.5, 0.35}}),
                                      section_of({}, {{10.0, 0.3}, {130.0, 0.6}, {250.0, 0.4}}),
                                      section_of({{45.0, 0.5, 0.2}}, {{0.0, 0.4}})}) {
        expect_near(RemainingSection{shape}.figures(), by_grid(shape, 600), 2e-3);
    }
}

/// S = 1 / |k.(p - c)| with k = J^-1 e, all from the figures shown.
TEST(SectionFigures, GiveTheModulusAgain) {
    for (const SectionShape& shape : {section_of({{30.0, 0.6, 0.3}}),
                                      section_of({{200.0, 0.4, 0.2}, {80.0, 0.5, 0.35}}),
                                      section_of({{0.0, 0.3, 1.2}, {95.0, 0.4, 0.5}}),
                                      section_of({}, {{10.0, 0.3}, {130.0, 0.6}, {250.0, 0.4}}),
                                      section_of({{90.0, 0.3, 0.7}}, {{0.0, 0.5}, {180.0, 0.2}})}) {
        const RemainingSection section{shape};
        const BendingFigures f = section.figures();
        const double d = f.xx * f.yy - f.xy * f.xy;
        for (int a = 0; a < 360; a += 7) {
            const Bearing load = Bearing::degrees(a);
            const ExtremeFibre p = section.extreme_fibre(load);
            const double ex = std::sin(load.radians());
            const double ey = std::cos(load.radians());
            const double kx = (f.yy * ex - f.xy * ey) / d;
            const double ky = (f.xx * ey - f.xy * ex) / d;
            EXPECT_NEAR(p.k_x, kx, 1e-9 * std::hypot(kx, ky));
            EXPECT_NEAR(p.k_y, ky, 1e-9 * std::hypot(kx, ky));
            const double modulus =
                1.0 / std::abs(kx * (p.x - f.centroid_x) + ky * (p.y - f.centroid_y));
            EXPECT_NEAR(modulus, section.modulus(load), 1e-9 * modulus) << a;
            EXPECT_EQ(p.modulus, section.modulus(load)) << a;
            EXPECT_LE(std::hypot(p.x, p.y), 1.0 + 1e-9);
        }
    }
}

TEST(SectionFigures, NothingLeftGivesZeros) {
    SectionShape shape;
    const RemainingSection section{shape};
    EXPECT_EQ(section.figures().area, 0.0);
    EXPECT_EQ(section.extreme_fibre(Bearing::degrees(10.0)).modulus, 0.0);
    EXPECT_EQ(section.carrying_piece(), -1);
}

TEST(SectionFigures, TellWhichPieceCarries) {
    // A cut across the disc, off centre: two pieces, the larger carries.
    const RemainingSection split{section_of({{0.0, 2.0, 0.9}, {180.0, 0.2, 1.3}})};
    ASSERT_GT(split.pieces(), 1);
    EXPECT_GE(split.carrying_piece(), 0);
    EXPECT_LT(split.figures().area, split.area());
    EXPECT_NEAR(split.figures().area, split.area() * (1.0 - split.lost_share()), 1e-9);
    EXPECT_EQ((RemainingSection{section_of({{0.0, 0.2, 0.3}})}.carrying_piece()), -1);
}

}  // namespace
}  // namespace linewood::test
