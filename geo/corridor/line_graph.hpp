#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <string_view>
#include <vector>

#include "geo/network/span_feature.hpp"

namespace linewood {

class Network;

/// A span between two poles, as corridors see it.
struct CorridorSpan {
    std::uint32_t from = kNone;  ///< pole index
    std::uint32_t to = kNone;
    double length_m = 0.0;
    std::uint32_t circuit = kNone;  ///< as interned by the caller
    std::uint32_t span = kNone;     ///< the caller's name for it, given back for drawing
};

/// The spans of a network that make neighbours; `span` is the position in Network::spans().
std::vector<CorridorSpan> corridor_spans(const Network& network);

/// The line network in an order that depends on what it is made of, not on how it was read: node 0 is
/// the pole with the least id (by bytes), and so on. Everything built on it is then the same for any
/// order of poles and spans and any way they are drawn.
///
/// All spans between the same two poles are one step, with the circuits of all of them: a double
/// circuit is one row of poles. Its length is that of the shortest (equal: the first given).
/// Left out and counted: spans with an end that is no pole, from a pole to itself, and without a
/// length (NaN, infinite, negative): what is not known to join does not join.
///
/// Cost: about 1 s and 100 bytes a pole for a million.
class LineGraph {
public:
    struct Step {
        std::uint32_t low = 0;   ///< node
        std::uint32_t high = 0;  ///< node, above `low`
        std::uint32_t span = kNone;
        std::uint32_t circuits = 0;  ///< for circuits(); equal sets have equal numbers
        double length_m = 0.0;
    };
    /// A step seen from one of its nodes.
    struct Arc {
        std::uint32_t node = 0;  ///< the other one
        std::uint32_t step = 0;
    };

    /// @param pole_ids one each, unique (of equal ids the first given is the lower node).
    /// @param circuit_names of the interned circuits; equal names are one circuit, an empty name is none.
    LineGraph(std::span<const std::string_view> pole_ids,
              std::span<const CorridorSpan> spans,
              std::span<const std::string_view> circuit_names = {});

    std::size_t node_count() const { return pole_of_.size(); }
    std::uint32_t pole_of(std::uint32_t node) const { return pole_of_[node]; }
    std::uint32_t node_of(std::uint32_t pole) const { return node_of_[pole]; }
    std::span<const Step> steps() const { return steps_; }
    const Step& step(std::uint32_t i) const { return steps_[i]; }

    /// The neighbours of a node, ascending.
    std::span<const Arc> arcs(std::uint32_t node) const {
        return std::span{arcs_}.subspan(first_arc_[node], first_arc_[node + 1U] - first_arc_[node]);
    }
    /// The circuits of a step as interned by the caller, in the order of their names; empty = none known.
    std::span<const std::uint32_t> circuits(std::uint32_t set) const { return circuit_sets_[set]; }

    std::size_t spans_left_out() const { return left_out_; }

private:
    void order_poles(std::span<const std::string_view> pole_ids);
    void take_steps(std::span<const CorridorSpan> spans,
                    std::span<const std::string_view> circuit_names);
    void index_arcs();

    std::vector<std::uint32_t> pole_of_;
    std::vector<std::uint32_t> node_of_;
    std::vector<Step> steps_;
    std::vector<std::uint32_t> first_arc_;
    std::vector<Arc> arcs_;
    std::vector<std::vector<std::uint32_t>> circuit_sets_;
    std::size_t left_out_ = 0;
};

}  // namespace linewood
