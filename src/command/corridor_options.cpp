#include "src/command/corridor_options.hpp"

#include <cstdio>

#include "src/command/command.hpp"
#include "src/command/network_options.hpp"
#include "src/job/cautions.hpp"

#include <CLI/CLI.hpp>

namespace linewood {

void CorridorOptions::add_to(CLI::App& command, const std::string& what_sheets_are) {
    command.add_option("input", input, "Dataset written by linewood assess")->type_name("IN");
    command.add_option("--out", out, "Where to write: a .gpkg file, or a folder with --format")
        ->type_name("OUT");
    command.add_option("--format", format, "Of a folder: flatgeobuf, geojson, shapefile ...")
        ->type_name("FORMAT");
    command.add_option("--sheets", sheets, what_sheets_are)->type_name("FOLDER");
    command
        .add_option(
            "--paper", paper, "Lay pages out for a4 or letter (default: what the printer has)")
        ->check(CLI::IsMember({"a4", "letter"}));
    command
        .add_option("--plane-unit",
                    plane_unit,
                    "Unit of layers without a coordinate system: m, ft or us-ft")
        ->check(CLI::IsMember({"m", "ft", "us-ft"}));
    command.add_flag("--overwrite", overwrite, "Replace OUT and FOLDER where they exist");
    talk.add_to(command);
}

void CorridorOptions::fill(CorridorJob& job) const {
    if (input.empty()) {
        throw JobError{"no input: name a dataset that linewood assess wrote"};
    }
    if (out.empty()) {
        throw JobError{"--out is missing: name a .gpkg file, or a folder with --format"};
    }
    NetworkOptions place;
    place.out = out;
    place.format = format;
    job.input = input;
    job.out = out;
    job.format = place.checked_format();
    if (job.format == OutputFormat::postgis) {
        throw JobError{"--out: this command writes no database; name a .gpkg file or a folder"};
    }
    job.sheets = sheets;
    job.overwrite = overwrite;
    job.paper = paper == "a4" ? Paper::a4 : paper == "letter" ? Paper::letter : Paper::any;
    if (!plane_unit.empty()) {
        NetworkJob network;
        place.input = input;
        place.plane_unit = plane_unit;
        place.fill_inputs(network);
        job.plane_metres_per_unit = network.plane_metres_per_unit;
    }
}

int tell(const Log& log, const CorridorSummary& summary) {
    for (const std::string& warning : summary.warnings) {
        log.warning("look_at", warning);
    }
    if (log.form() == LogForm::json) {
        log.event("done", summary.json);
    } else if (!log.quiet()) {
        std::string text = summary.text;
        for (const std::string_view caution : kCautions) {
            text += "caution: " + std::string{caution} + "\n";
        }
        std::fputs(text.c_str(), stdout);
    }
    return kExitDone;
}

}  // namespace linewood
