#include "src/command/draft_command.hpp"

#include <cstdio>
#include <filesystem>

#include "src/job/place_clash.hpp"
#include "src/pipeline/job_draft.hpp"

#include <CLI/CLI.hpp>

namespace linewood {
namespace {

constexpr const char* kExamples =
    "Examples:\n"
    "  linewood draft poles.shp visits.csv --out job.json\n"
    "  linewood draft delivery.gdb\n"
    "\n"
    "Guesses which layers are poles, spans, inspections and defects, what their columns are, in\n"
    "which units and codes, by names, types and values. Behind every line stands how sure it is;\n"
    "what could not be told is a comment and not filled in. Look at every line, then:\n"
    "  linewood job check job.json\n"
    "\n"
    "Exit codes: 0 done, 1 failed, 2 called wrongly.";

}  // namespace

CLI::App* DraftCommand::setup(CLI::App& program) {
    CLI::App* c =
        program.add_subcommand("draft", "A first job file for unknown layers, by guesses");
    c->footer(kExamples);
    c->add_option("input", inputs_, "Datasets")->type_name("IN")->required();
    c->add_option("--out", out_, "Where to write the job file; else to standard output")
        ->type_name("FILE");
    c->add_flag("--overwrite", overwrite_, "Replace FILE where it exists");
    talk_.add_to(*c);
    return c;
}

int DraftCommand::run() {
    std::vector<LayerProfile> profiles;
    for (const std::string& input : inputs_) {
        const Source source = Source::open(input);
        if (!out_.empty()) {
            refuse_to_replace("--out", out_, source.files());
        }
        for (const std::string& layer : source.layer_names()) {
            profiles.push_back(profile_layer(source, layer));
        }
    }
    const std::filesystem::path folder = out_.empty()
                                             ? std::filesystem::current_path()
                                             : std::filesystem::absolute(out_).parent_path();
    const std::string text = draft_text(draft_job(profiles), folder);
    if (out_.empty()) {
        std::fputs(text.c_str(), stdout);
    } else {
        write_text_file(out_, text, overwrite_);
    }
    return kExitDone;
}

}  // namespace linewood
