#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "assess/condition/condition_findings.hpp"
#include "geo/crs/layer_crs.hpp"
#include "geo/io/layer_schema.hpp"
#include "geo/shape/area_lookup.hpp"
#include "src/assessed/assessed_data.hpp"
#include "src/pipeline/layer_doubt.hpp"

namespace linewood {

/// Polygons of the user's own over an assessed dataset, and which poles they hold.
///
/// An edge is straight in the coordinates of its own layer, so that is where poles are carried and looked up: an edge
/// along a parallel stays on it, whatever system the poles are in. Longitudes count round the Earth.
class UserPolygons {
public:
    /// @param layer of the polygons; @param plane_metres_per_unit of layers without a coordinate system.
    /// `data` outlives this. @throws GeocentricCrs
    UserPolygons(const AssessedData& data, const LayerSchema& layer, double plane_metres_per_unit);

    /// Takes an area over, mended where its border crosses itself; says so, under `id`. @return its number, from 0.
    std::uint32_t add(const Polygons& area, const std::string& id);
    /// A row that has none.
    void note_missing(const std::string& id);
    /// To be called when all are there.
    void complete();

    /// The numbers of the areas that hold the pole, border included, in order. @pre complete()
    std::vector<std::uint32_t> areas_of(std::uint32_t pole) const;
    /// For drawing: metres of the dataset's frame, points put in where edges bend there, within 1 m. Empty, and said so,
    /// where it goes too far from the poles for their coordinate system.
    Polygons outline(std::uint32_t area);
    std::size_t size() const { return areas_.size(); }
    std::uint32_t mended() const { return mended_; }
    const std::vector<LayerDoubt>& doubts() const { return doubts_; }

private:
    void note(const FindingKind& kind, const std::string& id);
    bool is_near(Point metric) const;
    void place_poles(bool two_systems);

    const AssessedData& data_;
    std::string layer_;
    std::unique_ptr<GroundFrame> ground_;
    std::optional<LayerCrs> crs_;  ///< of the polygons, where that is not the poles'
    double once_round_ = 0.0;    ///< where coordinates are longitudes: so many are the whole circle
    std::vector<Point> places_;  ///< of all poles in the coordinates of the polygons
    Point some_pole_;            ///< metres; one that has a place
    std::vector<Polygons> areas_;  ///< in their own coordinates
    std::vector<std::string> ids_;
    std::optional<AreaLookup> lookup_;
    std::vector<LayerDoubt> doubts_;
    std::uint32_t mended_ = 0;
};

}  // namespace linewood
