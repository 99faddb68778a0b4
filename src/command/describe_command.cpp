#include "src/command/describe_command.hpp"

#include <cstdio>
#include <filesystem>

#include "src/command/assess_options.hpp"
#include "src/job/job_error.hpp"
#include "src/job/job_file.hpp"
#include "src/pipeline/dataset_description.hpp"
#include "src/report/description_report.hpp"

#include <CLI/CLI.hpp>

namespace linewood {
namespace {

constexpr const char* kExamples =
    "Examples:\n"
    "  linewood describe network.gpkg\n"
    "  linewood describe delivery.gdb --format json\n"
    "  linewood describe --job our-layers.json\n"
    "\n"
    "Says what is in a dataset and what a run would read of it: layers with counts, extent and\n"
    "coordinate system, columns with types and values, then each field with its range in both\n"
    "unit systems and what is suspicious: impossible and unusual sizes, odd dates, unknown codes,\n"
    "ids that are there twice or name no pole.\n"
    "\n"
    "Exit codes: 0 done, 1 failed, 2 called wrongly.";

}  // namespace

CLI::App* DescribeCommand::setup(CLI::App& program) {
    CLI::App* c = program.add_subcommand("describe", "What a dataset holds and a run would read");
    c->footer(kExamples);
    c->add_option("input", input_, "Dataset")->type_name("IN");
    c->add_option("--job", job_, "Job file that maps its layers")->type_name("FILE");
    c->add_option("--today", today_, "Later dates are doubted (default: the machine's date)")
        ->type_name("YYYY-MM-DD");
    c->add_option("--format", format_, "text or json")
        ->check(CLI::IsMember({"text", "json"}))
        ->capture_default_str();
    talk_.add_to(*c);
    return c;
}

int DescribeCommand::run() {
    InputAddresses addresses;
    addresses.dataset = input_.empty() ? std::nullopt : std::optional{input_};
    if (!job_.empty()) {
        const JobFile job = read_from_file(job_, [this](const std::string& text) {
            return read_job(text, std::filesystem::path{job_}.parent_path());
        });
        addresses.mapped = job.layers;
    } else if (input_.empty()) {
        throw JobError{"describe: name a dataset, or a job file with --job"};
    }
    const DatasetDescription description = describe_inputs(addresses, day_of_run(today_));
    const std::string text =
        format_ == "json" ? description_json(description) : description_text(description);
    std::fputs(text.c_str(), stdout);
    return kExitDone;
}

}  // namespace linewood
