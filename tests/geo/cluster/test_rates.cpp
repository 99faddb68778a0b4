#include <algorithm>
#include <cmath>
#include <map>
#include <vector>

#include <gtest/gtest.h>

#include "geo/cluster/area_cells.hpp"
#include "geo/cluster/decay_rate.hpp"
#include "geo/cluster/false_discovery.hpp"
#include "geo/stats/rate_interval.hpp"
#include "geo/stats/replicate_random.hpp"
#include "tests/geo/cluster/reference_data.hpp"

namespace linewood {
namespace {

std::vector<AreaCount> areas_of(const test::json& table) {
    std::vector<AreaCount> areas;
    for (std::size_t i = 0; i < table["count"].size(); ++i) {
        areas.push_back(
            {table["population"][i].get<std::uint32_t>(), table["count"][i].get<std::uint32_t>()});
    }
    return areas;
}

TEST(smoothed_rates, published) {
    const auto table = test::published("eb_nc_sids74.json");
    const auto areas = areas_of(table);
    for (const RateModel model : {RateModel::poisson, RateModel::binomial}) {
        const auto& expected = table[model == RateModel::poisson ? "poisson" : "binomial"];
        const SmoothedRates smoothed = smoothed_rates(areas, model);
        EXPECT_NEAR(smoothed.mean, expected["b"].get<double>(), 1e-9 * smoothed.mean);
        if (model == RateModel::poisson) {
            EXPECT_NEAR(smoothed.between, expected["a"].get<double>(), 1e-9 * smoothed.between);
        }
        for (std::size_t i = 0; i < areas.size(); ++i) {
            const auto rate = expected["eb"][i].get<double>();
            EXPECT_NEAR(smoothed.rate[i].value(), rate, 1e-9 * rate) << i;
        }
    }
    for (std::size_t i = 0; i < areas.size(); ++i) {
        const RateInterval interval = wilson_interval(areas[i].decayed, areas[i].poles).value();
        EXPECT_NEAR(interval.low, table["wilson95"]["lower"][i].get<double>(), 1e-9);
        EXPECT_NEAR(interval.high, table["wilson95"]["upper"][i].get<double>(), 1e-9);
    }
}

TEST(locally_smoothed_rates, published) {
    const auto table = test::published("eb_nc_sids74.json");
    const auto areas = areas_of(table);
    const auto rates = locally_smoothed_rates(areas, test::rows_of(table["neighbours"]));
    for (std::size_t i = 0; i < areas.size(); ++i) {
        // No figure stands where a county and its neighbours have no deaths at all.
        const auto& expected = table["local_eb"][i];
        const double rate = expected.is_null() ? 0.0 : expected.get<double>();
        EXPECT_NEAR(rates[i].value(), rate, 1e-9 * rate) << i;
    }
}

TEST(smoothed_rates, small_areas_are_drawn_to_the_mean) {
    std::vector<AreaCount> areas{{1, 1}, {2, 0}, {500, 200}, {500, 20}, {0, 0}, {400, 100}};
    for (const RateModel model : {RateModel::poisson, RateModel::binomial}) {
        const SmoothedRates smoothed = smoothed_rates(areas, model);
        EXPECT_LT(smoothed.rate[0].value(), 0.5);
        EXPECT_GT(smoothed.rate[1].value(), 0.1);
        EXPECT_NEAR(smoothed.rate[2].value(), 0.4, 0.01);
        EXPECT_FALSE(smoothed.rate[4].has_value());
        // An area without poles counts for nothing.
        std::vector<AreaCount> without = areas;
        without.erase(without.begin() + 4);
        EXPECT_DOUBLE_EQ(smoothed_rates(without, model).rate[2].value(), *smoothed.rate[2]);
    }
}

TEST(smoothed_rates, equal_rates_stay_and_no_poles_have_none) {
    const std::vector<AreaCount> equal{{10, 1}, {200, 20}, {3000, 300}};
    const std::vector<AreaCount> none{{10, 0}, {20, 0}};
    const std::vector<AreaCount> all{{10, 10}, {20, 20}};
    for (const RateModel model : {RateModel::poisson, RateModel::binomial}) {
        for (const auto& rate : smoothed_rates(equal, model).rate) {
            EXPECT_NEAR(rate.value(), 0.1, 1e-12);
        }
        EXPECT_EQ(smoothed_rates(none, model).rate[0].value(), 0.0);
        EXPECT_EQ(smoothed_rates(all, model).rate[1].value(), 1.0);
        EXPECT_FALSE(smoothed_rates(std::vector<AreaCount>{{0, 0}}, model).rate[0].has_value());
        EXPECT_TRUE(smoothed_rates({}, model).rate.empty());
    }
}

TEST(smoothed_rates, binomial_stays_between_the_raw_rate_and_the_mean) {
    ReplicateRandom random{2, 2};
    for (int run = 0; run < 300; ++run) {
        std::vector<AreaCount> areas;
        for (int i = 0; i < 12; ++i) {
            const std::uint32_t poles = 1 + random.below(run % 2 == 0 ? 5 : 2000);
            areas.push_back({poles, random.below(poles + 1)});
        }
        const SmoothedRates smoothed = smoothed_rates(areas, RateModel::binomial);
        for (std::size_t i = 0; i < areas.size(); ++i) {
            const double raw = static_cast<double>(areas[i].decayed) / areas[i].poles;
            EXPECT_GE(smoothed.rate[i].value(), std::min(raw, smoothed.mean) - 1e-12);
            EXPECT_LE(smoothed.rate[i].value(), std::max(raw, smoothed.mean) + 1e-12);
        }
    }
}

TEST(adjusted_p, published) {
    const auto table = test::published("false_discovery.json");
    for (const char* name : {"bh1995", "ties"}) {
        const auto& expected = table[name];
        std::vector<std::optional<double>> p;
        for (const double value : test::numbers(expected["p"])) {
            p.emplace_back(value);
        }
        const auto bh = adjusted_p(p, FalseDiscovery::benjamini_hochberg);
        const auto by = adjusted_p(p, FalseDiscovery::benjamini_yekutieli);
        int found = 0;
        for (std::size_t i = 0; i < p.size(); ++i) {
            EXPECT_NEAR(bh[i].value(), expected["bh"][i].get<double>(), 1e-12);
            EXPECT_NEAR(by[i].value(), expected["by"][i].get<double>(), 1e-12);
            found += *bh[i] <= 0.05 ? 1 : 0;
        }
        if (name == std::string{"bh1995"}) {
            EXPECT_EQ(found, 4);
        }
    }
}

TEST(adjusted_p, tests_that_were_not_done_are_not_counted) {
    const std::vector<std::optional<double>> p{0.01, std::nullopt, 0.04, std::nullopt};
    const auto bh = adjusted_p(p, FalseDiscovery::benjamini_hochberg);
    EXPECT_DOUBLE_EQ(bh[0].value(), 0.02);
    EXPECT_DOUBLE_EQ(bh[2].value(), 0.04);
    EXPECT_FALSE(bh[1].has_value());
    EXPECT_TRUE(adjusted_p({}, FalseDiscovery::benjamini_yekutieli).empty());
}

TEST(area_cells, reference_hexagons_of_longleaf) {
    const auto table = test::reference("hexgrid_longleaf_r12.json");
    const auto points = test::reference("longleaf_xy.json");
    if (table.is_null() || points.is_null()) {
        GTEST_SKIP() << "not run";
    }
    const AreaGrid grid = AreaGrid::hexagons(12.0);
    std::map<CellIndex, int> counts;
    for (const Point p : test::points(points["inputs"]["xy"])) {
        ++counts[grid.cell_of(p)];
    }
    const auto& cells = table["expected"]["cells"];
    ASSERT_EQ(counts.size(), cells.size());
    for (const auto& cell : cells) {
        const CellIndex index{cell["row"].get<std::int64_t>(), cell["col"].get<std::int64_t>()};
        EXPECT_EQ(counts[index], cell["n"].get<int>());
        EXPECT_NEAR(grid.centre(index).x, cell["x"].get<double>(), 1e-9);
        EXPECT_NEAR(grid.centre(index).y, cell["y"].get<double>(), 1e-9);
    }
}

TEST(area_cells, each_point_is_nearest_to_its_own_centre) {
    ReplicateRandom random{4, 4};
    for (const AreaGrid& grid : {AreaGrid::hexagons(70.0), AreaGrid::squares(100.0)}) {
        for (int i = 0; i < 3000; ++i) {
            const Point p{random.below(2000000) * 1e-3 - 1000.0,
                          random.below(2000000) * 1e-3 - 1000.0};
            const CellIndex own = grid.cell_of(p);
            const Point mine = grid.centre(own);
            const double far = std::hypot(p.x - mine.x, p.y - mine.y);
            for (std::int64_t row = own.row - 3; row <= own.row + 3; ++row) {
                for (std::int64_t column = own.column - 3; column <= own.column + 3; ++column) {
                    const Point other = grid.centre({row, column});
                    EXPECT_GE(std::hypot(p.x - other.x, p.y - other.y), far - 1e-6);
                }
            }
        }
    }
}

TEST(area_cells, equally_near_is_the_lower_row_then_column) {
    const AreaGrid hexagons = AreaGrid::hexagons(10.0);
    const double wide = 10.0 * std::sqrt(3.0);
    EXPECT_EQ(hexagons.cell_of({0, 0}), (CellIndex{0, 0}));
    EXPECT_EQ(hexagons.cell_of({0.5 * wide, 0}), (CellIndex{0, 0}));
    EXPECT_EQ(hexagons.cell_of({-0.5 * wide, 0}), (CellIndex{0, -1}));
    EXPECT_EQ(hexagons.cell_of({0, 10.0}), (CellIndex{0, 0}));  // three meet here
    EXPECT_EQ(hexagons.cell_of({0, -10.0}), (CellIndex{-1, -1}));
    EXPECT_EQ(hexagons.cell_of({0, 10.1}), (CellIndex{1, -1}));
    const AreaGrid squares = AreaGrid::squares(50.0);
    EXPECT_EQ(squares.cell_of({25, 25}), (CellIndex{0, 0}));
    EXPECT_EQ(squares.cell_of({50, 25}), (CellIndex{0, 0}));
    EXPECT_EQ(squares.cell_of({50.001, 25}), (CellIndex{0, 1}));
    EXPECT_EQ(squares.cell_of({0, 0}), (CellIndex{-1, -1}));
}

TEST(area_cells, corners_go_round_the_cell_and_are_shared) {
    for (const AreaGrid& grid : {AreaGrid::hexagons(333.3), AreaGrid::squares(250.1)}) {
        std::map<std::pair<double, double>, int> shared;
        for (std::int64_t row = -4; row <= 4; ++row) {
            for (std::int64_t column = -4; column <= 4; ++column) {
                const auto ring = grid.corners({row, column});
                double area = 0.0;
                for (std::size_t i = 0; i < ring.size(); ++i) {
                    const Point a = ring[i];
                    const Point b = ring[(i + 1) % ring.size()];
                    area += 0.5 * (a.x * b.y - b.x * a.y);
                    ++shared[{a.x, a.y}];
                }
                EXPECT_NEAR(area, grid.area_m2(), 1e-6 * grid.area_m2());
            }
        }
        // Inside the patch every corner belongs to as many cells as meet there.
        const std::size_t meet = grid.corners({0, 0}).size() == 6 ? 3 : 4;
        for (const Point corner : grid.corners({0, 0})) {
            EXPECT_EQ((shared[{corner.x, corner.y}]), static_cast<int>(meet));
        }
    }
}

}  // namespace
}  // namespace linewood
