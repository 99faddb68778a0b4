#pragma once

#include <string>

#include "src/pipeline/dataset_description.hpp"

namespace linewood {

/// For people: layers as they are, then what a run would read of them.
std::string description_text(const DatasetDescription& description);

/// The same as one JSON document, lengths in metres, with the range in both unit systems.
std::string description_json(const DatasetDescription& description);

}  // namespace linewood
