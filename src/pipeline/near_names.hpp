#pragma once

#include <span>
#include <string_view>

#include "assess/record/finding.hpp"
#include "geo/io/layer_schema.hpp"

namespace linewood {

/// Notes what the names of a layer's columns make doubtful, where no job file says which are read:
/// a column called nearly like a field that the layer lacks (`column_name_near`), and one of two columns
/// of a field's name, of which only the other is read (`column_repeated`).
/// @param own columns that the tool itself wrote there: never read as input.
void note_doubtful_names(const LayerSchema& schema,
                         InputLayer layer,
                         std::span<const std::string_view> own,
                         Findings& findings);

/// Is `written` a likely slip for `field`? Case and separators aside; a letter or two more, less, other
/// or exchanged, by length: none under 5 letters, one to 11 (with the same first letter under 8), two
/// from 12 on (own choice, no source).
bool is_near_name(std::string_view written, std::string_view field);

}  // namespace linewood
