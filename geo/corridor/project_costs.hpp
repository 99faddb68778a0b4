#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace linewood {

/// What one job costs. A label left empty stands for any; labels are compared byte by byte.
struct JobPrice {
    std::string verdict;     ///< `replace`, `stub`
    std::string pole_class;  ///< as in the poles layer
    std::string access;      ///< how the pole is reached, in the user's own words
    double cost = 0.0;       ///< currency units
    double crew_days = 0.0;
};

/// What a project may not pass; absent = no limit. Met when reached exactly.
struct ProjectLimits {
    std::optional<std::int64_t> poles;  ///< jobs, at least 1
    std::optional<double> crew_days;    ///< of its jobs, over 0
    std::optional<double> km;           ///< of its stretch, from job to job, over 0

    bool any() const { return poles || crew_days || km; }
};

/// A price list for replacement projects. There are no default prices: they are the user's.
struct ProjectCosts {
    std::string currency;       ///< for output
    double mobilisation = 0.0;  ///< once a project, whatever its size; currency units
    double per_km = 0.0;        ///< of the stretch from job to job
    std::vector<JobPrice> prices;
    ProjectLimits limits;
};

/// What a job is priced by.
struct JobLabels {
    std::string_view verdict;
    std::string_view pole_class;
    std::string_view access;
};

/// The first row of the list that fits, so special prices stand before general ones; null where none
/// fits: the job has no price, which is not a price of nothing. Cost: linear in the rows.
const JobPrice* price_of(const ProjectCosts& costs, const JobLabels& job);

/// The greatest figure a price list may hold: a million jobs at it still add up. Own choice.
inline constexpr double kMaxPrice = 1e9;

/// What is wrong with a price list, in one sentence that says what to change; empty = nothing.
std::string price_list_fault(const ProjectCosts& costs);

}  // namespace linewood
