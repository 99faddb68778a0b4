#include "src/command/finding_command.hpp"

#include <cstdio>
#include <string_view>
#include <vector>

#include "src/job/job_error.hpp"
#include "src/job/nearest_word.hpp"
#include "src/report/finding_pages.hpp"

#include <CLI/CLI.hpp>

namespace linewood {
namespace {

constexpr const char* kExamples =
    "Examples:\n"
    "  linewood finding                       every code, a line each\n"
    "  linewood finding pole_unknown          what it means, why it matters, how to mend it\n"
    "  linewood finding --format markdown > findings.md\n"
    "\n"
    "The codes are those in the layer findings, in the summary and in the messages of --log json.\n"
    "\n"
    "Exit codes: 0 done, 1 failed, 2 called wrongly, or no such code.";

std::vector<FindingPage> pages_asked_for(const std::string& code) {
    std::vector<FindingPage> pages = finding_pages();
    if (code.empty()) {
        return pages;
    }
    if (const FindingPage* page = find_page(pages, code)) {
        return {*page};
    }
    std::vector<std::string_view> codes;
    codes.reserve(pages.size());
    for (const FindingPage& page : pages) {
        codes.push_back(page.code);
    }
    throw JobError{"finding: \"" + code + "\" is the code of no finding" +
                   did_you_mean(code, codes) + "; linewood finding lists them"};
}

}  // namespace

CLI::App* FindingCommand::setup(CLI::App& program) {
    CLI::App* c = program.add_subcommand("finding", "What findings mean, and how to mend them");
    c->footer(kExamples);
    c->add_option("code", code_, "Code of a finding; without one all are listed")
        ->type_name("CODE");
    c->add_option("--format", format_, "What is written to standard output: text, markdown, json")
        ->check(CLI::IsMember({"text", "markdown", "json"}))
        ->capture_default_str();
    talk_.add_to(*c);
    return c;
}

int FindingCommand::run() {
    const std::vector<FindingPage> pages = pages_asked_for(code_);
    std::string out;
    if (format_ == "json") {
        out = finding_pages_json(pages);
    } else if (format_ == "markdown") {
        out = finding_pages_markdown(pages);
    } else {
        out = code_.empty() ? finding_list_text(pages) : finding_page_text(pages.front());
    }
    std::fputs(out.c_str(), stdout);
    return kExitDone;
}

}  // namespace linewood
