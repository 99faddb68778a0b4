#pragma once

#include <functional>
#include <string>
#include <string_view>

#include "assess/record/finding.hpp"
#include "src/job/layer_mapping.hpp"

namespace linewood {

/// How a source is mapped, as JSON in the form of a job file (`{"fields": {...}}`), so that what was read by it can
/// be read in the same way where its columns were carried to. Without paths, conditions and layers; of repeated
/// columns the names they have once they are composed.
/// @param is_read whether the layer has the field; others are left out.
std::string stated_mapping(const SourceMapping& mapping,
                           const std::function<bool(const std::string& field)>& is_read);

/// The same back. @throws JobError where it is not what stated_mapping() gives.
SourceMapping read_stated_mapping(std::string_view json, InputLayer layer);

/// Takes a column from one source alike: nothing but the place in the job file may differ.
bool same_reading(const FieldSource& a, const FieldSource& b);

}  // namespace linewood
