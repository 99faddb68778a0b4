#include "assess/wood/dimension_table.hpp"

#include <cmath>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "assess/wood/pole_class.hpp"
#include "assess/wood/wood_tables.hpp"
#include "tests/support/published_table.hpp"

namespace linewood {
namespace {

const DimensionTable& built_in_table(std::string_view code) {
    const WoodTables& tables = WoodTables::built_in();
    return tables.table(tables.find_table(code).value());
}

const DimensionTable& pine() { return built_in_table("southern_pine_douglas_fir"); }

std::string cell_name(const std::vector<std::string>& row, std::size_t c) {
    return row.front() + " ft class " + std::string{name_of(static_cast<PoleClass>(c))};
}

TEST(DimensionTableTest, PublishedTableCellByCell) {
    const auto rows = test::published_table("girths_8000_psi.txt");
    ASSERT_EQ(rows.size(), pine().rows.size());
    int cells = 0;
    for (const auto& words : rows) {
        const DimensionRow* row = pine().row(Length::feet(test::number(words[0])));
        ASSERT_NE(row, nullptr);
        for (std::size_t c = 0; c < row->girth.size(); ++c) {
            const std::string& word = words.at(c + 1);
            EXPECT_EQ(row->girth[c].has_value(), word != "-") << cell_name(words, c);
            if (row->girth[c] && word != "-") {
                EXPECT_DOUBLE_EQ(row->girth[c].value().inches(), test::number(word))
                    << cell_name(words, c);
                ++cells;
            }
        }
    }
    EXPECT_EQ(cells, 212);
}

// The read table of 1947 and the remembered one agree but for three cells, which the blocks name.
TEST(DimensionTableTest, AgreesWithTheReadTableButForThreeCells) {
    std::vector<std::string> differ;
    int cells = 0;
    for (const auto& words : test::published_table("girths_southern_pine_1947.txt")) {
        const DimensionRow* row = pine().row(Length::feet(test::number(words[0])));
        ASSERT_NE(row, nullptr);
        for (std::size_t c = 0; c < row->girth.size(); ++c) {
            if (words.at(c + 1) == "-") {
                continue;
            }
            ++cells;
            const double read_in = test::number(words[c + 1]);
            if (!row->girth[c] || std::abs(row->girth[c].value().inches() - read_in) > 1e-9) {
                differ.push_back(cell_name(words, c));
                const TableBlock* block = pine().block(row->length, static_cast<PoleClass>(c));
                ASSERT_NE(block, nullptr);
                EXPECT_FALSE(block->note.empty()) << cell_name(words, c);
            }
        }
    }
    EXPECT_EQ(cells, 88);
    EXPECT_EQ(differ,
              (std::vector<std::string>{"65 ft class 2", "65 ft class 3", "95 ft class 3"}));
}

TEST(DimensionTableTest, GeneratedTablesMatchASecondProgramCellByCell) {
    int cells = 0;
    for (const auto& words : test::published_table("girths_generated.txt")) {
        const std::string& group = words[0];
        if (group == "southern_pine_douglas_fir") {
            continue;  // its rule is checked below; the tool uses the published table
        }
        const DimensionTable& table = built_in_table(group);
        EXPECT_EQ(table.kind, TableKind::generated);
        const DimensionRow* row = table.row(Length::feet(test::number(words[1])));
        ASSERT_NE(row, nullptr);
        for (std::size_t c = 0; c < row->girth.size(); ++c) {
            EXPECT_DOUBLE_EQ(row->girth[c].value().inches(), test::number(words.at(c + 2)))
                << group << ' ' << words[1] << ' ' << name_of(static_cast<PoleClass>(c));
            ++cells;
        }
    }
    EXPECT_EQ(cells, 4 * 22 * 15);
}

constexpr GeneratingGroup kPineRule{"rule", "Rule", 8000, 0.25, "computed"};

TEST(DimensionTableTest, RuleForSouthernPineMatchesASecondProgram) {
    const DimensionTable table = generated_table(kPineRule);
    int cells = 0;
    for (const auto& words : test::published_table("girths_generated.txt")) {
        if (words[0] != "southern_pine_douglas_fir") {
            continue;
        }
        const DimensionRow* row = table.row(Length::feet(test::number(words[1])));
        ASSERT_NE(row, nullptr);
        for (std::size_t c = 0; c < row->girth.size(); ++c, ++cells) {
            EXPECT_DOUBLE_EQ(row->girth[c].value().inches(), test::number(words.at(c + 2)));
        }
    }
    EXPECT_EQ(cells, 330);
}

// The published table against the rule that generates the others: -0.16 to +1.27 in, the excess in
// classes 9 and 10 of short poles (class_dimensions check of 212 cells, computed).
TEST(DimensionTableTest, RuleIsCloseToThePublishedTable) {
    double least = 1e9;
    double most = -1e9;
    for (const DimensionRow& row : pine().rows) {
        for (std::size_t c = 0; c < row.girth.size(); ++c) {
            if (!row.girth[c]) {
                continue;
            }
            const double rule_in = generated_girth_in(
                kPineRule, static_cast<PoleClass>(c), row.length.feet(), row.setting_depth.feet());
            least = std::min(least, row.girth[c].value().inches() - rule_in);
            most = std::max(most, row.girth[c].value().inches() - rule_in);
        }
    }
    EXPECT_NEAR(least, -0.16, 0.005);
    EXPECT_NEAR(most, 1.27, 0.005);
}

// The tables of these two groups as remembered are not used; the generated ones stay near them.
TEST(DimensionTableTest, GeneratedTablesAreCloseToTheRememberedOnes) {
    for (const auto& words : test::published_table("girths_redcedar_lodgepole_memory.txt")) {
        const DimensionRow* row =
            built_in_table(words[0]).row(Length::feet(test::number(words[1])));
        ASSERT_NE(row, nullptr);
        for (std::size_t c = 0; c < row->girth.size(); ++c) {
            if (words.at(c + 2) != "-") {
                EXPECT_NEAR(row->girth[c].value().inches(), test::number(words[c + 2]), 0.5 + 1e-9)
                    << words[0] << ' ' << words[1] << ' ' << name_of(static_cast<PoleClass>(c));
            }
        }
    }
}

TEST(DimensionTableTest, ALengthWithinHalfAFootIsTheRow) {
    const struct {
        Length length;
        double row_ft = 0.0;  // 0: none
    } cases[] = {
        {Length::metres(12.2), 40},
        {Length::feet(40.0), 40},
        {Length::feet(39.5), 40},
        {Length::feet(40.5), 40},
        {Length::feet(40.51), 0},
        {Length::feet(39.49), 0},
        {Length::metres(12.0), 0},
        {Length::metres(9.15), 30},
        {Length::metres(10.7), 35},
        {Length::metres(13.7), 45},
        {Length::feet(19.5), 20},
        {Length::feet(19.4), 0},
        {Length::feet(125.5), 125},
        {Length::feet(126.0), 0},
        {Length::feet(0.0), 0},
        {Length::feet(-40.0), 0},
        {Length::feet(42.5), 0},
    };
    for (const auto& c : cases) {
        const DimensionRow* row = pine().row(c.length);
        EXPECT_NEAR(row != nullptr ? row->length.feet() : 0.0, c.row_ft, 1e-9) << c.length.feet();
    }
}

TEST(DimensionTableTest, TheNearestOfTwoRowsInReachIsTaken) {
    DimensionTable table;
    table.rows = {{Length::feet(40.0), {}, {}}, {Length::feet(40.6), {}, {}}};
    EXPECT_DOUBLE_EQ(table.row(Length::feet(40.2))->length.feet(), 40.0);
    EXPECT_DOUBLE_EQ(table.row(Length::feet(40.4))->length.feet(), 40.6);
}

TEST(DimensionTableTest, EveryCellSaysWhereItComesFrom) {
    const WoodTables& tables = WoodTables::built_in();
    for (std::size_t t = 0; t < tables.table_count(); ++t) {
        const DimensionTable& table = tables.table(static_cast<TableIndex>(t));
        for (const DimensionRow& row : table.rows) {
            for (int c = 0; c < kPoleClassCount; ++c) {
                const TableBlock* block = table.block(row.length, static_cast<PoleClass>(c));
                ASSERT_NE(block, nullptr) << table.code;
                EXPECT_FALSE(block->source.empty());
                EXPECT_FALSE(block->confidence.empty());
            }
        }
    }
}

TEST(DimensionTableTest, BlocksTellMemoryFromTwoSources) {
    const auto confidence = [](double ft, PoleClass c) {
        return pine().block(Length::feet(ft), c)->confidence;
    };
    EXPECT_EQ(confidence(40, PoleClass::c4), "two sources");
    EXPECT_EQ(confidence(95, PoleClass::c1), "two sources");
    EXPECT_EQ(confidence(100, PoleClass::c1), "memory, checked by the generating rule");
    EXPECT_EQ(confidence(40, PoleClass::h1), "memory, checked by the generating rule");
    EXPECT_EQ(confidence(20, PoleClass::c9), "memory, checked by the generating rule");
    EXPECT_EQ(confidence(65, PoleClass::c2), "memory, against the read table");
}

void expect_growth(const DimensionTable& table, std::size_t r, std::size_t c) {
    const GirthByClass& girth = table.rows[r].girth;
    if (!girth[c]) {
        return;
    }
    EXPECT_GE(*girth[c], *table.top_girth[c]);
    if (c > 0 && girth[c - 1]) {
        EXPECT_LT(*girth[c], *girth[c - 1]);
    }
    if (r > 0 && table.rows[r - 1].girth[c]) {
        EXPECT_GE(*girth[c], *table.rows[r - 1].girth[c]);
    }
}

TEST(DimensionTableTest, GirthsGrowWithLengthAndClass) {
    const WoodTables& tables = WoodTables::built_in();
    for (std::size_t t = 0; t < tables.table_count(); ++t) {
        const DimensionTable& table = tables.table(static_cast<TableIndex>(t));
        for (std::size_t r = 0; r < table.rows.size(); ++r) {
            for (std::size_t c = 0; c < table.top_girth.size(); ++c) {
                expect_growth(table, r, c);
            }
        }
    }
}

// Source: E. T. Hawes 1947 (20-95 ft, read) and a lineman's handbook as quoted (25-60 ft, read);
// 100-125 ft ANSI O5.1, from memory.
TEST(SettingDepthTest, ByLength) {
    const double rows[][2] = {{20, 4},   {25, 5},    {30, 5.5}, {35, 6},   {40, 6},   {45, 6.5},
                              {50, 7},   {55, 7.5},  {60, 8},   {65, 8.5}, {70, 9},   {75, 9.5},
                              {80, 10},  {85, 10.5}, {90, 11},  {95, 11},  {100, 11}, {105, 12},
                              {110, 12}, {115, 12},  {120, 12}, {125, 12}};
    EXPECT_EQ(published_setting_depths().size(), std::size(rows));
    for (const auto& [length_ft, depth_ft] : rows) {
        const auto depth = WoodTables::standard_setting_depth(Length::feet(length_ft));
        ASSERT_TRUE(depth) << length_ft;
        EXPECT_DOUBLE_EQ(depth.value().feet(), depth_ft) << length_ft;
    }
    EXPECT_DOUBLE_EQ(WoodTables::standard_setting_depth(Length::metres(12.2)).value().feet(), 6.0);
    EXPECT_FALSE(WoodTables::standard_setting_depth(Length::feet(42.5)));
    EXPECT_FALSE(WoodTables::standard_setting_depth(Length::feet(10.0)));
}

TEST(TableKindTest, Names) {
    EXPECT_EQ(name_of(TableKind::quoted), "quoted");
    EXPECT_EQ(name_of(TableKind::generated), "generated");
    EXPECT_EQ(name_of(TableKind::user), "user");
}

}  // namespace
}  // namespace linewood
