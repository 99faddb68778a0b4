// What a map of decay must not be fooled by, on surveys drawn for it.

#include <algorithm>
#include <cmath>
#include <vector>

#include <gtest/gtest.h>

#include "geo/cluster/decay_hot_spots.hpp"
#include "geo/cluster/decay_labels.hpp"
#include "geo/cluster/density_groups.hpp"
#include "geo/cluster/false_discovery.hpp"
#include "geo/cluster/getis_ord.hpp"
#include "geo/cluster/plane_neighbours.hpp"
#include "geo/cluster/scan.hpp"
#include "geo/cluster/span_neighbours.hpp"
#include "geo/stats/replicate_random.hpp"

namespace linewood {
namespace {

struct Survey {
    std::vector<Point> poles;
    std::vector<std::uint8_t> decayed;
    std::vector<std::uint32_t> stratum;

    std::size_t discoveries(bool strata) const {
        const NeighbourRows rows = nearest_rows(PlaneNeighbours{poles}, 11);
        std::vector<std::optional<double>> p;
        const std::span<const std::uint32_t> none;
        for (const auto& score : decay_hot_spots(decayed, strata ? stratum : none, rows)) {
            p.push_back(score.p);
        }
        const auto adjusted = adjusted_p(p, FalseDiscovery::benjamini_hochberg);
        return static_cast<std::size_t>(std::count_if(
            adjusted.begin(), adjusted.end(), [](const auto& one) { return one && *one <= 0.05; }));
    }
};

ScanResult scan_of(const Survey& s, ScanModel model, bool strata, const ScanSettings& base = {}) {
    ScanSettings settings = base;
    settings.model = model;
    ScanPoles poles{s.decayed, {}, {}};
    if (strata) {
        poles.stratum = s.stratum;
    }
    return scan_for_clusters(PlaneNeighbours{s.poles}, poles, settings).value();
}

/// Country lines with a town of twenty times the poles in its middle, one pole in ten decayed in both,
/// dealt evenly.
Survey dense_town() {
    Survey s;
    ReplicateRandom random{33, 0};
    for (int i = 0; i < 500; ++i) {
        s.poles.push_back({random.below(100000) * 0.1, random.below(100000) * 0.1});
    }
    for (int i = 0; i < 400; ++i) {
        s.poles.push_back({4500.0 + random.below(10000) * 0.1, 4500.0 + random.below(10000) * 0.1});
    }
    s.decayed.assign(900, 0);
    for (std::size_t begin = 0; begin < 900; begin += 10) {
        s.decayed[begin + random.below(10)] = 1;
    }
    return s;
}

TEST(pitfalls, a_dense_town_is_no_cluster) {
    const Survey s = dense_town();
    const ScanResult result = scan_of(s, ScanModel::bernoulli, false);
    ASSERT_FALSE(result.clusters.empty());
    EXPECT_GT(result.clusters[0].p, 0.05);
    EXPECT_EQ(s.discoveries(false), 0U);
    // Groups by density alone find the town: they are for drawing.
    const DensityGroups groups =
        density_groups(s.decayed, band_rows(PlaneNeighbours{s.poles}, 200.0), 4);
    EXPECT_GE(groups.count, 1U);
    for (std::size_t i = 0; i < 900; ++i) {
        if (groups.core[i]) {
            EXPECT_NEAR(s.poles[i].x, 5000.0, 600.0);
            EXPECT_NEAR(s.poles[i].y, 5000.0, 600.0);
        }
    }
}

/// A district of old poles: half of them decayed wherever they stand, of the others one in twenty.
Survey old_district() {
    Survey s;
    ReplicateRandom random{34, 0};
    for (int i = 0; i < 800; ++i) {
        const Point p{random.below(100000) * 0.05, random.below(100000) * 0.05};
        const bool district = std::hypot(p.x - 1000.0, p.y - 1000.0) < 700.0;
        const bool old = random.below(100) < (district ? 90U : 5U);
        s.poles.push_back(p);
        s.stratum.push_back(old ? 1 : 0);
        s.decayed.push_back(random.below(100) < (old ? 50U : 5U) ? 1 : 0);
    }
    return s;
}

TEST(pitfalls, an_old_vintage_is_flagged_without_strata_and_not_with_them) {
    const Survey s = old_district();
    const ScanResult without = scan_of(s, ScanModel::bernoulli, false);
    EXPECT_LE(without.clusters.at(0).p, 0.01);
    EXPECT_GT(s.discoveries(false), 10U);
    const ScanResult with = scan_of(s, ScanModel::poisson, true);
    ASSERT_FALSE(with.clusters.empty());
    EXPECT_GT(with.clusters[0].p, 0.05);
    const ScanResult bernoulli = scan_of(s, ScanModel::bernoulli, true);
    EXPECT_GT(bernoulli.clusters.at(0).p, 0.05);
    EXPECT_EQ(s.discoveries(true), 0U);
}

TEST(pitfalls, decay_beyond_the_vintage_is_flagged_with_strata) {
    Survey s = old_district();
    ReplicateRandom random{35, 0};
    for (std::size_t i = 0; i < s.poles.size(); ++i) {
        if (std::hypot(s.poles[i].x - 3500.0, s.poles[i].y - 3500.0) < 400.0) {
            s.decayed[i] = random.below(100) < 60 ? 1 : 0;
        }
    }
    const ScanResult with = scan_of(s, ScanModel::poisson, true);
    ASSERT_FALSE(with.clusters.empty());
    EXPECT_LE(with.clusters[0].p, 0.005);
    const Point centre = s.poles[with.clusters[0].centre];
    EXPECT_LT(std::hypot(centre.x - 3500.0, centre.y - 3500.0), 400.0);
}

/// Two lines 150 m apart without a link; the decay is in the middle of both.
TEST(pitfalls, along_the_spans_nothing_jumps_to_the_line_beside) {
    Survey s;
    std::vector<SpanEdge> edges;
    std::vector<std::uint32_t> all;
    for (std::uint32_t i = 0; i < 200; ++i) {
        const std::uint32_t line = i / 100;
        const std::uint32_t at = i % 100;
        s.poles.push_back({at * 50.0, line * 150.0});
        s.decayed.push_back(at >= 46 && at < 54 ? 1 : 0);
        all.push_back(i);
        if (at > 0) {
            edges.push_back({i - 1, i, 50.0});
        }
    }
    ScanSettings settings;
    settings.max_share = 0.5;
    settings.replicates = 99;
    const ScanResult straight = scan_of(s, ScanModel::bernoulli, false, settings);
    const auto on_first = [](const ScanCluster& cluster) {
        return std::count_if(
            cluster.places.begin(), cluster.places.end(), [](std::uint32_t p) { return p < 100; });
    };
    EXPECT_GT(on_first(straight.clusters.at(0)), 0);
    EXPECT_LT(on_first(straight.clusters.at(0)),
              static_cast<std::ptrdiff_t>(straight.clusters[0].places.size()));
    const ScanResult along =
        scan_for_clusters(SpanNeighbours{200, edges, all}, {s.decayed, {}, {}}, settings).value();
    ASSERT_EQ(along.clusters.size(), 2U);
    for (const ScanCluster& cluster : along.clusters) {
        const auto first = on_first(cluster);
        EXPECT_TRUE(first == 0 || first == static_cast<std::ptrdiff_t>(cluster.places.size()));
        EXPECT_EQ(cluster.decayed, 8U);
        EXPECT_EQ(cluster.p, 0.01);
    }
}

TEST(pitfalls, isolated_poles_are_windows_of_their_own) {
    std::vector<std::uint8_t> decayed(60, 0);
    std::vector<std::uint32_t> all;
    std::vector<SpanEdge> edges;
    for (std::uint32_t i = 0; i < 60; ++i) {
        all.push_back(i);
        decayed[i] = i >= 40 ? 1 : 0;  // all the isolated ones
        if (i > 0 && i < 40) {
            edges.push_back({i - 1, i, 45.0});
        }
    }
    ScanSettings settings;
    settings.max_share = 0.5;
    settings.replicates = 19;
    const SpanNeighbours spans{60, edges, all};
    const auto result = scan_for_clusters(spans, {decayed, {}, {}}, settings).value();
    EXPECT_TRUE(result.clusters.empty());  // one decayed pole is no cluster, and none has a second
    const auto scores = decay_hot_spots(decayed, {}, nearest_rows(spans, 11));
    EXPECT_FALSE(scores[50].p.has_value());
    EXPECT_EQ(scores[50].poles, 1U);
    EXPECT_TRUE(scores[20].p.has_value());
}

TEST(pitfalls, no_pole_is_inspected_or_one) {
    const Survey nothing;
    EXPECT_EQ(nothing.discoveries(false), 0U);
    Survey one;
    one.poles.push_back({1, 2});
    one.decayed.push_back(1);
    EXPECT_EQ(one.discoveries(false), 0U);
    EXPECT_EQ(density_groups(one.decayed, band_rows(PlaneNeighbours{one.poles}, 9.0)).count, 0U);
}

/// Runs on labels dealt by chance: how many of them find something.
template <typename Finds>
int runs_that_find(int runs, Survey s, Finds finds) {
    int found = 0;
    DecayLabels labels{s.decayed, s.stratum};
    std::vector<std::uint32_t> drawn;
    for (int run = 0; run < runs; ++run) {
        labels.draw(777, static_cast<std::uint64_t>(run), drawn);
        std::fill(s.decayed.begin(), s.decayed.end(), std::uint8_t{0});
        for (const std::uint32_t pole : drawn) {
            s.decayed[pole] = 1;
        }
        found += finds(s) ? 1 : 0;
    }
    return found;
}

// 200 runs at 5 %: 3 to 19 in 99 of 100 cases (binomial).
TEST(slow_pitfalls, by_chance_the_scan_finds_something_in_one_run_of_twenty) {
    for (const ScanModel model : {ScanModel::bernoulli, ScanModel::poisson}) {
        const bool strata = model == ScanModel::poisson;
        const int found = runs_that_find(200, old_district(), [&](const Survey& s) {
            ScanSettings settings;
            settings.replicates = 199;
            settings.max_poles = 40;
            const ScanResult result = scan_of(s, model, strata, settings);
            return !result.clusters.empty() && result.clusters[0].p <= 0.05;
        });
        if (strata) {
            EXPECT_GE(found, 3);
            EXPECT_LE(found, 19);
        } else {
            // The labels follow the vintage, and the scan does not know of it.
            EXPECT_GE(found, 190);
        }
    }
    const int found = runs_that_find(200, dense_town(), [](const Survey& s) {
        ScanSettings settings;
        settings.replicates = 199;
        settings.max_poles = 40;
        return scan_of(s, ScanModel::bernoulli, false, settings).clusters.at(0).p <= 0.05;
    });
    EXPECT_GE(found, 3);
    EXPECT_LE(found, 19);
}

TEST(pitfalls, by_chance_hot_spots_are_found_in_one_run_of_twenty_at_most) {
    EXPECT_LE(
        runs_that_find(200, dense_town(), [](const Survey& s) { return s.discoveries(false) > 0; }),
        19);
    EXPECT_LE(runs_that_find(
                  200, old_district(), [](const Survey& s) { return s.discoveries(true) > 0; }),
              19);
    // Without the adjustment, one pole in twenty.
    const Survey s = dense_town();
    const NeighbourRows rows = nearest_rows(PlaneNeighbours{s.poles}, 11);
    int below = 0;
    runs_that_find(50, s, [&](const Survey& run) {
        std::vector<double> value(run.decayed.begin(), run.decayed.end());
        for (const auto& score : getis_ord(value, rows)) {
            below += score.p && *score.p <= 0.05 ? 1 : 0;
        }
        return false;
    });
    EXPECT_NEAR(below / (50.0 * 900.0), 0.05, 0.03);
}

/// Old poles in the west scatter widely, new ones in the east hardly; where each stands is chance.
struct UnlikeVintages {
    std::vector<Point> poles;
    std::vector<std::uint32_t> stratum;

