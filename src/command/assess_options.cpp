#include "src/command/assess_options.hpp"

#include <cmath>
#include <ctime>
#include <filesystem>

#include "src/command/network_options.hpp"
#include "src/command/shared_options.hpp"
#include "src/job/job_error.hpp"
#include "src/job/place_clash.hpp"
#include "src/job/profile.hpp"
#include "src/job/wood_tables_json.hpp"

#include <CLI/CLI.hpp>

namespace linewood {

Date day_of_run(const std::string& typed) {
    if (!typed.empty()) {
        const auto date = Date::parse(typed);
        if (!date) {
            throw JobError{"--today " + typed + ": a day is wanted, as YYYY-MM-DD"};
        }
        return *date;
    }
    const std::time_t now = std::time(nullptr);
    std::tm local{};
    ::localtime_r(&now, &local);
    return Date::from_ymd(local.tm_year + 1900, local.tm_mon + 1, local.tm_mday).value_or(Date{});
}

void AssessOptions::add_to(CLI::App& command) {
    const auto layer = [&](const char* option, std::string& to, const char* what) {
        command.add_option(option, to, what)->type_name("DATASET[:LAYER]")->group("Layers");
    };
    layer("--inspections", inspections, "Inspections, instead of IN's");
    layer("--defects", defects, "Defects, instead of IN's");
    command.add_option("--units", units, "Of what is added: us (in, ft) or si (mm, m)")
        ->check(CLI::IsMember({"us", "si"}))
        ->capture_default_str();
    add_criteria_option(
        command, criteria, "Criteria profile, shipped or a file, instead of general-practice");
    command.add_option("--wood-tables", wood_tables, "Own species and pole dimensions (JSON)")
        ->type_name("FILE");
    CLI::Option* degrees = command.add_option(
        "--declination",
        declination,
        "Of magnetic azimuths, degrees, east positive; wins over the magnetic model");
    allow_range(*degrees->type_name("DEG"), -180.0, 180.0);
    command
        .add_option("--today",
                    today,
                    "Day of the run: later dates are doubted (default: the machine's date)")
        ->type_name("YYYY-MM-DD");
}

void AssessOptions::fill(AssessJob& job, const std::function<void(NetworkJob&)>& network) const {
    job.units = units == "si" ? UnitSystem::si : UnitSystem::us;
    Profile profile = read_criteria(criteria);
    job.criteria = profile.criteria;
    job.network = profile.network;
    network(job);
    refuse_to_replace("--out", job.out, files_read(criteria, wood_tables));
    profile.network = job.network;
    job.criteria_json = profile_to_json(profile);
    job.inputs.layers[2] = if_given(inspections);
    job.inputs.layers[3] = if_given(defects);
    if (std::isfinite(declination)) {
        job.declination = Angle::degrees(declination);
    }
    job.today = day_of_run(today);
    job.tables = WoodTables::built_in();
    if (!wood_tables.empty()) {
        job.tables = read_from_file(wood_tables, [&](const std::string& text) {
            return read_wood_tables(text, job.tables);
        });
        job.tables_name = std::filesystem::path{wood_tables}.filename().string();
    }
}

}  // namespace linewood
