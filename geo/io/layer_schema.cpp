#include "geo/io/layer_schema.hpp"

#include <algorithm>
#include <array>

namespace linewood {
namespace {

constexpr char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

}  // namespace

bool same_name(std::string_view a, std::string_view b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](char x, char y) {
        return lower(x) == lower(y);
    });
}

std::optional<std::size_t> LayerSchema::field_index(std::string_view field) const {
    std::optional<std::size_t> without_case;
    for (std::size_t i = 0; i < fields.size(); ++i) {
        if (fields[i].name == field) {
            return i;
        }
        if (!without_case && same_name(fields[i].name, field)) {
            without_case = i;
        }
    }
    return without_case;
}

const char* name_of(FieldType type) {
    constexpr std::array names{"text",
                               "integer",
                               "integer64",
                               "real",
                               "boolean",
                               "date",
                               "datetime",
                               "time",
                               "list",
                               "binary"};
    return names[static_cast<std::size_t>(type)];
}

}  // namespace linewood
