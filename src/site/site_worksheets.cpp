#include "src/site/site_worksheets.hpp"

#include <algorithm>
#include <set>
#include <unordered_map>

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "geo/io/value_text.hpp"
#include "src/job/job_error.hpp"
#include "src/job/profile.hpp"
#include "src/pipeline/row_decoder.hpp"
#include "src/pipeline/worksheet_run.hpp"
#include "src/report/figures.hpp"
#include "src/site/site_text.hpp"

namespace linewood {
namespace {

constexpr const char* kFolder = "worksheets";

/// Poles that are to have a worksheet, the worst first, each id once.
std::vector<const PoleKey*> wanted_poles(const SiteJob& job, const SitePoles& poles) {
    std::vector<const PoleKey*> wanted;
    std::set<std::string> ids;
    for (const PoleKey& key : poles.keys) {
        const std::string id{trimmed(key.pole_id)};
        if (!id.empty() && ids.insert(id).second &&
            (job.worksheets == SiteWorksheets::all || key.needs_work)) {
            wanted.push_back(&key);
        }
    }
    std::sort(wanted.begin(), wanted.end(), [](const PoleKey* a, const PoleKey* b) {
        return is_worse(*a, *b);
    });
    return wanted;
}

/// How the dataset was assessed, as its run layer says.
WorksheetJob sheets_job(const SiteJob& job, const Provenance& run) {
    WorksheetJob sheets;
    sheets.tables = WoodTables::built_in();
    if (job.read_as) {
        static_cast<AssessJob&>(sheets) = *job.read_as;
    }
    sheets.inputs.dataset = job.input;
    sheets.formats = {SheetFormat::html, SheetFormat::svg};
    sheets.worst_section_only = true;
    sheets.threads = job.threads;
    const Profile profile = read_profile(statement_of(run, "criteria_profile"));
    sheets.criteria = profile.criteria;
    sheets.network = profile.network;
    sheets.criteria_json = profile_to_json(profile);
    sheets.units = statement_of(run, "job_units") == "si" ? UnitSystem::si : UnitSystem::us;
    sheets.line_where = statement_of(run, "job_line_where (spans)");
    const std::string declination = statement_of(run, "job_declination (defects)");
    const auto blank = declination.find(" deg");
    if (const auto degrees = parse_number(declination.substr(0, blank));
        blank != std::string::npos && degrees.value) {
        sheets.declination = Angle::degrees(*degrees.value);
    }
    sheets.today = Date::parse(statement_of(run, "job_today"));
    return sheets;
}

/// Were the columns of a layer read under other names, or only some of its rows?
bool is_mapped(const Provenance& run) {
    return std::any_of(run.statements.begin(), run.statements.end(), [](const auto& statement) {
        return statement.first.rfind("input_field", 0) == 0 ||
               statement.first.rfind("input_where", 0) == 0;
    });
}

/// Why the dataset alone gives no worksheets, and what to do; empty where it does.
std::string obstacle(const WorksheetJob& sheets, const Provenance& run) {
    const std::string file = statement_of(run, "job_file");
    if (!file.empty() && sheets.job_file.empty() && is_mapped(run)) {
        return "There are no worksheets here: the layers were read through a job file (" +
               file.substr(0, file.find(", sha256")) + "). Name it with --job, and publish again.";
    }
    const std::string tables = statement_of(run, "job_wood_tables");
    if (!tables.empty() && tables != sheets.tables_name) {
        return "There are no worksheets here: the poles were assessed with the wood tables " +
               tables + ", not " + sheets.tables_name +
               (tables == "built-in" ? ". Leave --wood-tables away"
                                     : ". Name them with --wood-tables") +
               ", and publish again.";
    }
    return {};
}

void compare_job_file(const WorksheetJob& sheets, const Provenance& run, SiteSheets& to) {
    if (sheets.job_file.empty()) {
        return;
    }
    const std::string recorded = statement_of(run, "job_file");
    if (recorded.empty()) {
        throw JobError{"--job: the dataset was assessed without a job file; leave it away"};
    }
    if (recorded.find(sheets.job_sha256) == std::string::npos) {
        to.notes.push_back("The job file " + sheets.job_file +
                           " is not, or no longer, the one that the dataset was assessed by: the "
                           "worksheets may differ from it.");
    }
}

/// Takes over where the worksheets are, and counts those that come to another verdict than the dataset.
std::size_t take_index(const std::filesystem::path& index,
                       const std::vector<const PoleKey*>& wanted,
                       SiteSheets& sheets) {
    std::unordered_map<std::string, const PoleKey*> by_id;
    for (const PoleKey* key : wanted) {
        by_id.emplace(std::string{trimmed(key->pole_id)}, key);
    }
    std::size_t differing = 0;
    const auto list = nlohmann::json::parse(file_text(index));
    for (const auto& entry : list.at("worksheets")) {
        const PoleKey& key = *by_id.at(entry.at("pole_id").get<std::string>());
        differing += entry.at("verdict") == key.verdict ? 0U : 1U;
        for (const auto& name : entry.at("files")) {
            const std::string file = std::string{kFolder} + "/" + name.get<std::string>();
            const bool drawing = std::filesystem::path{file}.extension() == ".svg";
            (drawing ? sheets.sections : sheets.worksheets)[key.row] = file;
        }
    }
    return differing;
}

}  // namespace

SiteSheets write_site_worksheets(const SiteJob& job,
                                 const Provenance& run,
                                 const SitePoles& poles,
                                 const SiteFolder& site,
                                 RunMonitor& monitor) {
    SiteSheets sheets;
    if (job.worksheets == SiteWorksheets::none) {
        return sheets;
    }
    WorksheetJob wish = sheets_job(job, run);
    compare_job_file(wish, run, sheets);
    if (std::string why = obstacle(wish, run); !why.empty()) {
        sheets.notes.push_back(std::move(why));
        return sheets;
    }
    std::vector<const PoleKey*> wanted = wanted_poles(job, poles);
    const std::size_t all =
        job.worksheets == SiteWorksheets::all ? poles.counts.poles : poles.counts.needing_work;
    wanted.resize(std::min(wanted.size(), job.worksheet_limit));
    if (wanted.empty()) {
        return sheets;
    }
    for (const PoleKey* key : wanted) {
        wish.pole_ids.push_back(key->pole_id);
    }
    wish.out = site.work() / kFolder;
    run_worksheets(wish, monitor);
    const std::size_t differing = take_index(wish.out / "index.json", wanted, sheets);
    if (differing > 0) {
        sheets.notes.push_back(fmt::format(
            "{} worksheets come to another verdict than the dataset says: assess it again with the "
            "settings of today, and publish it then.",
            differing));
    }
    sheets.unwritten = all - std::min(all, sheets.worksheets.size());
    if (sheets.unwritten > 0) {
        sheets.notes.push_back(
            fmt::format("{} of {} {} have a worksheet here, the worst first; {} do not.",
                        sheets.worksheets.size(),
                        grouped(static_cast<std::int64_t>(all)),
                        job.worksheets == SiteWorksheets::all ? "poles" : "poles that need work",
                        grouped(static_cast<std::int64_t>(sheets.unwritten))));
    }
    return sheets;
}

}  // namespace linewood
