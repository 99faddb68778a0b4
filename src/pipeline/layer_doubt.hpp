#pragma once

#include <string>
#include <vector>

#include "assess/record/finding.hpp"
#include "geo/io/layer_writer.hpp"

namespace linewood {

/// A finding about a layer that is none of the four: one of the user's own, by its name.
struct LayerDoubt {
    std::string layer;
    Finding finding;
};

/// Those of `findings` that two layers' coordinate systems raised where the second was not spans but `layer`. What is
/// said of the poles alone was said when they were read.
std::vector<LayerDoubt> doubts_of_layer(const Findings& findings, const std::string& layer);

/// Rows of a layer `findings`.
void write_doubts(const std::vector<LayerDoubt>& doubts, LayerWriter& findings);

/// Those about a layer as a whole, in words: `layer districts: ...`.
std::vector<std::string> layer_warnings(const std::vector<LayerDoubt>& doubts);

}  // namespace linewood
