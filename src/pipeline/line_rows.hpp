#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "assess/record/finding.hpp"
#include "src/pipeline/input_layers.hpp"

namespace linewood {

/// Which rows of the spans layer are of the line, where the job has a condition for it
/// (NetworkJob::line_where). The others count as services: kept, joined and measured, but no neighbours.
class LineRows {
public:
    /// All of them.
    LineRows() = default;
    /// Raises one finding that says how many are not, or that none is. Without spans, or without a
    /// condition, all are. @throws JobError where the condition is not understood; DataError.
    LineRows(const InputLayers& inputs, const std::string& condition, Findings& findings);

    bool is_line(std::int64_t row) const {
        const auto at = static_cast<std::size_t>(row);
        return at >= rows_.size() || rows_[at];
    }

private:
    std::vector<bool> rows_;
};

}  // namespace linewood
