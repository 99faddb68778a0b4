#include "src/command/publish_command.hpp"

#include <algorithm>
#include <cstdio>
#include <thread>

#include <fmt/format.h>

#include "src/command/assess_options.hpp"
#include "src/command/network_options.hpp"
#include "src/job/cautions.hpp"
#include "src/job/job_error.hpp"
#include "src/report/figures.hpp"
#include "src/report/terminal_monitor.hpp"
#include "src/site/publish_run.hpp"

#include <CLI/CLI.hpp>

namespace linewood {
namespace {

constexpr const char* kExamples =
    "Examples:\n"
    "  linewood publish condition.gpkg --out site\n"
    "  linewood publish condition.gpkg --clusters clusters.gpkg --page clusters.html \\\n"
    "      --projects projects.gpkg --sheets sheets --out site --overwrite\n"
    "  linewood publish condition.gpkg --background roads.gpkg:roads --background-title Roads \\\n"
    "      --attribution \"County road register 2025\" --out site\n"
    "\n"
    "IN is what linewood assess wrote; --clusters, --corridors and --projects what those commands "
    "wrote.\n"
    "Open FOLDER/index.html by a double click, or put the folder on any web server. The page "
    "fetches\n"
    "nothing from elsewhere. --overwrite replaces a folder only where a site is all it holds.\n"
    "\n"
    "A screening aid: local codes, the utility's criteria and licensed engineers decide; never "
    "climb\n"
    "on the tool's word.\n"
    "\n"
    "Exit codes: 0 done, 1 failed (nothing is left behind), 2 called wrongly.";

constexpr double kMostEmbedded = 200000.0;
constexpr double kMostSheets = 1e6;

}  // namespace

CLI::App* PublishCommand::setup(CLI::App& program) {
    CLI::App* c = program.add_subcommand("publish", "A map page of it all, for anyone to open");
    c->footer(kExamples);
    c->add_option("input", job_.input, "Dataset written by linewood assess")->type_name("IN");
    c->add_option("--out", out_, "Folder to write the site to")->type_name("FOLDER");
    c->add_option("--title", job_.title, "Of the page (default: the name of the dataset)")
        ->type_name("TEXT");
    c->add_flag("--overwrite", job_.overwrite, "Replace FOLDER where it is a site");
    add_contents(*c);
    talk_.add_to(*c);
    return c;
}

void PublishCommand::add_contents(CLI::App& c) {
    const char* const group = "What is shown";
    const auto dataset = [&](const char* option, std::string& to, const char* what) {
        c.add_option(option, to, what)->type_name("DATASET")->group(group);
    };
    dataset("--clusters", job_.clusters, "What linewood clusters wrote");
    dataset("--corridors", job_.corridors, "What linewood corridors wrote");
    dataset("--projects", job_.projects, "What linewood projects wrote");
    c.add_option("--sheets", sheets_, "Folder that linewood projects --sheets wrote")
        ->type_name("FOLDER")
        ->group(group);
    const auto list = [&](const char* option, std::vector<std::string>& to, const char* what) {
        return c.add_option(option, to, what)->allow_extra_args(false)->group(group);
    };
    list("--page", pages_, "A page that linewood clusters --page wrote; may be given again")
        ->type_name("FILE");
    list("--background",
         backgrounds_,
         "A layer of your own below the poles: roads, parcels; may be given again")
        ->type_name("DATASET[:LAYER]");
    list("--background-title", titles_, "What it is called, one for each --background")
        ->type_name("TEXT");
    list("--attribution", attributions_, "Who made it, one for each --background")
        ->type_name("TEXT");
    c.add_option("--worksheets",
                 worksheets_,
                 "Of which poles: work (those that need work), all, or none; made from IN, or with "
                 "--job and "
                 "--wood-tables as it was assessed")
        ->check(CLI::IsMember({"work", "all", "none"}))
        ->capture_default_str()
        ->group(group);
    mapping_.add_to(c);
    c.get_option("--job")
        ->description(
            "The job file that IN was assessed by, if any: worksheets read the layers by it")
        ->group(group);
    c.add_option(
         "--wood-tables",
         wood_tables_,
         "The wood tables that IN was assessed with, if not the built-in ones: for worksheets")
        ->type_name("FILE")
        ->group(group);
    const auto number = [&](const char* option, std::size_t& to, double most, const char* what) {
        allow_range(*c.add_option(option, to, what)->type_name("N")->group(group), 0.0, most);
    };
    number("--worksheet-limit",
           job_.worksheet_limit,
           kMostSheets,
           "Worksheets at most, the worst poles first (default 500)");
    number("--embed-limit",
           job_.embed_limit,
           kMostEmbedded,
           "Poles that the page holds itself; of more there are tiles (default 50000)");
    number("--table-limit",
           job_.worst,
           kMostEmbedded,
           "Poles in the table of a site with tiles, the worst first (default 2000)");
}

/// How the layers were read, for the worksheets; criteria and settings come from the dataset.
AssessJob PublishCommand::reading() {
    NetworkOptions network;
    network.input = job_.input;
    AssessOptions assess;
    mapping_.apply(network, assess.criteria, &assess);
    if (!wood_tables_.empty()) {
        assess.wood_tables = wood_tables_;
    }
    AssessJob job;
    assess.fill(job, [&](NetworkJob& to) { network.fill_inputs(to); });
    mapping_.fill(job);
    return job;
}

SiteJob PublishCommand::checked_job() {
    SiteJob job = job_;
    if (job.input.empty()) {
        throw JobError{"no input: name a dataset that linewood assess wrote"};
    }
    if (out_.empty()) {
        throw JobError{"--out is missing: name the folder to write the site to"};
    }
    if (attributions_.size() != backgrounds_.size()) {
        throw JobError{
            "--background: say with --attribution who made the layer, once for each background"};
    }
    if (!titles_.empty() && titles_.size() != backgrounds_.size()) {
        throw JobError{"--background-title: give one for each --background, or none"};
    }
    for (std::size_t i = 0; i < backgrounds_.size(); ++i) {
        job.backgrounds.push_back(
            {backgrounds_[i],
             titles_.empty() ? "Background " + std::to_string(i + 1) : titles_[i],
             attributions_[i]});
    }
    job.out = out_;
    job.sheets = sheets_;
    job.pages.assign(pages_.begin(), pages_.end());
    job.worksheets = worksheets_ == "all"    ? SiteWorksheets::all
                     : worksheets_ == "none" ? SiteWorksheets::none
                                             : SiteWorksheets::work;
    job.threads = std::max(1U, std::thread::hardware_concurrency());
    if (mapping_.given() || !wood_tables_.empty()) {
        job.read_as = reading();
        mapping_.refuse_to_replace_it(job.out);
    }
    return job;
}

void PublishCommand::print(const SiteJob& job, const PublishSummary& s, const Log& log) {
    if (log.form() == LogForm::json) {
        log.event("done",
                  fmt::format(R"("output":{},"poles":{},"placed":{},"worksheets":{},"files":{},)"
                              R"("mode":"{}")",
                              json_string(job.out.string()),
                              s.poles,
                              s.placed,
                              s.worksheets,
                              s.files,
                              s.tiled ? "tiles" : "embedded"));
        return;
    }
    if (log.quiet()) {
        return;
    }
    std::string text = fmt::format("{} poles, {} of them on the map; {} worksheets\n",
                                   grouped(static_cast<std::int64_t>(s.poles)),
                                   grouped(static_cast<std::int64_t>(s.placed)),
                                   grouped(static_cast<std::int64_t>(s.worksheets)));
    for (const std::string& note : s.notes) {
        text += "note: " + note + "\n";
    }
    text += fmt::format("written: {} ({} files); open {}\n",
                        job.out.string(),
                        s.files,
                        (job.out / "index.html").string());
    for (const std::string_view caution : kCautions) {
        text += fmt::format("caution: {}\n", caution);
    }
    std::fputs(text.c_str(), stdout);
}

int PublishCommand::run() {
    const Log log = talk_.make_log();
    const SiteJob job = checked_job();
    catch_interrupts();
    TerminalMonitor monitor{log};
    const PublishSummary summary = run_publish(job, monitor);
    for (const std::string& warning : summary.warnings) {
        log.warning("look_at", warning);
    }
    print(job, summary, log);
    return kExitDone;
}

}  // namespace linewood
