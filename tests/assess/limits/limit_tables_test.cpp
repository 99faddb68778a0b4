// Whole tables, cell by cell, against sections assessed one by one.

#include <algorithm>
#include <cmath>
#include <random>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "tests/assess/limits/limits_case.hpp"

namespace linewood::test {
namespace {

LimitRows usual_rows(double least_shell_in) {
    LimitRows rows;
    for (const double depth : from_to(0.5, 5.0, 0.5)) {
        rows.depths.push_back(Length::inches(depth));
    }
    for (const double shell : from_to(least_shell_in - 0.5, least_shell_in + 3.0, 0.5)) {
        rows.shells.push_back(Length::inches(shell));
    }
    for (const double angle : from_to(0.0, 90.0, 15.0)) {
        rows.angles.push_back(Angle::degrees(angle));
    }
    return rows;
}

/// One cell of a table and the section that a size makes of it.
template <typename Section>
void check_cell(const SizeLimit& limit,
                double harmless,
                double worst,
                const Criteria& criteria,
                const Section& section) {
    const double way = worst < harmless ? -1.0 : 1.0;
    const auto fits = [&](double size) { return (worst - size) * way >= 0.0; };
    const auto lets_pass = [&](double size) { return passes(section(size), criteria); };
    if (limit.kind == LimitKind::none) {
        EXPECT_FALSE(lets_pass(harmless));
        return;
    }
    const double figure = limit.size.inches();
    EXPECT_TRUE(lets_pass(figure)) << figure;
    if (limit.kind == LimitKind::limit && fits(figure + way * 0.02)) {
        EXPECT_FALSE(lets_pass(figure + way * 0.02)) << figure;
    }
    for (const double away : from_to(0.0, (figure - harmless) * way, 0.1)) {
        EXPECT_TRUE(lets_pass(harmless + way * away)) << away << " on the way to " << figure;
    }
}

/// Every cell of a table. @param section of girth, angle, width and the row's size
template <typename Section>
int check_rows(const std::vector<LimitRow>& rows,
               double girth,
               const Criteria& criteria,
               const Section& section) {
    int cells = 0;
    for (const LimitRow& row : rows) {
        for (std::size_t a = 0; a < row.by_angle.size(); ++a) {
            const double angle = 15.0 * static_cast<double>(a);
            const double size = row.size.inches();
            const std::string where = "girth " + std::to_string(girth) + ", depth or shell " +
                                      std::to_string(size) + ", angle " + std::to_string(angle);
            const ::testing::ScopedTrace trace{__FILE__, __LINE__, where};
            check_cell(row.by_angle[a], 0.0, diameter_in(girth), criteria, [&](double width) {
                return section(girth, angle, width, size);
            });
            ++cells;
        }
    }
    return cells;
}

void check_in_line_against_across(const std::vector<LimitRow>& rows) {
    for (const LimitRow& row : rows) {
        const SizeLimit& in_line = row.by_angle.front();
        const SizeLimit& across = row.by_angle.back();
        EXPECT_TRUE(in_line.kind == across.kind || across.kind != LimitKind::any);
        EXPECT_GE(in_line.size.inches(), across.size.inches() - 1e-9) << row.size.inches();
    }
}

/// The least width of the cells around a place between girths, rows and columns; 0 beyond the table.
double strictest_around(const std::vector<GirthLimits>& tables, double g, double d, double a) {
    double width = 100.0;
    for (int corner = 0; corner < 8; ++corner) {
        const auto end = [&](double v, int bit) {
            return static_cast<std::size_t>((corner & bit) != 0 ? std::ceil(v) : std::floor(v));
        };
        const auto& pockets = tables[end(g, 1)].pockets;
        if (end(d, 2) >= pockets.size()) {
            return 0.0;
        }
        width = std::min(width, pockets[end(d, 2)].by_angle[end(a, 4)].size.inches());
    }
    return width;
}

class LimitTables : public ::testing::TestWithParam<std::size_t> {
protected:
    Criteria criteria_ = shipped_limits()[GetParam()].criteria;
};

TEST_P(LimitTables, every_cell_passes_up_to_its_figure_and_fails_just_beyond) {
    int cells = 0;
    for (const double girth : from_to(27.0, 60.0, 3.0)) {
        const GirthLimits all =
            solve_limits(case_of(girth, criteria_), usual_rows(criteria_.shell_min.inches()));
        check_cell(
            all.girth, girth, 5.0, criteria_, [&](double size) { return with_girth(girth, size); });
        check_cell(all.shell, diameter_in(girth) / 2.0, 0.0, criteria_, [&](double size) {
            return with_shell(girth, size);
        });
        cells += check_rows(all.pockets, girth, criteria_, with_pocket);
        cells += check_rows(all.mouths, girth, criteria_, with_mouth);
    }
    EXPECT_GT(cells, 1200);
}

TEST_P(LimitTables, in_line_is_never_tighter_than_out_of_line) {
    LimitRows rows = usual_rows(criteria_.shell_min.inches());
    rows.angles = {Angle::degrees(0.0), Angle::degrees(90.0)};
    // With the shell rule out of the way mouths differ by strength as well.
    Criteria strength_only = criteria_;
    strength_only.shell_pocket_width = Length::inches(60.0);
    for (const Criteria& criteria : {criteria_, strength_only}) {
        for (const double girth : from_to(25.0, 65.0, 4.0)) {
            const GirthLimits all = solve_limits(case_of(girth, criteria), rows);
            check_in_line_against_across(all.pockets);
            check_in_line_against_across(all.mouths);
        }
    }
}

TEST_P(LimitTables, between_rows_columns_and_girths_the_stricter_figure_is_safe) {
    std::mt19937 random{static_cast<std::uint32_t>(20260101U + GetParam())};
    const LimitRows rows = usual_rows(criteria_.shell_min.inches());
    std::vector<GirthLimits> tables;
    for (const double girth : from_to(27.0, 60.0, 3.0)) {
        tables.push_back(solve_limits(case_of(girth, criteria_), rows));
    }
    const auto drawn = [&](std::size_t below) {
        return std::uniform_real_distribution<double>{0.0,
                                                      static_cast<double>(below) - 1.0}(random);
    };
    int checked = 0;
    for (int i = 0; i < 4000; ++i) {
        const double g = drawn(tables.size());
        const double d = drawn(rows.depths.size());
        const double a = drawn(rows.angles.size());
        const double width = strictest_around(tables, g, d, a);
        if (width > 0.0) {
            EXPECT_TRUE(
                passes(with_pocket(27.0 + 3.0 * g, 15.0 * a, width, 0.5 + 0.5 * d), criteria_))
                << "girth " << 27.0 + 3.0 * g << " depth " << 0.5 + 0.5 * d << " angle " << 15.0 * a
                << " width " << width;
            ++checked;
        }
    }
    EXPECT_GT(checked, 3000);
}

INSTANTIATE_TEST_SUITE_P(shipped, LimitTables, ::testing::Range<std::size_t>(0, 4));

TEST(limit_table_rows, sizes_over_the_radius_are_left_out) {
    LimitRows rows;
    rows.depths = {Length::inches(1.0), Length::inches(4.0), Length::inches(5.0)};
    rows.shells = {Length::inches(3.0), Length::inches(6.0)};
    rows.angles = {Angle::degrees(90.0)};
    const Criteria criteria;
    const GirthLimits slim = solve_limits(case_of(27.0, criteria), rows);  // radius 4.3 in
    EXPECT_EQ(slim.pockets.size(), 2U);
    EXPECT_EQ(slim.mouths.size(), 1U);
    const GirthLimits stout = solve_limits(case_of(60.0, criteria), rows);
    EXPECT_EQ(stout.pockets.size(), 3U);
    EXPECT_EQ(stout.mouths.size(), 2U);
    EXPECT_EQ(stout.pockets.back().size.inches(), 5.0);
}

}  // namespace
}  // namespace linewood::test
