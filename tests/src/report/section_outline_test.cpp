#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "assess/section/remaining_section.hpp"
#include "src/report/section_drawing_outline.hpp"
#include "tests/support/section_builder.hpp"
#include "tests/support/section_shapes.hpp"

namespace linewood {
namespace {

double signed_area(const PlanRing& ring) {
    double sum = 0.0;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const PlanPoint& a = ring[i];
        const PlanPoint& b = ring[(i + 1) % ring.size()];
        sum += a.north * b.east - a.east * b.north;
    }
    return sum / 2.0;
}

bool inside(const std::vector<PlanRing>& rings, PlanPoint p) {
    bool in = false;
    for (const PlanRing& ring : rings) {
        for (std::size_t i = 0; i < ring.size(); ++i) {
            const PlanPoint& a = ring[i];
            const PlanPoint& b = ring[(i + 1) % ring.size()];
            if ((a.north > p.north) != (b.north > p.north) &&
                p.east < a.east + (p.north - a.north) / (b.north - a.north) * (b.east - a.east)) {
                in = !in;
            }
        }
    }
    return in;
}

/// Whether p is wood, by the words of the model and nothing else: positive inside, with the distance
/// to the nearest boundary as far as it is easily told.
struct Model {
    const SectionShape& shape;

    bool in_pocket(const Pocket& pocket, PlanPoint p, double slack) const {
        const double radius = shape.radius.metres();
        const double a = pocket.azimuth.radians();
        const double n = p.north * std::cos(a) + p.east * std::sin(a);
        const double t = p.east * std::cos(a) - p.north * std::sin(a);
        const double bottom = radius - pocket.depth.metres();
        return std::abs(t) <= pocket.width.metres() / 2.0 + slack &&
               n >= std::min(0.0, bottom) - slack && std::hypot(p.north, p.east) >= bottom - slack;
    }
    bool in_void(PlanPoint p, double slack) const {
        const double azimuth = std::atan2(p.east, p.north) * 180.0 / std::numbers::pi;
        const auto shell = shell_at(shape, Bearing::degrees(azimuth));
        return shell && std::hypot(p.north, p.east) <= (shape.radius - *shell).metres() + slack;
    }
    bool is_wood(PlanPoint p, double slack) const {
        bool wood = std::hypot(p.north, p.east) <= shape.radius.metres() - slack;
        for (const Pocket& pocket : shape.pockets) {
            wood = wood && !in_pocket(pocket, p, slack);
        }
        return wood && !in_void(p, slack);
    }
};

double drawn_area(const DrawnPiece& piece) {
    double area = 0.0;
    for (const PlanRing& ring : piece.rings) {
        area += signed_area(ring);
    }
    return area;
}

/// All pieces drawn, as one set of rings.
std::vector<PlanRing> all_rings(const std::vector<DrawnPiece>& pieces) {
    std::vector<PlanRing> rings;
    for (const DrawnPiece& p : pieces) {
        rings.insert(rings.end(), p.rings.begin(), p.rings.end());
    }
    return rings;
}

TEST(RemainingOutline, HasTheAreaAndThePiecesOfTheSection) {
    test::SectionSource source{71};
    for (int i = 0; i < 600; ++i) {
        const SectionShape shape = source.shape(4, 4);
        const RemainingSection section{shape};
        const auto pieces = remaining_outline(shape);
        ASSERT_EQ(static_cast<int>(pieces.size()), section.pieces()) << test::describe(shape);
        double exact = 0.0;
        double drawn = 0.0;
        double carrying = 0.0;
        for (const DrawnPiece& p : pieces) {
            exact += p.area;
            drawn += drawn_area(p);
            carrying += p.carries ? p.area : 0.0;
        }
        const double disc = std::numbers::pi * std::pow(shape.radius.metres(), 2);
        EXPECT_NEAR(exact, section.area(), 1e-12 * disc) << test::describe(shape);
        EXPECT_NEAR(drawn, section.area(), 3e-4 * disc) << test::describe(shape);
        if (section.area() > 0.0) {
            EXPECT_NEAR(1.0 - carrying / exact, section.lost_share(), 1e-9)
                << test::describe(shape);
        }
    }
}

TEST(RemainingOutline, HoldsWhatTheModelSaysIsWood) {
    test::SectionSource source{72};
    for (int i = 0; i < 150; ++i) {
        const SectionShape shape = source.shape(3, 4);
        const auto rings = all_rings(remaining_outline(shape));
        const Model model{shape};
        const double radius = shape.radius.metres();
        const double slack = 4e-4 * radius;  // the polylines' own error, twice
        for (int k = 0; k < 200; ++k) {
            const PlanPoint p{source.between(-radius, radius), source.between(-radius, radius)};
            const bool sure_wood = model.is_wood(p, slack);
            const bool sure_gone = !model.is_wood(p, -slack);
            if (sure_wood || sure_gone) {
                EXPECT_EQ(inside(rings, p), sure_wood)
                    << p.east / radius << " " << p.north / radius << " " << test::describe(shape);
            }
        }
    }
}

TEST(RemainingOutline, ChoosesTheCarryingPieceAsTheSectionDoes) {
    // Two halves of one size: the first clockwise from north carries.
    const SectionShape halves = test::section_of({{90.0, 0.2, 2.0}});
    const auto pieces = remaining_outline(halves);
    ASSERT_EQ(pieces.size(), 2U);
    EXPECT_NE(pieces[0].carries, pieces[1].carries);
    // A local cut: both act together.
    const auto together = remaining_outline(test::section_of({{90.0, 0.2, 2.0, true}}));
    ASSERT_EQ(together.size(), 2U);
    EXPECT_TRUE(together[0].carries && together[1].carries);
    // Uneven: the larger carries.
    const auto uneven = remaining_outline(test::section_of({{90.0, 0.3, 1.0}, {200.0, 0.3, 1.2}}));
    double largest = 0.0;
    for (const DrawnPiece& p : uneven) {
        largest = std::max(largest, p.area);
    }
    for (const DrawnPiece& p : uneven) {
        EXPECT_EQ(p.carries, p.area == largest);
    }
}

TEST(RemainingOutline, IsEmptyWhereNothingIsLeft) {
    EXPECT_TRUE(remaining_outline(test::section_of({}, {{0.0, 0.0}})).empty());
    SectionShape none;
    EXPECT_TRUE(remaining_outline(none).empty());
}

TEST(PocketOutline, IsTheSetOfTheModel) {
    test::SectionSource source{73};
    for (int i = 0; i < 200; ++i) {
        SectionShape shape;
        shape.radius = Length::metres(0.15);
        const Pocket pocket = source.pocket(0.15);
        const Model model{shape};
        const PlanRing ring = pocket_outline(shape, pocket);
        for (int k = 0; k < 100; ++k) {
            const PlanPoint p{source.between(-0.15, 0.15), source.between(-0.15, 0.15)};
            const double slack = 1e-4;
            const double r = std::hypot(p.east, p.north);
            const bool sure_in = r < 0.15 - slack && model.in_pocket(pocket, p, -slack);
            const bool sure_out = r > 0.15 + slack || !model.in_pocket(pocket, p, slack);
            if (sure_in || sure_out) {
                EXPECT_EQ(inside({ring}, p), sure_in)
                    << p.east << " " << p.north << " w " << pocket.width.metres() << " d "
                    << pocket.depth.metres();
            }
        }
    }
}

TEST(VoidOutline, PassesThroughEveryReading) {
    const SectionShape shape =
        test::section_of({}, {{10.5, 0.3}, {100.25, 0.6}, {200.0, 1.0}, {301.0, 0.45}});
    const PlanRing ring = void_outline(shape);
    for (const ShellReading& r : shape.shell) {
        const double radius = 1.0 - r.thickness.metres();
        const double north = radius * std::cos(r.azimuth.radians());
        const double east = radius * std::sin(r.azimuth.radians());
        const bool met = std::any_of(ring.begin(), ring.end(), [&](const PlanPoint& p) {
            return std::hypot(p.north - north, p.east - east) < 1e-12;
        });
        EXPECT_TRUE(met) << r.azimuth.degrees();
    }
    EXPECT_TRUE(void_outline(test::section_of({}, {{0.0, 1.0}})).empty());
    EXPECT_TRUE(void_outline(test::section_of({})).empty());
}

}  // namespace
}  // namespace linewood
