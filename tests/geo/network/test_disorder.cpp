#include <cmath>
#include <random>
#include <vector>

#include <gtest/gtest.h>

#include "geo/network/network_builder.hpp"

namespace linewood {
namespace {

/// Poles and paths thrown together with no order at all: doubled places, poles a centimetre apart,
/// vertices in heaps, paths over themselves, wrong names, points that are no place. Whatever comes,
/// every feature is kept, no piece of a path is lost, and the pieces hang together.
class Disorder {
public:
    explicit Disorder(unsigned seed) : random_{seed} {}

    std::uint32_t below(std::uint32_t n) {
        return std::uniform_int_distribution<std::uint32_t>{0, n - 1}(random_);
    }
    double coordinate() {
        const double spread[] = {0.02, 1.0, 6.0, 30.0};
        return std::round(spread[below(4)] *
                          std::uniform_real_distribution<double>{-1, 1}(random_)*100) /
               100;
    }
    Point point() { return {20.0 * below(3) + coordinate(), 20.0 * below(2) + coordinate()}; }
    Point maybe_point() { return below(200) == 0 ? Point{std::nan(""), 0.0} : point(); }

private:
    std::mt19937 random_;
};

double length_of(const std::vector<Point>& path) {
    double sum = 0.0;
    for (std::size_t i = 0; i + 1 < path.size(); ++i) {
        sum += std::hypot(path[i + 1].x - path[i].x, path[i + 1].y - path[i].y);
    }
    return sum;
}

void throw_together(unsigned seed) {
    Disorder disorder{seed};
    std::vector<Point> poles(30);
    for (Point& p : poles) {
        p = disorder.maybe_point();
    }
    NetworkSettings settings;
    if (disorder.below(3) == 0) {
        settings.nearest_line = Length::metres(5);
    }
    if (disorder.below(3) == 0) {
        settings.id_distance_limit = Length::metres(10);
    }
    if (disorder.below(4) == 0) {
        settings.interior_cut = Length::metres(3);  // above the snap tolerance
    }
    const Ground ground = Ground::planar(1.0);
    NetworkBuilder builder{ground, poles, settings};
    std::vector<std::vector<Point>> paths(40);
    for (std::uint32_t row = 0; row < paths.size(); ++row) {
        paths[row].resize(1 + disorder.below(9));
        for (Point& p : paths[row]) {
            p = disorder.below(3) == 0 ? poles[disorder.below(30)] : disorder.maybe_point();
        }
        const std::span<const Point> part{paths[row]};
        SpanFeature feature;
        feature.parts = {&part, 1};
        feature.row = row;
        for (NamedPole* named : {&feature.from, &feature.to}) {
            if (disorder.below(3) == 0) {
                named->index = disorder.below(30);
            }
        }
        feature.circuit = disorder.below(2) == 0 ? kNone : disorder.below(3);
        builder.add(feature);
    }
    const Network network = builder.finish();
    std::vector<double> found(paths.size(), 0.0);
    std::vector<int> pieces(paths.size(), 0);
    for (std::size_t i = 0; i < network.spans().size(); ++i) {
        const ResolvedSpan& s = network.spans()[i];
        if (i > 0) {
            EXPECT_GE(s.row, network.spans()[i - 1].row);
            if (s.row == network.spans()[i - 1].row) {
                EXPECT_EQ(s.from, network.spans()[i - 1].to);
            }
        }
        ++pieces[s.row];
        found[s.row] += s.length_m;
        if (s.path != ResolvedSpan::kWholeFeature) {
            const std::span<const Point> part{paths[s.row]};
            EXPECT_NEAR(
                length_of(cut_path({&part, 1}, network.cuts()[s.path], ground)), s.length_m, 1e-6);
        }
    }
    for (std::size_t row = 0; row < paths.size(); ++row) {
        EXPECT_GE(pieces[row], 1);
        const double drawn = length_of(paths[row]);
        if (std::isfinite(drawn) && paths[row].size() > 1) {
            EXPECT_NEAR(found[row], drawn, 1e-6) << row;
        }
    }
    for (std::size_t pole = 0; pole < poles.size(); ++pole) {
        const LineDirection& line = network.direction(pole);
        for (const Neighbour& n : network.neighbours(pole)) {
            EXPECT_NE(n.pole, pole);
            EXPECT_TRUE(std::isfinite(n.azimuth.degrees()));
        }
        if (line.axis) {
            EXPECT_GE(line.axis.value().degrees(), 0.0);
            EXPECT_LT(line.axis.value().degrees(), 180.0);
        }
    }
}

TEST(Disorder, LosesNothing) {
    for (unsigned seed = 1; seed <= 200; ++seed) {
        SCOPED_TRACE(seed);
        throw_together(seed);
    }
}

}  // namespace
}  // namespace linewood
