#include "src/site/site_pages.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "geo/io/feature_reader.hpp"
#include "src/job/cautions.hpp"
#include "src/pipeline/run_record.hpp"
#include "src/report/field_report.hpp"
#include "src/report/html_table.hpp"
#include "src/report/svg.hpp"
#include "src/report/worksheet_page.hpp"

namespace linewood {
namespace {

/// So many of the worst poles are told to readers without scripts.
constexpr std::size_t kShownWithoutScripts = 100;

void add_cautions(std::string& out) {
    for (const std::string_view caution : kCautions) {
        add_paragraph(out, caution, "made");
    }
}

std::string page_begin(const std::string& heading, const std::string& title) {
    std::string out = page_head(heading + " - " + title, Paper::any, false);
    out += "<nav><p><a href=\"index.html\">Map and table</a></p></nav>\n";
    out += "<h1>" + svg_escape(heading) + "</h1>\n";
    add_paragraph(out, title);
    add_cautions(out);
    return out;
}

/// What the tool says of a layer's column where the file says nothing.
void add_known(std::vector<ShownColumn>& columns, const DictionaryLayer& layer) {
    for (ShownColumn& column : columns) {
        for (const DictionaryField& known : layer.fields) {
            if (column.meaning.empty() && same_name(known.field.name, column.name)) {
                column.unit = known.field.unit;
                column.meaning = known.field.meaning;
            }
        }
    }
}

std::vector<ShownColumn> described_columns(const LayerSchema& schema,
                                           const FieldLists& lists,
                                           UnitSystem units) {
    if (schema.name == "poles") {
        return pole_columns(schema, units);
    }
    std::vector<ShownColumn> columns = declared_columns(schema);
    const std::string name = schema.name == "line_spans" ? "spans" : schema.name;
    for (const auto* part : {&lists.output, &lists.input}) {
        for (const DictionaryLayer& layer : *part) {
            if (layer.name == name) {
                add_known(columns, layer);
            }
        }
    }
    return columns;
}

/// Puts `html` wherever the mark stands.
void fill(std::string& page, std::string_view mark, const std::string& html) {
    std::string out;
    std::size_t begin = 0;
    for (std::size_t at = page.find(mark); at != std::string::npos; at = page.find(mark, begin)) {
        out.append(page, begin, at - begin);
        out += html;
        begin = at + mark.size();
    }
    page = out.append(page, begin);
}

std::string links_list(const std::vector<SiteLink>& links) {
    std::string out = "<ul>\n";
    for (const SiteLink& link : links) {
        out += "<li><a href=\"" + svg_escape(link.file) + "\">" + svg_escape(link.title) +
               "</a></li>\n";
    }
    return out + "</ul>\n";
}

std::string worst_poles_table(const SitePoles& poles, const PagesByRow& worksheets) {
    std::vector<const PoleKey*> worst;
    for (const PoleKey& key : poles.keys) {
        if (key.needs_work) {
            worst.push_back(&key);
        }
    }
    const std::size_t shown = std::min(worst.size(), kShownWithoutScripts);
    std::partial_sort(worst.begin(),
                      worst.begin() + static_cast<std::ptrdiff_t>(shown),
                      worst.end(),
                      [](const PoleKey* a, const PoleKey* b) { return is_worse(*a, *b); });
    std::string out = fmt::format(
        "<table>\n<caption>{} of {} poles that need work, the worst first</caption>\n<thead><tr>"
        "<th scope=\"col\">Pole</th><th scope=\"col\">Verdict</th><th scope=\"col\">Urgency</th>"
        "<th scope=\"col\">Remaining strength (%)</th></tr></thead>\n<tbody>\n",
        shown,
        poles.counts.needing_work);
    for (std::size_t i = 0; i < shown; ++i) {
        const PoleKey& key = *worst[i];
        const auto page = worksheets.find(key.row);
        const std::string id = "<bdi>" + svg_escape(key.pole_id) + "</bdi>";
        out += "<tr><th scope=\"row\">" +
               (page == worksheets.end()
                    ? id
                    : "<a href=\"" + svg_escape(page->second) + "\">" + id + "</a>") +
               "</th><td>" + svg_escape(key.verdict) + "</td><td>" + svg_escape(key.urgency) +
               "</td><td>" +
               (key.remaining_pct ? fmt::format("{:.1f}", *key.remaining_pct) : std::string{}) +
               "</td></tr>\n";
    }
    return out + "</tbody>\n</table>\n";
}

}  // namespace

std::vector<std::string> assessed_layers(const Source& source) {
    constexpr std::array kLayers{
        "poles", "spans", "line_spans", "inspections", "defects", "sections", "findings", "run"};
    std::vector<std::string> layers;
    for (const char* layer : kLayers) {
        if (source.has_layer(layer)) {
            layers.push_back(source.schema(layer).name);
        }
    }
    return layers;
}

std::vector<std::string> published_layers(const Source& source) {
    std::vector<std::string> layers = assessed_layers(source);
    const auto own = static_cast<std::ptrdiff_t>(layers.size());
    for (const std::string& name : source.layer_names()) {
        if (name != "layer_styles" &&
            std::find(layers.begin(), layers.begin() + own, name) == layers.begin() + own) {
            layers.push_back(name);
        }
    }
    return layers;
}

Provenance read_provenance(const Source& source, const std::string& title) {
    Provenance provenance{title, {}};
    if (!source.has_layer("run")) {
        return provenance;
    }
    const LayerSchema& schema = source.schema("run");
    const auto item = schema.field_index("item");
    const auto layer = schema.field_index("layer");
    const auto value = schema.field_index("value");
    if (!item || !value) {
        return provenance;
    }
    ReadOptions options;
    options.geometry = false;
    FeatureReader reader{source, schema.name, options};
    FeatureBatch batch;
    while (reader.next(batch)) {
        for (std::size_t row = 0; row < batch.size(); ++row) {
            const std::string about = layer ? batch.text(row, *layer) : std::string{};
            provenance.statements.emplace_back(
                batch.text(row, *item) + (about.empty() ? "" : " (" + about + ")"),
                batch.text(row, *value));
        }
    }
    return provenance;
}

std::string fields_page(const Source& source, UnitSystem units, const std::string& title) {
    std::string out = page_begin("Fields", title);
    const FieldLists lists = field_lists(units);
    for (const std::string& layer : published_layers(source)) {
        HtmlTable table{out, "Layer " + layer, {"Field", "Kind", "Unit", "Meaning"}};
        for (const ShownColumn& column : described_columns(source.schema(layer), lists, units)) {
            table.row({column.name, name_of(column.kind), column.unit, column.meaning});
        }
        table.finish();
    }
    return out + page_foot();
}

std::string provenance_page(const std::vector<Provenance>& provenance,
                            const std::vector<std::string>& notes,
                            const std::string& title) {
    std::string out = page_begin("Provenance and cautions", title);
    add_paragraph(out, fmt::format("Published by linewood {}.", tool_version()));
    for (const std::string& note : notes) {
        add_paragraph(out, note, "warning");
    }
    for (const Provenance& part : provenance) {
        HtmlTable table{out, part.title, {"Statement", "Value"}};
        for (const auto& [item, value] : part.statements) {
            table.row({item, value});
        }
        table.finish();
    }
    return out + page_foot();
}

std::string index_page(std::string_view model,
                       const std::string& title,
                       const SitePoles& poles,
                       const PagesByRow& worksheets,
                       const std::vector<SiteLink>& links,
                       const std::vector<std::string>& notes) {
    std::string cautions;
    for (const std::string_view caution : kCautions) {
        cautions += "<li>" + svg_escape(caution) + "</li>";
    }
    std::string without = "<p>Without scripts there is no map. These poles need work:</p>\n" +
                          worst_poles_table(poles, worksheets) + links_list(links);
    for (const std::string& note : notes) {
        without += "<p>" + svg_escape(note) + "</p>\n";
    }
    // What is of the user comes last, so that no mark in it is filled.
    std::string page{model};
    fill(page, "{{cautions}}", cautions);
    std::string safe_title = svg_escape(title);
    fill(safe_title, "{", "&#123;");
    fill(page, "{{title}}", safe_title);
    fill(page, "{{noscript}}", without);
    return page;
}

}  // namespace linewood
