#include <string_view>

#include "src/report/limit_report.hpp"
#include "src/report/limit_sheet.hpp"
#include "src/report/page_policy.hpp"
#include "src/report/svg.hpp"

namespace linewood {
namespace {

// Well-formed as XML too, so that other programs can read it.
constexpr std::string_view kHead =
    "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n"
    "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n"
    "<meta http-equiv=\"Content-Security-Policy\" content=\"";

constexpr std::string_view kStyle =
    "\n"
    "  :root{color-scheme:light}\n"
    "  body{font:16px/1.4 Arial,Helvetica,'DejaVu Sans',sans-serif;color:#000;background:#fff;"
    "margin:0}\n"
    "  main{max-width:68rem;margin:0 auto;padding:1rem}\n"
    "  h1{font-size:1.5rem;margin:0 0 .5rem;overflow-wrap:anywhere}\n"
    "  h2{font-size:1.2rem;margin:1.4rem 0 .3rem;border-bottom:2px solid #000}\n"
    "  p{margin:.3rem 0;overflow-wrap:anywhere}\n"
    "  .caution{border:2px solid #000;padding:.3rem .6rem;margin:.6rem 0}\n"
    "  .caution p{font-weight:bold}\n"
    "  .tables{display:flex;flex-wrap:wrap;gap:1rem 1.6rem;align-items:flex-start}\n"
    "  .wide{overflow-x:auto}\n"
    // A letter stands right of its figure without pushing it out of line.
    "  sup{display:inline-block;width:.9em;margin:0 -.95em 0 .05em;text-align:left;"
    "font-size:.75em;line-height:0}\n"
    "  table{border-collapse:collapse;margin:.3rem 0}\n"
    "  caption{text-align:left;font-weight:bold;padding:.2rem 0}\n"
    "  th,td{border:1px solid #000;padding:.12rem .4rem;text-align:right;white-space:nowrap;"
    "font-variant-numeric:tabular-nums}\n"
    "  td{padding-right:.9rem}\n"
    "  thead th{text-align:center;border-bottom-width:2px}\n"
    "  tbody th{border-right-width:2px}\n"
    "  tbody tr:nth-child(5n) > *{border-bottom-width:2px}\n"
    "  @page{margin:12mm}\n"
    "  @media print{\n"
    "    body{font-size:9pt}\n"
    "    main{max-width:none;padding:0}\n"
    "    .tables{display:block}\n"
    "    .pairs{columns:2;column-gap:5mm}\n"
    "    .wide{overflow:visible;break-inside:avoid;padding:1mm 0 3mm}\n"
    "    table{margin:0;font-size:8pt}\n"
    "    th,td{padding:.3mm .8mm}\n"
    "    td{padding-right:2.6mm}\n"
    "    tr,table{break-inside:avoid}\n"
    "    h2,h2 ~ p,caption{break-after:avoid}\n"
    "  }\n";

std::string paragraphs(const std::vector<std::string>& lines) {
    std::string out;
    for (const std::string& line : lines) {
        out += "<p>" + svg_escape(line) + "</p>\n";
    }
    return out;
}

/// A letter behind a figure is small, so that columns stay narrow.
std::string cell_html(const std::string& cell) {
    const std::size_t blank = cell.find(' ');
    return blank == std::string::npos ? svg_escape(cell)
                                      : svg_escape(cell.substr(0, blank)) + "<sup> " +
                                            svg_escape(cell.substr(blank + 1)) + "</sup>";
}

std::string table_html(const LimitSheetTable& t) {
    std::string out = "<div class=\"wide\">\n<table>\n<caption>" + svg_escape(t.caption) +
                      "</caption>\n<thead>\n<tr>";
    const bool two_rows = !t.across.empty();
    out += two_rows ? R"(<th scope="col" rowspan="2">)" : R"(<th scope="col">)";
    out += svg_escape(t.corner) + "</th>";
    if (two_rows) {
        out += R"(<th scope="colgroup" colspan=")" + std::to_string(t.columns.size()) + "\">" +
               svg_escape(t.across) + "</th></tr>\n<tr>";
    }
    for (const std::string& column : t.columns) {
        out += "<th scope=\"col\">" + svg_escape(column) + "</th>";
    }
    out += "</tr>\n</thead>\n<tbody>\n";
    for (const LimitSheetTable::Row& row : t.rows) {
        out += "<tr><th scope=\"row\">" + svg_escape(row.head) + "</th>";
        for (const std::string& cell : row.cells) {
            out += "<td>" + cell_html(cell) + "</td>";
        }
        out += "</tr>\n";
    }
    return out + "</tbody>\n</table>\n</div>\n";
}

}  // namespace

std::string limit_report_html(const LimitReport& report) {
    const LimitSheet sheet = limit_sheet(report);
    std::string out{kHead};
    out += page_policy(kStyle) + "\"/>\n<title>" + svg_escape(sheet.title) + "</title>\n<style>" +
           std::string{kStyle} + "</style>\n</head>\n<body>\n<main>\n";
    out += "<h1>" + svg_escape(sheet.title) + "</h1>\n" + paragraphs(sheet.head) +
           "<div class=\"caution\" role=\"note\">\n" + paragraphs(sheet.cautions) + "</div>\n" +
           paragraphs(sheet.legend);
    for (const LimitSheetPart& part : sheet.parts) {
        out += "<h2>" + svg_escape(part.title) + "</h2>\n" + paragraphs(part.notes) +
               (report.transverse_governs ? "<div class=\"tables pairs\">\n"
                                          : "<div class=\"tables\">\n");
        for (const LimitSheetTable& table : part.tables) {
            out += table_html(table);
        }
        out += "</div>\n";
    }
    return out + "</main>\n</body>\n</html>\n";
}

}  // namespace linewood
