#pragma once

#include <cstdint>
#include <memory>
#include <utility>
#include <vector>

#include "geo/cluster/scan.hpp"
#include "geo/crs/point.hpp"

namespace linewood::test {

/// The scan by its definition: every window of every centre, the likelihood ratio as printed, one
/// label set after the other. Slow, and nothing of the room's own counting in it.
class BruteScan {
public:
    using Distances = std::vector<std::vector<double>>;  ///< m, infinite where there is no way

    BruteScan(Distances distances, const ScanPoles& poles, const ScanSettings& settings);

    struct Window {
        std::uint32_t centre = 0;
        std::vector<std::uint32_t> places;  ///< sorted by index
        std::uint32_t poles = 0;
        std::uint32_t decayed = 0;
        double llr = 0.0;
    };
    /// All windows with a likelihood ratio, the greatest first; then fewer poles, then lower centre.
    std::vector<Window> windows(const std::vector<std::uint8_t>& decayed) const;
    /// Those that share no place with one before.
    std::vector<Window> clusters() const;
    /// The greatest of each replicate, with the labels that `DecayLabels` draws.
    std::vector<double> replicates() const;
    double p(double llr, const std::vector<double>& replicates) const;

private:
    struct PlaceCount {
        std::uint32_t poles = 0;
        std::uint32_t decayed = 0;
        double expected = 0.0;
    };

    double llr(double c, double n, double mu) const;
    std::vector<PlaceCount> counted(const std::vector<std::uint8_t>& decayed) const;
    Window measured(std::uint32_t centre,
                    const std::vector<std::uint32_t>& places,
                    const std::vector<PlaceCount>& counts) const;

    Distances distances_;
    std::vector<std::uint8_t> decayed_;
    std::vector<std::uint32_t> stratum_;
    std::vector<std::uint32_t> place_;
    std::vector<double> share_;  ///< of each stratum
    ScanSettings settings_;
};

/// Straight distances, in whole micrometres as everywhere.
BruteScan::Distances straight_distances(const std::vector<Point>& poles);

/// Any distances there are, as a source of neighbours.
class TableNeighbours : public NeighbourSource {
public:
    explicit TableNeighbours(BruteScan::Distances distances) : distances_{std::move(distances)} {}

    std::size_t pole_count() const override { return distances_.size(); }
    std::unique_ptr<NeighbourSearch> search() const override;
    std::vector<std::uint32_t> layout() const override;

private:
    BruteScan::Distances distances_;
};

}  // namespace linewood::test
