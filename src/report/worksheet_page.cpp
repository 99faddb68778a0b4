#include "src/report/worksheet_page.hpp"

#include "src/report/page_policy.hpp"
#include "src/report/svg.hpp"
#include "src/report/svg_style.hpp"

namespace linewood {
namespace {

constexpr std::string_view kStyle =
    "  :root{color-scheme:light}\n"
    "  body{font:15px/1.45 Arial,Helvetica,'DejaVu Sans',sans-serif;color:#111;background:#fff;\n"
    "    margin:0}\n"
    "  main{max-width:60rem;margin:0 auto;padding:1rem 1.2rem 3rem}\n"
    "  h1{font-size:1.6rem;margin:.4rem 0;overflow-wrap:anywhere}\n"
    "  h2{font-size:1.25rem;margin:1.8rem 0 .5rem;border-bottom:2px solid "
    "#111;padding-bottom:.1rem}\n"
    "  h3{font-size:1.1rem;margin:1.4rem 0 .4rem}\n"
    "  p{margin:.5rem 0;overflow-wrap:anywhere}\n"
    "  .made{color:#444;font-size:.85rem}\n"
    "  .warning{border-left:4px solid #111;padding-left:.6rem;font-weight:bold}\n"
    "  table{border-collapse:collapse;width:100%;margin:.7rem 0 1rem;font-size:.9rem}\n"
    "  caption{text-align:left;font-weight:bold;padding:.2rem 0}\n"
    "  th,td{border:1px solid #777;padding:.22rem .45rem;text-align:left;vertical-align:top}\n"
    "  .any{overflow-wrap:anywhere}\n"
    "  .words{overflow-wrap:normal}\n"
    "  .line{white-space:nowrap}\n"
    "  @media screen and (max-width:48rem){\n"
    "    td,th,.line,.words{white-space:normal;overflow-wrap:anywhere}\n"
    "  }\n"
    "  thead th{background:#e8e8e8}\n"
    "  tbody th{font-weight:normal}\n"
    "  .good{font-weight:bold;color:#004a80}\n"
    "  .bad{font-weight:bold;color:#8a2f00;text-decoration:underline}\n"
    "  .open{font-style:italic;color:#444}\n"
    "  figure{margin:.8rem 0}\n"
    "  figcaption{font-size:.85rem;color:#444}\n"
    "  a{color:#004a80}\n"
    "  .lw-drawing{width:100%;height:auto;display:block}\n"
    "  .elevation .lw-drawing{max-width:38rem;margin:0 auto}\n"
    "  .lw-definitions{position:absolute}\n"
    "  @media print{\n"
    "    :root{font-size:9.5pt}\n"
    "    body{font-size:9.5pt}\n"
    "    main{max-width:none;padding:0 1px}\n"
    "    h2,h3,caption,thead{break-after:avoid}\n"
    "    tbody tr:first-child{break-before:avoid}\n"
    "    tr,figure,.lw-drawing{break-inside:avoid}\n"
    "    thead{display:table-header-group}\n"
    "    .elevation .lw-drawing{max-height:16cm;width:auto;max-width:100%}\n"
    "    nav{display:none}\n"
    "  }\n";

std::string_view page_size(Paper paper) {
    switch (paper) {
        case Paper::a4:
            return "  @page{size:A4;margin:14mm}\n";
        case Paper::letter:
            return "  @page{size:letter;margin:14mm}\n";
        case Paper::any:
            break;
    }
    return "  @page{margin:14mm}\n";
}

/// All before what a title or a name can change.
std::string page_begin(std::string_view style) {
    return "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
           "<meta http-equiv=\"Content-Security-Policy\" content=\"" +
           page_policy(style) + "\">\n";
}

}  // namespace

std::string page_head(std::string_view title, Paper paper, bool with_drawings) {
    std::string style = "\n" + std::string{kStyle};
    style += page_size(paper);
    if (with_drawings) {
        style += kDrawingStyle;
    }
    std::string out = page_begin(style) +
                      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
                      "<meta name=\"referrer\" content=\"no-referrer\">\n"
                      "<meta name=\"generator\" content=\"linewood\">\n<title>";
    out += svg_escape(title);
    out += "</title>\n<style>" + style + "</style>\n</head>\n<body>\n";
    if (with_drawings) {
        SvgWriter definitions = SvgWriter::definitions();
        define_hatches(definitions);
        out += definitions.finish();
    }
    return out + "<main>\n";
}

bool is_page(std::string_view html) {
    constexpr std::string_view kOpen = "<style>";
    const std::size_t style = html.find(kOpen);
    const std::size_t end = html.find("</style>");
    if (style == std::string_view::npos || end == std::string_view::npos || style > end) {
        return false;
    }
    const std::string begin =
        page_begin(html.substr(style + kOpen.size(), end - style - kOpen.size()));
    return html.substr(0, begin.size()) == begin;
}

std::string page_foot() { return "</main>\n</body>\n</html>\n"; }

}  // namespace linewood
