#include "src/job/mapping_reader.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "geo/io/composed_layer.hpp"
#include "geo/io/value_text.hpp"
#include "src/job/contract_fields.hpp"
#include "src/job/repeat_groups.hpp"
#include "src/job/unit_words.hpp"
#include "src/job/value_mapping.hpp"

namespace linewood {
namespace {

constexpr std::array<std::string_view, 8> kSourceKeys{
    "source", "layer", "where", "repeat", "units", "nulls", "decimal", "fields"};
constexpr std::array<std::string_view, 2> kDecimals{".", ","};

class SourceReader {
public:
    SourceReader(const JsonNode& node, InputLayer layer) : node_{node}, layer_{layer} {}

    SourceMapping read() {
        node_.only_keys(kSourceKeys);
        mapping_.path = node_.path();
        const auto text = [&](std::string_view key) {
            const auto found = node_.find(key);
            return found ? found->text(kMostJobText) : std::string{};
        };
        mapping_.dataset = text("source");
        mapping_.layer = text("layer");
        mapping_.where = text("where");
        if (const auto repeat = node_.find("repeat")) {
            mapping_.groups = read_groups(*repeat);
        }
        if (const auto units = node_.find("units")) {
            units_ = read_units(*units, layer_);
        }
        if (const auto nulls = node_.find("nulls")) {
            mapping_.nulls = list_of_texts(*nulls, kMostJobItems);
        }
        if (const auto decimal = node_.find("decimal")) {
            base_.decimal_comma = decimal->choice(kDecimals) == 1;
        }
        if (const auto fields = node_.find("fields")) {
            read_fields(*fields);
        } else {
            take_own_names();
        }
        return std::move(mapping_);
    }

private:
    FieldSource base_for(const ContractField& field) const {
        FieldSource base = base_;
        base.nulls = nulls_for(field);
        const auto unit = units_.find(std::string{field.name});
        if (unit != units_.end()) {
            base.unit = unit->second;
        }
        return base;
    }

    /// A blank of the whole source that is the number 0 blanks no field in which 0 is a reading: 0 is north, the
    /// groundline, "no".
    std::vector<std::string> nulls_for(const ContractField& field) const {
        std::vector<std::string> nulls = mapping_.nulls;
        if (field.from_zero || field.quantity == Quantity::boolean) {
            std::erase_if(nulls,
                          [](const std::string& text) { return parse_number(text).value == 0.0; });
        }
        return nulls;
    }

    void read_fields(const JsonNode& fields) {
        fields.only_keys(contract_field_names(layer_));
        for (const ContractField& field : input_fields(layer_)) {
            const auto node = fields.find(field.name);
            if (!node) {
                if (field.required) {
                    fields.fail(
                        fmt::format("\"{}\" is missing: without it no row of the {} can be used",
                                    field.name,
                                    name_of(layer_)));
                }
                continue;
            }
            FieldMapping m{std::string{field.name}, {}};
            read_value(*node, field, !mapping_.groups.empty(), base_for(field), m.sources);
            mapping_.fields.push_back(std::move(m));
        }
        check_groups(fields);
        check_clock(fields);
    }

    void check_groups(const JsonNode& fields) const {
        if (mapping_.groups.empty()) {
            return;
        }
        bool marked = false;
        for (const FieldMapping& m : mapping_.fields) {
            for (const FieldSource& s : m.sources) {
                marked = marked ||
                         (s.column != kGroupMark && s.column.find(kGroupMark) != std::string::npos);
            }
        }
        if (!marked) {
            fields.fail(
                "\"repeat\" is given, but no field has {n} in its name, as pocket_{n}_width");
        }
    }

    /// Readings in hours are from the clock, and those from the clock are in hours.
    void check_clock(const JsonNode& fields) const {
        const FieldMapping* azimuth = nullptr;
        const FieldMapping* ref = nullptr;
        for (const FieldMapping& m : mapping_.fields) {
            azimuth = m.field == "azimuth" ? &m : azimuth;
            ref = m.field == "azimuth_ref" ? &m : ref;
        }
        if (azimuth == nullptr) {
            return;
        }
        const bool clock =
            ref != nullptr && ref->sources.size() == 1 && ref->sources.front().constant == "clock";
        for (const FieldSource& s : azimuth->sources) {
            if ((s.unit == "h") != clock) {
                fields.at("azimuth").fail(
                    clock
                        ? "azimuth_ref is the clock, whose readings are in hours: \"unit\" must "
                          "be \"h\""
                        : "in \"h\" it is read from the clock: azimuth_ref must be {\"constant\": "
                          "\"clock\"}");
            }
        }
    }

    /// Without "fields": the columns of the contract.
    void take_own_names() {
        if (!mapping_.groups.empty()) {
            node_.fail("\"fields\" is missing; \"repeat\" needs fields with {n} in their names");
        }
        mapping_.by_own_names = true;
        for (const ContractField& field : input_fields(layer_)) {
            FieldSource source = base_for(field);
            source.path = node_.path();
            source.column = field.name;
            if (is_dimension(field.quantity)) {
                source.unit = source.unit.empty() ? std::string{field.unit} : source.unit;
                set_factor(source, field);
            }
            mapping_.fields.push_back({std::string{field.name}, {std::move(source)}});
        }
    }

    const JsonNode& node_;
    InputLayer layer_;
    SourceMapping mapping_;
    FieldSource base_;
    std::map<std::string, std::string> units_;
};

}  // namespace

std::span<const std::string_view> source_keys() { return kSourceKeys; }

SourceMapping read_source(const JsonNode& node, InputLayer layer) {
    return SourceReader{node, layer}.read();
}

}  // namespace linewood
