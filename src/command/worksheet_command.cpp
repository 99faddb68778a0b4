#include "src/command/worksheet_command.hpp"

#include <algorithm>
#include <array>
#include <cstdio>
#include <filesystem>

#include <fmt/format.h>

#include "src/job/cautions.hpp"
#include "src/job/job_error.hpp"
#include "src/pipeline/worksheet_run.hpp"
#include "src/report/terminal_monitor.hpp"

#include <CLI/CLI.hpp>

namespace linewood {
namespace {

constexpr const char* kExamples =
    "Examples:\n"
    "  linewood worksheet network.gpkg P-104 P-105 --out sheets\n"
    "  linewood worksheet network.gpkg --needing-work --out sheets --format html,json\n"
    "  linewood worksheet condition.gpkg --where \"verdict = 'replace'\" --out sheets --units si\n"
    "  linewood worksheet network.gpkg P-104 --format markdown\n"
    "\n"
    "For each pole: what was recorded and what was assumed, where the original girth came from,\n"
    "every section with its drawing, formulas, figures and limits, the rules of the verdict one\n"
    "by one, cautions, criteria with their hash. Pages print on A4 and Letter and need no "
    "network.\n"
    "IN holds raw layers, or is the output of linewood assess.\n"
    "\n"
    "A screening aid: local codes, the utility's criteria and licensed engineers decide; never "
    "climb\n"
    "on the tool's word.\n"
    "\n"
    "Exit codes: 0 done, 1 failed (nothing is left behind), 2 called wrongly.";

constexpr std::array kFormats{
    SheetFormat::html, SheetFormat::markdown, SheetFormat::json, SheetFormat::svg};

}  // namespace

CLI::App* WorksheetCommand::setup(CLI::App& program) {
    CLI::App* c = program.add_subcommand("worksheet", "How each figure of a pole came about");
    c->footer(kExamples);
    network_.add_layers_to(*c, "poles, spans, inspections, defects");
    c->add_option("pole", pole_ids_, "Ids of the poles wanted")->type_name("POLE");
    c->add_option("--where",
                  where_,
                  "Poles that this holds of instead: a filter on their columns, in OGR's words")
        ->type_name("FILTER");
    c->add_flag("--needing-work",
                needing_work_,
                "Only poles that need work: replace, stub, or treat and not yet treated");
    c->add_option("--out",
                  network_.out,
                  "Folder to write to; without it one worksheet goes to standard output")
        ->type_name("FOLDER");
    c->add_option("--format",
                  formats_,
                  "html, markdown, json, svg (the drawings as files); several with commas")
        ->type_name("FORMAT")
        ->delimiter(',')
        ->allow_extra_args(false);
    c->add_option(
         "--paper", paper_, "Lay pages out for a4 or letter (default: what the printer has)")
        ->check(CLI::IsMember({"a4", "letter"}));
    c->add_flag("--overwrite", network_.overwrite, "Replace FOLDER where it exists");
    assess_.add_to(*c);
    job_.add_to(*c);
    network_.add_settings_to(*c);
    talk_.add_to(*c);
    return c;
}

std::vector<SheetFormat> WorksheetCommand::checked_formats() const {
    std::vector<SheetFormat> formats;
    for (const std::string& name : formats_) {
        const auto known = std::find_if(
            kFormats.begin(), kFormats.end(), [&](SheetFormat f) { return name_of(f) == name; });
        if (known == kFormats.end()) {
            throw JobError{"--format " + name + ": not one of html, markdown, json, svg"};
        }
        if (std::find(formats.begin(), formats.end(), *known) == formats.end()) {
            formats.push_back(*known);
        }
    }
    if (!network_.out.empty()) {
        return formats.empty() ? std::vector{SheetFormat::html} : formats;
    }
    const bool text = formats.size() == 1 && (formats.front() == SheetFormat::markdown ||
                                              formats.front() == SheetFormat::json);
    if (!text) {
        throw JobError{
            "name a folder with --out; to standard output goes one worksheet with --format "
            "markdown or json"};
    }
    return formats;
}

WorksheetJob WorksheetCommand::checked_job() {
    // Where the layers are named one by one there is no IN: the first word is a pole.
    job_.apply(network_, assess_.criteria, &assess_);
    std::error_code ignored;
    if (!network_.input.empty() && (!network_.poles.empty() || network_.has_mapped_poles) &&
        !std::filesystem::exists(network_.input, ignored)) {
        pole_ids_.insert(pole_ids_.begin(), network_.input);
        network_.input.clear();
    }
    WorksheetJob job;
    assess_.fill(job, [this](NetworkJob& network) {
        network_.fill_inputs(network);
        network.out = network_.out;
    });
    job_.fill(job);
    job_.refuse_to_replace_it(job.out);
    job.overwrite = network_.overwrite;
    job.pole_ids = pole_ids_;
    job.where = where_;
    job.needing_work = needing_work_;
    job.formats = checked_formats();
    job.paper = paper_ == "a4" ? Paper::a4 : paper_ == "letter" ? Paper::letter : Paper::any;
    if (!job.pole_ids.empty() && !job.where.empty()) {
        throw JobError{"name poles or give --where, not both"};
    }
    if (job.pole_ids.empty() && job.where.empty() && !job.needing_work) {
        throw JobError{
            "which poles? Name their ids, or give --where FILTER or --needing-work (--where 1=1 "
            "is all of them)"};
    }
    return job;
}

int WorksheetCommand::run() {
    const Log log = talk_.make_log();
    const WorksheetJob job = checked_job();
    catch_interrupts();
    TerminalMonitor monitor{log};
    const WorksheetSummary summary = run_worksheets(job, monitor);
    if (!summary.criteria_note.empty()) {
        log.warning("criteria_differ", summary.criteria_note);
    }
    if (summary.without_id > 0) {
        log.warning("pole_id_missing",
                    fmt::format("{} poles that match have no pole_id, and no worksheet",
                                summary.without_id));
    }
    if (job.out.empty()) {
        std::fwrite(summary.text.data(), 1, summary.text.size(), stdout);
        return kExitDone;
    }
    if (log.form() == LogForm::json) {
        log.event("done",
                  fmt::format(R"("output":{},"worksheets":{},"files":{})",
                              json_string(job.out.string()),
                              summary.worksheets,
                              summary.files));
    } else if (!log.quiet()) {
        std::string text = fmt::format("{} worksheets in {} files\nwritten: {} (see index.html)\n",
                                       summary.worksheets,
                                       summary.files,
                                       job.out.string());
        for (const std::string_view caution : kCautions) {
            text += fmt::format("caution: {}\n", caution);
        }
        std::fputs(text.c_str(), stdout);
    }
    return kExitDone;
}

}  // namespace linewood
