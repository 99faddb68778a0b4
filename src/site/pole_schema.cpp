#include "src/site/pole_schema.hpp"

#include <array>
#include <string>

#include "src/site/site_pages.hpp"

namespace linewood {

LayerSchema pole_schema(const Source& source) {
    constexpr std::array kNames{"pole_id", "circuit"};
    LayerSchema schema = source.schema("poles");
    const Provenance run = read_provenance(source, "");
    for (const std::string name : kNames) {
        const std::string begin = name + " from ";
        for (const auto& [item, value] : run.statements) {
            if (item != "input_field (poles)" || value.rfind(begin, 0) != 0 ||
                schema.field_index(name)) {
                continue;
            }
            if (const auto index = schema.field_index(value.substr(begin.size()))) {
                schema.fields[*index].name = name;
            }
        }
    }
    return schema;
}

}  // namespace linewood