    UnlikeVintages() {
        ReplicateRandom random{36, 0};
        for (int i = 0; i < 800; ++i) {
            poles.push_back({random.below(100000) * 0.05, random.below(100000) * 0.05});
            stratum.push_back(poles.back().x < 1250.0 ? 1 : 0);
        }
    }

    /// How many of 200 runs find something.
    int runs_that_find(const NeighbourRows& rows) const {
        int found = 0;
        for (std::uint64_t run = 0; run < 200; ++run) {
            ReplicateRandom random{37, run};
            std::vector<double> strength;
            for (const std::uint32_t old : stratum) {
                double sum = 0.0;  // of twelve, nearly normal: mean 60, deviation 25 where old
                for (int i = 0; i < 12; ++i) {
                    sum += random.below(100001) * 1e-5;
                }
                strength.push_back(old != 0 ? std::clamp(60.0 + 25.0 * (sum - 6.0), 0.0, 100.0)
                                            : 96.0 + random.below(4001) * 1e-3);
            }
            std::vector<std::optional<double>> p;
            for (const auto& score : getis_ord_within(strength, stratum, rows)) {
                p.push_back(score.p);
            }
            const auto adjusted = adjusted_p(p, FalseDiscovery::benjamini_hochberg);
            found += std::any_of(adjusted.begin(), adjusted.end(), [](const auto& one) {
                return one && *one <= 0.05;
            });
        }
        return found;
    }
};

// 200 runs at 5 % or less: 19 at most in 99 of 100 cases (binomial).
TEST(pitfalls, strata_that_scatter_unlike_are_no_hot_spots_of_strength) {
    const UnlikeVintages s;
    const PlaneNeighbours plane{s.poles};
    EXPECT_LE(s.runs_that_find(nearest_rows(plane, 11)), 19);
    EXPECT_LE(s.runs_that_find(band_rows(plane, 400.0)), 19);
    std::vector<SpanEdge> edges;
    std::vector<std::uint32_t> all;
    for (std::uint32_t i = 0; i < 800; ++i) {
        all.push_back(i);
        if (i > 0) {  // a chain from each pole to the next drawn: far apart, but neighbours
            edges.push_back({i - 1, i, 50.0});
        }
    }
    const SpanNeighbours along{800, edges, all};
    EXPECT_LE(s.runs_that_find(nearest_rows(along, 11)), 19);
    EXPECT_LE(s.runs_that_find(band_rows(along, 300.0)), 19);
}

/// One pole in ten is weak, as surveys have it, wherever chance puts it. By the normal distribution two runs in five would
/// find something.
TEST(pitfalls, few_weak_poles_by_chance_are_no_hot_spots_of_strength) {
    ReplicateRandom places{38, 0};
    std::vector<Point> poles;
    for (int i = 0; i < 900; ++i) {
        poles.push_back({places.below(100000) * 0.05, places.below(100000) * 0.05});
    }
    const NeighbourRows rows = nearest_rows(PlaneNeighbours{poles}, 11);
    int found = 0;
    int found_by_normal = 0;
    const auto any = [](const std::vector<GetisOrdScore>& scores) {
        std::vector<std::optional<double>> p;
        for (const auto& score : scores) {
            p.push_back(score.p);
        }
        const auto adjusted = adjusted_p(p, FalseDiscovery::benjamini_hochberg);
        return std::any_of(
            adjusted.begin(), adjusted.end(), [](const auto& one) { return one && *one <= 0.05; });
    };
    for (std::uint64_t run = 0; run < 200; ++run) {
        ReplicateRandom random{39, run};
        std::vector<double> strength;
        for (int i = 0; i < 900; ++i) {
            strength.push_back(random.below(10) == 0 ? 20.0 + random.below(40) : 90.0);
        }
        found += any(getis_ord_within(strength, {}, rows)) ? 1 : 0;
        found_by_normal += any(getis_ord(strength, rows)) ? 1 : 0;
    }
    EXPECT_LE(found, 19);
    EXPECT_GT(found_by_normal, 40);
}

}  // namespace
}  // namespace linewood
