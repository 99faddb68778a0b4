// The definition of a section, point by point on a grid: the plainest check there is.

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include <gtest/gtest.h>

#include "assess/section/remaining_section.hpp"
#include "tests/support/section_builder.hpp"
#include "tests/support/section_shapes.hpp"

namespace linewood::test {
namespace {

constexpr int kCells = 1200;         // across the disc
constexpr double kTolerance = 5e-3;  // of the sound area and modulus
constexpr double kDegree = std::numbers::pi / 180.0;

struct Point {
    double x;  // east
    double y;  // north
};

bool in_pocket(const Pocket& p, Point at) {
    const double a = p.azimuth.radians();
    const double n = at.x * std::sin(a) + at.y * std::cos(a);
    const double t = at.x * std::cos(a) - at.y * std::sin(a);
    const double floor = 1.0 - p.depth.metres();
    return std::abs(t) <= p.width.metres() / 2.0 && n >= std::min(0.0, floor) &&
           std::hypot(at.x, at.y) >= floor;
}

bool in_void(const SectionShape& s, Point at) {
    if (s.shell.empty()) {
        return false;
    }
    std::vector<ShellReading> sorted = s.shell;
    std::sort(sorted.begin(), sorted.end(), [](const auto& a, const auto& b) {
        return a.azimuth < b.azimuth;
    });
    const double bearing = Bearing::degrees(std::atan2(at.x, at.y) / kDegree).degrees();
    std::size_t next = 0;
    while (next < sorted.size() && sorted[next].azimuth.degrees() <= bearing) {
        ++next;
    }
    const ShellReading& after = sorted[next % sorted.size()];
    const ShellReading& before = sorted[(next + sorted.size() - 1) % sorted.size()];
    const double from = Bearing::wrap(bearing - before.azimuth.degrees(), 360.0);
    const double to = Bearing::wrap(after.azimuth.degrees() - bearing, 360.0);
    const double t =
        sorted.size() == 1
            ? before.thickness.metres()
            : (before.thickness.metres() * to + after.thickness.metres() * from) / (from + to);
    return t < 1.0 && std::hypot(at.x, at.y) <= 1.0 - t;
}

class Raster {
public:
    /// @param shape of radius 1 m
    explicit Raster(const SectionShape& shape) : piece_(std::size_t{kCells} * kCells, kGone) {
        for (int i = 0; i < kCells * kCells; ++i) {
            const Point p = at(i);
            bool wood = std::hypot(p.x, p.y) <= 1.0 && !in_void(shape, p);
            for (const Pocket& pocket : shape.pockets) {
                wood = wood && !in_pocket(pocket, p);
            }
            if (wood) {
                piece_[static_cast<std::size_t>(i)] = kUnseen;
            }
        }
        for (int i = 0; i < kCells * kCells; ++i) {
            if (piece_[static_cast<std::size_t>(i)] == kUnseen) {
                fill(i);
            }
        }
    }

    double area() const {
        double sum = 0.0;
        for (const int c : counts_) {
            sum += c * kCell * kCell;
        }
        return sum;
    }
    int pieces() const {
        return static_cast<int>(std::count_if(
            counts_.begin(), counts_.end(), [](int c) { return c * kCell * kCell > 1e-3; }));
    }

    /// Of the largest piece.
    double modulus(double degrees) const {
        const auto largest =
            static_cast<int>(std::max_element(counts_.begin(), counts_.end()) - counts_.begin());
        double n = 0.0;
        double x = 0.0;
        double y = 0.0;
        double xx = 0.0;
        double xy = 0.0;
        double yy = 0.0;
        each(largest, [&](Point p) {
            n += 1.0;
            x += p.x;
            y += p.y;
            xx += p.x * p.x;
            xy += p.x * p.y;
            yy += p.y * p.y;
        });
        const double cell = kCell * kCell;
        const double jxx = cell * (xx - x * x / n);
        const double jxy = cell * (xy - x * y / n);
        const double jyy = cell * (yy - y * y / n);
        const double det = jxx * jyy - jxy * jxy;
        const double ex = std::sin(degrees * kDegree);
        const double ey = std::cos(degrees * kDegree);
        const double kx = (jyy * ex - jxy * ey) / det;
        const double ky = (jxx * ey - jxy * ex) / det;
        double greatest = 0.0;
        each(largest, [&](Point p) {
            greatest = std::max(greatest, std::abs(kx * (p.x - x / n) + ky * (p.y - y / n)));
        });
        return 1.0 / greatest;
    }

private:
    static constexpr int kGone = -2;
    static constexpr int kUnseen = -1;
    static constexpr double kMargin = 0.01;
    static constexpr double kCell = 2.0 * (1.0 + kMargin) / kCells;

    static Point at(int i) {
        const int row = i / kCells;
        const int column = i % kCells;
        return {(column + 0.5) * kCell - 1.0 - kMargin, (row + 0.5) * kCell - 1.0 - kMargin};
    }

    template <typename Visit>
    void each(int piece, const Visit& visit) const {
        for (int i = 0; i < kCells * kCells; ++i) {
            if (piece_[static_cast<std::size_t>(i)] == piece) {
                visit(at(i));
            }
        }
    }

    void fill(int seed) {
        const auto number = static_cast<int>(counts_.size());
        counts_.push_back(0);
        std::vector<int> open{seed};
        piece_[static_cast<std::size_t>(seed)] = number;
        while (!open.empty()) {
            const int i = open.back();
            open.pop_back();
            ++counts_.back();
            for (const int j : {i - 1, i + 1, i - kCells, i + kCells}) {
                if (j >= 0 && j < kCells * kCells &&
                    piece_[static_cast<std::size_t>(j)] == kUnseen) {
                    piece_[static_cast<std::size_t>(j)] = number;
                    open.push_back(j);
                }
            }
        }
    }

    std::vector<int> piece_;
    std::vector<int> counts_;
};

class Rasters : public testing::TestWithParam<SectionShape> {};

TEST_P(Rasters, agree) {
    const SectionShape& shape = GetParam();
    SCOPED_TRACE(describe(shape));
    const Raster raster{shape};
    const RemainingSection section{shape};
    EXPECT_EQ(section.pieces(), raster.pieces());
    EXPECT_NEAR(section.area(), raster.area(), kTolerance);
    for (const double load : {0.0, 35.0, 80.0, 120.0, 155.0}) {
        EXPECT_NEAR(section.modulus(Bearing::degrees(load)),
                    raster.modulus(load),
                    kTolerance * sound_modulus(shape))
            << load;
    }
}

INSTANTIATE_TEST_SUITE_P(
    section,
    Rasters,
    testing::Values(section_of({{30.0, 0.5, 0.4}}),
                    section_of({{300.0, 1.9, 0.2}, {320.0, 0.4, 0.9}}),
                    section_of({}, {{10.0, 0.3}, {100.0, 1.0}, {190.0, 0.5}, {300.0, 0.1}}),
                    section_of({{200.0, 0.7, 0.8}}, {{0.0, 0.4}, {120.0, 0.3}, {240.0, 0.5}}),
                    section_of({{20.0, 0.4, 1.6}, {110.0, 0.5, 1.2}}),
                    section_of({{0.0, 0.6, 0.7}, {180.0, 0.6, 0.7}}, {{90.0, 0.6}}),
                    section_of({{70.0, 2.5, 1.3}, {200.0, 0.3, 0.3}}),
                    section_of({{15.0, 0.3, 0.5}, {135.0, 0.3, 0.6}, {255.0, 0.3, 0.7}},
                               {{50.0, 0.55}})));

}  // namespace
}  // namespace linewood::test
