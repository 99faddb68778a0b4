#pragma once

#include <span>
#include <string_view>

#include "assess/record/finding.hpp"
#include "src/job/job_values.hpp"
#include "src/job/layer_mapping.hpp"
#include "src/job/strict_json.hpp"

namespace linewood {

/// The keys of a source in a job file.
std::span<const std::string_view> source_keys();

/// One source of a layer, from its object in a job file. Paths are left as they stand.
/// @throws JobError as read_job().
SourceMapping read_source(const JsonNode& node, InputLayer layer);

}  // namespace linewood
