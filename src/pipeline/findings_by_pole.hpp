#pragma once

#include <cstdint>
#include <map>
#include <span>
#include <string>
#include <tuple>
#include <vector>

#include "assess/record/finding.hpp"
#include "src/pipeline/run_data.hpp"

namespace linewood {

/// The findings of a run by the poles they speak of: of a pole's record, of its inspections and defects,
/// and, of every pole, those of a layer as a whole.
class FindingsByPole {
public:
    /// @param poles those that will be asked for.
    FindingsByPole(const Findings& findings,
                   const RunData& data,
                   std::span<const std::uint32_t> poles);

    Findings of(std::uint32_t pole) const;

private:
    Findings of_layers_;
    std::map<std::uint32_t, Findings> of_poles_;
};

}  // namespace linewood
