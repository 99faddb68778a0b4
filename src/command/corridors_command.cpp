#include "src/command/corridors_command.hpp"

#include "src/corridor/corridors_run.hpp"
#include "src/report/terminal_monitor.hpp"

#include <CLI/CLI.hpp>

namespace linewood {
namespace {

constexpr const char* kExamples =
    "Examples:\n"
    "  linewood corridors condition.gpkg --out corridors.gpkg\n"
    "  linewood corridors condition.gpkg --by circuit --out corridors.gpkg --sheets corridors\n"
    "  linewood corridors condition.gpkg --lines roads.gpkg --width 60 --id name --out c.gpkg\n"
    "  linewood corridors condition.gpkg --polygons districts.geojson --out districts.gpkg\n"
    "\n"
    "Per corridor: poles, inspected share, verdicts, quantiles of remaining strength, kilometres,\n"
    "rejects per km with 95 % limits, worst pole, rank. Each pole is in one corridor at most; "
    "every\n"
    "pole gets its run and station.\n"
    "\n"
    "Exit codes: 0 done, 1 failed (nothing is left behind), 2 called wrongly.";

constexpr double kMostWidth = 100000.0;

}  // namespace

CLI::App* CorridorsCommand::setup(CLI::App& program) {
    CLI::App* c = program.add_subcommand("corridors", "Condition by corridor, ranked");
    c->footer(kExamples);
    c->add_option("--by",
                  by_,
                  "What a corridor is: run (junction to junction), chain (through junctions of one "
                  "circuit), circuit (default run)")
        ->check(CLI::IsMember({"run", "chain", "circuit"}));
    c->add_option("--lines", lines_, "Corridors along these lines instead, with --width")
        ->type_name("DATASET[:LAYER]");
    allow_range(
        *c->add_option("--width", width_m_, "Of the strips along --lines, m")->type_name("M"),
        0.0,
        kMostWidth);
    c->add_option("--polygons", polygons_, "Corridors are these areas instead")
        ->type_name("DATASET[:LAYER]");
    c->add_option("--id", id_, "Field of that layer that names a corridor (default: its FID)")
        ->type_name("FIELD");
    c->add_flag("--stretches",
                stretches_,
                "Also find where on a run rejected poles stand closer together than by chance");
    options_.add_to(*c, "Folder for the list as a page, CSV and JSON");
    return c;
}

int CorridorsCommand::run() {
    const Log log = options_.talk.make_log();
    CorridorsJob job;
    options_.fill(job);
    if (!lines_.empty() && !polygons_.empty()) {
        throw JobError{"--lines and --polygons: give one of them"};
    }
    if (!by_.empty() && (!lines_.empty() || !polygons_.empty())) {
        throw JobError{"--by is for corridors of runs; leave it away, or the layer"};
    }
    if (lines_.empty() != (width_m_ < 0.0)) {
        throw JobError{lines_.empty() ? "--width is for --lines DATASET[:LAYER]"
                                      : "--lines needs --width: of the strip, in metres"};
    }
    if (!id_.empty() && lines_.empty() && polygons_.empty()) {
        throw JobError{"--id is for --lines and --polygons"};
    }
    job.by = by_ == "chain"     ? RunGrouping::chain
             : by_ == "circuit" ? RunGrouping::circuit
                                : RunGrouping::run;
    job.lines = lines_;
    job.polygons = polygons_;
    job.width_m = width_m_;
    job.id_field = id_;
    job.stretches = stretches_;
    catch_interrupts();
    TerminalMonitor monitor{log};
    return tell(log, run_corridors(job, monitor));
}

}  // namespace linewood
