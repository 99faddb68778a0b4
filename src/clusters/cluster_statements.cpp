#include "src/clusters/cluster_statements.hpp"

#include <filesystem>

#include "assess/condition/condition_findings.hpp"
#include "src/clusters/cluster_scan.hpp"
#include "src/clusters/cluster_words.hpp"
#include "src/clusters/drawn_groups.hpp"
#include "src/job/cautions.hpp"
#include "src/pipeline/run_record.hpp"

namespace linewood {
namespace {

class Statements {
public:
    void say(std::string item, std::string value, std::string layer = "") {
        all_.push_back({std::move(item), std::move(layer), std::move(value)});
    }
    void say(std::string item, double value, const char* unit = "") {
        say(std::move(item), plain_number(value) + unit);
    }
    void count(std::string item, std::int64_t value, std::string layer = "") {
        say(std::move(item), std::to_string(value), std::move(layer));
    }
    std::vector<RunStatement> all_;
};

void add_inputs(const AssessedData& data, Statements& s) {
    for (const auto& file : data.source.files()) {
        s.say("input_file", input_file_text(file));
    }
    s.say("assessed_by", data.run.tool);
    s.say("criteria_name", data.run.criteria_name);
    s.say("criteria_sha256", data.run.criteria_sha256);
}

void add_settings(const AssessedData& data,
                  const Population& population,
                  const ClusterJob& job,
                  const ClusterResults& results,
                  Statements& s) {
    s.say("job_decayed", decayed_words(job));
    for (const Stratifier& by : job.strata) {
        s.say("job_strata", by.field + (by.band > 0.0 ? "/" + plain_number(by.band) : ""));
    }
    for (const std::string& name : population.strata) {
        s.say("stratum", name);
    }
    s.say("job_window_share", job.window_share * 100.0, " %");
    if (job.window_poles) {
        s.count("job_window_poles", static_cast<std::int64_t>(*job.window_poles));
    }
    s.say("job_radius", job.radius_m, " m");
    s.say("job_network_radius", job.network_radius_m, " m");
    s.say("job_min_decayed", "2");
    s.say("job_scan_model", job.strata.empty() ? "bernoulli" : "poisson");
    s.count("job_replicates", job.replicates);
    s.say("job_seed", std::to_string(job.seed));
    s.say("job_significance", job.significance);
    s.say("p_floor", p_words(1.0 / (1.0 + job.replicates)));
    s.say("job_neighbours",
          job.band_m ? "within " + plain_number(*job.band_m) + " m"
                     : std::to_string(job.neighbours) + " nearest, itself among them");
    s.say("job_neighbour_distance", job.neighbours_along_spans ? "along the spans" : "straight");
    s.say("job_false_discovery",
          job.discovery == FalseDiscovery::benjamini_hochberg ? "benjamini-hochberg"
                                                              : "benjamini-yekutieli");
    s.say("job_false_discovery_rate", job.discovery_rate);
    s.count("job_min_inspected", job.min_inspected);
    s.say("metric_plane", data.frame->name());
    if (job.cells != CellShape::none) {
        s.say("cells", job.cells == CellShape::hexagon ? "hexagon" : "square");
        s.say("cell_side", results.cell_side_m, " m");
    }
    if (!job.areas.empty()) {
        s.say("job_areas", std::filesystem::path{job.areas}.filename().string());
        s.count("areas_mended", results.areas_mended);
    }
    if (results.group_reach_m > 0.0) {
        s.say("group_reach", results.group_reach_m, " m");
        s.count("group_poles", static_cast<std::int64_t>(kGroupPoles));
    }
}

void add_counts(const AssessedData& data,
                const Population& population,
                const ClusterResults& results,
                Statements& s) {
    s.count("count_in", data.pole_rows, "poles");
    s.count("count_in", data.span_rows, "spans");
    s.count("count_poles", static_cast<std::int64_t>(population.pole_of.size()));
    s.count("count_inspected", static_cast<std::int64_t>(population.counted.size()));
    s.count("count_decayed", population.decayed_count);
    s.count("count_not_inspected", population.not_inspected);
    s.count("count_without_verdict", population.without_verdict);
    s.count("count_without_strength",
            population.without_strength + population.counted_without_strength);
    s.count("count_without_place", population.without_place);
    s.count("count_repeated_id", population.repeated);
    for (const ScanOutcome& scan : results.scans) {
        const std::string kind = std::string{"scan_"} + name_of(scan.kind);
        s.count(kind + "_centres", static_cast<std::int64_t>(scan.centres));
        s.count(kind + "_every", static_cast<std::int64_t>(scan.stride));
        s.count(kind + "_windows", static_cast<std::int64_t>(scan.windows));
        s.count(kind + "_clusters", static_cast<std::int64_t>(scan.clusters.size()));
    }
    if (results.middle_neighbourhood) {
        s.say("neighbourhood_median", *results.middle_neighbourhood, " poles");
    }
    s.count("poles_decay_tested", results.decay_tests.tested);
    if (results.decay_tests.tested > 0) {
        s.count("poles_hot", results.hot);
    }
    s.count("poles_strength_tested", results.strength_tests.tested);
    if (results.strength_tests.tested > 0) {
        s.count("poles_low_strength", results.weak);
        s.count("poles_high_strength", results.strong);
    }
    if (results.joins && results.joins->z) {
        s.say("join_count", results.joins->joins);
        s.say("join_count_expected", results.joins->expected);
        s.say("join_count_z", *results.joins->z);
        s.say("join_count_p", p_words(*results.joins->p));
    }
}

}  // namespace

std::vector<RunStatement> cluster_statements(const AssessedData& data,
                                             const Population& population,
                                             const ClusterJob& job,
                                             const ClusterResults& results) {
    Statements s;
    s.say("tool", "linewood " + std::string{tool_version()});
    add_inputs(data, s);
    add_settings(data, population, job, results, s);
    add_counts(data, population, results, s);
    for (std::string& line : tested_words(data, population, job, results)) {
        s.say("tested", std::move(line));
    }
    for (std::string& line : found_words(data, population, job, results)) {
        s.say("found", std::move(line));
    }
    for (std::string& line : limits_words(data, population, job, results)) {
        s.say("cannot_say", std::move(line));
    }
    for (const std::string_view caution : kCautions) {
        s.say("caution", std::string{caution});
    }
    return std::move(s.all_);
}

}  // namespace linewood
