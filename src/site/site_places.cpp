#include "src/site/site_places.hpp"

#include <limits>

#include "geo/io/data_error.hpp"

namespace linewood {

SitePlaces::SitePlaces(const std::string& crs_wkt,
                       const std::string& dataset,
                       const std::string& layer) {
    if (crs_wkt.empty()) {
        return;
    }
    try {
        LayerCrs crs = LayerCrs::from_wkt(crs_wkt);
        if (crs.known()) {
            crs_ = std::move(crs);
        }
    } catch (const CrsError& e) {
        throw DataError{dataset, layer, e.what()};
    }
}

void SitePlaces::to_wgs84(std::span<Point> points) const {
    if (crs_) {
        crs_->to_wgs84(points);
        return;
    }
    constexpr double kNan = std::numeric_limits<double>::quiet_NaN();
    for (Point& p : points) {
        p = {kNan, kNan};
    }
}

}  // namespace linewood
