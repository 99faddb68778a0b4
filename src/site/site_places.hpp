#pragma once

#include <optional>
#include <span>
#include <string>

#include "geo/crs/layer_crs.hpp"
#include "geo/crs/point.hpp"

namespace linewood {

/// From the coordinates of a layer to WGS 84, as the page needs them.
class SitePlaces {
public:
    /// @param crs_wkt of the layer; empty, or a system without a place on the Earth: nothing can be placed.
    /// @throws DataError where it is not understood. @param layer for the message
    SitePlaces(const std::string& crs_wkt, const std::string& dataset, const std::string& layer);

    bool known() const { return crs_.has_value(); }
    /// In place; NaN in both numbers where there is no place.
    void to_wgs84(std::span<Point> points) const;

private:
    std::optional<LayerCrs> crs_;
};

}  // namespace linewood
