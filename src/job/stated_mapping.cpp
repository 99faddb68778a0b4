#include "src/job/stated_mapping.hpp"

#include <cstddef>
#include <tuple>

#include <nlohmann/json.hpp>

#include "geo/io/composed_layer.hpp"
#include "src/job/mapping_reader.hpp"
#include "src/job/strict_json.hpp"

namespace linewood {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::size_t kMostBytes = std::size_t{8} << 20U;

Json or_null(const std::optional<std::string>& text) { return text ? Json(*text) : Json(nullptr); }

std::string carried_name(const FieldSource& source, bool composed) {
    if (!composed || source.column.find(kGroupMark) == std::string::npos) {
        return source.column;
    }
    return source.column == kGroupMark ? std::string{kGroupColumn} : composed_name(source.column);
}

Json source_json(const FieldSource& source, bool composed) {
    Json j = Json::object();
    switch (source.from) {
        case FieldSource::From::column:
            j["field"] = carried_name(source, composed);
            break;
        case FieldSource::From::feature_id:
            j["feature_id"] = true;
            break;
        case FieldSource::From::constant:
            j["constant"] = source.constant;
            break;
    }
    if (!source.unit.empty()) {
        j["unit"] = source.unit;
    }
    if (!source.measure.empty()) {
        j["measure"] = source.measure;
    }
    for (const auto& [text, meaning] : source.codes) {
        j["codes"][text] = or_null(meaning);
    }
    if (source.has_others) {
        j["others"] = or_null(source.others);
    }
    if (!source.nulls.empty()) {
        j["nulls"] = source.nulls;
    }
    if (!source.date_pattern.empty()) {
        j["date"] = source.date_pattern;
    }
    if (source.decimal_comma) {
        j["decimal"] = ",";
    }
    return j;
}

}  // namespace

std::string stated_mapping(const SourceMapping& mapping,
                           const std::function<bool(const std::string& field)>& is_read) {
    Json fields = Json::object();
    for (const FieldMapping& field : mapping.fields) {
        if (field.sources.empty() || !is_read(field.field)) {
            continue;
        }
        Json sources = Json::array();
        for (const FieldSource& source : field.sources) {
            sources.push_back(source_json(source, !mapping.groups.empty()));
        }
        fields[field.field] =
            sources.size() == 1 ? sources.front() : Json{{"first_of", std::move(sources)}};
    }
    return Json{{"fields", std::move(fields)}}.dump(-1, ' ', false, Json::error_handler_t::replace);
}

SourceMapping read_stated_mapping(std::string_view json, InputLayer layer) {
    const auto document = parse_strict_json(json, "input_mapping", kMostBytes);
    return read_source(JsonNode{document}, layer);
}

bool same_reading(const FieldSource& a, const FieldSource& b) {
    const auto all = [](const FieldSource& s) {
        return std::tie(s.from,
                        s.column,
                        s.constant,
                        s.unit,
                        s.measure,
                        s.codes,
                        s.has_others,
                        s.others,
                        s.nulls,
                        s.date_pattern,
                        s.decimal_comma);
    };
    return all(a) == all(b);
}

}  // namespace linewood
