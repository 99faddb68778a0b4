#include "src/report/description_report.hpp"

#include <algorithm>

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "assess/condition/condition_findings.hpp"
#include "geo/io/value_text.hpp"
#include "src/job/unit_system.hpp"

namespace linewood {
namespace {

constexpr std::size_t kShownValues = 6;
constexpr std::size_t kShownText = 40;

std::string shown(const std::string& value) {
    std::string text = is_utf8(value) ? std::string{utf8_prefix(value, kShownText)}
                                      : escaped_utf8(std::string_view{value}.substr(0, kShownText));
    for (char& c : text) {
        c = static_cast<unsigned char>(c) < 0x20U || c == 0x7F ? ' ' : c;
    }
    return text + (value.size() > kShownText ? "..." : "");
}

std::string share(std::int64_t part, std::int64_t all) {
    return all == 0 ? "0 %"
                    : fmt::format("{:.0f} %",
                                  100.0 * static_cast<double>(part) / static_cast<double>(all));
}

/// The texts of a column, the most frequent first.
std::vector<std::pair<std::string, std::int64_t>> frequent(const ColumnProfile& column) {
    std::vector<std::pair<std::string, std::int64_t>> all(column.values.begin(),
                                                          column.values.end());
    std::stable_sort(
        all.begin(), all.end(), [](const auto& a, const auto& b) { return a.second > b.second; });
    return all;
}

std::string values_text(const ColumnProfile& column) {
    if (column.filled == 0) {
        return "";
    }
    if (column.all_days()) {
        return fmt::format("{} to {}", column.first_day, column.last_day);
    }
    if (column.all_numbers() && column.leading_zeros == 0 && column.many) {
        return fmt::format("{} to {}", plain_number(*column.least), plain_number(*column.most));
    }
    if (column.many) {
        return fmt::format("\"{}\", ...", shown(column.values.begin()->first));
    }
    const auto all = frequent(column);
    std::string text;
    for (std::size_t i = 0; i < std::min(all.size(), kShownValues); ++i) {
        text += fmt::format("{}\"{}\" {}", i == 0 ? "" : ", ", shown(all[i].first), all[i].second);
    }
    return text + (all.size() > kShownValues ? fmt::format(", {} more", all.size() - kShownValues)
                                             : std::string{});
}

bool is_size(const FieldDescription& d) {
    return d.field->quantity == Quantity::girth || d.field->quantity == Quantity::length;
}

/// A size in the units of a system: inches and millimetres, or feet and metres.
double figure(const FieldDescription& d, double metres, UnitSystem units) {
    const Length length = Length::metres(metres);
    return d.field->unit == "in" ? girth_figure(length, units) : height_figure(length, units);
}

std::string_view unit(const FieldDescription& d, UnitSystem units) {
    return d.field->unit == "in" ? girth_unit(units) : height_unit(units);
}

std::string range_text(const FieldDescription& d) {
    if (!d.first_day.empty()) {
        return fmt::format("{} to {}", d.first_day, d.last_day);
    }
    if (!d.least) {
        return "";
    }
    if (!is_size(d)) {
        return fmt::format("{} to {}{}{}",
                           plain_number(*d.least),
                           plain_number(*d.most),
                           d.field->unit.empty() ? "" : " ",
                           d.field->unit);
    }
    std::string text;
    for (const UnitSystem units : {UnitSystem::us, UnitSystem::si}) {
        text += fmt::format("{}{:.6g} to {:.6g} {}",
                            text.empty() ? "" : " = ",
                            figure(d, *d.least, units),
                            figure(d, *d.most, units),
                            unit(d, units));
    }
    return text;
}

std::string rows_text(std::int64_t rows) {
    return fmt::format("{} {}", rows, rows == 1 ? "row" : "rows");
}

void add_doubts(std::string& text, const std::vector<FieldDoubt>& doubts) {
    for (const FieldDoubt& doubt : doubts) {
        text += fmt::format(
            "      ! {} of {}: {}{}\n",
            doubt.count,
            doubt.code,
            doubt.message,
            doubt.value.empty() ? "" : fmt::format(", first \"{}\"", shown(doubt.value)));
    }
}

std::string layer_text(const LayerProfile& layer) {
    std::string text = fmt::format("{}, layer {}: {}, {}",
                                   layer.dataset,
                                   layer.layer,
                                   rows_text(layer.rows),
                                   name_of(layer.geometry));
    if (layer.geometry != GeometryKind::none) {
        text += fmt::format("{}, {}",
                            layer.with_geometry < layer.rows
                                ? fmt::format(" in {} of them", layer.with_geometry)
                                : std::string{},
                            layer.crs.empty() ? "no coordinate system stated" : layer.crs);
    }
    text += "\n";
    if (layer.extent) {
        text += fmt::format("  x {} to {}, y {} to {}\n",
                            plain_number(layer.extent->west),
                            plain_number(layer.extent->east),
                            plain_number(layer.extent->south),
                            plain_number(layer.extent->north));
    }
    for (const ColumnProfile& column : layer.columns) {
        text += fmt::format("  {:24} {:9} {:>5}  {}\n",
                            column.field.name,
                            name_of(column.field.type),
                            share(column.filled, layer.rows),
                            values_text(column));
    }
    return text;
}

std::string list(const std::vector<std::string>& names) {
    return fmt::format("{}", fmt::join(names, ", "));
}

std::string read_text(const LayerDescription& layer) {
    std::string text = fmt::format("  {}: {}\n", name_of(layer.layer), rows_text(layer.rows));
    add_doubts(text, layer.doubts);
    for (const FieldDescription& d : layer.fields) {
        text += fmt::format("    {:24} {:>5}  {}{}\n",
                            d.field->name,
                            share(d.filled, layer.rows),
                            range_text(d),
                            d.source == d.field->name ? "" : fmt::format("  <- {}", d.source));
        add_doubts(text, d.doubts);
    }
    if (!layer.missing.empty()) {
        text += "    not there: " + list(layer.missing) + "\n";
    }
    if (!layer.carried.empty()) {
        text += "    carried along, not read: " + list(layer.carried) + "\n";
    }
    return text;
}

using Json = nlohmann::ordered_json;

Json doubts_json(const std::vector<FieldDoubt>& doubts) {
    Json all = Json::array();
    for (const FieldDoubt& doubt : doubts) {
        all.push_back({{"code", doubt.code},
                       {"count", doubt.count},
                       {"message", doubt.message},
                       {"first_value", doubt.value}});
    }
    return all;
}

Json column_json(const ColumnProfile& column) {
    Json json{{"name", column.field.name},
              {"type", name_of(column.field.type)},
              {"filled", column.filled}};
    if (column.least) {
        json["least"] = *column.least;
        json["most"] = *column.most;
    }
    if (!column.first_day.empty()) {
        json["first_day"] = column.first_day;
        json["last_day"] = column.last_day;
    }
    if (!column.many) {
        Json values = Json::object();
        for (const auto& [value, count] : frequent(column)) {
            values[value] = count;
        }
        json["values"] = values;
    }
    return json;
}

Json layer_json(const LayerProfile& layer) {
    Json json{{"dataset", layer.dataset},
              {"layer", layer.layer},
              {"rows", layer.rows},
              {"geometry", name_of(layer.geometry)},
              {"with_geometry", layer.with_geometry},
              {"crs", layer.crs.empty() ? Json() : Json(layer.crs)}};
    json["extent"] =
        layer.extent
            ? Json{layer.extent->west, layer.extent->south, layer.extent->east, layer.extent->north}
            : Json();
    json["columns"] = Json::array();
    for (const ColumnProfile& column : layer.columns) {
        json["columns"].push_back(column_json(column));
    }
    return json;
}

Json field_json(const FieldDescription& d) {
    Json json{{"field", d.field->name}, {"source", d.source}, {"filled", d.filled}};
    if (d.least && is_size(d)) {
        for (const UnitSystem units : {UnitSystem::us, UnitSystem::si}) {
            json[std::string{name_of(units)}] = {{"unit", unit(d, units)},
                                                 {"least", figure(d, *d.least, units)},
                                                 {"most", figure(d, *d.most, units)}};
        }
    } else if (d.least) {
        json["least"] = *d.least;
        json["most"] = *d.most;
    }
    if (!d.first_day.empty()) {
        json["first_day"] = d.first_day;
        json["last_day"] = d.last_day;
    }
    json["doubts"] = doubts_json(d.doubts);
    return json;
}

}  // namespace

std::string description_text(const DatasetDescription& description) {
    std::string text;
    for (const LayerProfile& layer : description.layers) {
        text += layer_text(layer);
    }
    text += "\nA run would read:\n";
    for (const LayerDescription& layer : description.read) {
        text += read_text(layer);
    }
    if (!description.absent.empty()) {
        text += "  not there: " + list(description.absent) + "\n";
    }
    if (description.read.empty()) {
        text +=
            "nothing here has the names that are read without a job file; linewood draft "
            "writes one\n";
    }
    return text;
}

std::string description_json(const DatasetDescription& description) {
    Json json{{"layers", Json::array()}, {"read", Json::array()}, {"absent", description.absent}};
    for (const LayerProfile& layer : description.layers) {
        json["layers"].push_back(layer_json(layer));
    }
    for (const LayerDescription& layer : description.read) {
        Json one{{"layer", name_of(layer.layer)}, {"rows", layer.rows}, {"fields", Json::array()}};
        for (const FieldDescription& field : layer.fields) {
            one["fields"].push_back(field_json(field));
        }
        one["missing"] = layer.missing;
        one["carried"] = layer.carried;
        one["doubts"] = doubts_json(layer.doubts);
        json["read"].push_back(std::move(one));
    }
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace linewood
