#pragma once

#include <span>
#include <string>
#include <vector>

#include "geo/io/cell.hpp"

namespace linewood {

/// A column and what it is called in full, where its file shortens names.
struct DictionaryField {
    Field field;            ///< under the name it has in the file
    std::string full_name;  ///< empty: the same
};

/// A layer as a field dictionary lists it.
struct DictionaryLayer {
    std::string name;
    std::string file;  ///< empty: none of its own
    std::string description;
    std::vector<DictionaryField> fields;
};

/// The dictionary as JSON: `{"layers": [{"name", "file", "description", "fields": [{"column", "field", "type",
/// "unit", "meaning"}]}]}`; what is empty is left out.
std::string field_dictionary_json(std::span<const DictionaryLayer> layers);

}  // namespace linewood
