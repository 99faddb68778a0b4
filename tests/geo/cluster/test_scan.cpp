// The scan against its definition (scan_brute_force.hpp), replicate by replicate, and what must not
// change its result.

#include <algorithm>
#include <atomic>
#include <cmath>
#include <limits>
#include <numeric>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "geo/cluster/id_order.hpp"
#include "geo/cluster/plane_neighbours.hpp"
#include "geo/cluster/scan.hpp"
#include "geo/cluster/scan_llr.hpp"
#include "geo/cluster/span_neighbours.hpp"
#include "geo/stats/replicate_random.hpp"
#include "tests/geo/cluster/reference_data.hpp"
#include "tests/geo/cluster/scan_brute_force.hpp"

namespace linewood {
namespace {

using test::BruteScan;

struct Survey {
    std::vector<Point> poles;
    std::vector<std::uint8_t> decayed;
    std::vector<std::uint32_t> stratum;
    std::vector<std::uint32_t> place;

    ScanPoles counted(bool strata, bool places = false) const {
        ScanPoles out{decayed, {}, {}};
        if (strata) {
            out.stratum = stratum;
        }
        if (places) {
            out.place = place;
        }
        return out;
    }
};

/// Poles at random, some at the same place, some on a lattice; strata with rates 0, 1/5, 1/2.
Survey survey(std::uint32_t count, std::uint64_t seed) {
    Survey s;
    ReplicateRandom random{seed, 17};
    for (std::uint32_t i = 0; i < count; ++i) {
        Point p{random.below(100000) * 0.01, random.below(100000) * 0.01};
        if (i % 4 == 1) {
            p = {std::round(p.x / 100.0) * 100.0, std::round(p.y / 100.0) * 100.0};
        } else if (i % 10 == 9) {
            p = s.poles[i - 3];
        }
        s.poles.push_back(p);
        s.stratum.push_back(random.below(3));
        const std::uint32_t chance[] = {0, 20, 50};
        s.decayed.push_back(random.below(100) < chance[s.stratum.back()] ? 1 : 0);
        s.place.push_back(random.below((count + 2) / 3));
    }
    return s;
}

ScanResult scanned(const NeighbourSource& source,
                   const ScanPoles& poles,
                   const ScanSettings& settings = {}) {
    return scan_for_clusters(source, poles, settings).value();
}

void expect_as_brute_force(const ScanResult& result, const BruteScan& brute) {
    const std::vector<double> replicates = brute.replicates();
    ASSERT_EQ(result.replicate_llr.size(), replicates.size());
    for (std::size_t r = 0; r < replicates.size(); ++r) {
        ASSERT_NEAR(result.replicate_llr[r], replicates[r], 1e-8) << "replicate " << r;
    }
    const auto clusters = brute.clusters();
    ASSERT_EQ(result.clusters.size(), clusters.size());
    for (std::size_t i = 0; i < clusters.size(); ++i) {
        const ScanCluster& found = result.clusters[i];
        EXPECT_NEAR(found.llr, clusters[i].llr, 1e-8) << i;
        EXPECT_EQ(found.centre, clusters[i].centre) << i;
        EXPECT_EQ(found.poles, clusters[i].poles) << i;
        EXPECT_EQ(found.decayed, clusters[i].decayed) << i;
        std::vector<std::uint32_t> places = found.places;
        std::sort(places.begin(), places.end());
        EXPECT_EQ(places, clusters[i].places) << i;
        EXPECT_NEAR(found.p, brute.p(clusters[i].llr, replicates), 1e-12) << i;
    }
}

struct Case {
    const char* name;
    ScanModel model;
    bool strata;
    bool places;
    double share;
    double radius_m;
};

class scan_by_definition : public ::testing::TestWithParam<Case> {};

TEST_P(scan_by_definition, straight) {
    const Case& c = GetParam();
    for (const std::uint32_t count : {12U, 61U}) {
        Survey s = survey(count, count);
        if (c.places) {
            s.poles.resize((count + 2) / 3);
        }
        ScanSettings settings;
        settings.model = c.model;
        settings.max_share = c.share;
        settings.max_radius_m = c.radius_m;
        settings.replicates = 70;
        const ScanPoles counted = s.counted(c.strata, c.places);
        SCOPED_TRACE(count);
        const auto result = scan_for_clusters(PlaneNeighbours{s.poles}, counted, settings);
        ASSERT_TRUE(result.has_value());
        expect_as_brute_force(*result, {test::straight_distances(s.poles), counted, settings});
    }
}

TEST_P(scan_by_definition, along_the_spans) {
    const Case& c = GetParam();
    if (c.places) {
        return;  // the same code as above
    }
    const std::uint32_t count = 50;
    const Survey s = survey(count, 3);
    ReplicateRandom random{8, 8};
    std::vector<SpanEdge> edges;
    std::vector<std::uint32_t> all(count);
    std::iota(all.begin(), all.end(), 0U);
    for (std::uint32_t i = 1; i < count - 4; ++i) {
        edges.push_back({i, i % 13 == 0 ? random.below(i) : i - 1, 30.0 + random.below(4) * 5.0});
    }
    BruteScan::Distances far(count,
                             std::vector<double>(count, std::numeric_limits<double>::infinity()));
    for (std::uint32_t i = 0; i < count; ++i) {
        far[i][i] = 0.0;
    }
    for (const SpanEdge& edge : edges) {
        far[edge.a][edge.b] = far[edge.b][edge.a] = edge.length_m;
    }
    for (std::uint32_t k = 0; k < count; ++k) {
        for (std::uint32_t i = 0; i < count; ++i) {
            for (std::uint32_t j = 0; j < count; ++j) {
                far[i][j] = std::min(far[i][j], far[i][k] + far[k][j]);
            }
        }
    }
    ScanSettings settings;
    settings.model = c.model;
    settings.max_share = c.share;
    settings.max_radius_m = c.radius_m;
    settings.replicates = 70;
    const auto result =
        scan_for_clusters(SpanNeighbours{count, edges, all}, s.counted(c.strata), settings);
    expect_as_brute_force(result.value(), {far, s.counted(c.strata), settings});
}

INSTANTIATE_TEST_SUITE_P(
    models,
    scan_by_definition,
    ::testing::Values(Case{"bernoulli", ScanModel::bernoulli, false, false, 0.5, 1e5},
                      Case{"bernoulli_small", ScanModel::bernoulli, false, false, 0.2, 1e5},
                      Case{"bernoulli_radius", ScanModel::bernoulli, false, false, 1.0, 250.0},
                      Case{"bernoulli_strata", ScanModel::bernoulli, true, false, 0.5, 1e5},
                      Case{"bernoulli_places", ScanModel::bernoulli, false, true, 0.5, 1e5},
                      Case{"poisson", ScanModel::poisson, false, false, 0.5, 1e5},
                      Case{"poisson_strata", ScanModel::poisson, true, false, 0.5, 1e5},
                      Case{"poisson_radius", ScanModel::poisson, true, false, 1.0, 250.0},
                      Case{"poisson_places", ScanModel::poisson, true, true, 0.5, 1e5}),
    [](const auto& one) { return std::string{one.param.name}; });

void expect_same(const ScanResult& a, const ScanResult& b) {
    EXPECT_EQ(a.replicate_llr, b.replicate_llr);
    EXPECT_EQ(a.windows, b.windows);
    EXPECT_EQ(a.stride, b.stride);
    ASSERT_EQ(a.clusters.size(), b.clusters.size());
    for (std::size_t i = 0; i < a.clusters.size(); ++i) {
        EXPECT_EQ(a.clusters[i].places, b.clusters[i].places);
        EXPECT_EQ(a.clusters[i].llr, b.clusters[i].llr);
        EXPECT_EQ(a.clusters[i].p, b.clusters[i].p);
        EXPECT_EQ(a.clusters[i].expected, b.clusters[i].expected);
    }
}

TEST(scan, threads_and_memory_change_nothing) {
    const Survey s = survey(700, 5);
    const PlaneNeighbours plane{s.poles};
    for (const ScanModel model : {ScanModel::bernoulli, ScanModel::poisson}) {
        ScanSettings settings;
        settings.model = model;
        settings.replicates = 200;
        settings.threads = 1;
        const auto once = scanned(plane, s.counted(true), settings);
        EXPECT_FALSE(once.clusters.empty());
        for (const unsigned threads : {0U, 2U, 4U}) {
            settings.threads = threads;
            expect_same(once, scanned(plane, s.counted(true), settings));
        }
        settings.max_label_bytes = 700 * 64 + 1;  // one block at a time
        expect_same(once, scanned(plane, s.counted(true), settings));
        settings.max_label_bytes = 1;
        expect_same(once, scanned(plane, s.counted(true), settings));
    }
}

TEST(scan, more_replicates_begin_with_the_same) {
    const Survey s = survey(200, 6);
    const PlaneNeighbours plane{s.poles};
    ScanSettings settings;
    settings.replicates = 65;
    const auto few = scanned(plane, s.counted(false), settings);
    settings.replicates = 130;
    const auto more = scanned(plane, s.counted(false), settings);
    for (std::size_t r = 0; r < 65; ++r) {
        EXPECT_EQ(few.replicate_llr[r], more.replicate_llr[r]);
    }
    settings.seed = 2;
    EXPECT_NE(scanned(plane, s.counted(false), settings).replicate_llr, more.replicate_llr);
    settings.replicates = 0;
    const auto none = scanned(plane, s.counted(false), settings);
    EXPECT_EQ(none.clusters.at(0).llr, more.clusters.at(0).llr);
    EXPECT_EQ(none.clusters.at(0).p, 1.0);
}

/// Runs the survey in another order, brought into that of the ids as the caller does.
ScanResult in_order_of_ids(const Survey& s, const std::vector<std::uint32_t>& file_order) {
    std::vector<std::string> ids;
    for (const std::uint32_t pole : file_order) {
        ids.push_back("P" + std::to_string(10000 + pole));
    }
    const std::vector<std::string_view> views(ids.begin(), ids.end());
    Survey sorted;
    for (const std::uint32_t at : id_order(views)) {
        sorted.poles.push_back(s.poles[file_order[at]]);
        sorted.decayed.push_back(s.decayed[file_order[at]]);
        sorted.stratum.push_back(s.stratum[file_order[at]]);
    }
    ScanSettings settings;
    settings.model = ScanModel::poisson;
    settings.replicates = 64;
    return scan_for_clusters(PlaneNeighbours{sorted.poles}, sorted.counted(true), settings).value();
}

TEST(scan, order_of_the_input_changes_nothing) {
    const Survey s = survey(300, 9);
    std::vector<std::uint32_t> order(300);
    std::iota(order.begin(), order.end(), 0U);
    const ScanResult straight = in_order_of_ids(s, order);
    ReplicateRandom random{1, 1};
    random.shuffle(std::span<std::uint32_t>{order});
    expect_same(straight, in_order_of_ids(s, order));
}

TEST(scan, limits_of_windows_are_kept) {
    const Survey s = survey(300, 4);
    const PlaneNeighbours plane{s.poles};
    ScanSettings settings;
    settings.replicates = 19;
    settings.max_poles = 9;
    auto result = scanned(plane, s.counted(false), settings);
    for (const auto& cluster : result.clusters) {
        EXPECT_LE(cluster.poles, 9U);
        EXPECT_GE(cluster.decayed, 2U);
    }
    settings.max_radius_m = 60.0;
    result = scanned(plane, s.counted(false), settings);
    for (const auto& cluster : result.clusters) {
        EXPECT_LE(cluster.radius_m, 60.0);
    }
    settings.max_poles = 0;
    EXPECT_TRUE(scanned(plane, s.counted(false), settings).clusters.empty());
    settings.max_poles = 9;
    settings.min_decayed = 4;
    settings.max_clusters = 3;
    result = scanned(plane, s.counted(false), settings);
    EXPECT_LE(result.clusters.size(), 3U);
    for (const auto& cluster : result.clusters) {
        EXPECT_GE(cluster.decayed, 4U);
    }
}

TEST(scan, figures_of_a_cluster_belong_together) {
    const Survey s = survey(300, 12);
    ScanSettings settings;
    settings.replicates = 99;
    const auto result = scanned(PlaneNeighbours{s.poles}, s.counted(false), settings);
    const auto all = static_cast<double>(std::count(s.decayed.begin(), s.decayed.end(), 1));
    for (const ScanCluster& cluster : result.clusters) {
        const double n = cluster.poles;
        const double c = cluster.decayed;
        EXPECT_NEAR(cluster.expected, n * all / 300.0, 1e-9);
        EXPECT_NEAR(cluster.relative_risk.value(), c / n / ((all - c) / (300.0 - n)), 1e-9);
        EXPECT_EQ(
            cluster.llr,
            bernoulli_llr(cluster.decayed, cluster.poles, static_cast<std::int64_t>(all), 300));
        EXPECT_GE(cluster.p, 0.01);
        EXPECT_LE(cluster.p, 1.0);
    }
}

TEST(scan, a_sure_cluster_has_the_least_p_there_can_be) {
    Survey s = survey(400, 2);
    for (std::size_t i = 0; i < 400; ++i) {
        s.decayed[i] = std::hypot(s.poles[i].x - 500.0, s.poles[i].y - 500.0) < 150.0 ? 1 : 0;
    }
    ScanSettings settings;
    settings.replicates = 99;
    const auto result = scanned(PlaneNeighbours{s.poles}, s.counted(false), settings);
    EXPECT_EQ(result.clusters.at(0).p, 0.01);
    EXPECT_EQ(result.clusters.size(), 1U);
    EXPECT_FALSE(result.clusters[0].relative_risk.has_value());  // none is decayed outside
}

TEST(scan, none_or_all_decayed_is_no_cluster) {
    Survey s = survey(100, 2);
    const PlaneNeighbours plane{s.poles};
    for (const auto label : {std::uint8_t{0}, std::uint8_t{1}}) {
        s.decayed.assign(100, label);
        for (const ScanModel model : {ScanModel::bernoulli, ScanModel::poisson}) {
            ScanSettings settings;
            settings.model = model;
            settings.replicates = 9;
            const auto result = scanned(plane, s.counted(true), settings);
            EXPECT_TRUE(result.clusters.empty());
            EXPECT_EQ(result.replicate_llr, std::vector<double>(9, 0.0));
        }
    }
    // One decayed pole is no cluster either; nor is a stratum that is decayed altogether.
    s.decayed.assign(100, 0);
    s.decayed[7] = 1;
    EXPECT_TRUE(scanned(plane, s.counted(false)).clusters.empty());
    for (std::size_t i = 0; i < 100; ++i) {
        s.decayed[i] = s.stratum[i] == 1 ? 1 : 0;
    }
    ScanSettings settings;
    settings.model = ScanModel::poisson;
    EXPECT_TRUE(scanned(plane, s.counted(true), settings).clusters.empty());
}

TEST(scan, no_pole_and_one_pole) {
    for (const std::size_t count : {0U, 1U, 2U}) {
        const std::vector<Point> poles(count);
        const std::vector<std::uint8_t> decayed(count, 1);
        const auto result = scan_for_clusters(PlaneNeighbours{poles}, {decayed, {}, {}});
        ASSERT_TRUE(result.has_value());
        EXPECT_TRUE(result->clusters.empty());
    }
}

TEST(scan, poles_at_one_place_come_in_together) {
    // Five poles at one place, two decayed: never the two alone.
    std::vector<Point> poles(5, Point{500.0, 500.0});
    std::vector<std::uint8_t> decayed{1, 1, 0, 0, 0};
    for (int i = 0; i < 35; ++i) {
        poles.push_back({40.0 * i, 0.0});
        decayed.push_back(0);
    }
    ScanSettings settings;
    settings.max_share = 0.5;
    settings.replicates = 19;
    const auto result =
        scan_for_clusters(PlaneNeighbours{poles}, {decayed, {}, {}}, settings).value();
    ASSERT_EQ(result.clusters.size(), 1U);
    EXPECT_EQ(result.clusters[0].places, (std::vector<std::uint32_t>{0, 1, 2, 3, 4}));
    EXPECT_EQ(result.clusters[0].radius_m, 0.0);
    settings.max_share = 0.1;  // four poles at most: the five are in no window
    EXPECT_TRUE(scanned(PlaneNeighbours{poles}, {decayed, {}, {}}, settings).clusters.empty());
}

TEST(scan, centres_are_thinned_by_place_alone) {
    Survey s = survey(500, 21);
    const PlaneNeighbours plane{s.poles};
    ScanSettings settings;
    settings.replicates = 19;
    settings.max_steps = 500 * 50 / 7.0;
    const auto thin = scanned(plane, s.counted(false), settings);
    EXPECT_GE(thin.stride, 7U);
    EXPECT_LE(thin.stride, 8U);
    EXPECT_EQ(thin.centres, (500 + thin.stride - 1) / thin.stride);
    const auto layout = plane.layout();
    for (const ScanCluster& cluster : thin.clusters) {
        const auto at = std::find(layout.begin(), layout.end(), cluster.centre) - layout.begin();
        EXPECT_EQ(static_cast<std::size_t>(at) % thin.stride, 0U);
    }
    // Other labels, the same centres and windows.
    std::reverse(s.decayed.begin(), s.decayed.end());
    const auto other = scanned(plane, s.counted(false), settings);
    EXPECT_EQ(other.stride, thin.stride);
    EXPECT_EQ(other.windows, thin.windows);
    settings.max_steps = 1e8;
    EXPECT_EQ(scanned(plane, s.counted(false), settings).stride, 1U);
}

TEST(scan, tells_how_far_it_is_and_stops_when_told) {
    const Survey s = survey(600, 1);
    const PlaneNeighbours plane{s.poles};
    ScanSettings settings;
    settings.max_label_bytes = 600 * 64 * 5;  // several rounds
    double last = 0.0;
    const auto result = scan_for_clusters(plane, s.counted(false), settings, [&](double done) {
        EXPECT_GE(done, last);
        last = done;
        return true;
    });
    EXPECT_TRUE(result.has_value());
    EXPECT_DOUBLE_EQ(last, 1.0);
    int calls = 0;
    EXPECT_FALSE(scan_for_clusters(plane, s.counted(false), settings, [&](double) {
                     return ++calls < 3;
                 }).has_value());
    EXPECT_EQ(calls, 3);
}

/// More than 32767 decayed poles in a window, and more than 255 at one place.
TEST(scan, great_counts_are_counted) {
    const std::uint32_t count = 80000;
    Survey s;
    for (std::uint32_t i = 0; i < count; ++i) {
        s.place.push_back(i / 1000);
        s.decayed.push_back(i % 10 < (i / 1000 < 10 ? 10U : 9U) ? 1 : 0);
    }
    for (int i = 0; i < 80; ++i) {
        s.poles.push_back({100.0 * i, 0.0});
    }
    ScanSettings settings;
    settings.max_share = 0.5;
    settings.max_radius_m = 1e6;
    settings.replicates = 5;
    const ScanPoles counted = s.counted(false, true);
    const auto result = scan_for_clusters(PlaneNeighbours{s.poles}, counted, settings).value();
    expect_as_brute_force(result, {test::straight_distances(s.poles), counted, settings});
    EXPECT_EQ(result.clusters.at(0).poles, 10000U);
    EXPECT_EQ(result.clusters.at(0).decayed, 10000U);
}

TEST(scan_llr, is_the_formula_and_its_limits) {
    EXPECT_EQ(bernoulli_llr(1, 10, 10, 100), 0.0);  // as everywhere
    EXPECT_EQ(bernoulli_llr(0, 10, 10, 100), 0.0);
    EXPECT_EQ(bernoulli_llr(10, 100, 10, 100), 0.0);
    // 4 of 4 in 62 of 203: computed for the humberside case.
    EXPECT_NEAR(bernoulli_llr(4, 4, 62, 203), 4.83651636420545, 1e-12);
    EXPECT_NEAR(
        bernoulli_llr(10, 10, 10, 100), -10.0 * std::log(0.1) - 90.0 * std::log(0.9), 1e-12);
    EXPECT_EQ(poisson_llr(5, 5.0, 20), 0.0);
    EXPECT_EQ(poisson_llr(0, 0.0, 20), 0.0);
    EXPECT_NEAR(poisson_llr(20, 5.0, 20), 20.0 * std::log(4.0), 1e-12);
    EXPECT_NEAR(poisson_llr(8, 2.0, 20), 8 * std::log(4.0) + 12 * std::log(12.0 / 18), 1e-12);
}

}  // namespace
}  // namespace linewood
