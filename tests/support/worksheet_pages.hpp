#pragma once

#include <cctype>
#include <cmath>
#include <map>
#include <regex>
#include <string>
#include <vector>

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "tests/support/assess_program.hpp"

namespace linewood::testing {

/// The arguments of `linewood worksheet IN` and more.
inline Arguments worksheet(const std::string& in, const Arguments& more) {
    Arguments all{"worksheet", in};
    all.insert(all.end(), more.begin(), more.end());
    return all;
}

/// The cells of a page's tables of one kind: for each such table, key to printed text.
inline std::vector<std::map<std::string, std::string>> printed(const std::string& html,
                                                               const std::string& table) {
    std::vector<std::map<std::string, std::string>> found;
    const std::string open = "<table data-table=\"" + table + "\">";
    for (std::size_t at = 0; (at = html.find(open, at)) != std::string::npos; ++at) {
        const std::string body = html.substr(at, html.find("</table>", at) - at);
        std::map<std::string, std::string> cells;
        const std::regex cell{"<td data-key=\"([^\"]*)\"[^>]*>([^<]*)</td>"};
        for (std::sregex_iterator m{body.begin(), body.end(), cell}, end; m != end; ++m) {
            cells.emplace((*m)[1], (*m)[2]);
        }
        found.push_back(std::move(cells));
    }
    return found;
}

/// Whether a printed figure is the layer's to the digits printed.
inline void expect_same(const std::string& text, const Row& value, const std::string& what) {
    if (value.is_null()) {
        EXPECT_EQ(text, "\u2013") << what;
    } else if (value.is_string()) {
        std::string joined = text;
        for (std::size_t at = 0; (at = joined.find("; ", at)) != std::string::npos; ++at) {
            joined.erase(at + 1, 1);
        }
        EXPECT_EQ(joined, value.get<std::string>()) << what;
    } else if (value.is_boolean()) {
        EXPECT_EQ(text, value.get<bool>() ? "yes" : "no") << what;
    } else {
        const auto dot = text.find('.');
        std::size_t digits = 0;
        while (dot != std::string::npos && dot + 1 + digits < text.size() &&
               std::isdigit(static_cast<unsigned char>(text[dot + 1 + digits])) != 0) {
            ++digits;
        }
        const double number = std::stod(text);
        // Shares print every digit; of the others zeros at the end are left away.
        const bool tenths =
            text.find("mm") != std::string::npos || text.find("\u00b0") != std::string::npos;
        const double half = text.find('%') != std::string::npos
                                ? 0.5 * std::pow(10.0, -static_cast<double>(digits))
                            : tenths ? 0.05
                                     : 0.005;
        EXPECT_NEAR(number, value.get<double>(), half + 1e-9) << what << ": " << text;
    }
}

inline void expect_table(const std::map<std::string, std::string>& cells,
                         const Row& row,
                         const std::string& pole) {
    EXPECT_GT(cells.size(), 10U) << pole;
    for (const auto& [key, text] : cells) {
        if (key == "meaning") {
            continue;
        }
        ASSERT_TRUE(row.contains(key)) << key;
        expect_same(text, row.at(key), pole + " " + key);
    }
}

/// Compares every worksheet of a dataset with its assessment.
inline void expect_same_as_layers(const std::string& in,
                                  const TempDir& folder,
                                  const Arguments& more) {
    const std::string out = (folder / "out.gpkg").string();
    const std::string sheets = (folder / "sheets").string();
    Arguments assess{"assess", in, "--out", out, "--quiet"};
    Arguments sheet =
        worksheet(in, {"--where", "1=1", "--out", sheets, "--format", "html,json", "--quiet"});
    assess.insert(assess.end(), more.begin(), more.end());
    sheet.insert(sheet.end(), more.begin(), more.end());
    ASSERT_EQ(linewood(assess).exit_code, 0);
    const ProgramRun run = linewood(sheet);
    ASSERT_EQ(run.exit_code, 0) << run.err;
    const Table poles = read_table(out, "poles");
    const Table sections = read_table(out, "sections");
    std::multimap<std::string, const Row*> sections_of;
    for (const Row& s : sections.rows) {
        sections_of.emplace(s.at("pole_id"), &s);
    }
    std::map<std::string, const Row*> pole_of;
    for (const Row& p : poles.rows) {
        if (p.at("pole_id").is_string()) {
            pole_of.emplace(p.at("pole_id"), &p);  // the first of an id
        }
    }
    const nlohmann::json index = nlohmann::json::parse(content_of(folder / "sheets/index.json"));
    ASSERT_EQ(index.at("worksheets").size(), pole_of.size());
    for (const nlohmann::json& entry : index.at("worksheets")) {
        const std::string id = entry.at("pole_id");
        const Row& pole = *pole_of.at(id);
        const std::string html =
            content_of(folder / ("sheets/" + entry.at("files")[0].get<std::string>()));
        const auto summary = printed(html, "pole");
        ASSERT_EQ(summary.size(), 1U) << id;
        expect_table(summary.front(), pole, id);
        EXPECT_EQ(entry.at("verdict").get<std::string>(), pole.at("verdict").get<std::string>());
        const auto tables = printed(html, "section");
        const auto [begin, end] = sections_of.equal_range(id);
        ASSERT_EQ(static_cast<std::size_t>(std::distance(begin, end)), tables.size()) << id;
        auto row = begin;
        for (const auto& cells : tables) {
            expect_table(cells, *row->second, id);
            ++row;
        }
        // The same figures at full precision for programs.
        const nlohmann::json json = nlohmann::json::parse(
            content_of(folder / ("sheets/" + entry.at("files")[1].get<std::string>())));
        for (const auto& [key, value] : json.at("result").at("pole").items()) {
            EXPECT_EQ(value, nlohmann::json(pole.at(key))) << id << " " << key;
        }
    }
}

/// Ids that mean something to a browser, a shell, a file system or a table.
inline std::vector<std::string> hostile_ids() {
    return {"<script>alert(1)</script>",
            "\"><img src=x onerror=alert(1)>",
            "'quotes' \"and\" `ticks`",
            "../../up/and/away",
            "a|b\\c*d_e[f](g)",
            "https://example.org/?a=1&b=2",
            "=1+1",
            "</script><script>alert(2)</script>",
            "javascript:alert(3)",
            "\xE2\x80\xAEgnp.exe",
            "line\xE2\x80\xA8separator",
            "bell\x07 and tab\t.",
            std::string(300, 'x'),
            "same",
            "SAME",
            "index",
            "con"};
}

}  // namespace linewood::testing
