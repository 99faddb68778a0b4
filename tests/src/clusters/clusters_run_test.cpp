#include "src/clusters/clusters_run.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>
#include <random>
#include <set>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "geo/io/feature_reader.hpp"
#include "geo/shape/outline.hpp"
#include "src/job/job_error.hpp"
#include "tests/src/clusters/assessed_network.hpp"

namespace linewood::testing {
namespace {

using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

bool every_tenth(int i) { return i % 10 == 3; }

/// A line of 200 poles, every tenth decayed, and the 12 from the 100th all.
AssessedNetwork planted() {
    AssessedNetwork n;
    n.add_line("A", 200, 0.0, 0.0, [](int i) { return every_tenth(i) || (i >= 100 && i < 112); });
    return n;
}

TEST(ClustersRun, FindsAPlantedClusterBothWaysAndNamesItsMembers) {
    const ClusterSearch search{planted()};
    for (const char* const distance : {"straight", "network"}) {
        const auto found = search.significant(distance);
        ASSERT_FALSE(found.empty()) << distance;
        const Row& c = found.front();
        const int inspected = c.at("inspected");
        const int decayed = c.at("decayed");
        EXPECT_GE(decayed, 11) << distance;  // a circle takes an odd number of a line
        EXPECT_LE(inspected, decayed + 1) << distance;
        EXPECT_EQ(c.at("p"), 1.0 / 200.0) << distance;
        EXPECT_DOUBLE_EQ(c.at("rate_pct"), std::round(1e11 * decayed / inspected) / 1e9);
        EXPECT_GT(c.at("times_elsewhere").get<double>(), 5.0);
        const auto members = search.members(c.at("cluster"));
        EXPECT_EQ(members.size(), static_cast<std::size_t>(inspected));
        EXPECT_THAT(members, Contains("A105"));
        EXPECT_THAT(c.at("@wkt").get<std::string>(), HasSubstr("POLYGON"));
    }
    EXPECT_THAT(search.statements("job_seed"), ElementsAre("1"));
    EXPECT_THAT(search.statements("p_floor"), ElementsAre("0.005"));
    EXPECT_THAT(search.statements("tested"), Contains(HasSubstr("199 random labellings (seed 1)")));
}

TEST(ClustersRun, ScoresPolesAndCountsJoins) {
    const ClusterSearch search{planted()};
    const Row& middle = search.layer("pole_scores").pole("A105");
    EXPECT_EQ(middle.at("neighbourhood"), 12);
    EXPECT_EQ(middle.at("decay_spot"), "hot");
    EXPECT_EQ(middle.at("strength_spot"), "low");
    EXPECT_LT(middle.at("strength_z").get<double>(), -3.0);
    EXPECT_TRUE(search.layer("pole_scores").pole("A20").at("decay_spot").is_null());
    EXPECT_THAT(search.statements("found"), Contains(HasSubstr("join two decayed poles")));
    EXPECT_EQ(search.layer("groups").rows.size(), 1U);
    EXPECT_GE(search.layer("groups").rows[0].at("decayed").get<int>(), 12);
}

/// Along the spans nothing leads from one line to the other, 150 m away.
TEST(ClustersRun, TheNetworkDoesNotJumpBetweenLinesTheStraightOneDoes) {
    AssessedNetwork n;
    const auto mid = [](int i) { return i >= 50 && i < 56; };
    n.add_line("A", 100, 0.0, 0.0, mid);
    n.add_line("B", 100, 0.0, 150.0, mid);
    const ClusterSearch search{n};
    const auto lines_of = [&](const Row& cluster) {
        std::set<char> lines;
        for (const std::string& id : search.members(cluster.at("cluster"))) {
            lines.insert(id.front());
        }
        return lines;
    };
    ASSERT_FALSE(search.significant("straight").empty());
    EXPECT_EQ(lines_of(search.significant("straight").front()).size(), 2U);
    ASSERT_FALSE(search.significant("network").empty());
    for (const Row& c : search.significant("network")) {
        EXPECT_EQ(lines_of(c).size(), 1U);
    }
}

TEST(ClustersRun, ADenseTownOfTheSameRateIsNone) {
    AssessedNetwork n;
    n.add_line("L", 300, 0.0, 0.0, every_tenth);
    for (int i = 0; i < 300; ++i) {
        n.add_pole("T" + std::to_string(i),
                   4000.0 + 12.0 * (i % 20),
                   200.0 + 12.0 * (i / 20),
                   (i * 7 + i / 20) % 10 == 3 ? "stub" : "serviceable");
    }
    const ClusterSearch search{n};
    EXPECT_THAT(search.significant("straight"), IsEmpty());
    EXPECT_THAT(search.statements("poles_hot"), ElementsAre("0"));
}

/// Poles 100 to 159 are of 1950 and six of ten are decayed; of the others one in ten.
AssessedNetwork old_street() {
    AssessedNetwork n;
    const auto old = [](int i) { return i >= 100 && i < 160; };
    n.add_line(
        "A",
        300,
        0.0,
        0.0,
        [old](int i) { return old(i) ? i % 5 < 3 : i % 10 == 3; },
        [old](int i) {
            return Row{{"install_year", old(i) ? 1952 : 1991}};
        });
    return n;
}

TEST(ClustersRun, AnOldStreetIsAClusterUnlessStrataSayThatItIsOld) {
    EXPECT_FALSE(ClusterSearch{old_street()}.significant("straight").empty());
    const ClusterSearch within{old_street(), [](ClusterJob& job) {
                                   job.strata = {{"install_year", 10.0}};
                               }};
    EXPECT_THAT(within.significant("straight"), IsEmpty());
    EXPECT_THAT(within.significant("network"), IsEmpty());
    EXPECT_THAT(within.statements("poles_hot"), ElementsAre("0"));
    EXPECT_THAT(within.statements("stratum"), ElementsAre("1950 to 1960", "1990 to 2000"));
    EXPECT_THAT(within.statements("tested"),
                Contains(HasSubstr("the variance that chance within the strata gives")));
    EXPECT_EQ(within.layer("pole_scores").pole("A110").at("stratum"), "1950 to 1960");
}

/// Strengths of the old fifth scatter widely, those of the others hardly: by chance alone, and that is no hot spot.
TEST(ClustersRun, StrataThatScatterUnlikeAreNoHotSpots) {
    int alarms = 0;
    for (unsigned seed = 0; seed < 20; ++seed) {
        std::mt19937 random{seed};
        AssessedNetwork n;
        n.add_line(
            "A",
            500,
            0.0,
            0.0,
            [](int i) { return every_tenth(i); },
            [&random](int i) {
                const bool old = i < 100;
                const double share = static_cast<double>(random()) / 4294967296.0;
                return Row{{"install_year", old ? 1955 : 2015},
                           {"remaining_pct", old ? 20.0 + 80.0 * share : 96.0 + 4.0 * share}};
            });
        const ClusterSearch search{n, [](ClusterJob& job) {
                                       job.strata = {{"install_year", 10.0}};
                                       job.straight = false;
                                       job.network = false;
                                       job.cells = CellShape::none;
                                   }};
        const int low = std::stoi(search.statements("poles_low_strength").at(0));
        const int high = std::stoi(search.statements("poles_high_strength").at(0));
        alarms += low + high > 0 ? 1 : 0;
    }
    // Binomial(20, 0.05): 99.7 % below 5 (computed).
    EXPECT_LT(alarms, 5);
}

TEST(ClustersRun, SpellingsOfASpeciesAreOneStratum) {
    AssessedNetwork n;
    const char* const spellings[] = {
        "SYP", "Southern Pine", "SOUTHERN-PINE", "southern_pine", "Swamp Oak", "swamp-oak", ""};
    n.add_line("A", 140, 0.0, 0.0, every_tenth, [&](int i) {
        return Row{{"species", spellings[i % 7]}};
    });
    const ClusterSearch search{n, [](ClusterJob& job) { job.strata = {{"species", 0.0}}; }};
    EXPECT_THAT(search.statements("stratum"),
                ElementsAre("not recorded", "southern_pine", "swamp_oak"));
}

TEST(ClustersRun, SaysWhatWasNotTestedAndWhy) {
    const ClusterSearch pairs{planted(), [](ClusterJob& job) { job.neighbours = 2; }};
    EXPECT_THAT(pairs.statements("poles_hot"), IsEmpty());
    EXPECT_THAT(pairs.statements("poles_low_strength"), IsEmpty());
    EXPECT_THAT(pairs.statements("poles_decay_tested"), ElementsAre("0"));
    EXPECT_THAT(pairs.statements("neighbourhood_median"), ElementsAre("2 poles"));
    const auto found = pairs.statements("found");
    EXPECT_THAT(found,
                Contains(HasSubstr("stand around a pole was tested of none: 200 with under 5")));
    EXPECT_THAT(found, Contains(HasSubstr("around a pole was tested of none: 200 with under 8")));
    EXPECT_THAT(found, Not(Contains(HasSubstr("around 0"))));
    EXPECT_EQ(pairs.layer("findings").row("code", "neighbourhoods_small").at("value"), "2");

    AssessedNetwork n = planted();
    n.poles.rows[10].at("remaining_pct") = nullptr;
    n.add_line("E", 6, 0.0, 9000.0, [](int) { return false; });
    const ClusterSearch some{n, [](ClusterJob& job) { job.neighbours_along_spans = true; }};
    EXPECT_THAT(some.statements("found"), Contains(HasSubstr("of 206 poles tested.")));
    EXPECT_THAT(some.statements("found"),
                Contains(HasSubstr("of 199 poles tested; 7 not tested: 1 without a strength, 6 "
                                   "with under 8")));
    EXPECT_THAT(some.statements("count_without_strength"), ElementsAre("1"));
    EXPECT_THAT(where(some.layer("findings"), "code", "neighbourhoods_small"), IsEmpty());
}

TEST(ClustersRun, WhereNoneIsDecayedStrengthIsTestedAllTheSame) {
    AssessedNetwork n;
    n.add_line(
        "A",
        100,
        0.0,
        0.0,
        [](int) { return false; },
        [](int i) {
            return Row{{"remaining_pct", i < 20 ? 70.0 + i % 3 : 95.0 + i % 3}};
        });
    const auto found = ClusterSearch{n}.statements("found");
    EXPECT_THAT(found,
                ElementsAre(HasSubstr("Decayed poles were not tested: none of the inspected"),
                            HasSubstr("Strength is low around")));
}

TEST(ClustersRun, AnInspectionWithoutADayIsOne) {
    AssessedNetwork n = planted();
    n.add_pole("U1", 0.0, 50.0, "unassessed", Row{{"reasons", "present_circumference_missing"}});
    n.add_pole("U2", 40.0, 50.0, "unassessed", Row{{"reasons", "not_inspected"}});
    n.add_pole("U3", 80.0, 50.0, "unassessed", Row{{"reasons", "not_wood"}});
    n.poles.rows[7].at("inspected_on") = nullptr;
    const ClusterSearch search{n};
    EXPECT_THAT(search.statements("count_inspected"), ElementsAre("200"));
    EXPECT_THAT(search.statements("count_without_verdict"), ElementsAre("1"));
    EXPECT_THAT(search.statements("count_not_inspected"), ElementsAre("2"));
}

TEST(ClustersRun, CountsOnlyWhoWasInspectedAndSaysHowManyWereNot) {
    AssessedNetwork n = planted();
    for (int i = 0; i < 30; ++i) {
        n.add_pole("U" + std::to_string(i), 4100.0 + 10.0 * i, 20.0, "unassessed");
    }
    const ClusterSearch search{n};
    EXPECT_THAT(search.statements("count_inspected"), ElementsAre("200"));
    EXPECT_THAT(search.statements("count_not_inspected"), ElementsAre("30"));
    const Row c = search.significant("straight").front();
    EXPECT_GT(c.at("poles"), c.at("inspected"));
    EXPECT_THAT(c.at("caution").get<std::string>(), HasSubstr("under half of the poles"));
    EXPECT_EQ(search.layer("pole_scores").rows.size(), 200U);
}

TEST(ClustersRun, CountsAPoleOnce) {
    AssessedNetwork n = planted();
    n.add_pole("A105", 4200.0, 500.0, "unassessed");
    const ClusterSearch search{n};
    EXPECT_THAT(search.statements("count_inspected"), ElementsAre("200"));
    EXPECT_THAT(search.statements("count_repeated_id"), ElementsAre("1"));
    EXPECT_EQ(search.layer("findings").rows.size(), 1U);
}

TEST(ClustersRun, SmallNeighbourhoodsAtDeadEndsHaveNoScore) {
    AssessedNetwork n = planted();
    n.add_line("E", 4, 0.0, 9000.0, [](int) { return true; });
    const ClusterSearch search{n, [](ClusterJob& job) { job.neighbours_along_spans = true; }};
    const Row& end = search.layer("pole_scores").pole("E0");
    EXPECT_EQ(end.at("neighbourhood"), 4);
    EXPECT_TRUE(end.at("decay_p").is_null());
    EXPECT_TRUE(end.at("strength_z").is_null());
}

TEST(ClustersRun, CoincidentAndIsolatedPolesAreNoTrouble) {
    AssessedNetwork n = planted();
    for (int i = 0; i < 20; ++i) {
        n.add_pole("C" + std::to_string(i), 500.0, 700.0, i < 2 ? "replace" : "treat");
    }
    n.add_pole("far", 2500.0, 2500.0, "replace");
    const ClusterSearch search{n};
    EXPECT_FALSE(search.significant("network").empty());
    // All of one place enter a window together.
    for (const Row& c : search.clusters().rows) {
        if (c.at("distance") == "straight") {
            const auto members = search.members(c.at("cluster"));
            const auto here = std::count_if(
                members.begin(), members.end(), [](const auto& id) { return id.front() == 'C'; });
            EXPECT_TRUE(here == 0 || here == 20) << c.at("cluster");
        }
    }
}

TEST(ClustersRun, NothingToTestIsSaidAndIsNoFailure) {
    AssessedNetwork none;
    none.add_line("A", 40, 0.0, 0.0, [](int) { return false; });
    AssessedNetwork all;
    all.add_line("A", 40, 0.0, 0.0, [](int) { return true; });
    AssessedNetwork one;
    one.add_pole("A", 0.0, 0.0, "replace");
    AssessedNetwork nobody;
    nobody.add_pole("A", 0.0, 0.0, "unassessed");
    const std::pair<const AssessedNetwork*, const char*> cases[] = {
        {&none, "none of the inspected"},
        {&all, "all of the inspected"},
        {&one, "one inspected pole only"},
        {&nobody, "no pole was inspected"}};
    for (const auto& [network, words] : cases) {
        const TempDir folder;
        const ClusterSearch search{*network,
                                   [&](ClusterJob& job) { job.page = folder / "page.html"; }};
        EXPECT_THAT(search.clusters().rows, IsEmpty()) << words;
        EXPECT_THAT(search.statements("found"), ElementsAre(HasSubstr(words)));
        EXPECT_THAT(content_of(folder / "page.html"), HasSubstr(words));
    }
}

TEST(ClustersRun, RefusesDegreesAsDistances) {
    AssessedNetwork n;
    n.x0 = -122.0;
    n.y0 = 45.0;
    n.poles.crs = "";
    n.add_pole("A", 0.0, 0.0, "replace");
    n.add_pole("B", 0.001, 0.0, "treat");
    EXPECT_THROW(ClusterSearch{n}, JobError);
}

TEST(ClustersRun, ShuffledLabelsGiveFewFalseAlarms) {
    AssessedNetwork n;
    n.add_line("A", 150, 0.0, 0.0, [](int) { return false; });
    int alarms = 0;
    constexpr int kRuns = 60;
    for (int run = 0; run < kRuns; ++run) {
        std::mt19937 random(static_cast<unsigned>(run));
        std::vector<int> order(150);
        std::iota(order.begin(), order.end(), 0);
        std::shuffle(order.begin(), order.end(), random);
        for (std::size_t i = 0; i < order.size(); ++i) {
            n.poles.rows[static_cast<std::size_t>(order[i])].at("verdict") =
                i < 20 ? "replace" : "serviceable";
        }
        const ClusterSearch search{n, [](ClusterJob& job) {
                                       job.network = false;
                                       job.cells = CellShape::none;
                                       job.replicates = 99;
                                   }};
        alarms += search.significant("straight").empty() ? 0 : 1;
    }
    // Binomial(60, 0.05): 99.9 % below 10 (computed).
    EXPECT_LT(alarms, 10);
}

TEST(ClustersRun, GivesTheSameBytesForAnyOrderAndAnyNumberOfThreads) {
    AssessedNetwork n = old_street();
    const TempDir pages;
    const ClusterSearch first{n, [&](ClusterJob& job) {
                                  job.threads = 1;
                                  job.page = pages / "page.html";
                              }};
    std::mt19937 random(7);
    std::shuffle(n.poles.rows.begin(), n.poles.rows.end(), random);
    std::shuffle(n.spans.rows.begin(), n.spans.rows.end(), random);
    for (const unsigned threads : {2U, 4U}) {
        const TempDir folder;
        const ClusterSearch again{n, [&](ClusterJob& job) {
                                      job.threads = threads;
                                      job.page = folder / "page.html";
                                  }};
        for (const char* const layer :
             {"clusters", "cluster_members", "pole_scores", "rates", "groups", "findings"}) {
            const std::string file = std::string{layer} + ".geojson";
            const std::string bytes = content_of(first.out() / file);
            EXPECT_FALSE(bytes.empty()) << file;
            EXPECT_EQ(bytes, content_of(again.out() / file)) << file;
        }
        EXPECT_EQ(content_of(pages / "page.html"), content_of(folder / "page.html"));
        EXPECT_EQ(first.statements("found"), again.statements("found"));
        EXPECT_EQ(first.statements("stratum"), again.statements("stratum"));
    }
}

TEST(ClustersRun, RatesAreasOfEveryKind) {
    AssessedNetwork n;
    n.add_line(
        "A",
        100,
        0.0,
        0.0,
        [](int i) { return i < 30; },
        [](int i) {
            return Row{{"circuit", i < 60 ? "N7" : "N8"}};
        });
    for (int i = 0; i < 5; ++i) {
        n.add_pole("U" + std::to_string(i), 10.0, 10.0, "unassessed", Row{{"circuit", "N7"}});
    }
    Table districts{"districts", {}, "POLYGON", "EPSG:4326"};
    districts.rows.push_back(Row{
        {"@wkt", "POLYGON ((-123.1 45.1,-122.9745 45.1,-122.9745 45.2,-123.1 45.2,-123.1 45.1))"},
        {"name", "West"}});
    const TempDir folder;
    write_table(folder / "districts.gpkg", districts);
    const ClusterSearch search{n, [&](ClusterJob& job) {
                                   job.areas = (folder / "districts.gpkg").string();
                                   job.cells = CellShape::square;
                                   job.cell_side_m = 1000.0;
                               }};
    const Table& rates = search.layer("rates");
    const Row& n7 = rates.row("name", "N7");
    EXPECT_EQ(n7.at("kind"), "circuit");
    EXPECT_EQ(n7.at("poles"), 65);
    EXPECT_EQ(n7.at("inspected"), 60);
    EXPECT_EQ(n7.at("decayed"), 30);
    EXPECT_DOUBLE_EQ(n7.at("rate_pct"), 50.0);
    // Wilson's interval of 30 of 60 at z = 1.959964, computed.
    EXPECT_NEAR(n7.at("rate_low_pct").get<double>(), 37.7350, 1e-3);
    EXPECT_NEAR(n7.at("rate_high_pct").get<double>(), 62.2650, 1e-3);
    EXPECT_EQ(n7.at("thin"), false);
    EXPECT_LT(n7.at("smoothed_pct").get<double>(), 50.0);
    const Row& west = rates.row("name", "West");
    EXPECT_EQ(west.at("kind"), "area");
    EXPECT_GT(west.at("inspected").get<int>(), 30);
    EXPECT_LT(west.at("inspected").get<int>(), 70);
    int in_squares = 0;
    for (const Row& row : where(rates, "kind", "square")) {
        in_squares += row.at("inspected").get<int>();
    }
    EXPECT_EQ(in_squares, 100);
}

/// Ten poles from south to north, 50 m apart, and how many of them are in a polygon.
class OverPoles {
public:
    explicit OverPoles(const std::string& crs) : areas_{"districts", {}, "POLYGON", crs} {
        for (int i = 0; i < 10; ++i) {
            network_.add_pole("P" + std::to_string(i), 0.0, 50.0 * i, i < 3 ? "stub" : "treat");
            if (i > 0) {
                network_.add_span("P" + std::to_string(i - 1), "P" + std::to_string(i));
            }
        }
    }
    OverPoles& add(const std::string& name, const std::string& wkt) {
        areas_.rows.push_back(Row{{"@wkt", wkt}, {"name", name}});
        return *this;
    }
    const ClusterSearch& search() {
        write_table(folder_ / "districts.gpkg", areas_);
        search_.emplace(network_, [this](ClusterJob& job) {
            job.areas = (folder_ / "districts.gpkg").string();
            job.cells = CellShape::none;
        });
        return *search_;
    }

private:
    AssessedNetwork network_;
    Table areas_;
    TempDir folder_{fast_place()};
    std::optional<ClusterSearch> search_;
};

TEST(ClustersRun, AnEdgeOfAPolygonIsStraightInItsOwnCoordinates) {
    // 45.1555025619 N is half-way between the fifth pole and the sixth (PROJ 9).
    OverPoles degrees{"EPSG:4326"};
    degrees
        .add("north",
             "POLYGON ((-128 45.1555025619,-118 45.1555025619,-118 47,-128 47,-128 45.1555025619))")
        .add("world", "POLYGON ((-180 -90,180 -90,180 90,-180 90,-180 -90))")
        .add("east of Greenwich",
             "POLYGON ((232 45.1555025619,242 45.1555025619,242 47,232 47,232 45.1555025619))");
    const ClusterSearch& search = degrees.search();
    const Table& rates = search.layer("rates");
    EXPECT_EQ(rates.row("name", "north").at("poles"), 5);
    EXPECT_EQ(rates.row("name", "world").at("poles"), 10);
    EXPECT_TRUE(rates.row("name", "world").at("@wkt").is_null());
    EXPECT_EQ(search.layer("findings").row("code", "area_not_drawn").at("feature"), "world");
    EXPECT_EQ(rates.row("name", "east of Greenwich").at("poles"), 5);
    // The outline that is drawn bends with the parallel: it is no four-sided figure.
    EXPECT_GT(rates.row("name", "north").at("@wkt").get<std::string>().size(), 1000U);

    // UTM zone 11, an edge of 800 km: half-way between the same two is northing 5017765.24 there (PROJ 9).
    OverPoles metres{"EPSG:32611"};
    metres.add("north",
               "POLYGON ((-300000 5017765.24,500000 5017765.24,500000 5300000,-300000 "
               "5300000,-300000 5017765.24))");
    EXPECT_EQ(metres.search().layer("rates").row("name", "north").at("poles"), 5);

    // The datum of 1927, 23 m to the south here: an edge 10 m before the sixth pole (PROJ 9). The same figures on WGS
    // 84 would be 13 m beyond it.
    OverPoles old{"EPSG:4267"};
    old.add("north", "POLYGON ((-128 45.155845,-118 45.155845,-118 47,-128 47,-128 45.155845))");
    EXPECT_EQ(old.search().layer("rates").row("name", "north").at("poles"), 5);
}

TEST(ClustersRun, PolygonsThatAreNoneAreFindingsOfTheirLayer) {
    OverPoles poles{""};
    poles
        .add("bow",
             "POLYGON ((499900 4999900,500100 5000500,499900 5000500,500100 4999900,499900 "
             "4999900))")
        .add("line", "POLYGON ((499900 4999900,500100 5000500,499900 4999900,499900 4999900))")
        .add("whole",
             "POLYGON ((499900 4999900,500100 4999900,500100 5000500,499900 5000500,499900 "
             "4999900))");
    const ClusterSearch& search = poles.search();
    const Table& found = search.layer("findings");
    EXPECT_EQ(found.row("code", "area_crosses_itself").at("feature"), "bow");
    EXPECT_EQ(found.row("code", "area_without_size").at("feature"), "line");
    EXPECT_EQ(found.rows.size(), 3U);
    for (const Row& row : found.rows) {
        EXPECT_EQ(row.at("layer"), "districts");
    }
    EXPECT_EQ(found.row("code", "crs_assumed").at("value"), "EPSG:32610");
    EXPECT_THAT(search.summary().lines, Contains(HasSubstr("layer districts: ")));
    const Table& rates = search.layer("rates");
    EXPECT_EQ(rates.row("name", "line").at("poles"), 0);
    EXPECT_EQ(rates.row("name", "bow").at("poles"), 10);
    EXPECT_EQ(rates.row("name", "whole").at("poles"), 10);
}

TEST(ClustersRun, TakesStrengthUnderALimitForDecay) {
    AssessedNetwork n = planted();
    n.poles.rows[150].at("remaining_pct") = nullptr;
    n.poles.rows[151].at("remaining_pct") = 65.0;
    n.poles.rows[152].at("remaining_pct") = 62.0;
    const ClusterSearch search{n, [](ClusterJob& job) { job.strength_below_pct = 65.0; }};
    EXPECT_THAT(search.statements("count_without_strength"), ElementsAre("1"));
    EXPECT_EQ(search.layer("pole_scores").pole("A151").at("decayed"), false);
    EXPECT_EQ(search.layer("pole_scores").pole("A152").at("decayed"), true);
}

/// Neither a share nor a number to reckon with: one of them would make every score nothing.
TEST(ClustersRun, AStrengthThatCannotBeIsAFindingAndCountsAsNone) {
    AssessedNetwork n = planted();
    n.poles.rows[150].at("remaining_pct") = 1e300;
    n.poles.rows[151].at("remaining_pct") = -50.0;
    const ClusterSearch search{n};
    const Table& scores = search.layer("pole_scores");
    EXPECT_TRUE(scores.pole("A150").at("strength_z").is_null());
    EXPECT_TRUE(scores.pole("A151").at("strength_z").is_null());
    EXPECT_LT(scores.pole("A105").at("strength_z").get<double>(), -3.0);
    const Table& findings = search.layer("findings");
    ASSERT_EQ(findings.rows.size(), 2U);
    for (const Row& found : findings.rows) {
        EXPECT_EQ(found.at("code"), "value_unreadable");
        EXPECT_EQ(found.at("field"), "remaining_pct");
    }
}

TEST(ClustersRun, CutsClustersSoThatTheyDoNotOverlap) {
    AssessedNetwork n;
    n.add_line("A", 300, 0.0, 0.0, [](int i) {
        return i % 25 == 3 || (i >= 100 && i < 110) || (i >= 112 && i < 122) ||
               (i >= 200 && i < 208);
    });
    const ClusterSearch search{n, [](ClusterJob& job) {
                                   job.out.replace_filename("out.gpkg");
                                   job.format = OutputFormat::geopackage;
                               }};
    const auto found = search.significant("straight");
    ASSERT_GE(found.size(), 2U);
    EXPECT_EQ(found.front().at("cluster"), "S1");
    std::vector<Polygons> areas;
    FeatureReader reader{Source::open(search.out().string()), "clusters"};
    FeatureBatch batch;
    while (reader.next(batch)) {
        for (std::size_t row = 0; row < batch.size(); ++row) {
            if (batch.text(row, 1) == "straight") {
                areas.push_back(*batch.area(row).value);
            }
        }
    }
    for (std::size_t i = 0; i < areas.size(); ++i) {
        for (std::size_t k = 0; k < i; ++k) {
            EXPECT_NEAR(area_of(cut_away(areas[i], {areas[k]})), area_of(areas[i]), 0.1) << i << k;
        }
    }
}

TEST(ClustersRun, ThePageEscapesEveryTextAndRunsNoScript) {
    AssessedNetwork n;
    n.add_line(
        "<b>&",
        60,
        0.0,
        0.0,
        [](int i) { return i >= 20 && i < 30; },
        [](int) {
            return Row{{"circuit", "<script>alert(1)</script>"}};
        });
    const TempDir folder;
    const ClusterSearch search{n, [&](ClusterJob& job) { job.page = folder / "page.html"; }};
    const std::string page = content_of(folder / "page.html");
    EXPECT_THAT(page, Not(HasSubstr("<script")));
    EXPECT_THAT(page, Not(HasSubstr(" style=")));
    EXPECT_THAT(page, Not(HasSubstr("<b>")));
    EXPECT_THAT(page, HasSubstr("&lt;script&gt;"));
    EXPECT_THAT(page, HasSubstr("seed 1"));
    EXPECT_THAT(page, HasSubstr("<svg"));
    EXPECT_THAT(page, HasSubstr("Never climb"));
}

}  // namespace
}  // namespace linewood::testing
