// The scan on data others have scanned, where they are at hand (LINEWOOD_REFERENCE_DATA).

#include <algorithm>
#include <cmath>
#include <vector>

#include <gtest/gtest.h>

#include "geo/cluster/decay_hot_spots.hpp"
#include "geo/cluster/plane_neighbours.hpp"
#include "geo/cluster/scan.hpp"
#include "geo/cluster/span_neighbours.hpp"
#include "tests/geo/cluster/reference_data.hpp"
#include "tests/geo/cluster/scan_brute_force.hpp"

namespace linewood {
namespace {

/// Degrees taken as a plane, times this, stand for metres: distances are told apart to a micrometre.
constexpr double kScale = 1e5;

/// Areas with counts, as poles: a pole a head, all of an area at its place.
struct Heads {
    std::vector<std::uint8_t> decayed;
    std::vector<std::uint32_t> place;

    explicit Heads(const test::json& inputs) {
        for (std::uint32_t area = 0; area < inputs["cases"].size(); ++area) {
            const auto cases = inputs["cases"][area].get<std::uint32_t>();
            const auto population = inputs["population"][area].get<std::uint32_t>();
            for (std::uint32_t head = 0; head < population; ++head) {
                place.push_back(area);
                decayed.push_back(head < cases ? 1 : 0);
            }
        }
    }
};

void expect_p(double p, double reference, double reference_replicates, double replicates) {
    const double room = 4.0 * std::sqrt(reference * (1.0 - reference) / reference_replicates) +
                        4.0 * std::sqrt(p * (1.0 - p) / replicates);
    EXPECT_NEAR(p, reference, std::max(room, 0.005));
}

void expect_cluster(const ScanCluster& found,
                    const test::json& expected,
                    double reference_replicates,
                    double scale) {
    EXPECT_NEAR(found.llr, expected["llr"].get<double>(), 1e-6);
    EXPECT_EQ(found.centre + 1, expected["center"].get<std::uint32_t>());
    EXPECT_EQ(found.poles, expected["population"].get<std::uint32_t>());
    EXPECT_EQ(found.decayed, expected["cases"].get<std::uint32_t>());
    EXPECT_NEAR(found.expected, expected["expected"].get<double>(), 1e-6);
    EXPECT_NEAR(found.relative_risk.value(), expected["rel_risk"].get<double>(), 1e-6);
    EXPECT_NEAR(found.radius_m, expected["radius"].get<double>() * scale, 1e-5);
    std::vector<std::uint32_t> members;
    for (const auto& member : expected["members"]) {
        members.push_back(member.get<std::uint32_t>() - 1);
    }
    std::vector<std::uint32_t> places = found.places;
    std::sort(members.begin(), members.end());
    std::sort(places.begin(), places.end());
    EXPECT_EQ(places, members);
    expect_p(found.p, expected["p_mc"].get<double>(), reference_replicates, 999);
}

/// Great circles on a sphere of 6370 km, km taken as metres times 1000; latitude comes first.
test::TableNeighbours on_a_sphere(const test::json& coordinates) {
    test::BruteScan::Distances far;
    const auto places = test::points(coordinates, 3.14159265358979323846 / 180.0);
    for (const Point a : places) {
        std::vector<double> row;
        for (const Point b : places) {
            const double north = std::sin((b.x - a.x) / 2.0);
            const double east = std::sin((b.y - a.y) / 2.0);
            const double h = north * north + std::cos(a.x) * std::cos(b.x) * east * east;
            row.push_back(2.0 * 6370e3 * std::asin(std::sqrt(h)));
        }
        far.push_back(row);
    }
    return test::TableNeighbours{far};
}

/// @param scale of the published radius to metres.
void check(const test::json& table, ScanModel model, const NeighbourSource& source, double scale) {
    const auto& rule = table["window_rule"];
    const Heads heads{table["inputs"]};
    ScanSettings settings;
    settings.model = model;
    settings.max_share = rule["max_population_fraction"].get<double>();
    if (!rule["max_areas"].is_null()) {
        settings.max_places = rule["max_areas"].get<std::size_t>();
    }
    settings.max_radius_m = 1e12;
    settings.max_clusters = table["expected"]["brute_force_clusters"].size();
    const auto result =
        scan_for_clusters(source, {heads.decayed, {}, heads.place}, settings).value();
    const auto& expected = table["expected"]["brute_force_clusters"];
    const auto replicates = table["expected"]["mc"]["R"].get<double>();
    ASSERT_EQ(result.clusters.size(), expected.size());
    for (std::size_t i = 0; i < expected.size(); ++i) {
        SCOPED_TRACE(i);
        expect_cluster(result.clusters[i], expected[i], replicates, scale);
    }
    // As printed by the programs that published it, all digits.
    const auto& external = table["expected"]["external"];
    for (std::size_t i = 0; !external.is_null() && i < external["clusters"].size(); ++i) {
        const auto& printed = external["clusters"][i];
        EXPECT_NEAR(result.clusters[i].llr,
                    printed["llr"].get<double>(),
                    model == ScanModel::poisson ? 5e-7 : 5e-6);
        EXPECT_EQ(result.clusters[i].decayed, printed["cases"].get<std::uint32_t>());
    }
    // How high the greatest of a replicate goes; quantiles of as many replicates scatter by 5 %.
    std::vector<double> greatest = result.replicate_llr;
    std::sort(greatest.begin(), greatest.end());
    const auto& quantiles = table["expected"]["mc"]["max_llr_quantiles"];
    EXPECT_NEAR(greatest[499] / quantiles["q50"].get<double>(), 1.0, 0.06);
    EXPECT_NEAR(greatest[949] / quantiles["q95"].get<double>(), 1.0, 0.12);
}

TEST(scan_published, reference_humberside) {
    const auto table = test::reference("scan_humberside_bernoulli.json");
    if (table.is_null()) {
        GTEST_SKIP() << "not run";
    }
    const auto& places = table["inputs"]["xy"];
    check(table, ScanModel::bernoulli, PlaneNeighbours{test::points(places)}, 1.0);
}

TEST(scan_published, reference_new_york_poisson) {
    const auto table = test::reference("scan_ny_poisson_10pct.json");
    if (table.is_null()) {
        GTEST_SKIP() << "not run";
    }
    const auto& places = table["inputs"]["xy"];
    check(table, ScanModel::poisson, PlaneNeighbours{test::points(places, kScale)}, kScale);
}

TEST(scan_published, reference_new_york_binomial) {
    const auto table = test::reference("scan_ny_binomial_k10.json");
    if (table.is_null()) {
        GTEST_SKIP() << "not run";
    }
    const auto& places = table["inputs"]["xy"];
    check(table, ScanModel::bernoulli, on_a_sphere(places), 1000.0);
}

/// A network with points on its edges: the points come first, then the vertices.
class PointsOnEdges {
public:
    PointsOnEdges(const test::json& inputs, double scale) {
        const auto vertices = test::points(inputs["network"]["vertices"], scale);
        const auto& segment = inputs["points"]["seg"];
        const auto& along = inputs["points"]["tp"];
        points_ = static_cast<std::uint32_t>(segment.size());
        nodes_ = points_ + static_cast<std::uint32_t>(vertices.size());
        std::vector<std::vector<std::pair<double, std::uint32_t>>> on(
            inputs["network"]["edges"].size());
        for (std::uint32_t i = 0; i < points_; ++i) {
            on[segment[i].get<std::size_t>()].emplace_back(along[i].get<double>(), i);
        }
        for (std::size_t e = 0; e < on.size(); ++e) {
            const auto a = inputs["network"]["edges"][e][0].get<std::uint32_t>();
            const auto b = inputs["network"]["edges"][e][1].get<std::uint32_t>();
            const double length =
                std::hypot(vertices[a].x - vertices[b].x, vertices[a].y - vertices[b].y);
            total_ += length;
            std::sort(on[e].begin(), on[e].end());
            on[e].emplace_back(1.0, points_ + b);
            std::uint32_t from = points_ + a;
            double at = 0.0;
            for (const auto& [share, node] : on[e]) {
                edges_.push_back({from, node, (share - at) * length});
                from = node;
                at = share;
            }
        }
    }

