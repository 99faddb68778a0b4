#include "src/command/assess_command.hpp"

#include <cmath>
#include <cstdio>
#include <filesystem>

#include "src/job/job_error.hpp"
#include "src/job/profile.hpp"
#include "src/job/wood_tables_json.hpp"
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
    const auto layer = [&](const char* option, std::string& to, const char* what) {
        c->add_option(option, to, what)->type_name("DATASET[:LAYER]")->group("Layers");
    };
    layer("--inspections", inspections_, "Inspections, instead of IN's");
    layer("--defects", defects_, "Defects, instead of IN's");
    c->add_option("--units", units_, "Of the columns that are added: us (in, ft) or si (mm, m)")
        ->check(CLI::IsMember({"us", "si"}))
        ->capture_default_str();
    add_criteria_option(
        *c, criteria_, "Criteria profile, shipped or a file, instead of general-practice");
    c->add_option("--wood-tables", wood_tables_, "Own species and pole dimensions (JSON)")
        ->type_name("FILE");
    CLI::Option* declination =
        c->add_option("--declination",
                      declination_,
                      "Of magnetic azimuths, degrees, east positive; wins over the magnetic model");
    allow_range(*declination->type_name("DEG"), -180.0, 180.0);
    talk_.add_to(*c);
    return c;
}

AssessJob AssessCommand::checked_job() const {
    AssessJob job;
    job.units = units_ == "si" ? UnitSystem::si : UnitSystem::us;
    Profile profile = read_criteria(criteria_);
    job.criteria = profile.criteria;
    job.network = profile.network;
    network_.fill(job);
    profile.network = job.network;
    job.criteria_json = profile_to_json(profile);
    job.inputs.layers[2] = if_given(inspections_);
    job.inputs.layers[3] = if_given(defects_);
    if (std::isfinite(declination_)) {
        job.declination = Angle::degrees(declination_);
    }
    job.tables = WoodTables::built_in();
    if (!wood_tables_.empty()) {
        job.tables = read_from_file(wood_tables_, [&](const std::string& text) {
            return read_wood_tables(text, job.tables);
        });
        job.tables_name = std::filesystem::path{wood_tables_}.filename().string();
    }
    return job;
}

int AssessCommand::run() {
    const Log log = talk_.make_log();
    const AssessJob job = checked_job();
    catch_interrupts();
    TerminalMonitor monitor{log};
    const AssessSummary summary = run_assessment(job, monitor);
    if (log.form() == LogForm::json) {
        log.event("done", summary_json_fields(job, summary));
    } else if (!log.quiet()) {
        std::fputs(summary_text(job, summary).c_str(), stdout);
    }
    return kExitDone;
}

}  // namespace linewood
