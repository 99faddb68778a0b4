#pragma once

#include <array>
#include <string_view>

#include "assess/record/finding.hpp"
#include "src/job/layer_mapping.hpp"
#include "src/job/strict_json.hpp"

namespace linewood {

inline constexpr std::size_t kMostJobText = 2000;
inline constexpr std::size_t kMostJobItems = 10'000;

/// The keys of a source in a job file.
std::span<const std::string_view> source_keys();

/// One source of a layer, from its object in a job file. Paths are left as they stand.
/// @throws JobError as read_job().
SourceMapping read_source(const JsonNode& node, InputLayer layer);

}  // namespace linewood
