#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "assess/record/finding.hpp"
#include "geo/io/source.hpp"
#include "src/assessed/assessed_poles.hpp"
#include "src/assessed/assessed_run.hpp"
#include "src/assessed/assessed_spans.hpp"
#include "src/assessed/metric_frame.hpp"
#include "src/report/run_monitor.hpp"

namespace linewood {

/// What is wanted of an assessed dataset.
struct AssessedReading {
    /// Columns of the poles layer that are wanted as text, found without case.
    std::vector<std::string> attributes;
    /// Of layers without a coordinate system; nothing: metres, and coordinates that look like degrees
    /// are refused.
    std::optional<double> plane_metres_per_unit;
    std::string metric_crs;  ///< see MetricFrame; empty = chosen
    bool spans = true;       ///< read them
};

/// An assessed dataset in memory: what commands need that work on verdicts in space.
struct AssessedData {
    Source source;
    AssessedRun run;
    AssessedPoles poles;
    AssessedSpans spans;
    std::string poles_crs_wkt;            ///< of the layer; empty = none
    std::unique_ptr<GroundFrame> ground;  ///< for `frame`
    std::optional<MetricFrame> frame;
    std::int64_t pole_rows = 0;
    std::int64_t span_rows = 0;

    /// Where a pole is in the coordinates of its layer; nothing where it has no place.
    std::optional<Point> layer_point(std::uint32_t pole) const;
};

/// Reads an output of `linewood assess`: a GeoPackage, or a folder of any format written. Doubts go to
/// `findings`: ids that are missing or come twice, poles without a place, spans to unknown poles.
/// @throws DataError where the dataset was not assessed, JobError where a column that was asked for is not
/// there or the coordinates look like degrees that no coordinate system is stated for.
AssessedData read_assessed(const std::string& dataset,
                           const AssessedReading& wanted,
                           Findings& findings,
                           RunMonitor& monitor);

}  // namespace linewood
