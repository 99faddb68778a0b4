#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "geo/io/feature_batch.hpp"
#include "geo/io/layer_schema.hpp"
#include "src/job/unit_system.hpp"

namespace linewood {

/// How the page sees the values of a column.
enum class ShownKind : std::uint8_t { number, text, date, boolean };
/// `number`, `text`, `date`, `bool`: as site.js says it.
const char* name_of(ShownKind kind);

/// A column of a layer as it is published.
struct ShownColumn {
    std::size_t index = 0;  ///< in the layer's schema
    std::string name;       ///< as the layer has it; those that the tool knows are spelt as it does
    ShownKind kind = ShownKind::text;
    std::string unit;
    std::string meaning;
};

/// All columns of the poles layer of an assessed dataset, those of the user too. What the tool knows of a column
/// (input fields and its own) wins over the file, which may hold text only (CSV).
std::vector<ShownColumn> pole_columns(const LayerSchema& schema, UnitSystem units);
/// All columns of any other layer, as the file declares them.
std::vector<ShownColumn> declared_columns(const LayerSchema& schema);

/// A value as JSON that is safe in a script; `null` where there is none. A text where a number, date or boolean is
/// expected and is not there stays the text that it is.
std::string shown_value(const FeatureBatch& batch, std::size_t row, const ShownColumn& column);

}  // namespace linewood
