// What must hold of any section, on random ones.

#include <algorithm>
#include <cmath>
#include <vector>

#include <gtest/gtest.h>

#include "assess/section/remaining_section.hpp"
#include "tests/support/section_builder.hpp"
#include "tests/support/section_shapes.hpp"

namespace linewood::test {
namespace {

constexpr int kTries = 2000;
constexpr double kSame = 1e-9;  // of the sound modulus

/// Moduli from 24 bearings as shares of the sound section's; `turn` and `mirror` say where to look
/// for the same directions on a moved section.
std::vector<double> moduli(const SectionShape& shape, double turn = 0.0, double mirror = 1.0) {
    const RemainingSection section{shape};
    std::vector<double> all;
    for (int i = 0; i < 24; ++i) {
        const double load = mirror * (15.0 * i + 3.0) + turn;
        all.push_back(section.modulus(Bearing::degrees(load)) / sound_modulus(shape));
    }
    return all;
}

void expect_same(const SectionShape& a,
                 const SectionShape& b,
                 const std::vector<double>& moduli_a,
                 const std::vector<double>& moduli_b) {
    const RemainingSection sa{a};
    const RemainingSection sb{b};
    const double ra = a.radius.metres();
    const double rb = b.radius.metres();
    ASSERT_EQ(sa.pieces(), sb.pieces());
    ASSERT_EQ(sa.acts_together(), sb.acts_together());
    ASSERT_NEAR(sa.area() / (ra * ra), sb.area() / (rb * rb), kSame);
    ASSERT_NEAR(sa.lost_share(), sb.lost_share(), kSame);
    ASSERT_NEAR(
        sa.weakest().modulus / sound_modulus(a), sb.weakest().modulus / sound_modulus(b), kSame);
    ASSERT_EQ(sa.weakest().axis.has_value(), sb.weakest().axis.has_value());
    for (std::size_t i = 0; i < moduli_a.size(); ++i) {
        ASSERT_NEAR(moduli_a[i], moduli_b[i], kSame) << i;
    }
}

SectionShape any_shape(SectionSource& source) {
    SectionShape shape = source.shape(4, 5);
    for (Pocket& p : shape.pockets) {
        p.local = source.one_in(2);
    }
    shape.void_local = source.one_in(2);
    return shape;
}

SectionShape turned(SectionShape shape, double degrees, double mirror = 1.0) {
    for (Pocket& p : shape.pockets) {
        p.azimuth = Bearing::degrees(mirror * p.azimuth.degrees() + degrees);
    }
    for (ShellReading& r : shape.shell) {
        r.azimuth = Bearing::degrees(mirror * r.azimuth.degrees() + degrees);
    }
    return shape;
}

TEST(laws, turning_the_section_turns_its_strength) {
    SectionSource source{101};
    for (int i = 0; i < kTries; ++i) {
        const SectionShape shape = any_shape(source);
        const double turn = source.one_in(3) ? 90.0 : source.between(0.0, 360.0);
        SCOPED_TRACE(describe(shape) + "; turned by " + std::to_string(turn));
        const SectionShape moved = turned(shape, turn);
        ASSERT_NO_FATAL_FAILURE(expect_same(shape, moved, moduli(shape), moduli(moved, turn)));
        const Maybe<Axis> axis = RemainingSection{moved}.weakest().axis;
        if (axis.has_value()) {
            // Whatever direction is named, it has the least modulus, before and after.
            ASSERT_NEAR(
                RemainingSection{shape}.modulus(Bearing::degrees(axis.value().degrees() - turn)) /
                    sound_modulus(shape),
                RemainingSection{shape}.weakest().modulus / sound_modulus(shape),
                kSame);
        }
    }
}

TEST(laws, a_mirror_image_is_as_strong) {
    SectionSource source{102};
    for (int i = 0; i < kTries; ++i) {
        const SectionShape shape = any_shape(source);
        SCOPED_TRACE(describe(shape));
        const SectionShape mirrored = turned(shape, 0.0, -1.0);
        ASSERT_NO_FATAL_FAILURE(
            expect_same(shape, mirrored, moduli(shape), moduli(mirrored, 0.0, -1.0)));
    }
}

TEST(laws, the_order_of_pockets_and_bores_does_not_matter) {
    SectionSource source{103};
    for (int i = 0; i < kTries; ++i) {
        const SectionShape shape = any_shape(source);
        SCOPED_TRACE(describe(shape));
        SectionShape other = shape;
        std::reverse(other.pockets.begin(), other.pockets.end());
        if (!other.shell.empty()) {
            std::rotate(other.shell.begin(), other.shell.begin() + 1, other.shell.end());
        }
        ASSERT_NO_FATAL_FAILURE(expect_same(shape, other, moduli(shape), moduli(other)));
    }
}

TEST(laws, strength_grows_with_the_cube_of_size) {
    SectionSource source{104};
    for (int i = 0; i < kTries; ++i) {
        const SectionShape shape = any_shape(source);
        SCOPED_TRACE(describe(shape));
        const double scale = source.between(0.1, 20.0);
        SectionShape larger = shape;
        larger.radius = scale * shape.radius;
        for (Pocket& p : larger.pockets) {
            p.width = scale * p.width;
            p.depth = scale * p.depth;
        }
        for (ShellReading& r : larger.shell) {
            r.thickness = scale * r.thickness;
        }
        ASSERT_NO_FATAL_FAILURE(expect_same(shape, larger, moduli(shape), moduli(larger)));
    }
}

TEST(laws, the_same_pocket_twice_is_one_pocket) {
    SectionSource source{105};
    for (int i = 0; i < kTries; ++i) {
        SectionShape shape = any_shape(source);
        shape.pockets.push_back(source.pocket(shape.radius.metres()));
        SCOPED_TRACE(describe(shape));
        SectionShape twice = shape;
        twice.pockets.push_back(shape.pockets.front());
        ASSERT_NO_FATAL_FAILURE(expect_same(shape, twice, moduli(shape), moduli(twice)));
    }
}

TEST(laws, no_cavity_adds_wood) {
    SectionSource source{106};
    for (int i = 0; i < kTries; ++i) {
        SectionShape shape = any_shape(source);
        SCOPED_TRACE(describe(shape));
        const double r = shape.radius.metres();
        const double before = RemainingSection{shape}.area();
        ASSERT_GE(before, 0.0);
        ASSERT_LE(before, 3.14159265358979324 * r * r * (1.0 + 1e-12));
        SectionShape deeper = shape;
        for (ShellReading& reading : deeper.shell) {
            reading.thickness = 0.9 * reading.thickness;
        }
        ASSERT_LE(RemainingSection{deeper}.area(), before + 1e-11 * r * r);
        shape.pockets.push_back(source.pocket(r));
        ASSERT_LE(RemainingSection{shape}.area(), before + 1e-11 * r * r);
    }
}

TEST(laws, an_even_void_weakens_as_it_grows) {
    double last = 10.0;
    for (int i = 100; i >= 0; --i) {
        const RemainingSection section{section_of({}, {{60.0, 0.01 * i}})};
        const double modulus = section.modulus(Bearing::degrees(5.0));
        ASSERT_LT(modulus, last) << i;
        ASSERT_NEAR(section.weakest().modulus, modulus, kSame);
        last = modulus;
    }
    EXPECT_EQ(last, 0.0);
}

TEST(laws, load_from_either_side_and_none_under_the_weakest) {
    SectionSource source{107};
    for (int i = 0; i < kTries; ++i) {
        const SectionShape shape = any_shape(source);
        SCOPED_TRACE(describe(shape));
        const RemainingSection section{shape};
        const double whole = sound_modulus(shape);
        const WeakestDirection weakest = section.weakest();
        double greatest = 0.0;
        for (int step = 0; step < 25; ++step) {
            const double load = 7.3 * step;
            const double modulus = section.modulus(Bearing::degrees(load));
            ASSERT_NEAR(modulus, section.modulus(Bearing::degrees(load + 180.0)), 1e-11 * whole);
            ASSERT_GE(modulus, weakest.modulus - 1e-11 * whole);
            greatest = std::max(greatest, modulus);
        }
        if (weakest.axis.has_value()) {
            const Bearing along = Bearing::degrees(weakest.axis.value().degrees());
            ASSERT_NEAR(section.modulus(along), weakest.modulus, 1e-9 * whole);
        } else {
            ASSERT_NEAR(greatest, weakest.modulus, 2e-9 * whole);
        }
    }
}

}  // namespace
}  // namespace linewood::test
