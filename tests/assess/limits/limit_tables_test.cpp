// Whole tables, cell by cell, against sections assessed one by one.

#include <algorithm>
#include <cmath>
#include <random>

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

class limit_tables : public ::testing::TestWithParam<std::size_t> {
protected:
    Criteria criteria_ = shipped_limits()[GetParam()].criteria;
};

TEST_P(limit_tables, every_cell_passes_up_to_its_figure_and_fails_just_beyond) {
    int cells = 0;
    for (const double girth : from_to(27.0, 60.0, 3.0)) {
        const GirthLimits all =
            solve_limits(case_of(girth, criteria_), usual_rows(criteria_.shell_min.inches()));
        const double diameter = diameter_in(girth);
        check_cell(
            all.girth, girth, 5.0, criteria_, [&](double size) { return with_girth(girth, size); });
        check_cell(all.shell, diameter / 2.0, 0.0, criteria_, [&](double size) {
            return with_shell(girth, size);
        });
        for (const LimitRow& row : all.pockets) {
            for (std::size_t a = 0; a < row.by_angle.size(); ++a) {
                SCOPED_TRACE(::testing::Message() << "girth " << girth << " depth "
                                                  << row.size.inches() << " angle " << 15 * a);
                check_cell(row.by_angle[a], 0.0, diameter, criteria_, [&](double size) {
                    return with_pocket(
                        girth, 15.0 * static_cast<double>(a), size, row.size.inches());
                });
                ++cells;
            }
        }
        for (const LimitRow& row : all.mouths) {
            for (std::size_t a = 0; a < row.by_angle.size(); ++a) {
                SCOPED_TRACE(::testing::Message() << "girth " << girth << " shell "
                                                  << row.size.inches() << " angle " << 15 * a);
                check_cell(row.by_angle[a], 0.0, diameter, criteria_, [&](double size) {
                    return with_mouth(
                        girth, 15.0 * static_cast<double>(a), size, row.size.inches());
                });
                ++cells;
            }
        }
    }
    EXPECT_GT(cells, 1200);
}

TEST_P(limit_tables, in_line_is_never_tighter_than_out_of_line) {
    LimitRows rows = usual_rows(criteria_.shell_min.inches());
    rows.angles = {Angle::degrees(0.0), Angle::degrees(90.0)};
    // With the shell rule out of the way mouths differ by strength as well.
    Criteria strength_only = criteria_;
    strength_only.shell_pocket_width = Length::inches(60.0);
    for (const Criteria& criteria : {criteria_, strength_only}) {
        for (const double girth : from_to(25.0, 65.0, 4.0)) {
            const GirthLimits all = solve_limits(case_of(girth, criteria), rows);
            for (const auto* table : {&all.pockets, &all.mouths}) {
                for (const LimitRow& row : *table) {
                    const SizeLimit& in_line = row.by_angle[0];
                    const SizeLimit& across = row.by_angle[1];
                    EXPECT_TRUE(in_line.kind == across.kind || across.kind != LimitKind::any);
                    EXPECT_GE(in_line.size.inches(), across.size.inches() - 1e-9)
                        << girth << ' ' << row.size.inches();
                }
            }
        }
    }
}

TEST_P(limit_tables, between_rows_columns_and_girths_the_stricter_figure_is_safe) {
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
        double width = 100.0;
        for (const double gi : {std::floor(g), std::ceil(g)}) {
            const GirthLimits& table = tables[static_cast<std::size_t>(gi)];
            for (const double di : {std::floor(d), std::ceil(d)}) {
                for (const double ai : {std::floor(a), std::ceil(a)}) {
                    const auto row = static_cast<std::size_t>(di);
                    width = row < table.pockets.size()
                                ? std::min(width,
                                           table.pockets[row]
                                               .by_angle[static_cast<std::size_t>(ai)]
                                               .size.inches())
                                : 0.0;
                }
            }
        }
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

INSTANTIATE_TEST_SUITE_P(shipped, limit_tables, ::testing::Range<std::size_t>(0, 4));

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
