#include "src/job/wood_tables_json.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "assess/wood/pole_class.hpp"
#include "assess/wood/round_strength.hpp"
#include "src/job/nearest_word.hpp"
#include "src/job/strict_json.hpp"

namespace linewood {
namespace {

constexpr std::size_t kMostBytes = std::size_t{4} << 20U;
constexpr std::size_t kMostSpecies = 1000;
constexpr std::size_t kMostTables = 200;
constexpr std::size_t kMostRows = 1000;
constexpr std::size_t kMostAliases = 100;
constexpr std::size_t kMostGirths = 30;
constexpr std::size_t kMostText = 2000;
constexpr std::size_t kMostCode = 64;

/// The units of one file, each as SI for one unit, and the largest value read in that unit.
struct Units {
    double girth_m;
    double length_m;
    double stress_pa;
    double taper;

    double most_girth() const { return 5.0 / girth_m; }
    double most_length() const { return 60.0 / length_m; }
    double most_stress() const { return 500e6 / stress_pa; }
    double most_taper() const { return 0.1 / taper; }
};
constexpr std::array<std::string_view, 2> kUnitWords{"us", "si"};
constexpr std::array<Units, 2> kUnits{
    {{0.0254, 0.3048, kPascalsPerPsi, 1.0 / 12.0}, {0.001, 1.0, 1e6, 0.001}}};

constexpr std::array<std::string_view, 4> kFileKeys{"units", "note", "species", "tables"};
constexpr std::array<std::string_view, 8> kSpeciesKeys{
    "code", "name", "aliases", "fibre_stress", "average_taper", "table", "source", "confidence"};
constexpr std::array<std::string_view, 6> kTableKeys{
    "code", "title", "source", "confidence", "top_girth", "rows"};
constexpr std::array<std::string_view, 3> kRowKeys{"length", "setting_depth", "girth"};

double above_zero(const JsonNode& node, double most) {
    const double v = node.number(0.0, most);
    if (v == 0.0) {
        node.fail_value("is out of range: above 0 is wanted");
    }
    return v;
}

std::string code_of(const JsonNode& entry) {
    const JsonNode node = entry.at("code");
    std::string code = node.text(kMostCode);
    const auto fits = [](char c) {
        return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_';
    };
    if (!std::ranges::all_of(code, fits) || code.front() < 'a') {
        node.fail_value("is no code: lower case letters, digits and underscores, a letter first");
    }
    return code;
}

std::string text_or(const JsonNode& entry, std::string_view key, std::string otherwise) {
    const auto node = entry.find(key);
    return node ? node->text(kMostText) : std::move(otherwise);
}

// ---- dimension tables ----

GirthByClass read_girths(const JsonNode& node, const Units& units) {
    std::array<std::string_view, kPoleClassCount> names;
    for (std::size_t c = 0; c < names.size(); ++c) {
        names[c] = name_of(static_cast<PoleClass>(c));
    }
    GirthByClass girths;
    for (const auto& [key, value] : node.members(kMostGirths)) {
        const auto pole_class = parse_pole_class(key);
        if (!pole_class) {
            node.fail(fmt::format("\"{}\" is not a class{}; there are {}",
                                  key,
                                  did_you_mean(key, names),
                                  fmt::join(names, ", ")));
        }
        auto& girth = girths[static_cast<std::size_t>(*pole_class)];
        if (girth) {
            value.fail(fmt::format("class {} is given twice", name_of(*pole_class)));
        }
        girth = Length::metres(above_zero(value, units.most_girth()) * units.girth_m);
    }
    return girths;
}

DimensionRow read_row(const JsonNode& node, const Units& units) {
    node.only_keys(kRowKeys);
    DimensionRow row;
    const JsonNode length = node.at("length");
    row.length = Length::metres(above_zero(length, units.most_length()) * units.length_m);
    if (row.length <= kTableHeight) {
        length.fail_value("is too short: girths are taken 6 ft (1.829 m) from the butt");
    }
    if (const auto depth = node.find("setting_depth")) {
        row.setting_depth =
            Length::metres(depth->number(0.0, units.most_length()) * units.length_m);
        if (row.setting_depth >= row.length) {
            depth->fail_value("is not less than the length");
        }
    } else if (const auto standard = WoodTables::standard_setting_depth(row.length)) {
        row.setting_depth = *standard;
    } else {
        node.fail("\"setting_depth\" is missing, and the published depths have no such length");
    }
    row.girth = read_girths(node.at("girth"), units);
    return row;
}

/// A pole is not slimmer 6 ft from its butt than at its tip.
void check_against_top(const JsonNode& node,
                       const DimensionRow& row,
                       const GirthByClass& top,
                       const Units& units) {
    for (std::size_t c = 0; c < row.girth.size(); ++c) {
        if (row.girth[c] && *row.girth[c] < *top[c]) {
            node.at("girth").fail(fmt::format("class {}: {:.6g} is less than the top girth {:.6g}",
                                              name_of(static_cast<PoleClass>(c)),
                                              row.girth[c].value().metres() / units.girth_m,
                                              top[c].value().metres() / units.girth_m));
        }
    }
}

DimensionTable read_table(const JsonNode& node, const Units& units) {
    node.only_keys(kTableKeys);
    DimensionTable table;
    table.code = code_of(node);
    table.title = text_or(node, "title", table.code);
    table.kind = TableKind::user;
    if (const auto top = node.find("top_girth")) {
        table.top_girth = read_girths(*top, units);
    }
    for (std::size_t c = 0; c < table.top_girth.size(); ++c) {
        if (!table.top_girth[c]) {
            table.top_girth[c] = class_row(static_cast<PoleClass>(c)).top_girth;
        }
    }
    const JsonNode rows = node.at("rows");
    for (const JsonNode& item : rows.items(kMostRows)) {
        table.rows.push_back(read_row(item, units));
        check_against_top(item, table.rows.back(), table.top_girth, units);
    }
    if (table.rows.empty()) {
        rows.fail("the list is empty");
    }
    std::ranges::sort(table.rows, {}, &DimensionRow::length);
    const auto twice = std::ranges::adjacent_find(table.rows, {}, &DimensionRow::length);
    if (twice != table.rows.end()) {
        rows.fail(
            fmt::format("length {:.6g} is given twice", twice->length.metres() / units.length_m));
    }
    table.blocks.push_back({table.rows.front().length,
                            table.rows.back().length,
                            PoleClass::h6,
                            PoleClass::c10,
                            node.at("source").text(kMostText),
                            text_or(node, "confidence", "the user's own"),
                            ""});
    return table;
}

// ---- species ----

/// Names this file has given out so far: key as compared -> code of the species.
using GivenNames = std::map<std::string, std::string>;

std::optional<double> number_or_null(const JsonNode& node, double most, double factor) {
    if (node.is_null()) {
        return std::nullopt;
    }
    return above_zero(node, most) * factor;
}

/// @throws JobError where the name is another species' code, or was given to another in this file.
void claim_name(const JsonNode& node,
                const std::string& name,
                const std::string& code,
                const WoodTables& tables,
                GivenNames& given) {
    const std::string key = species_key(name);
    if (key.empty()) {
        node.fail_value("has no letter or digit");
    }
    const auto [entry, is_new] = given.emplace(key, code);
    std::string owner = is_new ? code : entry->second;
    if (const auto known = tables.find_species(name)) {
        const std::string& known_code = tables.species(*known).code;
        // A built-in alias may be taken over, a code may not.
        if (species_key(known_code) == key) {
            owner = known_code;
        }
    }
    if (owner != code) {
        node.fail_value(fmt::format("already stands for species \"{}\"", owner));
    }
}

void read_figures(const JsonNode& node, const Units& units, Species& species) {
    if (const auto stress = node.find("fibre_stress")) {
        species.fibre_stress_pa = number_or_null(*stress, units.most_stress(), units.stress_pa);
    }
    if (const auto taper = node.find("average_taper")) {
        species.average_taper = number_or_null(*taper, units.most_taper(), units.taper);
        species.taper_confidence = species.average_taper ? species.confidence : "";
    }
}

void read_table_of_species(const JsonNode& node, const WoodTables& tables, Species& species) {
    const auto wanted = node.find("table");
    if (!wanted) {
        return;
    }
    species.table.reset();
    species.table_confidence.clear();
    if (wanted->is_null()) {
        return;
    }
    std::vector<std::string_view> codes;
    for (std::size_t i = 0; i < tables.table_count(); ++i) {
        codes.push_back(tables.table(static_cast<TableIndex>(i)).code);
    }
    species.table = static_cast<TableIndex>(wanted->choice(codes));
    species.table_confidence = species.confidence;
}

Species read_species(const JsonNode& node,
                     const Units& units,
                     const WoodTables& tables,
                     GivenNames& given) {
    node.only_keys(kSpeciesKeys);
    const std::string code = code_of(node);
    Species species;
    if (const auto known = tables.find_species(code)) {
        species = tables.species(*known);
        if (species.code != code) {
            node.at("code").fail_value(fmt::format(
                "already stands for species \"{}\"; give that code to change it", species.code));
        }
    }
    claim_name(node.at("code"), code, code, tables, given);
    species.code = code;
    species.name = text_or(node, "name", species.name.empty() ? code : species.name);
    species.source = node.at("source").text(kMostText);
    species.confidence = text_or(node, "confidence", "the user's own");
    if (const auto aliases = node.find("aliases")) {
        for (const JsonNode& alias : aliases->items(kMostAliases)) {
            std::string name = alias.text(kMostText);
            claim_name(alias, name, code, tables, given);
            species.aliases.push_back(std::move(name));
        }
    }
    read_figures(node, units, species);
    read_table_of_species(node, tables, species);
    return species;
}

void read_all_tables(const JsonNode& list, const Units& units, WoodTables& tables) {
    std::map<std::string, std::string> seen;
    for (const JsonNode& node : list.items(kMostTables)) {
        DimensionTable table = read_table(node, units);
        const auto [entry, is_new] = seen.emplace(table.code, node.path());
        if (!is_new) {
            node.at("code").fail_value(fmt::format("is also the code of {}", entry->second));
        }
        tables.put_table(std::move(table));
    }
}

void read_all_species(const JsonNode& list, const Units& units, WoodTables& tables) {
    GivenNames given;
    std::map<std::string, std::string> seen;
    for (const JsonNode& node : list.items(kMostSpecies)) {
        Species species = read_species(node, units, tables, given);
        const auto [entry, is_new] = seen.emplace(species.code, node.path());
        if (!is_new) {
            node.at("code").fail_value(fmt::format("is also the code of {}", entry->second));
        }
        if (!tables.put_species(std::move(species))) {
            node.fail("one of its names is another species' code");
        }
    }
}

}  // namespace

WoodTables read_wood_tables(std::string_view json_text, const WoodTables& base) {
    const nlohmann::json document = parse_strict_json(json_text, "wood tables", kMostBytes);
    const JsonNode top{document};
    top.only_keys(kFileKeys);
    const Units& units = kUnits[top.at("units").choice(kUnitWords)];
    if (const auto note = top.find("note")) {
        note->text(kMostText);
    }
    WoodTables tables = base;
    if (const auto list = top.find("tables")) {
        read_all_tables(*list, units, tables);
    }
    if (const auto list = top.find("species")) {
        read_all_species(*list, units, tables);
    }
    return tables;
}

}  // namespace linewood