    SpanNeighbours neighbours() const {
        std::vector<std::uint32_t> counted;
        for (std::uint32_t i = 0; i < points_; ++i) {
            counted.push_back(i);
        }
        return {nodes_, edges_, counted};
    }
    double total() const { return total_; }

private:
    std::uint32_t points_ = 0;
    std::uint32_t nodes_ = 0;
    std::vector<SpanEdge> edges_;
    double total_ = 0.0;
};

void check_distances(const char* file, double scale) {
    const auto table = test::reference(file);
    if (table.is_null()) {
        GTEST_SKIP() << "not run";
    }
    const PointsOnEdges network{table["inputs"], scale};
    const auto& expected = table["expected"];
    const double room = 1e-6 * network.total();
    EXPECT_NEAR(network.total(), expected["total_length"].get<double>() * scale, room);
    const SpanNeighbours spans = network.neighbours();
    const NeighbourRows rows = band_rows(spans, 1e12);
    for (const auto& entry : expected["network_distance_first30"]) {
        const auto from = entry[0].get<std::uint32_t>();
        const auto to = entry[1].get<std::uint32_t>();
        const auto row = rows.row(from);
        const auto near =
            std::find_if(row.begin(), row.end(), [to](const Near& n) { return n.pole == to; });
        ASSERT_TRUE(from == to || near != row.end());
        const double m = from == to ? 0.0 : to_metres(near->um);
        EXPECT_NEAR(m, entry[2].get<double>() * scale, room);
    }
    const NeighbourRows nearest = nearest_rows(spans, 1);
    for (std::size_t i = 0; i < nearest.size(); ++i) {
        EXPECT_NEAR(
            to_metres(nearest.row(i)[0].um), expected["nn_dist"][i].get<double>() * scale, room);
    }
}

TEST(span_neighbours, reference_simplenet) { check_distances("net_simplenet25.json", 1000.0); }

TEST(span_neighbours, reference_chicago) { check_distances("net_chicago.json", 1.0); }

TEST(scan_published, reference_chicago_along_the_streets) {
    const auto table = test::reference("net_chicago.json");
    if (table.is_null()) {
        GTEST_SKIP() << "not run";
    }
    const auto& expected = table["expected"];
    const auto decayed = test::labels(expected["case_marks"]);
    const SpanNeighbours spans = PointsOnEdges{table["inputs"], 1.0}.neighbours();
    ScanSettings settings;
    settings.max_share = 0.5;
    settings.max_radius_m = 1e12;
    settings.max_clusters = expected["scan"]["clusters_1based"].size();
    const auto result = scan_for_clusters(spans, {decayed, {}, {}}, settings).value();
    ASSERT_EQ(result.clusters.size(), expected["scan"]["clusters_1based"].size());
    for (std::size_t i = 0; i < result.clusters.size(); ++i) {
        SCOPED_TRACE(i);
        expect_cluster(result.clusters[i], expected["scan"]["clusters_1based"][i], 999, 1.0);
    }
    const auto& band = expected["gistar_band"];
    const auto scores =
        decay_hot_spots(decayed, {}, band_rows(spans, band["band"].get<double>()), {1, 1});
    for (std::size_t i = 0; i < scores.size(); ++i) {
        EXPECT_EQ(scores[i].poles, band["n_i"][i].get<std::uint32_t>());
        EXPECT_EQ(scores[i].decayed, band["c_i"][i].get<std::uint32_t>());
        EXPECT_NEAR(scores[i].z.value(), band["z"][i].get<double>(), 1e-8);
        const auto p = band["p_hyper_ge"][i].get<double>();
        EXPECT_NEAR(scores[i].p.value(), p, 1e-10 * p);
    }
}

}  // namespace
}  // namespace linewood
