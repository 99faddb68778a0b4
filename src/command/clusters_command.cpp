#include "src/command/clusters_command.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <thread>

#include <fmt/format.h>

#include "geo/io/value_text.hpp"
#include "src/clusters/clusters_run.hpp"
#include "src/job/cautions.hpp"
#include "src/job/job_error.hpp"
#include "src/job/nearest_word.hpp"
#include "src/report/figures.hpp"
#include "src/report/terminal_monitor.hpp"

#include <CLI/CLI.hpp>

namespace linewood {
namespace {

constexpr const char* kExamples =
    "Examples:\n"
    "  linewood clusters condition.gpkg --out clusters.gpkg --page clusters.html\n"
    "  linewood clusters condition.gpkg --out clusters.gpkg --strata install_year/10,species\n"
    "  linewood clusters condition.gpkg --out clusters.gpkg --strength-below 75 --method network\n"
    "  linewood clusters condition.gpkg --out clusters --format geojson --areas "
    "districts.gpkg:districts\n"
    "\n"
    "Is decay worse here than elsewhere, or only where poles are many, old or looked at? IN is "
    "the\n"
    "output of linewood assess. Counted are inspected poles with a verdict; which of them are\n"
    "decayed is held against chance, within --strata where given. Writes clusters (polygons) with\n"
    "their members, what stands around each pole, rates by area, and groups for drawing; with\n"
    "--page a page to print. The same seed gives the same figures.\n"
    "\n"
    "Exit codes: 0 done, 1 failed (nothing is left behind), 2 called wrongly.";

constexpr std::array<std::pair<std::string_view, double>, 3> kPlaneUnits{
    {{"m", 1.0}, {"ft", 0.3048}, {"us-ft", 1200.0 / 3937.0}}};

template <typename Number>
CLI::Option* add_number(CLI::App& command,
                        const char* option,
                        Number& to,
                        double least,
                        double most,
                        const char* type,
                        const char* what) {
    CLI::Option* o = command.add_option(option, to, what)->type_name(type);
    allow_range(*o, least, most);
    return o;
}

Verdict verdict_named(const std::string& name) {
    std::vector<std::string_view> names;
    for (int i = 0; i < kVerdictCount; ++i) {
        const auto verdict = static_cast<Verdict>(i);
        if (verdict == Verdict::unassessed) {
            continue;  // of these it is not known
        }
        names.push_back(name_of(verdict));
        if (names.back() == name) {
            return verdict;
        }
    }
    throw JobError{"--decayed " + name + ": not one of replace, stub, treat, serviceable" +
                   did_you_mean(name, names)};
}

/// Refuses a page that would replace the layers, stand among them, or could not be written once they are.
void refuse_place_of_page(const ClusterJob& job) {
    namespace fs = std::filesystem;
    std::error_code error;
    const fs::path page = fs::weakly_canonical(fs::absolute(job.page), error);
    const fs::path out = fs::weakly_canonical(fs::absolute(job.out), error);
    const auto parts = std::mismatch(out.begin(), out.end(), page.begin(), page.end());
    if (parts.first == out.end()) {
        throw JobError{"--page " + job.page.string() +
                       " is what --out names, or inside it; name a place beside it"};
    }
    if (fs::is_directory(page, error)) {
        throw JobError{"--page " + job.page.string() + " is a folder; name a file in it"};
    }
    if (!fs::is_directory(page.parent_path(), error)) {
        throw JobError{"--page " + job.page.string() + ": there is no folder " +
                       page.parent_path().string() + "; make it first"};
    }
}

/// What is wrong with a seed; empty = nothing.
std::string seed_fault(const std::string& typed) {
    std::uint64_t seed = 0;
    const char* const end = typed.data() + typed.size();
    const auto read = std::from_chars(typed.data(), end, seed);
    return read.ec == std::errc{} && read.ptr == end
               ? std::string{}
               : "\"" + typed + "\" is not a whole number from 0 to 18446744073709551615";
}

}  // namespace

Stratifier read_stratifier(const std::string& typed) {
    const auto slash = typed.rfind('/');
    Stratifier by{typed.substr(0, slash), 0.0};
    if (slash == std::string::npos) {
        constexpr double kYears = 10.0;
        by.band = by.field == "install_year" ? kYears : 0.0;
        return by;
    }
    const auto width = parse_number(std::string_view{typed}.substr(slash + 1));
    if (by.field.empty() || !width.value || *width.value <= 0.0) {
        throw JobError{"--strata " + typed +
                       ": write a column, or a column of numbers and the width of its bands: "
                       "install_year/10"};
    }
    by.band = *width.value;
    return by;
}

CLI::App* ClustersCommand::setup(CLI::App& program) {
    CLI::App* c = program.add_subcommand("clusters", "Where decay clusters, and where it does not");
    c->footer(kExamples);
    c->add_option("input", places_.input, "Dataset that linewood assess wrote")
        ->type_name("IN")
        ->required();
    places_.add_output_to(*c);
    c->add_option("--page", page_, "Also write a page to read and print")->type_name("FILE.html");
    add_tests(*c);
    add_windows(*c);
    add_neighbours(*c);
    add_areas(*c);
    add_number(*c, "--threads", threads_, 1.0, 256.0, "N", "Threads to use (default: all cores)");
    talk_.add_to(*c);
    return c;
}

void ClustersCommand::add_tests(CLI::App& c) {
    c.add_option("--decayed", decayed_, "Verdicts that count as decayed (default replace,stub)")
        ->type_name("VERDICTS")
        ->delimiter(',')
        ->allow_extra_args(false);
    add_number(c,
               "--strength-below",
               strength_below_,
               0.0,
               100.0,
               "PCT",
               "Instead: poles with less remaining strength than this");
    c.add_option("--strata",
                 strata_,
                 "Columns whose poles are alike, with the width of bands: install_year/10,species")
        ->type_name("COLUMN[/WIDTH]")
        ->delimiter(',')
        ->allow_extra_args(false);
    add_number(c,
               "--significance",
               defaults_.significance,
               1e-6,
               0.5,
               "P",
               "Clusters up to this p are marked significant (default 0.05)");
    add_number(c,
               "--replicates",
               defaults_.replicates,
               19.0,
               99999.0,
               "N",
               "Random labellings; p cannot be below 1/(N+1) (default 999)");
    c.add_option("--seed", seed_, "Of the random labellings (default 1)")
        ->check(CLI::Validator{seed_fault, "0 to 18446744073709551615"})
        ->type_name("N");
}

void ClustersCommand::add_windows(CLI::App& c) {
    const char* const group = "Clusters";
    c.add_option("--method", method_, "straight, network (along the spans), both or none")
        ->check(CLI::IsMember({"straight", "network", "both", "none"}))
        ->capture_default_str()
        ->group(group);
    add_number(c,
               "--window",
               window_pct_,
               0.001,
               50.0,
               "PCT",
               "Widest window, share of the inspected poles (default 10)")
        ->group(group);
    add_number(c,
               "--window-poles",
               window_poles_,
               2.0,
               1e9,
               "N",
               "Widest window, poles (default: no limit)")
        ->group(group);
    add_number(c,
               "--radius",
               defaults_.radius_m,
               1.0,
               1e6,
               "M",
               "Widest window in a straight line, m (default 3000)")
        ->group(group);
    add_number(c,
               "--network-radius",
               defaults_.network_radius_m,
               1.0,
               1e6,
               "M",
               "Widest window along the spans, m (default 5000)")
        ->group(group);
}

void ClustersCommand::add_neighbours(CLI::App& c) {
    const char* const group = "Neighbours of a pole";
    add_number(c,
               "--neighbours",
               defaults_.neighbours,
               2.0,
               1000.0,
               "N",
               "So many nearest, the pole itself among them (default 12)")
        ->group(group);
    add_number(c, "--band", band_m_, 0.1, 1e6, "M", "Instead: all within this distance")
        ->group(group);
    c.add_option(
         "--neighbour-distance", neighbour_distance_, "straight, or network: along the spans")
        ->check(CLI::IsMember({"straight", "network"}))
        ->capture_default_str()
        ->group(group);
    c.add_option("--correction",
                 correction_,
                 "For many tests: bh (Benjamini, Hochberg) or by (Benjamini, Yekutieli)")
        ->check(CLI::IsMember({"bh", "by"}))
        ->capture_default_str()
        ->group(group);
    add_number(c,
               "--false-discovery",
               defaults_.discovery_rate,
               1e-6,
               0.5,
               "Q",
               "Share of false discoveries accepted (default 0.05)")
        ->group(group);
}

void ClustersCommand::add_areas(CLI::App& c) {
    const char* const group = "Rates by area";
    c.add_option("--cells", cells_, "hexagon, square or none")
        ->check(CLI::IsMember({"hexagon", "square", "none"}))
        ->capture_default_str()
        ->group(group);
    add_number(c,
               "--cell-side",
               cell_side_m_,
               1.0,
               1e6,
               "M",
               "Side of a cell, m (default: of 250, 500, 1000 ... the first with 30 poles a cell)")
        ->group(group);
    c.add_option("--areas", defaults_.areas, "Polygons of your own")
        ->type_name("DATASET[:LAYER]")
        ->group(group);
    c.add_option("--areas-name", defaults_.areas_name, "Their column of names")
        ->type_name("COLUMN")
        ->group(group);
    add_number(c,
               "--min-inspected",
               defaults_.min_inspected,
               1.0,
               1e6,
               "N",
               "A rate on fewer inspected poles is too thin to say (default 20)")
        ->group(group);
    c.add_option("--metric-crs",
                 defaults_.metric_crs,
                 "Measure in this system (EPSG:32610) instead of an equal-area one")
        ->type_name("CRS")
        ->group(group);
    c.add_option(
         "--plane-unit", plane_unit_, "Unit of layers without a coordinate system: m, ft or us-ft")
        ->check(CLI::IsMember({"m", "ft", "us-ft"}))
        ->group(group);
}

void ClustersCommand::fill_decayed(ClusterJob& job) const {
    if (strength_below_ >= 0.0) {
        if (!decayed_.empty()) {
            throw JobError{"--decayed and --strength-below both say what is decayed; give one"};
        }
        job.strength_below_pct = strength_below_;
    }
    if (!decayed_.empty()) {
        job.decayed.clear();
        for (const std::string& name : decayed_) {
            const Verdict verdict = verdict_named(name);
            if (std::find(job.decayed.begin(), job.decayed.end(), verdict) == job.decayed.end()) {
                job.decayed.push_back(verdict);
            }
        }
        std::sort(job.decayed.begin(), job.decayed.end());
    }
    for (const std::string& typed : strata_) {
        job.strata.push_back(read_stratifier(typed));
    }
}

void ClustersCommand::fill_areas(ClusterJob& job) const {
    job.cells = cells_ == "hexagon"  ? CellShape::hexagon
                : cells_ == "square" ? CellShape::square
                                     : CellShape::none;
    if (cell_side_m_ > 0.0) {
        job.cell_side_m = cell_side_m_;
    }
    if (!job.areas_name.empty() && job.areas.empty()) {
        throw JobError{"--areas-name is of polygons; name them with --areas DATASET[:LAYER]"};
    }
    for (const auto& [name, metres] : kPlaneUnits) {
        if (name == plane_unit_) {
            job.plane_metres_per_unit = metres;
        }
    }
}

ClusterJob ClustersCommand::make_job() const {
    ClusterJob job = defaults_;
    job.input = places_.input;
    job.out = places_.out;
    job.format = places_.checked_format();
    job.overwrite = places_.overwrite;
    job.page = page_;
    if (!seed_.empty()) {
        job.seed = std::strtoull(seed_.c_str(), nullptr, 10);
    }
    fill_decayed(job);
    job.straight = method_ == "straight" || method_ == "both";
    job.network = method_ == "network" || method_ == "both";
    job.window_share = window_pct_ / 100.0;
    if (window_poles_ > 0.0) {
        job.window_poles = static_cast<std::size_t>(window_poles_);
    }
    if (band_m_ > 0.0) {
        job.band_m = band_m_;
    }
    job.neighbours_along_spans = neighbour_distance_ == "network";
    job.discovery = correction_ == "bh" ? FalseDiscovery::benjamini_hochberg
                                        : FalseDiscovery::benjamini_yekutieli;
    fill_areas(job);
    job.threads = static_cast<unsigned>(
        threads_ != 0 ? threads_ : std::max(1U, std::thread::hardware_concurrency()));
    return job;
}

void ClustersCommand::print(const ClusterJob& job, const ClusterSummary& summary, const Log& log) {
    if (log.form() == LogForm::json) {
        std::string lines;
        for (const std::string& line : summary.lines) {
            lines += (lines.empty() ? "" : ",") + json_string(line);
        }
        std::string rows;
        for (const LayerSummary& l : summary.output.layers) {
            rows += fmt::format("{}{}:{}", rows.empty() ? "" : ",", json_string(l.name), l.rows);
        }
        log.event("done",
                  fmt::format(
                      R"("output":{},"summary":[{}],"findings":{{{}}},"notes":[{}],"rows":{{{}}})",
                      json_string(job.out.string()),
                      lines,
                      findings_json(summary.findings),
                      notes_json(summary.output.notes),
                      rows));
        return;
    }
    if (log.quiet()) {
        return;
    }
    std::string out;
    for (const std::string& line : summary.lines) {
        out += line + "\n";
    }
    out += findings_text(summary.findings, 0);
    out += notes_text(summary.output.notes);
    out += fmt::format(
        "written: {}{} (clusters, cluster_members, pole_scores, rates, groups, findings; run: "
        "every "
        "setting)\n",
        job.out.string(),
        job.page.empty() ? "" : ", " + job.page.string());
    for (const std::string_view caution : kCautions) {
        out += fmt::format("caution: {}\n", caution);
    }
    std::fputs(out.c_str(), stdout);
}

int ClustersCommand::run() {
    const Log log = talk_.make_log();
    const ClusterJob job = make_job();
    if (!job.page.empty()) {
        refuse_place_of_page(job);
    }
    catch_interrupts();
    TerminalMonitor monitor{log};
    const ClusterSummary summary = run_clusters(job, monitor);
    print(job, summary, log);
    return kExitDone;
}

}  // namespace linewood
