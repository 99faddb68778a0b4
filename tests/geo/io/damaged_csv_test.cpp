#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "geo/io/csv_scan.h"
#include "geo/io/feature_reader.hpp"
#include "tests/geo/io/vector_files.hpp"
#include "tests/support/temp_dir.hpp"

namespace linewood {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using testing::read_lines;
using ::testing::SizeIs;
using testing::TempDir;
using namespace std::string_literals;

/// A CSV as the program reads it: its rows, and what is wrong with them as `row kind field=value`.
struct ReadCsv {
    explicit ReadCsv(const std::string& bytes) {
        dir.file("t.csv", bytes);
        const Source source = Source::open((dir / "t.csv").string());
        FeatureReader reader{source, "t", ReadOptions{.batch_size = 2}};
        FeatureBatch batch;
        while (reader.next(batch)) {
            for (std::size_t row = 0; row < batch.size(); ++row) {
                take(batch, row, reader.schema().fields.size());
            }
        }
        EXPECT_EQ(testing::content_of(dir / "t.csv"), bytes);
        EXPECT_THAT(dir.names(), ElementsAre("t.csv"));
    }

    void take(const FeatureBatch& batch, std::size_t row, std::size_t columns) {
        std::string line;
        for (std::size_t c = 0; c < columns; ++c) {
            line += (c > 0 ? "|" : "") + batch.text(row, c);
        }
        rows.push_back(line);
        constexpr const char* kKinds[] = {
            "surplus", "missing", "unclosed", "misplaced", "nul", "geometry", "lost"};
        for (const RowDamage& d : batch.damage(row)) {
            damage.push_back(std::to_string(batch.fid(row)) + " " +
                             kKinds[static_cast<int>(d.kind)] + " " + d.field + "=" + d.value);
        }
    }

