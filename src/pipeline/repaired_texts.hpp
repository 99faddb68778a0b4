#pragma once

#include "assess/record/finding.hpp"
#include "geo/io/layer_writer.hpp"
#include "src/pipeline/finding_log.hpp"
#include "src/pipeline/pole_index.hpp"

namespace linewood {

/// Says which texts of a layer were no valid UTF-8 and how they stood there: a finding each, of every column the first
/// hundred, then one with their number.
/// @param ids names of the features by row; null: they go by their FID.
void note_repaired_texts(const LayerWriter& written,
                         InputLayer layer,
                         const PoleIndex* ids,
                         FindingLog& log);

/// A finding for each column of which the output's format could not hold all values as they were, and one where
/// names had to be shortened.
void note_losses(const LayerWriter& written, InputLayer layer, FindingLog& log);

}  // namespace linewood
