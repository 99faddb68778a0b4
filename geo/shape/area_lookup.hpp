#pragma once

#include <cstdint>
#include <memory>
#include <vector>

#include "geo/crs/point.hpp"
#include "geo/shape/polygon.hpp"

namespace linewood {

/// Which areas a place lies in. For one thread.
class AreaLookup {
public:
    /// Coordinates finite, borders valid (`made_valid`).
    explicit AreaLookup(const std::vector<Polygons>& areas);
    ~AreaLookup();
    AreaLookup(const AreaLookup&) = delete;
    AreaLookup& operator=(const AreaLookup&) = delete;
    AreaLookup(AreaLookup&&) = delete;
    AreaLookup& operator=(AreaLookup&&) = delete;

    /// The areas that hold `at`, borders included, by index.
    std::vector<std::uint32_t> areas_at(Point at) const;

private:
    class Impl;
    std::unique_ptr<Impl> impl_;
};

}  // namespace linewood
