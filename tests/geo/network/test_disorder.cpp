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

struct Mess {
    std::vector<Point> poles;
    std::vector<std::vector<Point>> paths;
};

Mess make_mess(Disorder& disorder) {
    Mess mess{std::vector<Point>(30), std::vector<std::vector<Point>>(40)};
    for (Point& p : mess.poles) {
        p = disorder.maybe_point();
    }
    for (auto& path : mess.paths) {
        path.resize(1 + disorder.below(9));
        for (Point& p : path) {
            p = disorder.below(3) == 0 ? mess.poles[disorder.below(30)] : disorder.maybe_point();
        }
    }
    return mess;
}

NetworkSettings any_settings(Disorder& disorder) {
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
    return settings;
}

const Ground kPlane = Ground::planar(1.0);

Network solve(const Mess& mess, Disorder& disorder) {
    NetworkBuilder builder{kPlane, mess.poles, any_settings(disorder)};
    for (std::uint32_t row = 0; row < mess.paths.size(); ++row) {
        const std::span<const Point> part{mess.paths[row]};
        SpanFeature feature;
        feature.parts = {&part, 1};
        feature.row = row;
        for (NamedPole* named : {&feature.from, &feature.to}) {
            named->index = disorder.below(3) == 0 ? disorder.below(30) : kNone;
        }
        feature.circuit = disorder.below(2) == 0 ? kNone : disorder.below(3);
        builder.add(feature);
    }
    return builder.finish();
}

void expect_pieces_hang_together(const Mess& mess, const Network& network) {
    const auto spans = network.spans();
    for (std::size_t i = 0; i < spans.size(); ++i) {
        const ResolvedSpan& s = spans[i];
        if (i > 0) {
            EXPECT_GE(s.row, spans[i - 1].row);
        }
        if (i > 0 && s.row == spans[i - 1].row) {
            EXPECT_EQ(s.from, spans[i - 1].to);
        }
        if (s.path != ResolvedSpan::kWholeFeature) {
            const std::span<const Point> part{mess.paths[s.row]};
            const auto piece = cut_path({&part, 1}, network.cuts()[s.path], kPlane);
            EXPECT_NEAR(length_of(piece), s.length_m, 1e-6);
        }
    }
}

void expect_nothing_lost(const Mess& mess, const Network& network) {
    std::vector<double> found(mess.paths.size(), 0.0);
    std::vector<int> pieces(mess.paths.size(), 0);
    for (const ResolvedSpan& s : network.spans()) {
        ++pieces[s.row];
        found[s.row] += s.length_m;
    }
    for (std::size_t row = 0; row < mess.paths.size(); ++row) {
        EXPECT_GE(pieces[row], 1);
        const double drawn = length_of(mess.paths[row]);
        if (std::isfinite(drawn) && mess.paths[row].size() > 1) {
            EXPECT_NEAR(found[row], drawn, 1e-6) << row;
        }
    }
}

void expect_sound_directions(const Network& network) {
    for (std::size_t pole = 0; pole < network.pole_count(); ++pole) {
        for (const Neighbour& n : network.neighbours(pole)) {
            EXPECT_NE(n.pole, pole);
            EXPECT_TRUE(std::isfinite(n.azimuth.degrees()));
        }
        const LineDirection& line = network.direction(pole);
        if (line.axis) {
            EXPECT_GE(line.axis.value().degrees(), 0.0);
            EXPECT_LT(line.axis.value().degrees(), 180.0);
        }
    }
}

TEST(Disorder, LosesNothing) {
    for (unsigned seed = 1; seed <= 200; ++seed) {
        SCOPED_TRACE(seed);
        Disorder disorder{seed};
        const Mess mess = make_mess(disorder);
        const Network network = solve(mess, disorder);
        expect_pieces_hang_together(mess, network);
        expect_nothing_lost(mess, network);
        expect_sound_directions(network);
    }
}

}  // namespace
}  // namespace linewood
