#pragma once

#include <memory>
#include <string>
#include <vector>

#include "src/assessed/user_polygons.hpp"
#include "src/job/cluster_job.hpp"

namespace linewood {

/// The user's polygons: districts, grid squares of their own.
struct UserAreas {
    std::vector<std::string> names;
    std::unique_ptr<UserPolygons> polygons;  ///< complete
};

/// Features without a polygon are left out, with a finding. Names are from the column asked for, else `name` or the first
/// text column, else the FIDs. `data` outlives what is returned. @throws DataError, JobError
UserAreas read_user_areas(const AssessedData& data, const ClusterJob& job);

}  // namespace linewood
