#include "src/command/network_command.hpp"

#include <cstdio>

#include "src/job/profile.hpp"
#include "src/pipeline/network_run.hpp"
#include "src/report/network_report.hpp"
#include "src/report/terminal_monitor.hpp"

#include <CLI/CLI.hpp>

namespace linewood {
namespace {

constexpr const char* kExamples =
    "Examples:\n"
    "  linewood network network.gpkg --out resolved.gpkg --report\n"
    "  linewood network --poles masts.gpkg --spans lines.gpkg --nearest-line 25 --out "
    "resolved.gpkg\n"
    "  linewood network lines.csv --poles-from-spans --plane-unit ft --out resolved.gpkg\n"
    "\n"
    "Writes the spans pole to pole, the poles with the line at each and how far it can be "
    "trusted,\n"
    "and findings with their place on the map, so that the source layers can be mended. The input\n"
    "is never changed.\n"
    "\n"
    "Exit codes: 0 done, 1 failed (nothing is left behind), 2 called wrongly.";

}  // namespace

CLI::App* NetworkCommand::setup(CLI::App& program) {
    CLI::App* c = program.add_subcommand("network", "Poles and spans in, the resolved graph out");
    c->footer(kExamples);
    options_.add_to(*c, "poles, spans");
    job_.add_to(*c);
    add_criteria_option(*c, criteria_, "Profile, shipped or a file, whose line settings are used");
    c->add_flag("--report",
                report_,
                "Print snapping, roles, lengths and suspicious spans; JSON with --log json");
    findings_.add_to(*c);
    talk_.add_to(*c);
    return c;
}

int NetworkCommand::run() {
    const Log log = talk_.make_log();
    NetworkJob job;
    job_.apply(options_, criteria_, nullptr);
    job.network = read_criteria(criteria_).network;
    job.inputs.wanted = {true, true, false, false};
    options_.fill(job);
    findings_.fill(job);
    job_.fill(job);
    job_.refuse_to_replace_it(job.out);
    catch_interrupts();
    TerminalMonitor monitor{log};
    const NetworkSummary summary = run_network(job, monitor);
    const bool json = log.form() == LogForm::json;
    if (json) {
        log.event("done", network_summary_json(job, summary));
    } else if (!log.quiet()) {
        std::fputs(network_summary_text(job, summary).c_str(), stdout);
    }
    if (report_) {
        std::string report = json ? network_report_json(job, summary.figures) + "\n"
                                  : network_report_text(job, summary.figures);
        if (log.quiet() && !json) {
            report = network_heading(summary.figures) + report;
        }
        std::fputs(report.c_str(), stdout);
    }
    return findings_.exit_code(summary.findings);
}

}  // namespace linewood
