#include <nlohmann/json.hpp>

#include "src/report/worksheet.hpp"

namespace linewood {
namespace {

using Json = nlohmann::ordered_json;

struct CellJson {
    Json operator()(std::monostate /*none*/) const { return {}; }
    Json operator()(double v) const { return v; }
    Json operator()(std::int64_t v) const { return v; }
    Json operator()(bool v) const { return v; }
    Json operator()(Date v) const { return v.to_string(); }
    Json operator()(const std::string& v) const { return v; }
};

Json json_of(const SheetCell& c) { return std::visit(CellJson{}, c.value); }

Json json_of(const SheetTable& t) {
    Json rows = t.as_object ? Json::object() : Json::array();
    for (const auto& row : t.rows) {
        if (t.as_object) {
            rows[row.front().text] = json_of(row[1]);
            continue;
        }
        Json j = Json::object();
        for (std::size_t i = 0; i < row.size(); ++i) {
            j[t.columns[i].key] = json_of(row[i]);
            // What only people can read is not lost: bounds, and figures with a power of ten.
            if (row[i].mark == CellMark::open && json_of(row[i]).is_null()) {
                j[t.columns[i].key + "_note"] = row[i].text;
            }
        }
        rows.push_back(std::move(j));
    }
    return rows;
}

Json json_of(const SheetPart& p) {
    Json j = Json::object();
    Json notes = Json::array();
    for (const SheetItem& item : p.items) {
        if (const auto* text = std::get_if<SheetText>(&item)) {
            notes.push_back(text->text);
        } else if (const auto* table = std::get_if<SheetTable>(&item)) {
            j[table->key] = json_of(*table);
        }
    }
    Json parts = Json::array();
    for (const SheetPart& inner : p.parts) {
        parts.push_back(json_of(inner));
    }
    if (p.is_list) {
        return parts;
    }
    if (!notes.empty()) {
        j["notes"] = std::move(notes);
    }
    return j;
}

}  // namespace

std::string worksheet_json(const Worksheet& sheet) {
    Json j{{"pole_id", sheet.pole_id}, {"made_by", sheet.made_by}};
    for (const SheetPart& p : sheet.parts) {
        j[p.key] = json_of(p);
    }
    return j.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace linewood
