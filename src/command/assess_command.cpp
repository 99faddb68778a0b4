#include "src/command/assess_command.hpp"

#include <algorithm>
#include <array>
#include <cstdio>
#include <thread>

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

constexpr std::array<std::pair<std::string_view, double>, 3> kPlaneUnits{
    {{"m", 1.0}, {"ft", 0.3048}, {"us-ft", 1200.0 / 3937.0}}};

}  // namespace

CLI::App* AssessCommand::setup(CLI::App& program) {
    CLI::App* c = program.add_subcommand("assess", "Layers in, condition layers out");
    c->footer(kExamples);
    c->add_option("input", input_, "Dataset with the layers poles, spans, inspections, defects")
        ->type_name("IN");
    const auto layer = [&](const char* option, std::string& to, const char* what) {
        c->add_option(option, to, what)->type_name("DATASET[:LAYER]")->group("Layers");
    };
    layer("--poles", poles_, "Poles, instead of IN's");
    layer("--spans", spans_, "Spans, instead of IN's");
    layer("--inspections", inspections_, "Inspections, instead of IN's");
    layer("--defects", defects_, "Defects, instead of IN's");
    c->add_option("--out", out_, "Where to write: a .gpkg file, or a folder with --format")
        ->type_name("OUT")
        ->required();
    c->add_option("--format", format_, "Of a folder: geopackage, flatgeobuf, geojson or shapefile")
        ->type_name("FORMAT");
    c->add_flag("--overwrite", overwrite_, "Replace OUT where it exists");
    c->add_option("--units", units_, "Of the columns that are added: us (in, ft) or si (mm, m)")
        ->check(CLI::IsMember({"us", "si"}))
        ->capture_default_str();
    c->add_option("--criteria", criteria_, "Criteria profile (JSON) instead of general-practice")
        ->type_name("FILE");
    c->add_option("--wood-tables", wood_tables_, "Own species and pole dimensions (JSON)")
        ->type_name("FILE");
    c->add_option("--snap", snap_m_, "How far a span end may be from its pole, m (default 2)")
        ->check(CLI::Range(0.0, 1000.0))
        ->type_name("M");
    c->add_option("--nearest-line",
                  nearest_line_m_,
                  "Poles on no span take the direction of a line this near, m (default off)")
        ->check(CLI::Range(0.0, 1000.0))
        ->type_name("M");
    c->add_option(
         "--plane-unit", plane_unit_, "Unit of layers without a coordinate system: m, ft or us-ft")
        ->check(CLI::IsMember({"m", "ft", "us-ft"}))
        ->capture_default_str();
    c->add_option("--threads", threads_, "Threads to use (default: all cores)")
        ->check(CLI::Range(1, 256))
        ->type_name("N");
    talk_.add_to(*c);
    return c;
}

OutputFormat AssessCommand::checked_format() const {
    const auto by_path = output_format_of_path(out_);
    if (out_.rfind("PG:", 0) == 0 || out_.rfind("postgresql:", 0) == 0) {
        throw JobError{"--out: databases are not written yet; write a .gpkg file or a folder"};
    }
    if (format_.empty()) {
        if (!by_path) {
            throw JobError{
                "--out " + out_ +
                " is a folder: say with --format what goes into it (flatgeobuf, geojson, "
                "shapefile), or name a .gpkg file"};
        }
        return *by_path;
    }
    const auto named = output_format_named(format_);
    if (!named || *named == OutputFormat::csv) {
        throw JobError{"--format " + format_ +
                       ": not one of geopackage, flatgeobuf, geojson, shapefile"};
    }
    if (by_path.has_value() != (*named == OutputFormat::geopackage)) {
        throw JobError{by_path ? "--out " + out_ +
                                     " is a GeoPackage file; leave --format away, or "
                                     "name a folder"
                               : "--format geopackage is one file: let --out end in .gpkg"};
    }
    return *named;
}

AssessJob AssessCommand::checked_job() const {
    AssessJob job;
    const auto given = [](const std::string& s) {
        return s.empty() ? std::nullopt : std::optional<std::string>{s};
    };
    job.inputs.dataset = given(input_);
    job.inputs.layers = {given(poles_), given(spans_), given(inspections_), given(defects_)};
    if (!job.inputs.dataset && !job.inputs.layers[0]) {
        throw JobError{"no poles: name a dataset, or a layer with --poles DATASET[:LAYER]"};
    }
    job.out = out_;
    job.format = checked_format();
    job.overwrite = overwrite_;
    job.units = units_ == "si" ? UnitSystem::si : UnitSystem::us;
    Profile profile = criteria_.empty() ? Profile{} : read_profile(read_text_file(criteria_));
    if (snap_m_ >= 0.0) {
        profile.network.snap_tolerance = Length::metres(snap_m_);
    }
    if (nearest_line_m_ >= 0.0) {
        profile.network.nearest_line = Length::metres(nearest_line_m_);
    }
    job.criteria = profile.criteria;
    job.network = profile.network;
    job.criteria_json = profile_to_json(profile);
    job.tables = WoodTables::built_in();
    if (!wood_tables_.empty()) {
        job.tables = read_wood_tables(read_text_file(wood_tables_), job.tables);
        job.tables_name = std::filesystem::path{wood_tables_}.filename().string();
    }
    for (const auto& [name, metres] : kPlaneUnits) {
        if (name == plane_unit_) {
            job.plane_metres_per_unit = metres;
        }
    }
    job.threads = threads_ != 0 ? threads_ : std::max(1U, std::thread::hardware_concurrency());
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
