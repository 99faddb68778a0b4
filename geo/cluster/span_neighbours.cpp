#include "geo/cluster/span_neighbours.hpp"

#include <algorithm>
#include <cassert>

namespace linewood {

SpanNeighbours::SpanNeighbours(std::size_t nodes,
                               std::span<const SpanEdge> edges,
                               std::span<const std::uint32_t> counted)
    : first_arc_(nodes + 1, 0),
      arcs_(2 * edges.size()),
      node_of_(counted.begin(), counted.end()),
      pole_of_(nodes, kNone) {
    for (std::size_t i = 0; i < counted.size(); ++i) {
        assert(counted[i] < nodes && pole_of_[counted[i]] == kNone);
        pole_of_[counted[i]] = static_cast<std::uint32_t>(i);
    }
    for (const SpanEdge& edge : edges) {
        assert(edge.a < nodes && edge.b < nodes && edge.length_m >= 0.0);
        ++first_arc_[edge.a];
        ++first_arc_[edge.b];
    }
    std::uint32_t sum = 0;
    for (std::uint32_t& first : first_arc_) {
        sum += first;
        first = sum;
    }
    for (const SpanEdge& edge : edges) {
        const std::int64_t um = to_micrometres(edge.length_m);
        arcs_[--first_arc_[edge.a]] = {edge.b, um};
        arcs_[--first_arc_[edge.b]] = {edge.a, um};
    }
    for (std::size_t node = 0; node < nodes; ++node) {
        std::sort(
            arcs_.begin() + first_arc_[node],
            arcs_.begin() + first_arc_[node + 1],
            [](const Arc& a, const Arc& b) { return a.to != b.to ? a.to < b.to : a.um < b.um; });
    }
}

/// Along each line to its end before the next branch, from the poles of lowest index.
std::vector<std::uint32_t> SpanNeighbours::layout() const {
    std::vector<std::uint32_t> order;
    order.reserve(node_of_.size());
    std::vector<bool> seen(pole_of_.size(), false);
    std::vector<std::uint32_t> open;
    for (auto start = static_cast<std::uint32_t>(pole_of_.size()); start-- > 0;) {
        open.push_back(start);
    }
    while (!open.empty()) {
        const std::uint32_t node = open.back();
        open.pop_back();
        if (seen[node]) {
            continue;
        }
        seen[node] = true;
        if (pole_of_[node] != kNone) {
            order.push_back(pole_of_[node]);
        }
        const auto before = static_cast<std::ptrdiff_t>(open.size());
        for (const Arc& way : arcs(node)) {
            if (!seen[way.to]) {
                open.push_back(way.to);
            }
        }
        std::reverse(open.begin() + before, open.end());
    }
    return order;
}

NeighbourRows SpanNeighbours::joined() const {
    NeighbourRows rows;
    for (const std::uint32_t node : node_of_) {
        std::uint32_t last = node;
        for (const Arc& arc : arcs(node)) {
            if (arc.to != node && arc.to != last && pole_of_[arc.to] != kNone) {
                rows.add({arc.um, pole_of_[arc.to]});
            }
            last = arc.to;
        }
        rows.end_row();
    }
    return rows;
}

class SpanSearch : public NeighbourSearch {
public:
    explicit SpanSearch(const SpanNeighbours& spans)
        : spans_{spans}, way_(spans.pole_of_.size(), 0), round_(spans.pole_of_.size(), 0) {}

    void nearest(std::uint32_t centre, Reach reach, std::vector<Near>& out) override {
        out.clear();
        open_.clear();
        if (++now_ == 0) {
            std::fill(round_.begin(), round_.end(), 0U);
            now_ = 1;
        }
        offer(spans_.node_of_[centre], 0);
        while (!open_.empty()) {
            const Near here = take();
            if (out.size() >= reach.count && here.um > out.back().um) {
                break;
            }
            if (here.um > way_[here.pole]) {
                continue;  // a shorter way was found meanwhile
            }
            if (spans_.pole_of_[here.pole] != kNone) {
                out.push_back({here.um, spans_.pole_of_[here.pole]});
            }
            for (const auto& arc : spans_.arcs(here.pole)) {
                if (arc.um <= reach.um - here.um) {
                    offer(arc.to, here.um + arc.um);
                }
            }
        }
        sort_ties(out);
        if (out.size() > reach.count) {
            out.resize(reach.count);
        }
    }

private:
    static bool later(const Near& a, const Near& b) { return b < a; }

    void offer(std::uint32_t node, std::int64_t um) {
        if (round_[node] == now_ && way_[node] <= um) {
            return;
        }
        round_[node] = now_;
        way_[node] = um;
        open_.push_back({um, node});
        std::push_heap(open_.begin(), open_.end(), later);
    }

    Near take() {
        std::pop_heap(open_.begin(), open_.end(), later);
        const Near first = open_.back();
        open_.pop_back();
        return first;
    }

    /// They came in the order of distance, but those at the same distance in any.
    static void sort_ties(std::vector<Near>& found) {
        for (auto begin = found.begin(); begin != found.end();) {
            auto end = begin + 1;
            while (end != found.end() && end->um == begin->um) {
                ++end;
            }
            std::sort(begin, end);
            begin = end;
        }
    }

    const SpanNeighbours& spans_;
    std::vector<std::int64_t> way_;     ///< to each node reached in this round
    std::vector<std::uint32_t> round_;  ///< in which each node was reached last
    std::vector<Near> open_;            ///< a heap, nearest on top; by node
    std::uint32_t now_ = 0;
};

std::unique_ptr<NeighbourSearch> SpanNeighbours::search() const {
    return std::make_unique<SpanSearch>(*this);
}

}  // namespace linewood
