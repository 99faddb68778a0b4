#pragma once

#include <cstdint>
#include <vector>

#include "assess/record/finding.hpp"
#include "assess/verdict/verdict.hpp"
#include "geo/network/network_builder.hpp"
#include "src/pipeline/ground_frame.hpp"
#include "src/pipeline/pole_reader.hpp"
#include "src/pipeline/visit_store.hpp"

namespace linewood {

/// What a run holds in memory between reading and writing: no whole features, only what the network
/// and the assessment need of each.
struct RunData {
    PoleStore poles;
    Network network = NetworkBuilder{Ground::planar(1.0), {}}.finish();  ///< empty
    InspectionStore inspections;
    DefectStore defects;
    std::int64_t greatest_span_fid = -1;
    Angle given_axis_limit;                    ///< beyond it a direction given is doubted
    std::int64_t grid_azimuths = 0;            ///< defects whose azimuth is counted from grid north
    std::vector<Verdict> verdicts;             ///< by pole, once assessed
    std::vector<Maybe<Length>> defect_shells;  ///< by slot of the defect store, once assessed

    LineDirection direction(std::uint32_t pole) const;
    LineTrust trust(std::uint32_t pole) const;
};

}  // namespace linewood
