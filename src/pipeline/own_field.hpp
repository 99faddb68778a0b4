#pragma once

#include <string>
#include <utility>

#include "geo/io/layer_schema.hpp"

namespace linewood::own_field {

/// Columns that the tool writes, with what they mean.
inline Field typed(FieldType type, std::string name, std::string unit, std::string meaning) {
    Field f;
    f.name = std::move(name);
    f.type = type;
    f.unit = std::move(unit);
    f.meaning = std::move(meaning);
    return f;
}
inline Field text(std::string name, std::string meaning) {
    return typed(FieldType::text, std::move(name), "", std::move(meaning));
}
inline Field count(std::string name, std::string meaning) {
    return typed(FieldType::integer, std::move(name), "", std::move(meaning));
}
inline Field number(std::string name, std::string unit, std::string meaning) {
    return typed(FieldType::real, std::move(name), std::move(unit), std::move(meaning));
}
inline Field percent(std::string name, std::string meaning) {
    return number(std::move(name), "%", std::move(meaning));
}
inline Field flag(std::string name, std::string meaning) {
    return typed(FieldType::boolean, std::move(name), "", std::move(meaning));
}

}  // namespace linewood::own_field
