#include <cstdint>
#include <vector>

#include <gtest/gtest.h>

#include "geo/cluster/span_edges.hpp"
#include "geo/network/network_builder.hpp"

namespace linewood {
namespace {

TEST(span_edges, are_the_line_spans_between_two_poles) {
    const std::vector<Point> poles{{0, 0}, {40, 0}, {80, 30}, {80, 90}};
    NetworkBuilder builder{Ground::planar(1.0), poles};
    const auto add = [&](std::vector<Point> path, SpanKind kind) {
        const std::span<const Point> part{path};
        SpanFeature feature;
        feature.parts = {&part, 1};
        feature.kind = kind;
        builder.add(feature);
    };
    add({{0, 0}, {40, 0}, {80, 30}}, SpanKind::line);  // a route: two spans
    add({{80, 30}, {80, 90}}, SpanKind::service);
    add({{80, 90}, {300, 300}}, SpanKind::line);  // no pole at its end
    const auto edges = span_edges(builder.finish());
    ASSERT_EQ(edges.size(), 2U);
    EXPECT_EQ(edges[0].a, 0U);
    EXPECT_EQ(edges[0].b, 1U);
    EXPECT_NEAR(edges[0].length_m, 40.0, 1e-9);
    EXPECT_EQ(edges[1].a, 1U);
    EXPECT_EQ(edges[1].b, 2U);
    EXPECT_NEAR(edges[1].length_m, 50.0, 1e-9);
}

}  // namespace
}  // namespace linewood
