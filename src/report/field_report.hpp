#pragma once

#include <string>
#include <vector>

#include "geo/io/field_dictionary.hpp"
#include "src/job/unit_system.hpp"

namespace linewood {

/// Every layer the program reads and writes with its fields: what may come in (in the default units), then what
/// comes out beside that.
struct FieldLists {
    std::vector<DictionaryLayer> input;
    std::vector<DictionaryLayer> output;
};

FieldLists field_lists(UnitSystem units);

/// As tables to read, with the short names that Shapefiles have.
std::string fields_markdown(const FieldLists& lists);
/// `{"input": DICTIONARY, "output": DICTIONARY}`, the dictionary as `fields.json` has it.
std::string fields_json(const FieldLists& lists);
/// A Frictionless Data Package: a resource for each layer of the output, with the input's columns before the added
/// ones, each a Table Schema with units and foreign keys.
std::string fields_table_schema(const FieldLists& lists);

}  // namespace linewood
