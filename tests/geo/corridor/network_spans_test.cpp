#include <cmath>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "geo/corridor/line_graph.hpp"
#include "geo/corridor/runs.hpp"
#include "geo/network/network_builder.hpp"

namespace linewood {
namespace {

/// A line with a tap and a service, in metres from a corner.
struct Survey {
    std::vector<Point> poles{{0, 0}, {40, 0}, {80, 5}, {120, 10}, {80, 50}, {45, 20}};
    std::vector<std::string_view> ids{"A", "B", "C", "D", "E", "F"};

    struct Drawn {
        std::size_t from;
        std::size_t to;
        std::uint32_t circuit = kNone;
        SpanKind kind = SpanKind::line;
    };
    std::vector<Drawn> spans{
        {0, 1, 0}, {2, 1, 0}, {2, 3, 0}, {2, 4, 1}, {1, 5, kNone, SpanKind::service}};

    Network solve(const Ground& ground) const {
        NetworkBuilder builder{ground, poles};
        for (std::uint32_t i = 0; i < spans.size(); ++i) {
            const Point path[] = {poles[spans[i].from], poles[spans[i].to]};
            const std::span<const Point> part{path};
            SpanFeature feature;
            feature.parts = {&part, 1};
            feature.circuit = spans[i].circuit;
            feature.kind = spans[i].kind;
            feature.row = i;
            builder.add(feature);
        }
        return builder.finish();
    }
};

TEST(NetworkSpans, AreThoseThatMakeNeighbours) {
    const Network network = Survey{}.solve(Ground::planar(1.0));
    const std::vector<CorridorSpan> spans = corridor_spans(network);
    ASSERT_EQ(spans.size(), 4U);
    EXPECT_EQ(spans[1].from, 2U);
    EXPECT_EQ(spans[1].to, 1U);
    EXPECT_EQ(spans[1].span, 1U);
    EXPECT_EQ(spans[1].circuit, 0U);
    EXPECT_NEAR(spans[1].length_m, std::hypot(40.0, 5.0), 1e-9);
    EXPECT_EQ(spans[3].circuit, 1U);
}

TEST(NetworkSpans, GiveTheSameStationsInAnyCoordinateSystem) {
    const std::vector<std::string_view> circuits{"main", "tap"};
    const Survey metres;
    const Network planar = metres.solve(Ground::planar(1.0));
    const LineGraph graph{metres.ids, corridor_spans(planar), circuits};
    const Runs runs{graph};
    ASSERT_EQ(runs.runs().size(), 4U);  // the pole on the service stands alone

    const auto expect_same = [&](const Survey& other, const Ground& ground, double tolerance) {
        const LineGraph other_graph{other.ids, corridor_spans(other.solve(ground)), circuits};
        const Runs other_runs{other_graph};
        ASSERT_EQ(other_runs.runs().size(), runs.runs().size());
        for (std::size_t pole = 0; pole < metres.poles.size(); ++pole) {
            EXPECT_EQ(other_runs.place(pole).run, runs.place(pole).run);
            EXPECT_NEAR(other_runs.place(pole).station_m, runs.place(pole).station_m, tolerance);
        }
    };
    Survey feet = metres;
    for (Point& p : feet.poles) {
        p = {2e6 + p.x / 0.3048, 1e6 - p.y / 0.3048};  // mirrored too
    }
    expect_same(feet, Ground::planar(0.3048), 1e-6);

    Survey degrees = metres;
    const Ground earth = Ground::geodesic(6378137.0, 1.0 / 298.257223563);
    const Ground::Scale scale = earth.scale_at({-93.0, 44.0});
    for (Point& p : degrees.poles) {
        p = {-93.0 + p.x / scale.x_m, 44.0 + p.y / scale.y_m};
    }
    expect_same(degrees, earth, 0.02);
}

}  // namespace
}  // namespace linewood
