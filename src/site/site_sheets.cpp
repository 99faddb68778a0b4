#include "src/site/site_sheets.hpp"

#include <array>
#include <string_view>
#include <unordered_map>

#include <nlohmann/json.hpp>

#include "geo/io/data_error.hpp"
#include "src/job/file_names.hpp"
#include "src/report/worksheet_page.hpp"
#include "src/site/site_text.hpp"

namespace linewood {
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::ordered_json;

constexpr const char* kFolder = "projects/";

std::string checked_page(const fs::path& path) {
    std::string html = file_text(path);
    if (!is_page(html)) {
        throw DataError{path.string(),
                        "",
                        "is no page that this version of linewood wrote; write it again, then "
                        "publish"};
    }
    return html;
}

/// The title of a page of the tool, as text.
std::string title_of(const std::string& html) {
    constexpr std::array<std::pair<std::string_view, std::string_view>, 5> kMarks{
        {{"&lt;", "<"}, {"&gt;", ">"}, {"&quot;", "\""}, {"&#39;", "'"}, {"&amp;", "&"}}};
    const auto begin = html.find("<title>") + 7;
    std::string title = html.substr(begin, html.find("</title>", begin) - begin);
    for (const auto& [mark, character] : kMarks) {
        for (auto at = title.find(mark); at != std::string::npos; at = title.find(mark, at + 1)) {
            title.replace(at, mark.size(), character);
        }
    }
    return title;
}

Json read_list(const fs::path& folder) {
    const fs::path list = folder / "projects.json";
    Json j = fs::exists(list) ? Json::parse(file_text(list), nullptr, false) : Json{};
    const auto made_by = j.is_object() ? j.value("made_by", std::string{}) : std::string{};
    if (made_by.rfind("linewood projects", 0) != 0 || !j.contains("files") ||
        !j.contains("projects")) {
        throw DataError{folder.string(), "", "is no folder that linewood projects --sheets wrote"};
    }
    return j;
}

/// A name that stays in its folder.
bool is_plain_name(const std::string& name) {
    return !name.empty() && name.front() != '.' && fs::path{name}.filename() == name &&
           name.find('\\') == std::string::npos;
}

std::unordered_map<std::string, std::size_t> rows_by_id(const SitePoles& poles) {
    std::unordered_map<std::string, std::size_t> rows;
    for (const PoleKey& key : poles.keys) {
        const auto [at, is_new] = rows.emplace(key.pole_id, key.row);
        if (!is_new && key.row < at->second) {
            at->second = key.row;
        }
    }
    return rows;
}

CopiedSheets copy_listed(const fs::path& folder, const SitePoles& poles, const SiteFolder& site) {
    const Json list = read_list(folder);
    for (const Json& entry : list["files"]) {
        const auto name = entry.get<std::string>();
        if (!is_plain_name(name)) {
            throw DataError{folder.string(), "", "lists a file that is not in it"};
        }
        if (fs::path{name}.extension() == ".html") {
            site.write(kFolder + name, checked_page(folder / name));
        } else {
            site.copy(folder / name, kFolder + name);
        }
    }
    site.copy(folder / "projects.json", std::string{kFolder} + "projects.json");
    CopiedSheets sheets;
    FileNames names;
    const auto rows = rows_by_id(poles);
    for (const Json& project : list["projects"]) {
        const auto id = project.at("project_id").get<std::string>();
        const std::string page = kFolder + names.name_for(id) + ".html";
        if (!fs::exists(site.work() / page)) {
            continue;
        }
        sheets.by_project[id] = page;
        for (const Json& pole : project.at("poles")) {
            const auto row = rows.find(pole.at("pole_id").get<std::string>());
            if (row != rows.end()) {
                sheets.by_pole[row->second] = page;
            }
        }
    }
    return sheets;
}

}  // namespace

CopiedSheets copy_project_sheets(const fs::path& folder,
                                 const SitePoles& poles,
                                 const SiteFolder& site) {
    try {
        return copy_listed(folder, poles, site);
    } catch (const Json::exception&) {
        throw DataError{folder.string(),
                        "",
                        "has a damaged projects.json; write the sheets again, then publish"};
    }
}

SiteLink copy_report(const fs::path& page, const SiteFolder& site) {
    const std::string html = checked_page(page);
    FileNames names;
    const std::string stem = names.name_for(page.stem().string());
    std::string file = "reports/" + stem + ".html";
    for (int n = 2; fs::exists(site.work() / file); ++n) {
        file = "reports/" + stem + "-" + std::to_string(n) + ".html";
    }
    site.write(file, html);
    return {file, title_of(html)};
}

}  // namespace linewood
