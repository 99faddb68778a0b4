#pragma once

#include <cstddef>
#include <cstdint>
#include <limits>
#include <memory>
#include <vector>

namespace linewood {

/// Distances are whole micrometres: sums along a line are exact, and two that differ by rounding
/// only are the same. Up to 9e12 m; what is further counts as that far.
std::int64_t to_micrometres(double metres);
constexpr double to_metres(std::int64_t um) { return static_cast<double>(um) * 1e-6; }

/// A pole and how far it is. Ordered by distance, then index, so that ties never depend on chance.
struct Near {
    std::int64_t um = 0;
    std::uint32_t pole = 0;

    friend bool operator==(const Near&, const Near&) = default;
    friend bool operator<(const Near& a, const Near& b) {
        return a.um != b.um ? a.um < b.um : a.pole < b.pole;
    }
};

/// How far a search goes: at most so many poles, at most so far.
struct Reach {
    std::size_t count = std::numeric_limits<std::size_t>::max();
    std::int64_t um = std::numeric_limits<std::int64_t>::max();
};

/// Searches around poles; holds what one thread needs for it.
class NeighbourSearch {
public:
    virtual ~NeighbourSearch() = default;

    /// The first poles by (distance, index) from `centre`, itself among them at distance 0, within
    /// the reach. What it gives does not depend on earlier searches.
    virtual void nearest(std::uint32_t centre, Reach reach, std::vector<Near>& out) = 0;
};

/// What is near to what among a set of poles, by one notion of distance. The poles are those that
/// are counted (the inspected ones), by index; give them in the order of their ids (`id_order`).
class NeighbourSource {
public:
    virtual ~NeighbourSource() = default;

    virtual std::size_t pole_count() const = 0;
    /// A search for one thread; the source must outlive it.
    virtual std::unique_ptr<NeighbourSearch> search() const = 0;
    /// All poles once, near ones near each other; made from positions and indexes alone.
    virtual std::vector<std::uint32_t> layout() const = 0;
};

}  // namespace linewood
