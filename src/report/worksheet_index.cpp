#include "src/report/worksheet_index.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "src/job/cautions.hpp"
#include "src/pipeline/run_record.hpp"
#include "src/report/svg.hpp"
#include "src/report/worksheet_page.hpp"

namespace linewood {
namespace {

using Json = nlohmann::ordered_json;

/// Links to every file of an entry; file names are safe as they are.
std::string links(const IndexEntry& e) {
    std::string out;
    for (const std::string& file : e.files) {
        const auto dot = file.find_last_of('.');
        out += fmt::format("{}<a href=\"{}\" aria-label=\"{} as {}\">{}</a>",
                           out.empty() ? "" : " ",
                           file,
                           svg_escape(e.pole_id),
                           file.substr(dot + 1),
                           file.substr(dot + 1));
    }
    return out;
}

}  // namespace

std::string worksheet_index_html(const WorksheetRunInfo& run,
                                 const std::vector<IndexEntry>& entries) {
    std::string out = page_head("Worksheets", run.job.paper, false);
    out += "<h1>Worksheets</h1>\n";
    out += fmt::format("<p class=\"made\">{}</p>\n",
                       svg_escape(fmt::format("linewood {}; criteria {} ({}); read from {}",
                                              tool_version(),
                                              run.job.criteria.name,
                                              run.criteria_sha256,
                                              run.inputs)));
    for (const std::string_view caution : kCautions) {
        out += fmt::format("<p>{}</p>\n", svg_escape(caution));
    }
    if (!run.criteria_note.empty()) {
        out += fmt::format("<p class=\"warning\">{}</p>\n", svg_escape(run.criteria_note));
    }
    out += fmt::format("<table>\n<caption>{} poles</caption>\n<thead><tr>", entries.size());
    for (const char* head :
         {"Pole", "Verdict", "Urgency", "Remaining strength", "Inspected", "Worksheet"}) {
        out += fmt::format("<th scope=\"col\">{}</th>", head);
    }
    out += "</tr></thead>\n<tbody>\n";
    for (const IndexEntry& e : entries) {
        out += fmt::format(
            "<tr><th scope=\"row\" "
            "class=\"any\"><bdi>{}</bdi></th><td>{}</td><td>{}</td><td>{}</td><td>{}</td>"
            "<td>{}</td></tr>\n",
            svg_escape(e.pole_id),
            svg_escape(e.verdict),
            svg_escape(e.urgency),
            svg_escape(e.remaining),
            svg_escape(e.inspected_on),
            links(e));
    }
    return out + "</tbody>\n</table>\n" + page_foot();
}

std::string worksheet_index_json(const WorksheetRunInfo& run,
                                 const std::vector<IndexEntry>& entries) {
    Json j{{"made_by", "linewood worksheet " + std::string{tool_version()}},
           {"criteria", run.job.criteria.name},
           {"criteria_sha256", run.criteria_sha256},
           {"units", std::string{name_of(run.job.units)}},
           {"read_from", run.inputs}};
    Json list = Json::array();
    for (const IndexEntry& e : entries) {
        list.push_back({{"pole_id", e.pole_id},
                        {"verdict", e.verdict},
                        {"urgency", e.urgency.empty() ? Json() : Json(e.urgency)},
                        {"inspected_on", e.inspected_on.empty() ? Json() : Json(e.inspected_on)},
                        {"files", e.files}});
    }
    j["worksheets"] = std::move(list);
    return j.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::vector<std::string> files_of_index(const std::string& json) {
    std::vector<std::string> files;
    const Json j = Json::parse(json, nullptr, false);
    const bool ours = j.is_object() && j.contains("made_by") && j["made_by"].is_string() &&
                      j["made_by"].get<std::string>().rfind("linewood worksheet", 0) == 0 &&
                      j.contains("worksheets") && j["worksheets"].is_array();
    if (!ours) {
        return files;
    }
    for (const Json& sheet : j["worksheets"]) {
        if (!sheet.is_object() || !sheet.contains("files") || !sheet["files"].is_array()) {
            continue;
        }
        for (const Json& file : sheet["files"]) {
            if (file.is_string()) {
                files.push_back(file.get<std::string>());
            }
        }
    }
    return files;
}

}  // namespace linewood
