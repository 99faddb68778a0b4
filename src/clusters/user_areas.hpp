#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "geo/shape/area_lookup.hpp"
#include "src/assessed/assessed_data.hpp"
#include "src/job/cluster_job.hpp"

namespace linewood {

/// The user's polygons: districts, grid squares of their own.
struct UserAreas {
    std::vector<std::string> names;
    std::vector<Polygons> on_ground;      ///< where poles are looked up
    std::vector<Polygons> outlines;       ///< metres of the frame
    std::uint32_t mended = 0;             ///< whose borders crossed themselves
    std::unique_ptr<GroundFrame> ground;  ///< where poles and polygons meet
};

/// Features without an area are left out. Names are from the column asked for, else `name` or the first text
/// column, else the FIDs. @throws DataError, JobError
UserAreas read_user_areas(const AssessedData& data, const ClusterJob& job);

class UserAreaLookup {
public:
    /// Both outlive this.
    UserAreaLookup(const AssessedData& data, const UserAreas& areas);
    std::vector<std::uint32_t> areas_of(std::uint32_t pole) const;

private:
    const AssessedData& data_;
    const UserAreas& areas_;
    AreaLookup lookup_;
};

}  // namespace linewood
