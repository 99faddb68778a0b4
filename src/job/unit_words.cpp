#include "src/job/unit_words.hpp"

#include <numbers>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "src/job/job_values.hpp"

namespace linewood {
namespace {

std::vector<std::string_view> unit_names(const ContractField& field) {
    std::vector<std::string_view> names;
    for (const NamedUnit& unit : units_of(field.quantity)) {
        names.push_back(unit.name);
    }
    return names;
}

}  // namespace

std::string read_unit(const JsonNode& node, const ContractField& field) {
    const std::vector<std::string_view> names = unit_names(field);
    if (names.empty()) {
        node.fail(fmt::format("{} has no unit", field.name));
    }
    return std::string{names[node.choice(names)]};
}

std::map<std::string, std::string> read_units(const JsonNode& node, InputLayer layer) {
    std::map<std::string, std::string> units;
    if (node.is_text()) {
        for (const ContractField& field : input_fields(layer)) {
            if (field.quantity == Quantity::girth || field.quantity == Quantity::length) {
                units[std::string{field.name}] = read_unit(node, field);
            }
        }
        if (units.empty()) {
            node.fail(fmt::format("{} have no sizes", name_of(layer)));
        }
        return units;
    }
    node.only_keys(contract_field_names(layer));
    for (const auto& member : node.members(kMostJobItems)) {
        units[member.key] = read_unit(member.value, *contract_field(layer, member.key));
    }
    return units;
}

std::string unit_list(const ContractField& field) {
    return fmt::format("\"{}\"", fmt::join(unit_names(field), "\", \""));
}

void set_factor(FieldSource& source, const ContractField& field) {
    for (const NamedUnit& unit : units_of(field.quantity)) {
        source.factor = unit.name == source.unit ? unit.size : source.factor;
    }
    if (source.measure == "diameter") {
        source.factor *= std::numbers::pi;
    } else if (source.measure == "radius") {
        source.factor *= 2.0 * std::numbers::pi;
    } else {
        source.measure.clear();
    }
}

}  // namespace linewood
