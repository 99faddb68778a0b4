#include "geo/corridor/line_graph.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <utility>

namespace linewood {

namespace {

/// The first eight bytes as a number, so that most comparisons stay off the heap.
std::uint64_t prefix_of(std::string_view id) {
    std::uint64_t prefix = 0;
    for (std::size_t i = 0; i < 8; ++i) {
        prefix = (prefix << 8U) | (i < id.size() ? static_cast<unsigned char>(id[i]) : 0U);
    }
    return prefix;
}

/// Every circuit replaced by the first of its name, and the place of each in the order of names.
struct CircuitOrder {
    std::vector<std::uint32_t> same_as;
    std::vector<std::uint32_t> rank;

    explicit CircuitOrder(std::span<const std::string_view> names)
        : same_as(names.size(), kNone), rank(names.size(), 0) {
        std::map<std::string_view, std::uint32_t> first;
        for (std::size_t i = 0; i < names.size(); ++i) {
            if (!names[i].empty()) {
                same_as[i] = first.emplace(names[i], static_cast<std::uint32_t>(i)).first->second;
            }
        }
        std::uint32_t next = 0;
        for (const auto& [name, circuit] : first) {
            rank[circuit] = next++;
        }
    }
    std::uint32_t of(std::uint32_t circuit) const {
        return circuit < same_as.size() ? same_as[circuit] : kNone;
    }
};

/// Numbers different sets of circuits; few of them, shared by all steps.
class CircuitSets {
public:
    explicit CircuitSets(const CircuitOrder& order) : order_{order} { number({}); }

    std::uint32_t number(std::vector<std::uint32_t> set) {
        std::sort(set.begin(), set.end(), [&](std::uint32_t a, std::uint32_t b) {
            return order_.rank[a] < order_.rank[b];
        });
        set.erase(std::unique(set.begin(), set.end()), set.end());
        const auto [at, fresh] = known_.try_emplace(set, static_cast<std::uint32_t>(sets_.size()));
        if (fresh) {
            sets_.push_back(std::move(set));
        }
        return at->second;
    }
    std::vector<std::vector<std::uint32_t>> take() { return std::move(sets_); }

private:
    const CircuitOrder& order_;
    std::map<std::vector<std::uint32_t>, std::uint32_t> known_;
    std::vector<std::vector<std::uint32_t>> sets_;
};

}  // namespace

LineGraph::LineGraph(std::span<const std::string_view> pole_ids,
                     std::span<const CorridorSpan> spans,
                     std::span<const std::string_view> circuit_names) {
    order_poles(pole_ids);
    take_steps(spans, circuit_names);
    index_arcs();
}

void LineGraph::order_poles(std::span<const std::string_view> pole_ids) {
    struct Key {
        std::uint64_t prefix = 0;
        std::uint32_t pole = 0;
    };
    std::vector<Key> keys(pole_ids.size());
    for (std::size_t i = 0; i < keys.size(); ++i) {
        keys[i] = {prefix_of(pole_ids[i]), static_cast<std::uint32_t>(i)};
    }
    std::sort(keys.begin(), keys.end(), [&](const Key& a, const Key& b) {
        if (a.prefix != b.prefix) {
            return a.prefix < b.prefix;
        }
        const int order = pole_ids[a.pole].compare(pole_ids[b.pole]);
        return order != 0 ? order < 0 : a.pole < b.pole;
    });
    pole_of_.resize(keys.size());
    node_of_.resize(keys.size());
    for (std::size_t i = 0; i < keys.size(); ++i) {
        pole_of_[i] = keys[i].pole;
        node_of_[keys[i].pole] = static_cast<std::uint32_t>(i);
    }
}

void LineGraph::take_steps(std::span<const CorridorSpan> spans,
                           std::span<const std::string_view> circuit_names) {
    const CircuitOrder order{circuit_names};
    CircuitSets sets{order};
    std::vector<Step> all;  // `circuits` holds the one circuit until spans are taken together
    all.reserve(spans.size());
    for (const CorridorSpan& span : spans) {
        if (span.from >= node_of_.size() || span.to >= node_of_.size() || span.from == span.to ||
            !(span.length_m >= 0.0) || std::isinf(span.length_m)) {
            ++left_out_;
            continue;
        }
        const auto [low, high] = std::minmax({node_of_[span.from], node_of_[span.to]});
        all.push_back({low, high, span.span, order.of(span.circuit), span.length_m});
    }
    std::stable_sort(all.begin(), all.end(), [](const Step& a, const Step& b) {
        return a.low != b.low     ? a.low < b.low
               : a.high != b.high ? a.high < b.high
                                  : a.length_m < b.length_m;
    });
    std::vector<std::uint32_t> circuits;
    for (std::size_t i = 0; i < all.size();) {
        circuits.clear();
        std::size_t end = i;
        for (; end < all.size() && all[end].low == all[i].low && all[end].high == all[i].high;
             ++end) {
            if (all[end].circuits != kNone) {
                circuits.push_back(all[end].circuits);
            }
        }
        steps_.push_back(all[i]);
        steps_.back().circuits = sets.number(circuits);
        i = end;
    }
    circuit_sets_ = sets.take();
}

void LineGraph::index_arcs() {
    first_arc_.assign(node_count() + 1U, 0);
    for (const Step& step : steps_) {
        ++first_arc_[step.low + 1U];
        ++first_arc_[step.high + 1U];
    }
    std::partial_sum(first_arc_.begin(), first_arc_.end(), first_arc_.begin());
    arcs_.resize(steps_.size() * 2U);
    std::vector<std::uint32_t> next(first_arc_.begin(), first_arc_.end() - 1);
    // The steps are in the order of (low, high): first the lower neighbours of every node arrive in
    // ascending order, then the higher ones.
    for (std::uint32_t i = 0; i < steps_.size(); ++i) {
        arcs_[next[steps_[i].high]++] = {steps_[i].low, i};
    }
    for (std::uint32_t i = 0; i < steps_.size(); ++i) {
        arcs_[next[steps_[i].low]++] = {steps_[i].high, i};
    }
}

}  // namespace linewood
