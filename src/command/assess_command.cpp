#include "src/command/assess_command.hpp"

#include <cstdio>

#include "src/pipeline/assess_run.hpp"
#include "src/report/assess_summary.hpp"
#include "src/report/terminal_monitor.hpp"

#include <CLI/CLI.hpp>

namespace linewood {
namespace {

constexpr const char* kExamples =
    "Examples:\n"
    "  linewood assess network.gpkg --out condition.gpkg\n"
    "  linewood assess --poles poles.geojson --spans spans.geojson --inspections visits.csv\n"
    "      --defects defects.csv --out condition --format geojson --units si\n"
    "  linewood assess --job our-layers.json --out condition.gpkg\n"
    "\n"
    "Reads the layers poles, spans, inspections and defects; writes them back with line "
    "direction,\n"
    "remaining strength and a verdict on every pole, and the layers sections, findings and run.\n"
    "The input is never changed.\n"
    "\n"
    "A screening aid: local codes, the utility's criteria and licensed engineers decide; never "
    "climb\n"
    "on the tool's word.\n"
    "\n"
    "Exit codes: 0 done, 1 failed (nothing is left behind), 2 called wrongly.";

}  // namespace

CLI::App* AssessCommand::setup(CLI::App& program) {
    CLI::App* c = program.add_subcommand("assess", "Layers in, condition layers out");
    c->footer(kExamples);
    network_.add_to(*c, "poles, spans, inspections, defects");
    assess_.add_to(*c);
    findings_.add_to(*c);
    job_.add_to(*c);
    talk_.add_to(*c);
    return c;
}

int AssessCommand::run() {
    const Log log = talk_.make_log();
    AssessJob job;
    job_.apply(network_, assess_.criteria, &assess_);
    assess_.fill(job, [this](NetworkJob& network) { network_.fill(network); });
    findings_.fill(job);
    job_.fill(job);
    job_.refuse_to_replace_it(job.out);
    catch_interrupts();
    TerminalMonitor monitor{log};
    const AssessSummary summary = run_assessment(job, monitor);
    if (log.form() == LogForm::json) {
        log.event("done", summary_json_fields(job, summary));
    } else if (!log.quiet()) {
        std::fputs(summary_text(job, summary).c_str(), stdout);
    }
    return findings_.exit_code(summary.findings);
}

}  // namespace linewood