    TempDir dir;
    std::vector<std::string> rows;
    std::vector<std::string> damage;
};

TEST(DamagedCsv, NothingIsWrongWithAGoodOne) {
    const ReadCsv csv{"\xEF\xBB\xBFid,note\r\n1,\"a, \"\"b\"\"\r\nc\"\r\n\r\n2,\r\n3, \"x,y\"\r\n"};
    EXPECT_THAT(csv.rows, ElementsAre("1|a, \"b\"\nc", "2|", "3| x,y"));
    EXPECT_THAT(csv.damage, IsEmpty());
}

TEST(DamagedCsv, SurplusCells) {
    const ReadCsv csv{"id,note\n1,a\n2,b,c,d\n3,e,,\n4,f\n"};
    EXPECT_THAT(csv.rows, ElementsAre("1|a", "2|b", "3|e", "4|f"));
    // Separators behind the last column hold nothing that could be lost.
    EXPECT_THAT(csv.damage, ElementsAre("2 surplus =c,d"));
}

TEST(DamagedCsv, ShortRows) {
    const ReadCsv csv{"id;kind;note\n1;a;b\n2\n3;c\n4;;\n"};
    EXPECT_THAT(csv.rows, ElementsAre("1|a|b", "2||", "3|c|", "4||"));
    EXPECT_THAT(csv.damage, ElementsAre("2 missing kind=2", "3 missing note=3;c"));
}

TEST(DamagedCsv, AQuoteThatIsNeverClosedTakesNoMoreThanItsOwnLine) {
    const ReadCsv csv{"id,kind,note\n1,\"a,b\n2,c,d\n3,\"e\",f\n4,g,\"h\ni\"\n"};
    EXPECT_THAT(csv.rows, ElementsAre("1|\"a|b", "2|c|d", "3|e|f", "4|g|h\ni"));
    EXPECT_THAT(csv.damage, ElementsAre("1 unclosed kind=\"a"));
}

TEST(DamagedCsv, AQuoteThatIsOpenAtTheEndOfTheFile) {
    const ReadCsv csv{"id,note\n1,a\n2,\"b\n3,c\n4,d"};
    EXPECT_THAT(csv.rows, ElementsAre("1|a", "2|\"b", "3|c", "4|d"));
    EXPECT_THAT(csv.damage, ElementsAre("2 unclosed note=\"b"));
}

TEST(DamagedCsv, ManyQuotesThatAreNeverClosed) {
    std::string bytes{"id,note\n"};
    for (int i = 0; i < 3000; ++i) {
        bytes += std::to_string(i) + ",\"open\n";
    }
    const ReadCsv csv{bytes};
    EXPECT_THAT(csv.rows, SizeIs(3000));
    EXPECT_THAT(csv.damage, SizeIs(3000));
}

TEST(DamagedCsv, AVeryLongCellOfManyLinesIsNone) {
    std::string bytes{"id,note\n1,\"open\n"};
    for (int i = 0; i < 100000; ++i) {
        bytes += "2,thirteen byte\n";
    }
    const ReadCsv csv{bytes};
    EXPECT_THAT(csv.rows, SizeIs(100001));
    EXPECT_THAT(csv.damage, ElementsAre("1 unclosed note=\"open"));
}

TEST(DamagedCsv, QuotesWithinACellAreCharacters) {
    const ReadCsv csv{"id,note,more\n1,5\" wide,x\n2,6\" deep,y\n3,\"a\"b,z\n"};
    EXPECT_THAT(csv.rows, ElementsAre("1|5\" wide|x", "2|6\" deep|y", "3|\"a\"b|z"));
    EXPECT_THAT(
        csv.damage,
        ElementsAre(
            "1 misplaced note=5\" wide", "2 misplaced note=6\" deep", "3 misplaced note=\"a\"b"));
}

TEST(DamagedCsv, BytesOfZero) {
    const ReadCsv csv{"id,note,more\n1,a\0b,c\n2,d,e\n"s};
    EXPECT_THAT(csv.rows,
                ElementsAre("1|a\xEF\xBF\xBD"
                            "b|c",
                            "2|d|e"));
    EXPECT_THAT(csv.damage, ElementsAre("1 nul note=a\\x00b"));
}

TEST(DamagedCsv, PointsAndColumnTypesStayWhatTheyWere) {
    const TempDir dir;
    dir.file("poles.csv", "pole_id,x,y,note\nA,1,2,a\nB,3,4\nC,5,6,c\n");
    const Source source = Source::open((dir / "poles.csv").string());
    EXPECT_EQ(source.layer_names(), std::vector<std::string>{"poles"});
    EXPECT_EQ(source.files(), std::vector<std::filesystem::path>{dir / "poles.csv"});
    EXPECT_THAT(read_lines(source, "poles"), SizeIs(3));
    FeatureReader reader{source, "poles"};
    FeatureBatch batch;
    ASSERT_TRUE(reader.next(batch));
    EXPECT_EQ(batch.point(1).value->x, 3.0);
}

TEST(DamagedCsv, TextInUtf16IsNamed) {
    const TempDir dir;
    dir.file("t.csv", "\xFF\xFEi\0d\0,\0n\0\n\0001\0,\0002\0\n\0"s);
    EXPECT_THAT(testing::error_of([&] { Source::open((dir / "t.csv").string()); }),
                HasSubstr("UTF-16; save it as UTF-8"));
    // Without the mark at its beginning, in both orders of bytes.
    dir.file("t.csv", "p\0o\0l\0e\0_\0i\0d\0,\0n\0\n\0001\0,\0002\0\n\0"s);
    EXPECT_THAT(testing::error_of([&] { Source::open((dir / "t.csv").string()); }),
                HasSubstr("UTF-16; save it as UTF-8"));
    dir.file("t.csv", "\0p\0o\0l\0e\0_\0i\0d\0,\0n\0\n\0001\0,\0002\0\n"s);
    EXPECT_THAT(testing::error_of([&] { Source::open((dir / "t.csv").string()); }),
                HasSubstr("UTF-16; save it as UTF-8"));
}

/// Whatever the bytes: the rows that come out are those that the mended copy has, and a second reading of the copy
/// finds nothing to mend.
TEST(DamagedCsv, WhatIsMendedIsWhole) {
    const TempDir dir;
    std::uint32_t seed = 7;
    const std::string signs = "ab1,,;\"\"\n\r\0 \t"s;
    for (int round = 0; round < 3000; ++round) {
        std::string bytes{"id,kind,note\n"};
        for (int i = 0; i < 40; ++i) {
            seed = seed * 1664525U + 1013904223U;
            bytes += signs[(seed >> 16U) % signs.size()];
        }
        const auto file = dir.file("t.csv", bytes);
        const auto copy = dir / "copy.csv";
        if (is_damaged_csv(file)) {
            EXPECT_FALSE(mend_csv(file, copy).empty());
            EXPECT_FALSE(is_damaged_csv(copy)) << round << ": " << testing::content_of(copy);
        }
    }
}

}  // namespace
}  // namespace linewood
