#include "src/clusters/pole_scores.hpp"

#include <algorithm>
#include <memory>
#include <utility>

#include "geo/cluster/plane_neighbours.hpp"
#include "geo/cluster/span_neighbours.hpp"

namespace linewood {
namespace {

/// Neighbours among some of the counted poles.
NeighbourRows rows_of(const Population& population,
                      const std::vector<std::uint32_t>& counted,
                      const ClusterJob& job) {
    std::unique_ptr<NeighbourSource> source;
    if (job.neighbours_along_spans) {
        std::vector<std::uint32_t> nodes;
        nodes.reserve(counted.size());
        for (const std::uint32_t i : counted) {
            nodes.push_back(population.counted[i]);
        }
        source =
            std::make_unique<SpanNeighbours>(population.pole_of.size(), population.edges, nodes);
    } else {
        std::vector<Point> places;
        places.reserve(counted.size());
        for (const std::uint32_t i : counted) {
            places.push_back(population.places[i]);
        }
        source = std::make_unique<PlaneNeighbours>(places);
    }
    return job.band_m ? band_rows(*source, *job.band_m) : nearest_rows(*source, job.neighbours - 1);
}

/// The strengths of some of the counted poles, and their strata where there are some.
struct Strengths {
    std::vector<double> values;
    std::vector<std::uint32_t> stratum;
};

Strengths strengths_of(const AssessedData& data,
                       const Population& population,
                       const std::vector<std::uint32_t>& counted) {
    Strengths out;
    out.values.reserve(counted.size());
    for (const std::uint32_t i : counted) {
        out.values.push_back(data.poles.remaining_pct[population.pole(i)]);
        if (!population.stratum.empty()) {
            out.stratum.push_back(population.stratum[i]);
        }
    }
    return out;
}

/// The middle one, or the mean of the middle two. @pre some
double middle_of(std::vector<std::uint32_t> sizes) {
    std::sort(sizes.begin(), sizes.end());
    return 0.5 * (sizes[(sizes.size() - 1) / 2] + sizes[sizes.size() / 2]);
}

std::vector<std::uint32_t> all_counted(const Population& population) {
    std::vector<std::uint32_t> all(population.counted.size());
    for (std::uint32_t i = 0; i < all.size(); ++i) {
        all[i] = i;
    }
    return all;
}

void score_decay(const Population& population, const ClusterJob& job, ClusterResults& results) {
    const NeighbourRows rows = rows_of(population, all_counted(population), job);
    const auto scores = decay_hot_spots(population.decayed, population.stratum, rows);
    std::vector<std::optional<double>> p;
    std::vector<std::uint32_t> poles;
    p.reserve(scores.size());
    for (const HotSpotScore& s : scores) {
        p.push_back(s.p);
        poles.push_back(s.poles);
    }
    results.middle_neighbourhood = middle_of(std::move(poles));
    const auto adjusted = adjusted_p(p, job.discovery);
    for (std::size_t i = 0; i < scores.size(); ++i) {
        results.scores[i].decay = scores[i];
        results.scores[i].decay_adjusted = adjusted[i];
        SpotTests& tests = results.decay_tests;
        ++(!scores[i].p ? tests.too_few : population.can_vary ? tests.tested : tests.alike);
        results.hot += adjusted[i] && *adjusted[i] <= job.discovery_rate ? 1U : 0U;
    }
}

void score_strength(const AssessedData& data,
                    const Population& population,
                    const ClusterJob& job,
                    ClusterResults& results) {
    std::vector<std::uint32_t> with_strength;
    for (std::uint32_t i = 0; i < population.counted.size(); ++i) {
        if (data.poles.has_strength(population.pole(i))) {
            with_strength.push_back(i);
        }
    }
    SpotTests& tests = results.strength_tests;
    tests.without_value =
        static_cast<std::uint32_t>(population.counted.size() - with_strength.size());
    if (with_strength.size() < 2) {
        tests.too_few = static_cast<std::uint32_t>(with_strength.size());
        return;
    }
    const NeighbourRows rows = rows_of(population, with_strength, job);
    const Strengths strengths = strengths_of(data, population, with_strength);
    const GetisOrdSettings settings;
    const auto scores = getis_ord_within(strengths.values, strengths.stratum, rows, settings);
    std::vector<std::optional<double>> p;
    p.reserve(scores.size());
    for (const GetisOrdScore& s : scores) {
        p.push_back(s.p);
    }
    const auto adjusted = adjusted_p(p, job.discovery);
    for (std::size_t k = 0; k < scores.size(); ++k) {
        PoleScore& score = results.scores[with_strength[k]];
        score.strength = scores[k];
        score.strength_adjusted = adjusted[k];
        ++(scores[k].p                              ? tests.tested
           : scores[k].varying < settings.min_poles ? tests.too_few
                                                    : tests.alike);
        if (adjusted[k] && *adjusted[k] <= job.discovery_rate) {
            ++(*scores[k].z < 0.0 ? results.weak : results.strong);
        }
    }
}

}  // namespace

void score_poles(const AssessedData& data,
                 const Population& population,
                 const ClusterJob& job,
                 ClusterResults& results) {
    results.scores.resize(population.counted.size());
    if (population.counted.size() < 2) {
        return;
    }
    score_decay(population, job, results);
    score_strength(data, population, job, results);
}

std::optional<JoinCount> count_joins(const Population& population) {
    if (population.edges.empty() || population.counted.size() < 2) {
        return std::nullopt;
    }
    const SpanNeighbours source{population.pole_of.size(), population.edges, population.counted};
    return join_count(population.decayed, source.joined());
}

}  // namespace linewood
