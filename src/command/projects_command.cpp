#include "src/command/projects_command.hpp"

#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>

#include "src/corridor/projects_run.hpp"
#include "src/job/embedded_text.hpp"
#include "src/job/place_clash.hpp"
#include "src/report/terminal_monitor.hpp"

#include <CLI/CLI.hpp>

namespace linewood {
namespace {

constexpr const char* kExamples =
    "Examples:\n"
    "  linewood projects condition.gpkg --costs costs.json --out projects.gpkg --sheets sheets\n"
    "  linewood projects condition.gpkg --costs costs.json --out projects.gpkg \\\n"
    "      --budget 250000,250000\n"
    "  linewood projects --costs-schema > costs.schema.json\n"
    "\n"
    "Jobs (replace, stub) that one crew does in one go are a project: mobilisations and ways "
    "together\n"
    "cost least. Poles to treat on the way are listed with it. Every work pole is in exactly one\n"
    "project or listed with the reason. With budgets, projects with jobs that cannot wait are "
    "taken\n"
    "first, then what removes most risk for the money.\n"
    "\n"
    "A screening aid: local codes, the utility's criteria and licensed engineers decide.\n"
    "\n"
    "Exit codes: 0 done, 1 failed (nothing is left behind), 2 called wrongly.";

constexpr std::size_t kMostYears = 50;

/// The amounts between the commas; nothing between two commas is an amount of no text, not a year less.
std::vector<std::string> years_of(const std::vector<std::string>& typed) {
    std::vector<std::string> years;
    for (const std::string& text : typed) {
        std::size_t begin = 0;
        for (std::size_t comma = 0; comma != std::string::npos; begin = comma + 1) {
            comma = text.find(',', begin);
            years.push_back(text.substr(begin, comma - begin));
        }
    }
    return years;
}

}  // namespace

CLI::App* ProjectsCommand::setup(CLI::App& program) {
    CLI::App* c = program.add_subcommand("projects", "Jobs along the line as projects, by cost");
    c->footer(kExamples);
    c->add_option("--costs", costs_, "Prices, limits and risk weights: a JSON file")
        ->type_name("FILE");
    c->add_option("--budget", budgets_, "Money of one year, or of several with commas")
        ->type_name("AMOUNT")
        ->allow_extra_args(false);
    c->add_option("--mark", mark_, "Field of the poles whose text the strips show: a road crossed")
        ->type_name("FIELD");
    c->add_flag("--costs-schema", schema_, "Print the JSON Schema of the costs file and end");
    options_.add_to(*c, "Folder for a page a project, their list, CSV and JSON");
    return c;
}

std::vector<Money> ProjectsCommand::checked_budgets() const {
    std::vector<Money> budgets;
    for (const std::string& text : years_of(budgets_)) {
        char* end = nullptr;
        const double v = std::strtod(text.c_str(), &end);
        constexpr double kMostMoney = 1e12;
        const bool plain = !text.empty() &&
                           text.find_first_not_of("0123456789.") == std::string::npos &&
                           end == text.c_str() + text.size();
        if (!plain || !(v >= 0.0 && v <= kMostMoney)) {
            throw JobError{"--budget: \"" + text +
                           "\" is not an amount from 0 to 1000000000000 (digits and a decimal "
                           "point; commas part the years)"};
        }
        budgets.push_back(Money::units(v));
    }
    if (budgets.size() > kMostYears) {
        throw JobError{"--budget: more than 50 years"};
    }
    return budgets;
}

int ProjectsCommand::run() {
    if (schema_) {
        const std::string_view text = embedded_text("costs.schema.json");
        std::fwrite(text.data(), 1, text.size(), stdout);
        return kExitDone;
    }
    const Log log = options_.talk.make_log();
    ProjectsJob job;
    options_.fill(job);
    if (costs_.empty()) {
        throw JobError{
            "--costs is missing: name a JSON file with your prices (linewood projects "
            "--costs-schema prints its schema)"};
    }
    job.costs = read_from_file(costs_, read_costs_file);
    job.costs_name = std::filesystem::path{costs_}.filename().string();
    job.budgets = checked_budgets();
    job.mark_field = mark_;
    const std::array<std::filesystem::path, 1> read{costs_};
    refuse_to_replace("--out", job.out, read);
    if (!job.sheets.empty()) {
        refuse_to_replace("--sheets", job.sheets, read);
    }
    catch_interrupts();
    TerminalMonitor monitor{log};
    return tell(log, run_projects(job, monitor));
}

}  // namespace linewood
