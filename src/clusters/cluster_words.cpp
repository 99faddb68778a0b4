#include "src/clusters/cluster_words.hpp"

#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "assess/condition/condition_findings.hpp"
#include "src/clusters/cluster_scan.hpp"
#include "src/report/figures.hpp"

namespace linewood {
namespace {

std::string size_words(std::size_t n, std::string_view one, std::string_view many) {
    return count_words(static_cast<std::int64_t>(n), one, many);
}

std::string strata_words(const ClusterJob& job) {
    std::string out;
    for (const Stratifier& by : job.strata) {
        out += (out.empty() ? "" : ", ") + by.field;
        if (by.band > 0.0) {
            out += " in bands of " + plain_number(by.band);
        }
    }
    return out;
}

std::string window_words(const ClusterJob& job, const ScanOutcome& scan) {
    const bool straight = scan.kind == WindowKind::straight;
    std::string out = fmt::format(
        "{}: every circle around a pole of up to {} % of the inspected poles{} and {} m{}; {} "
        "windows around {}, against {} random labellings (seed {}). p cannot be below {}.",
        straight ? "Clusters in a straight line" : "Clusters along the spans",
        plain_number(job.window_share * 100.0),
        job.window_poles ? ", " + std::to_string(*job.window_poles) + " poles" : "",
        plain_number(straight ? job.radius_m : job.network_radius_m),
        straight ? "" : " by the way along the spans",
        grouped(static_cast<std::int64_t>(scan.windows)),
        size_words(scan.centres, "centre", "centres"),
        job.replicates,
        job.seed,
        p_words(1.0 / (1.0 + job.replicates)));
    if (scan.stride > 1) {
        out += fmt::format(" To keep the cost down every {}th pole was a centre.", scan.stride);
    }
    return out;
}

std::size_t significant_of(const ScanOutcome& scan) {
    std::size_t n = 0;
    for (const FoundCluster& c : scan.clusters) {
        n += c.significant ? 1U : 0U;
    }
    return n;
}

std::string cluster_words(const FoundCluster& c, const AssessedData& data, const Population& p) {
    return fmt::format("{} near {}: {} of {} inspected poles decayed ({}), {}, p = {}.",
                       c.name,
                       data.poles.ids.id(p.pole(c.centre)),
                       c.figures.decayed,
                       c.figures.inspected,
                       percent_words(c.figures.rate),
                       c.times_elsewhere
                           ? fmt::format("{:.1f} times the rate elsewhere", *c.times_elsewhere)
                           : std::string{"none elsewhere"},
                       p_words(c.p));
}

void add_joins(const ClusterResults& results, std::vector<std::string>& out) {
    if (!results.joins || !results.joins->p) {
        return;
    }
    const JoinCount& j = *results.joins;
    out.push_back(
        fmt::format("Over the whole network {} join two decayed poles; {:.1f} by chance (z = "
                    "{:.1f}, p = {}){}.",
                    size_words(static_cast<std::size_t>(j.joins), "span", "spans"),
                    j.expected,
                    *j.z,
                    p_words(*j.p),
                    *j.p <= 0.05 ? ": decayed poles adjoin decayed poles more than chance has it"
                                 : ": no more than chance has it"));
}

/// `; 3 not tested: ...`, or why none was; empty where all were tested.
/// @param few what too few are
std::string untested_words(const SpotTests& tests, const std::string& few) {
    std::string why;
    const auto add = [&why](std::uint32_t poles, const std::string& words) {
        if (poles > 0) {
            why += (why.empty() ? "" : ", ") + grouped(poles) + " " + words;
        }
    };
    add(tests.without_value, "without a strength");
    add(tests.too_few, "with under " + few);
    add(tests.alike, "where all around are alike");
    if (why.empty() || tests.tested == 0) {
        return why;
    }
    return "; " + grouped(tests.untested()) + " not tested: " + why;
}

constexpr const char* kWiden = "; look at more poles with --neighbours or a wider --band";

std::string hot_words(const ClusterResults& results) {
    const SpotTests& tests = results.decay_tests;
    const std::string untested =
        untested_words(tests, fmt::format("{} poles to look at", HotSpotSettings{}.min_poles_p));
    if (tests.tested == 0) {
        return "Whether more decayed poles than chance has it stand around a pole was tested of "
               "none: " +
               untested + (tests.too_few > 0 ? kWiden : "") + ".";
    }
    return fmt::format("More decayed poles than chance has it stand around {} of {} tested{}.",
                       grouped(results.hot),
                       size_words(tests.tested, "pole", "poles"),
                       untested);
}

std::string strength_words(const ClusterResults& results) {
    const SpotTests& tests = results.strength_tests;
    const std::string untested =
        untested_words(tests,
                       fmt::format("{} poles whose strengths chance could deal otherwise",
                                   GetisOrdSettings{}.min_poles));
    if (tests.tested == 0) {
        return "Whether strength is low or high around a pole was tested of none: " + untested +
               (tests.too_few > 0 ? kWiden : "") + ".";
    }
    return fmt::format("Strength is low around {} and high around {} of {} tested{}.",
                       grouped(results.weak),
                       grouped(results.strong),
                       size_words(tests.tested, "pole", "poles"),
                       untested);
}

}  // namespace

std::string decayed_words(const ClusterJob& job) {
    if (job.strength_below_pct) {
        return "remaining strength under " + plain_number(*job.strength_below_pct) + " %";
    }
    std::string out = "verdict ";
    for (std::size_t i = 0; i < job.decayed.size(); ++i) {
        out += (i == 0 ? "" : " or ") + std::string{name_of(job.decayed[i])};
    }
    return out;
}

std::string percent_words(std::optional<double> share) {
    return share ? fmt::format("{:.1f} %", *share * 100.0) : "not known";
}

std::string p_words(double p) {
    return p >= 0.001 ? fmt::format("{:.3f}", p) : fmt::format("{:.1e}", p);
}

std::vector<std::string> tested_words(const AssessedData& data,
                                      const Population& population,
                                      const ClusterJob& job,
                                      const ClusterResults& results) {
    std::vector<std::string> out;
    out.push_back(
        fmt::format("Counted: {} with a verdict, of {}. Decayed are those with {}: {} ({}).",
                    size_words(population.counted.size(), "inspected pole", "inspected poles"),
                    size_words(population.pole_of.size(), "pole", "poles"),
                    decayed_words(job),
                    grouped(population.decayed_count),
                    population.counted.empty() ? "no rate" : percent_words(population.rate())));
    out.push_back(
        job.strata.empty()
            ? std::string{"Against: which of the inspected poles are decayed is chance, the same "
                          "for every pole. Old poles that stand together are then a cluster too; "
                          "give --strata (install_year/10, species) to ask beyond age and species."}
            : fmt::format("Against: which of the inspected poles are decayed is chance within "
                          "poles alike in {} ({}).",
                          strata_words(job),
                          size_words(population.strata.size(), "stratum", "strata")));
    for (const ScanOutcome& scan : results.scans) {
        out.push_back(window_words(job, scan));
    }
    out.push_back(fmt::format(
        "Around each pole: {}{}; decayed poles by the exact hypergeometric tail, strength by "
        "Gi*{}, p with the skewness that chance gives it; {} at {} %.",
        job.band_m ? "all poles within " + plain_number(*job.band_m) + " m"
                   : "the " + std::to_string(job.neighbours) + " nearest, itself among them",
        job.neighbours_along_spans ? " along the spans" : "",
        job.strata.empty() ? ""
                           : ", by the mean and the variance that chance within the strata gives "
                             "the neighbourhood",
        job.discovery == FalseDiscovery::benjamini_hochberg
            ? "false discoveries held by Benjamini and Hochberg"
            : "false discoveries held by Benjamini and Yekutieli",
        plain_number(job.discovery_rate * 100.0)));
    out.push_back("Distances and areas: " + data.frame->name() + ", metres.");
    return out;
}

std::vector<std::string> found_words(const AssessedData& data,
                                     const Population& population,
                                     const ClusterJob& job,
                                     const ClusterResults& results) {
    std::vector<std::string> out;
    if (!results.nothing_to_test.empty()) {
        constexpr std::string_view kNothing = "Nothing was tested";
        std::string words = results.nothing_to_test;
        if (results.strength_tests.tested > 0 && words.rfind(kNothing, 0) == 0) {
            words.replace(0, kNothing.size(), "Decayed poles were not tested");
            out.push_back(std::move(words));
            out.push_back(strength_words(results));
        } else {
            out.push_back(std::move(words));
        }
        return out;
    }
    for (const ScanOutcome& scan : results.scans) {
        const std::size_t n = significant_of(scan);
        out.push_back(fmt::format(
            "{}: {} at the {} % level.",
            scan.kind == WindowKind::straight ? "In a straight line" : "Along the spans",
            n == 0 ? "no cluster" : size_words(n, "cluster", "clusters"),
            plain_number(job.significance * 100.0)));
        for (const FoundCluster& c : scan.clusters) {
            if (c.significant) {
                out.push_back(cluster_words(c, data, population));
            }
        }
    }
    out.push_back(hot_words(results));
    out.push_back(strength_words(results));
    add_joins(results, out);
    return out;
}

std::vector<std::string> limits_words(const AssessedData& data,
                                      const Population& population,
                                      const ClusterJob& job,
                                      const ClusterResults& results) {
    std::vector<std::string> out;
    if (population.counted.size() < population.pole_of.size()) {
        out.push_back(fmt::format(
            "Of {} nothing is known here: {} never inspected or not wood, {} inspected without a "
            "verdict{}{}. They count neither as sound nor as decayed. Where only suspect poles "
            "were inspected, the rate is too high.",
            size_words(population.pole_of.size() - population.counted.size(), "pole", "poles"),
            grouped(population.not_inspected),
            grouped(population.without_verdict),
            population.without_strength > 0
                ? ", " + grouped(population.without_strength) + " without a strength"
                : "",
            population.without_place > 0
                ? ", " + grouped(population.without_place) + " without a place"
                : ""));
    }
    out.emplace_back(
        "Poles that were replaced are no longer here: what decayed first is missing from the "
        "rates of old lines.");
    const auto limit = strength_limit(data, job);
    if (limit) {
        out.push_back(fmt::format(
            "Decayed or not turns on limits: poles within {} points of the strength limit of {} % "
            "are counted in each cluster (near_limit).",
            plain_number(kNearLimitPoints),
            plain_number(*limit)));
    }
    out.emplace_back(
        "All clusters but the first are tested against the most unusual window of each random "
        "labelling: their p is on the safe side. The border of a cluster is that of the window "
        "that fits best, not a line in nature.");
    out.emplace_back(
        "A cluster says where, not why: soil, treatment, maker and inspector are not "
        "told apart.");
    if (results.joins) {
        out.emplace_back("The count of adjoining decayed poles takes no strata into account.");
    }
    if (!results.groups.empty()) {
        out.push_back(fmt::format(
            "The groups (reach {:.0f} m) are drawn where decayed poles stand near each other. They "
            "are no test: where poles stand densely, so do decayed ones.",
            results.group_reach_m));
    }
    return out;
}

}  // namespace linewood
