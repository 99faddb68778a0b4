#include "src/command/styles_command.hpp"

#include <cstdio>
#include <string_view>
#include <vector>

#include "src/job/job_error.hpp"
#include "src/job/nearest_word.hpp"
#include "src/style/legend_svg.hpp"
#include "src/style/qml_style.hpp"
#include "src/style/sld_style.hpp"
#include "src/style/style_css.hpp"
#include "src/style/style_sheet.hpp"

#include <CLI/CLI.hpp>

namespace linewood {
namespace {

constexpr const char* kExamples =
    "Examples:\n"
    "  linewood styles\n"
    "  linewood styles poles_by_verdict --format qml > poles.qml\n"
    "  linewood styles rates_by_area --format sld > rates.sld\n"
    "  linewood styles --format legend > legend.svg\n"
    "\n"
    "list says which styles there are, and of which layer. sld is OGC SLD 1.0, se is SLD 1.1 with\n"
    "Symbology Encoding 1.1, mapserver SLD 1.0 for MapServer 8.0 (which takes angles and absent "
    "values\n"
    "otherwise, and needs the symbols of styles/mapserver.sym), qml what desktop clients keep "
    "their\n"
    "styles in: each of one STYLE. legend (SVG) is of one or of all, css of all.\n"
    "\n"
    "Exit codes: 0 done, 1 failed, 2 called wrongly.";

std::string list_of(const StyleSheet& sheet) {
    std::string out;
    for (const LayerStyle& s : sheet.styles) {
        out += s.name + "  (layer " + s.layer + (s.is_default ? ", its default" : "") +
               "): " + s.title + "\n";
    }
    return out;
}

const LayerStyle& style_of(const StyleSheet& sheet, const std::string& name) {
    if (const LayerStyle* style = sheet.find(name)) {
        return *style;
    }
    const std::vector<std::string_view> names = sheet.names();
    throw JobError{"styles: there is no style \"" + name + "\"" + did_you_mean(name, names) +
                   "; linewood styles lists them"};
}

}  // namespace

CLI::App* StylesCommand::setup(CLI::App& program) {
    CLI::App* c =
        program.add_subcommand("styles", "How the layers are drawn: SLD, QML, legend, CSS");
    c->footer(kExamples);
    c->add_option("style", name_, "Name of a style, of sld, se, mapserver, qml or legend")
        ->type_name("STYLE");
    c->add_option(
         "--format", format_, "What is written: list, sld, se, mapserver, qml, legend or css")
        ->check(CLI::IsMember({"list", "sld", "se", "mapserver", "qml", "legend", "css"}))
        ->capture_default_str();
    talk_.add_to(*c);
    return c;
}

int StylesCommand::run() {
    const StyleSheet& sheet = shipped_styles();
    const LayerStyle* style = name_.empty() ? nullptr : &style_of(sheet, name_);
    const bool of_one =
        format_ == "sld" || format_ == "se" || format_ == "mapserver" || format_ == "qml";
    if (of_one && style == nullptr) {
        throw JobError{"styles: --format " + format_ +
                       " is of one style: name it; linewood styles lists them"};
    }
    if (style != nullptr && !of_one && format_ != "legend") {
        throw JobError{
            "styles: --format " + format_ +
            " is of all styles: leave the name away, or choose sld, se, mapserver, qml or legend"};
    }
    const std::string out = format_ == "sld"         ? sld_style(*style, SldVersion::sld_1_0)
                            : format_ == "se"        ? sld_style(*style, SldVersion::se_1_1)
                            : format_ == "mapserver" ? sld_style(*style, SldVersion::mapserver)
                            : format_ == "qml"       ? qml_style(*style)
                            : format_ == "css"       ? style_css(sheet)
                            : format_ == "list"      ? list_of(sheet)
                            : style != nullptr       ? legend_svg({style}, style->title)
                                                     : legend_svg(sheet);
    std::fputs(out.c_str(), stdout);
    return kExitDone;
}

}  // namespace linewood
