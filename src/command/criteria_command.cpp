#include "src/command/criteria_command.hpp"

#include <array>
#include <cstdio>
#include <string_view>
#include <vector>

#include "src/job/embedded_text.hpp"
#include "src/job/job_error.hpp"
#include "src/job/nearest_word.hpp"
#include "src/job/shipped_profiles.hpp"
#include "src/report/criteria_report.hpp"

#include <CLI/CLI.hpp>

namespace linewood {
namespace {

constexpr const char* kExamples =
    "Actions:\n"
    "  list             the profiles that come with the program, a line each\n"
    "  show PROFILE     a whole profile: every setting, its meaning and its source\n"
    "  check FILE       whether a file is a profile, where it differs from general-practice,\n"
    "                   and what that means\n"
    "  schema           the JSON Schema of a profile\n"
    "\n"
    "PROFILE is the name of a shipped profile or a file, here and with --criteria everywhere.\n"
    "\n"
    "Examples:\n"
    "  linewood criteria list\n"
    "  linewood criteria show two-thirds\n"
    "  linewood criteria show two-thirds --format json > ours.json\n"
    "  linewood criteria check ours.json\n"
    "  linewood assess network.gpkg --criteria ours.json --out condition.gpkg\n"
    "\n"
    "A profile of your own says only what is different:\n"
    "  {\"name\": \"ours\", \"extends\": \"two-thirds\", \"limits\": {\"shell_min_in\": 2.5},\n"
    "   \"sources\": {\"shell_min_in\": \"our standard 12, 2024\"}}\n"
    "\n"
    "Exit codes: 0 done, 1 failed, 2 called wrongly, or no valid profile.";

constexpr std::array<std::string_view, 4> kActions{"list", "show", "check", "schema"};

std::vector<Profile> all_shipped() {
    std::vector<Profile> profiles;
    for (const std::string_view name : shipped_profile_names()) {
        profiles.push_back(*shipped_profile(name));
    }
    return profiles;
}

}  // namespace

CLI::App* CriteriaCommand::setup(CLI::App& program) {
    CLI::App* c =
        program.add_subcommand("criteria", "What poles are judged by: profiles of limits");
    c->footer(kExamples);
    c->add_option("action", action_, "list, show, check or schema")
        ->type_name("ACTION")
        ->required();
    c->add_option("profile", target_, "Of show and check: a shipped profile, or a file")
        ->type_name("PROFILE");
    c->add_option("--format", format_, "What is written to standard output: text or json")
        ->check(CLI::IsMember({"text", "json"}))
        ->capture_default_str();
    talk_.add_to(*c);
    return c;
}

void CriteriaCommand::must_have_target(bool wanted) const {
    if (wanted && target_.empty()) {
        throw JobError{"criteria " + action_ + ": name a profile, as in linewood criteria " +
                       action_ + (action_ == "show" ? " two-thirds" : " ours.json")};
    }
    if (!wanted && !target_.empty()) {
        throw JobError{"criteria " + action_ + ": \"" + target_ + "\" is one word too many"};
    }
}

std::string CriteriaCommand::list() const {
    const auto profiles = all_shipped();
    return format_ == "json" ? criteria_list_json(profiles) : criteria_list_text(profiles);
}

std::string CriteriaCommand::show() const {
    const Profile profile = read_criteria(target_);
    return format_ == "json" ? criteria_json(profile) : criteria_text(profile);
}

std::string CriteriaCommand::check() const {
    const Profile profile = read_criteria(target_);
    const Profile standard = *shipped_profile("general-practice");
    const CheckedCriteria checked{target_, profile, standard};
    return format_ == "json" ? criteria_check_json(checked) : criteria_check_text(checked);
}

int CriteriaCommand::run() {
    std::string out;
    must_have_target(action_ == "show" || action_ == "check");
    if (action_ == "list") {
        out = list();
    } else if (action_ == "show") {
        out = show();
    } else if (action_ == "check") {
        out = check();
    } else if (action_ == "schema") {
        out = embedded_text("criteria.schema.json");
    } else {
        throw JobError{"criteria: \"" + action_ + "\" is not one of list, show, check, schema" +
                       did_you_mean(action_, kActions)};
    }
    std::fputs(out.c_str(), stdout);
    return kExitDone;
}

}  // namespace linewood
