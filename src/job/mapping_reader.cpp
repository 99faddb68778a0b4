#include "src/job/mapping_reader.hpp"

#include <algorithm>
#include <numbers>
#include <set>

#include <fmt/format.h>

#include "assess/wood/pole_class.hpp"
#include "geo/io/composed_layer.hpp"
#include "geo/io/value_text.hpp"
#include "src/job/contract_fields.hpp"
#include "src/job/date_pattern.hpp"
#include "src/job/nearest_word.hpp"

namespace linewood {
namespace {

constexpr std::array<std::string_view, 8> kSourceKeys{
    "source", "layer", "where", "repeat", "units", "nulls", "decimal", "fields"};
constexpr std::array<std::string_view, 11> kValueKeys{"field",
                                                      "feature_id",
                                                      "constant",
                                                      "first_of",
                                                      "unit",
                                                      "measure",
                                                      "codes",
                                                      "others",
                                                      "nulls",
                                                      "date",
                                                      "decimal"};
constexpr std::array<std::string_view, 15> kPoleClasses{
    "10", "9", "7", "6", "5", "4", "3", "2", "1", "H1", "H2", "H3", "H4", "H5", "H6"};
constexpr std::array<std::string_view, 3> kMeasures{"girth", "diameter", "radius"};
constexpr std::array<std::string_view, 2> kDecimals{".", ","};
constexpr std::array<std::string_view, 2> kRange{"from", "to"};
constexpr std::size_t kMostGroups = 200;
constexpr std::size_t kMostAlternatives = 20;

/// Text, number, true or false as text; nothing where it is null.
std::optional<std::string> scalar(const JsonNode& node) {
    if (node.is_null()) {
        return std::nullopt;
    }
    if (node.is_boolean()) {
        return node.boolean() ? "true" : "false";
    }
    if (node.is_number()) {
        return number_text(node.number(-1e15, 1e15));
    }
    if (!node.is_text()) {
        node.fail_value("stands where text, a number, true, false or null is wanted");
    }
    return node.text(kMostJobText);
}

/// The texts of a list; a number stands for its digits.
std::vector<std::string> texts(const JsonNode& node, std::size_t most) {
    std::vector<std::string> all;
    for (const JsonNode& item : node.items(most)) {
        if (item.is_text()) {
            std::string text = item.free_text(kMostJobText);
            const auto first = text.find_first_not_of(' ');
            text = first == std::string::npos
                       ? std::string{}
                       : text.substr(first, text.find_last_not_of(' ') - first + 1);
            all.push_back(std::move(text));
        } else {
            all.push_back(number_text(item.number(-1e15, 1e15)));
        }
    }
    return all;
}

/// One value form, over what stands around it.
class ValueReader {
public:
    ValueReader(const ContractField& field, bool has_groups)
        : field_{field}, has_groups_{has_groups} {}

    void read(const JsonNode& node, FieldSource base, std::vector<FieldSource>& out) const {
        if (node.is_text()) {
            base.column = node.text(kMostJobText);
            finish(node, node.path(), std::move(base), out);
            return;
        }
        node.only_keys(kValueKeys);
        read_rules(node, base);
        if (const auto list = node.find("first_of")) {
            only_one(node, "first_of");
            const auto items = list->items(kMostAlternatives);
            if (items.empty()) {
                list->fail("the list is empty; name the fields in order");
            }
            for (const JsonNode& item : items) {
                read(item, base, out);
            }
            return;
        }
        std::string path = node.path();
        if (const auto column = node.find("field")) {
            only_one(node, "field");
            base.from = FieldSource::From::column;
            base.column = column->text(kMostJobText);
            path = column->path();
        } else if (const auto id = node.find("feature_id")) {
            only_one(node, "feature_id");
            if (!id->boolean()) {
                id->fail_value("says nothing; leave it away, or name a field");
            }
            base.from = FieldSource::From::feature_id;
        } else if (const auto constant = node.find("constant")) {
            only_one(node, "constant");
            read_constant(*constant, base);
            path = constant->path();
        } else {
            node.fail("one of \"field\", \"first_of\", \"constant\", \"feature_id\" is missing");
        }
        finish(node, path, std::move(base), out);
    }

private:
    static void only_one(const JsonNode& node, std::string_view chosen) {
        for (const std::string_view other : {"field", "first_of", "constant", "feature_id"}) {
            if (other != chosen && node.find(other)) {
                node.fail(fmt::format("\"{}\" and \"{}\" cannot stand together", chosen, other));
            }
        }
    }

