#pragma once

// Private to geo/io: the spatial index of a FlatGeobuf file, a packed R-tree on a Hilbert curve.

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include <ogr_core.h>

#include "geo/crs/point.hpp"

namespace linewood {

/// Collects the boxes of features in the order they are written, 24 bytes a point and 40 a line, and
/// puts them in an order in which neighbours in the file are neighbours in the plane.
class FgbIndex {
public:
    static constexpr std::uint16_t kNodeSize = 16;

    /// @param begin where the feature's bytes begin among those of all.
    void add(const OGREnvelope& box, std::uint64_t begin);
    std::size_t size() const { return begins_.size(); }

    /// Positions of the features along the curve; equal places in the order they were added.
    std::vector<std::uint32_t> order(const OGREnvelope& all) const;

    /// Where a feature's bytes begin and how many they are.
    std::uint64_t begin(std::uint32_t feature) const { return begins_[feature]; }
    std::uint64_t length(std::uint32_t feature, std::uint64_t end) const {
        return (feature + std::size_t{1} < begins_.size() ? begins_[feature + 1] : end) -
               begins_[feature];
    }

    /// The bytes of the index over features in `order`, root first, given out in pieces.
    /// @param end of all features. @pre size() > 0
    void write(const std::vector<std::uint32_t>& order,
               std::uint64_t end,
               const std::function<void(const std::string&)>& out) const;

private:
    OGREnvelope box(std::uint32_t feature) const;

    std::vector<Point> least_;
    std::vector<Point> most_;  ///< empty as long as all are points
    std::vector<std::uint64_t> begins_;
};

}  // namespace linewood
