#include "src/site/site_script_data.hpp"

#include <array>

#include "assess/condition/reason.hpp"
#include "src/job/cautions.hpp"
#include "src/pipeline/run_record.hpp"
#include "src/site/site_script.hpp"
#include "src/style/maplibre_style.hpp"
#include "src/style/style_sheet.hpp"

namespace linewood {
namespace {

using Json = nlohmann::ordered_json;

Json or_null(const std::optional<double>& value) { return value ? Json(*value) : Json(nullptr); }

Json counts_json(const PoleCounts& counts) {
    constexpr std::array kVerdicts{"serviceable", "treat", "stub", "replace", "unassessed"};
    Json by_verdict = Json::object();
    for (const char* verdict : kVerdicts) {
        by_verdict[verdict] = 0;
    }
    for (const auto& [verdict, count] : counts.by_verdict) {
        by_verdict[verdict] = count;
    }
    return {{"poles", counts.poles},
            {"placed", counts.placed},
            {"needing_work", counts.needing_work},
            {"by_verdict", by_verdict}};
}

Json bounds_json(const std::optional<LonLatBox>& bounds) {
    return bounds ? Json{bounds->west, bounds->south, bounds->east, bounds->north} : Json(nullptr);
}

Json fields_json_of(const std::vector<ShownColumn>& columns) {
    Json fields = Json::array();
    for (const ShownColumn& c : columns) {
        fields.push_back({{"name", c.name},
                          {"title", c.name},
                          {"unit", c.unit},
                          {"meaning", c.meaning},
                          {"kind", name_of(c.kind)}});
    }
    return fields;
}

/// What poles can be coloured by.
Json classes_json() {
    constexpr std::array<std::pair<const char*, const char*>, 3> kThemes{
        {{"verdict", "poles_by_verdict"},
         {"urgency", "poles_by_urgency"},
         {"strength", "poles_by_strength"}}};
    Json classes = Json::object();
    for (const auto& [theme, name] : kThemes) {
        const LayerStyle* style = shipped_styles().find(name);
        classes[theme] = style == nullptr ? Json::array() : style_classes(*style);
    }
    return classes;
}

/// What the filters offer.
Json words_json(const PoleCounts& counts) {
    Json circuits = Json::array();
    for (const std::string& circuit : counts.circuits) {
        circuits.push_back(Json::parse(circuit));
    }
    if (counts.without_circuit > 0 && !circuits.empty()) {
        circuits.push_back(nullptr);
    }
    return {{"circuit", circuits}, {"year", counts.years}, {"after_that", counts.after_that}};
}

Json reasons_json() {
    Json reasons = Json::object();
    for (int i = 0; i < kReasonCount; ++i) {
        const ReasonText text = text_of(static_cast<Reason>(i));
        reasons[std::string{text.code}] = text.meaning;
    }
    return reasons;
}

/// The column that names a feature of a layer of the tool's own; empty where none does.
const char* label_of(const std::string& layer) {
    constexpr std::array<std::pair<const char*, const char*>, 5> kLabels{
        {{"clusters", "cluster"},
         {"corridors", "corridor_id"},
         {"projects", "project_id"},
         {"defects", "kind"},
         {"findings", "code"}}};
    for (const auto& [name, label] : kLabels) {
        if (layer == name) {
            return label;
        }
    }
    return "";
}

/// The layer of the output that a layer of the site shows.
std::string output_layer(const std::string& name) { return name == "lines" ? "spans" : name; }

/// The classes that a layer is drawn by, as the ids of the map's layers name them; none without a style.
Json layer_classes(const ListedLayer& layer) {
    Json classes = Json::array();
    const auto styles = shipped_styles().of_layer(output_layer(layer.name));
    if (!layer.attribution.empty() || styles.empty()) {
        return classes;
    }
    for (const auto* list : {&styles.front()->classes, &styles.front()->over}) {
        for (const StyleClass& c : *list) {
            classes.push_back({{"id", class_key(*styles.front(), c)}, {"label", c.label}});
        }
    }
    return classes;
}

void add_layers(const std::vector<ListedLayer>& layers, Json& site) {
    site["layers"] = Json::array();
    site["backgrounds"] = Json::array();
    for (const ListedLayer& l : layers) {
        Json layer{{"name", l.name},
                   {"title", l.title},
                   {"file", l.file},
                   {"geometry", l.geometry},
                   {"visible", l.visible},
                   {"without_place", l.without_place},
                   {"label", label_of(l.name)},
                   {"fields", fields_json_of(l.columns)},
                   {"sheets", l.sheets},
                   {"classes", layer_classes(l)}};
        if (!l.attribution.empty()) {
            layer["attribution"] = l.attribution;
        }
        site[l.attribution.empty() ? "layers" : "backgrounds"].push_back(std::move(layer));
    }
}

}  // namespace

Json site_style(const std::vector<ListedLayer>& layers) {
    // The page has the data itself, and puts it in.
    const Json empty{{"type", "geojson"},
                     {"data", {{"type", "FeatureCollection"}, {"features", Json::array()}}}};
    std::vector<MapStyleSource> sources;
    for (const ListedLayer& layer : layers) {
        if (layer.attribution.empty()) {
            sources.push_back({output_layer(layer.name), layer.name, empty, "", {}, layer.visible});
        }
    }
    sources.push_back({"poles", "poles", empty, "", {}, true});
    return maplibre_style(shipped_styles(), sources);
}

std::string site_script(const SiteData& data) {
    Json site{{"format", 1},
              {"title", data.title},
              {"version", tool_version()},
              {"mode", data.tiled ? "tiles" : "embedded"},
              {"date", data.today ? Json(data.today->to_string()) : Json(nullptr)},
              {"units", name_of(data.run.units)},
              {"criteria", data.run.criteria_name},
              {"strength_limit_pct", or_null(data.run.strength_limit_pct)},
              {"bounds", bounds_json(data.poles.counts.bounds)},
              {"counts", counts_json(data.poles.counts)},
              {"words", words_json(data.poles.counts)},
              {"reasons", reasons_json()},
              {"tiles", data.tiles},
              {"style", site_style(data.layers)},
              {"marks", style_marks(shipped_styles())},
              {"classes", classes_json()},
              {"fields", fields_json_of(data.poles.columns)}};
    if (data.tiled) {
        site["search"] = {{"first", data.search}};
    }
    add_layers(data.layers, site);
    site["downloads"] = Json::array();
    for (const SiteDownload& d : data.downloads) {
        site["downloads"].push_back(
            {{"format", d.format}, {"file", d.file}, {"title", d.title}, {"bytes", d.bytes}});
    }
    site["reports"] = Json::array();
    for (const SiteLink& r : data.reports) {
        site["reports"].push_back({{"file", r.file}, {"title", r.title}});
    }
    site["notes"] = data.notes;
    site["cautions"] = kCautions;
    site["provenance"] = Json::array();
    for (const Provenance& part : data.provenance) {
        for (const auto& [item, value] : part.statements) {
            site["provenance"].push_back({part.title + ": " + item, value});
        }
    }
    return "window.LINEWOOD_SITE = " +
           script_safe(site.dump(1, ' ', false, Json::error_handler_t::replace)) + ";\n";
}

}  // namespace linewood