    void read_rules(const JsonNode& node, FieldSource& to) const {
        if (const auto unit = node.find("unit")) {
            read_unit(*unit, to);
        }
        if (const auto measure = node.find("measure")) {
            if (field_.quantity != Quantity::girth) {
                measure->fail(
                    fmt::format("{} is no girth: nothing can be a measure of it", field_.name));
            }
            to.measure = kMeasures[measure->choice(kMeasures)];
        }
        if (const auto codes = node.find("codes")) {
            to.codes.clear();
            to.codes_path = codes->path();
            for (const auto& member : codes->members(kMostJobItems)) {
                to.codes[member.key] = checked_word(member.value);
            }
            if (to.codes.empty()) {
                codes->fail("there are no codes in it");
            }
            std::erase_if(to.nulls,
                          [&](const std::string& text) { return to.codes.count(text) != 0; });
        }
        if (const auto others = node.find("others")) {
            to.has_others = true;
            to.others_path = others->path();
            to.others = checked_word(*others);
        }
        if (const auto nulls = node.find("nulls")) {
            const auto more = texts(*nulls, kMostJobItems);
            to.nulls.insert(to.nulls.end(), more.begin(), more.end());
        }
        if (const auto pattern = node.find("date")) {
            if (field_.quantity != Quantity::date) {
                pattern->fail(fmt::format("{} is no date", field_.name));
            }
            to.date_path = pattern->path();
            to.date_pattern = pattern->text(kMostJobText);
            if (const auto fault = date_pattern_fault(to.date_pattern)) {
                pattern->fail_value(*fault);
            }
        }
        if (const auto decimal = node.find("decimal")) {
            to.decimal_comma = decimal->choice(kDecimals) == 1;
        }
    }

    void read_unit(const JsonNode& node, FieldSource& to) const {
        std::vector<std::string_view> names;
        for (const NamedUnit& unit : units_of(field_.quantity)) {
            names.push_back(unit.name);
        }
        if (names.empty()) {
            node.fail(fmt::format("{} has no unit", field_.name));
        }
        to.unit = names[node.choice(names)];
    }

    /// What a code means, a word that the field knows.
    std::optional<std::string> checked_word(const JsonNode& node) const {
        auto word = scalar(node);
        if (!word) {
            return word;
        }
        if (field_.quantity == Quantity::code) {
            must_be_one_of_the_words(node, *word);
        }
        if (field_.name == "pole_class" && !parse_pole_class(*word)) {
            node.fail_value(fmt::format("is no pole class; they are \"{}\"{}",
                                        fmt::join(kPoleClasses, "\", \""),
                                        did_you_mean(*word, kPoleClasses)));
        }
        if (field_.quantity == Quantity::boolean && *word != "true" && *word != "false") {
            node.fail_value("stands where true, false or null is wanted");
        }
        if (field_.quantity == Quantity::date) {
            must_be_day(node, *word);
        }
        const bool number = is_dimension(field_.quantity) || field_.quantity == Quantity::number;
        if (number && !parse_number(*word).value) {
            node.fail_value("stands where a number is wanted");
        }
        return word;
    }

    /// Of an open field any word may be meant, but hardly one that is a letter off a known one.
    void must_be_one_of_the_words(const JsonNode& node, const std::string& word) const {
        const auto slip = field_.open ? word_one_letter_off(word, field_.words) : std::nullopt;
        if (slip) {
            node.fail_value(fmt::format("is hardly meant (did you mean \"{}\"?)", *slip));
        }
        if (!field_.open && std::ranges::find(field_.words, word) == field_.words.end()) {
            node.fail_value(fmt::format("is not one of \"{}\"{}",
                                        fmt::join(field_.words, "\", \""),
                                        did_you_mean(word, field_.words)));
        }
    }

