#include "src/clusters/outlines.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "geo/shape/outline.hpp"

namespace linewood {
namespace {

/// Half a usual span around a pole, within these (own choice: seen on a map, and not across the street).
constexpr double kLeastMargin = 10.0;
constexpr double kMostMargin = 40.0;

}  // namespace

Outliner::Outliner(const AssessedData& data, const Population& population)
    : data_{data},
      population_{population},
      margin_m_{std::clamp(0.5 * population.median_span_m(), kLeastMargin, kMostMargin)},
      first_edge_(population.pole_of.size() + 1, 0),
      inside_(population.pole_of.size(), false) {
    for (const SpanEdge& e : population.edges) {
        ++first_edge_[e.a + 1];
    }
    for (std::size_t i = 1; i < first_edge_.size(); ++i) {
        first_edge_[i] += first_edge_[i - 1];
    }
}

Polygons Outliner::around(std::span<const std::uint32_t> nodes, bool hull) {
    std::vector<std::uint32_t> sorted(nodes.begin(), nodes.end());
    std::sort(sorted.begin(), sorted.end());
    for (const std::uint32_t node : sorted) {
        inside_[node] = true;
    }
    OutlineOf what;
    std::vector<bool> on_line(sorted.size(), false);
    const auto note = [&](std::uint32_t node) {
        const auto at = std::lower_bound(sorted.begin(), sorted.end(), node);
        on_line[static_cast<std::size_t>(at - sorted.begin())] = true;
    };
    for (const std::uint32_t node : sorted) {
        for (std::size_t i = first_edge_[node]; i < first_edge_[node + 1]; ++i) {
            const SpanEdge& e = population_.edges[i];
            std::vector<Point> path = data_.spans.path(population_.edge_span[i], data_.poles);
            path.erase(
                std::remove_if(
                    path.begin(), path.end(), [](Point p) { return !std::isfinite(p.x + p.y); }),
                path.end());
            // Between poles of one place there is no line.
            const bool drawn = path.size() > 2 || (path.size() == 2 && !(path[0] == path[1]));
            if (e.a != e.b && inside_[e.b] && drawn) {
                what.lines.push_back(std::move(path));
                note(e.a);
                note(e.b);
            }
        }
    }
    for (std::size_t k = 0; k < sorted.size(); ++k) {
        const std::uint32_t pole = population_.pole_of[sorted[k]];
        if (!on_line[k] && data_.poles.has_place(pole)) {
            what.points.push_back(data_.poles.places[pole]);
        }
    }
    for (const std::uint32_t node : sorted) {
        inside_[node] = false;
    }
    return linewood::outline(what, margin_m_, hull ? 4.0 * margin_m_ : 0.0);
}

void Outliner::outline(std::vector<FoundCluster>& clusters) {
    std::vector<Polygons> before;
    for (FoundCluster& c : clusters) {
        std::vector<std::uint32_t> nodes;
        for (const std::uint32_t member : c.members) {
            nodes.push_back(population_.counted[member]);
        }
        c.outline = cut_away(around(nodes, c.kind == WindowKind::straight), before);
        before.push_back(c.outline);
    }
}

}  // namespace linewood
