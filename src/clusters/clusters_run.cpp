#include "src/clusters/clusters_run.hpp"

#include <algorithm>
#include <fstream>
#include <optional>
#include <tuple>

#include "geo/io/data_error.hpp"
#include "geo/io/output_place.hpp"
#include "src/clusters/area_rates.hpp"
#include "src/clusters/cluster_findings.hpp"
#include "src/clusters/cluster_page.hpp"
#include "src/clusters/cluster_scan.hpp"
#include "src/clusters/cluster_statements.hpp"
#include "src/clusters/cluster_words.hpp"
#include "src/clusters/cluster_writer.hpp"
#include "src/clusters/drawn_groups.hpp"
#include "src/clusters/pole_scores.hpp"
#include "src/job/job_error.hpp"
#include "src/job/place_clash.hpp"

namespace linewood {
namespace {

void refuse_place_of_input(const ClusterJob& job, const AssessedData& data) {
    std::vector<std::filesystem::path> read = data.source.files();
    if (!job.areas.empty()) {
        read.emplace_back(job.areas.substr(0, job.areas.rfind(':')));
        read.emplace_back(job.areas);
    }
    for (const std::filesystem::path& file : read) {
        if (replaces(job.out, file)) {
            throw JobError{"--out " + job.out.string() +
                           " is where the input is, which is never changed; name another place"};
        }
    }
    if (!job.page.empty()) {
        refuse_to_replace("--page", job.page, read);
    }
}

std::string nothing_to_test(const Population& population) {
    if (population.counted.empty()) {
        return "Nothing was tested: no pole was inspected and given a verdict and a place.";
    }
    if (population.counted.size() == 1) {
        return "Nothing was tested: there is one inspected pole only.";
    }
    if (population.decayed_count == 0) {
        return "Nothing was tested: none of the inspected poles is decayed.";
    }
    if (population.decayed_count == population.counted.size()) {
        return "Nothing was tested: all of the inspected poles are decayed, here and elsewhere.";
    }
    if (!population.can_vary) {
        return "Nothing was tested: in every stratum all poles are decayed or none is, so that "
               "chance "
               "cannot deal them otherwise; take wider bands or fewer columns with --strata.";
    }
    return {};
}

ClusterResults search(const AssessedData& data,
                      const Population& population,
                      const ClusterJob& job,
                      RunMonitor& monitor) {
    ClusterResults results;
    results.strength_limit_pct = strength_limit(data, job);
    results.nothing_to_test = nothing_to_test(population);
    if (results.nothing_to_test.empty()) {
        if (job.straight) {
            results.scans.push_back(
                scan_population(data, population, job, WindowKind::straight, monitor));
        }
        if (job.network && !population.edges.empty()) {
            results.scans.push_back(
                scan_population(data, population, job, WindowKind::network, monitor));
        }
    }
    monitor.stage("score poles and areas", -1);
    score_poles(data, population, job, results);
    monitor.advance(0);
    if (results.nothing_to_test.empty()) {
        results.joins = count_joins(population);
    }
    draw_groups(data, population, results);
    monitor.advance(0);
    rate_areas(data, population, job, monitor, results);
    return results;
}

/// In an order that does not depend on that of the layers.
void write_findings(Findings& findings, FindingLog& log) {
    const auto key = [](const Finding& f) {
        return std::tie(f.layer, f.code, f.feature, f.field, f.value, f.message);
    };
    std::stable_sort(findings.begin(), findings.end(), [&](const Finding& a, const Finding& b) {
        return key(a) < key(b);
    });
    log.write(findings);
}

void note_strata(const Population& population, const ClusterJob& job, FindingLog& log) {
    if (population.alone > 0) {
        std::string fields;
        for (const Stratifier& by : job.strata) {
            fields += (fields.empty() ? "" : ",") + by.field;
        }
        log.write(make_finding(finding::kStratumOfOne,
                               InputLayer::poles,
                               -1,
                               fields,
                               std::to_string(population.alone)));
    }
}

/// Limits: Getis & Ord's caution below, own choice above.
void note_neighbourhoods(const ClusterResults& results, FindingLog& log) {
    constexpr double kSmall = 8.0;
    constexpr double kLarge = 100.0;
    const double middle = results.middle_neighbourhood.value_or(kSmall);
    if (middle < kSmall || middle > kLarge) {
        log.write(make_finding(
            middle < kSmall ? finding::kNeighbourhoodsSmall : finding::kNeighbourhoodsLarge,
            InputLayer::poles,
            -1,
            "",
            plain_number(middle)));
    }
}

/// Writes the page under its hidden name.
void write_page(const std::string& page, const OutputPlace& place) {
    std::ofstream out{place.work(), std::ios::binary | std::ios::trunc};
    out.write(page.data(), static_cast<std::streamsize>(page.size()));
    out.close();
    if (!out) {
        throw DataError{place.target().string(),
                        "",
                        "the page cannot be written; check the folder and the space in it"};
    }
}

}  // namespace

ClusterSummary run_clusters(const ClusterJob& job, RunMonitor& monitor) {
    Findings findings;
    AssessedReading wanted;
    wanted.attributes = strata_columns(job);
    wanted.plane_metres_per_unit = job.plane_metres_per_unit;
    wanted.metric_crs = job.metric_crs;
    const AssessedData data = read_assessed(job.input, wanted, findings, monitor);
    refuse_place_of_input(job, data);
    std::vector<std::string> notes;
    std::optional<OutputPlace> page;
    if (!job.page.empty()) {
        page.emplace(job.page, OutputPlace::Form::file, job.overwrite, notes);
    }
    OutputDataset dataset =
        OutputDataset::create(job.out, job.format, OutputOptions{.overwrite = job.overwrite});
    const ClusterLayers out = lay_out_clusters(dataset, data);
    FindingLog log{out.findings, monitor};
    write_findings(findings, log);
    const Population population = make_population(data, job);
    note_strata(population, job, log);
    const ClusterResults results = search(data, population, job, monitor);
    note_neighbourhoods(results, log);
    write_doubts(results.area_doubts, out.findings);
    write_clusters(data, population, job, results, out, monitor);
    write_statements(cluster_statements(data, population, job, results), out.run);

    ClusterSummary summary;
    summary.lines = tested_words(data, population, job, results);
    summary.lines.resize(1);
    for (std::string& line : found_words(data, population, job, results)) {
        summary.lines.push_back(std::move(line));
    }
    for (std::string& line : layer_warnings(results.area_doubts)) {
        summary.lines.push_back(std::move(line));
    }
    if (page) {
        write_page(cluster_page(data, population, job, results), *page);
    }
    summary.findings = log.counts();
    for (const LayerDoubt& d : results.area_doubts) {
        FindingLog::Count& count = summary.findings[std::string{d.finding.code}];
        count.severity = d.finding.severity;
        ++count.count;
    }
    monitor.stage("index and check", -1);
    monitor.advance(0);
    summary.output = dataset.finish();
    if (page) {
        page->publish();
    }
    monitor.finish();
    summary.lines.insert(summary.lines.end(), notes.begin(), notes.end());
    return summary;
}

}  // namespace linewood