    static void must_be_day(const JsonNode& node, const std::string& text) {
        if (!Date::parse(text)) {
            node.fail_value("is no day; YYYY-MM-DD is wanted");
        }
    }

    void read_constant(const JsonNode& node, FieldSource& to) const {
        const auto word = checked_word(node);
        if (!word) {
            node.fail("null is no constant; leave the field away");
        }
        to.from = FieldSource::From::constant;
        to.constant = *word;
    }

    /// Checks what can only be said of the whole, and works out the factor.
    void finish(const JsonNode& node,
                const std::string& path,
                FieldSource source,
                std::vector<FieldSource>& out) const {
        source.path = path;
        if (source.from == FieldSource::From::column) {
            const bool marked = source.column.find(kGroupMark) != std::string::npos;
            if (marked && !has_groups_) {
                node.fail_value(
                    "holds {n}, but its source has no \"repeat\" that says what stands for it");
            }
        }
        if (is_dimension(field_.quantity)) {
            if (source.unit.empty()) {
                std::vector<std::string_view> names;
                for (const NamedUnit& unit : units_of(field_.quantity)) {
                    names.push_back(unit.name);
                }
                node.fail(
                    fmt::format("\"unit\" is missing: {} is a size or an angle, and nothing "
                                "is guessed; say one of \"{}\"",
                                field_.name,
                                fmt::join(names, "\", \"")));
            }
            for (const NamedUnit& unit : units_of(field_.quantity)) {
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
        out.push_back(std::move(source));
    }

    const ContractField& field_;
    bool has_groups_;
};

/// A source's own units: a word for all sizes, or by field.
std::map<std::string, std::string> read_units(const JsonNode& node, InputLayer layer) {
    std::map<std::string, std::string> units;
    const auto choose = [&](const ContractField& field, const JsonNode& word) {
        std::vector<std::string_view> names;
        for (const NamedUnit& unit : units_of(field.quantity)) {
            names.push_back(unit.name);
        }
        if (names.empty()) {
            word.fail(fmt::format("{} has no unit", field.name));
        }
        units[std::string{field.name}] = names[word.choice(names)];
    };
    if (node.is_text()) {
        for (const ContractField& field : input_fields(layer)) {
            if (field.quantity == Quantity::girth || field.quantity == Quantity::length) {
                choose(field, node);
            }
        }
        if (units.empty()) {
            node.fail(fmt::format("{} have no sizes", name_of(layer)));
        }
        return units;
    }
    node.only_keys(contract_field_names(layer));
    for (const auto& member : node.members(kMostJobItems)) {
        choose(*contract_field(layer, member.key), member.value);
    }
    return units;
}

std::vector<std::string> read_groups(const JsonNode& node) {
    std::vector<std::string> groups;
    if (node.is_object()) {
        node.only_keys(kRange);
        const auto whole = [](const JsonNode& n) {
            const double v = n.number(0, 1e6);
            if (v != static_cast<double>(static_cast<int>(v))) {
                n.fail_value("is not a whole number");
            }
            return static_cast<int>(v);
        };
        const int from = whole(node.at("from"));
        const int to = whole(node.at("to"));
        if (to < from || static_cast<std::size_t>(to - from) >= kMostGroups) {
            node.at("to").fail_value(fmt::format(
                "must be from {} to {}", from, from + static_cast<int>(kMostGroups) - 1));
        }
        for (int n = from; n <= to; ++n) {
            groups.push_back(std::to_string(n));
        }
        return groups;
    }
    groups = texts(node, kMostGroups);
    if (groups.empty()) {
        node.fail("the list is empty; say what stands for {n}, as [1, 2, 3]");
    }
    const std::set<std::string> different(groups.begin(), groups.end());
    if (different.size() != groups.size()) {
        node.fail("something is in the list twice");
    }
    return groups;
}

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
            mapping_.nulls = texts(*nulls, kMostJobItems);
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
            ValueReader{field, !mapping_.groups.empty()}.read(*node, base_for(field), m.sources);
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
                for (const NamedUnit& unit : units_of(field.quantity)) {
                    source.factor = unit.name == source.unit ? unit.size : source.factor;
                }
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
