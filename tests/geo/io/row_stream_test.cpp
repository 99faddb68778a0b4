#include <filesystem>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "geo/io/feature_reader.hpp"
#include "geo/io/source.hpp"
#include "tests/geo/io/vector_files.hpp"
#include "tests/support/temp_dir.hpp"

// The quicker ways to read a layer give what OGR's features give, whatever the file is like.

namespace linewood {
namespace {

using ::testing::ElementsAre;
using testing::make_dataset;
using testing::read_lines;
using testing::sql_rows;
using testing::TempDir;

using Lines = std::vector<std::string>;

/// Reads the first layer both ways, in batches of several sizes; OGR's answer.
Lines read_both_ways(const std::filesystem::path& path) {
    const Source source = Source::open(path.string());
    const std::string& layer = source.layer_names().front();
    Lines by_features = read_lines(source, layer, false);
    for (const std::size_t rows : {1U, 2U, 3U, 4096U}) {
        EXPECT_EQ(read_lines(source, layer, true, rows), by_features) << path << " by " << rows;
    }
    return by_features;
}

TEST(RowStream, ReadsCsvAsOgrDoes) {
    const TempDir dir;
    const std::string long_text(100000, 'x');
    const std::vector<std::string> bodies{
        "",
        "a,b,c\n",
        "a,b,c\r\nd,e,f\r\n",
        "a,b,c",                                      // no end of line
        ",,\n,,\n",                                   // nothing but nulls
        "\"\",\"\",x\n",                              // empty text
        " a , b ,c \n",                               // blanks are kept
        "\"a,b\",\"say \"\"so\"\"\",\"\"\"\"\n",      // quotes
        "\"two\nlines\",b,c\nd,e,f\n",                // an end of line in a text
        "\"two\r\nlines\",b,c\r\nd,e,f\r\n",          // the other kind
        "\"three\n\nlines\",b,c\n",                   // a blank one in it
        "a,b,c\n\nd,e,f\n",                           // a blank line
        "a,b,c\n\n\n",                                // at the end
        "a,b\nd,e,f\n",                               // too few
        "a,b,c,d\nd,e,f\n",                           // too many
        "a,b,c\nmid\"dle,b,c\nd,e,f\n",               // a quote within
        "\"a\"b,b,c\nd,e,f\n",                        // text behind the quote
        "a, \"b\",c\nd,e,f\n",                        // a quote behind a blank
        "a,\"never closed,c\nd,e,f\n",                // to the end of the file
        "a\rb,c,d\n",                                 // an end of line of old
        "a;b,c\td,e\n",                               // other separators
        "1.5,=2,true\n-0,1e5,2024-02-30\n",           // whatever looks typed
        "\xC3\xA9,\xFF,\xE2\x82\n",                   // UTF-8, and what is none
        long_text + "," + long_text + ",c\nd,e,f\n",  // over a block
        std::string{"a,b\0z,c\nd,e,f\n", 14},         // a NUL
    };
    for (const std::string head : {"one,two,three\n", "\xEF\xBB\xBFone,two,three\r\n"}) {
        for (const std::string& body : bodies) {
            const auto path = dir.file("t.csv", head + body);
            SCOPED_TRACE(body.substr(0, 60));
            read_both_ways(path);
        }
    }
}

TEST(RowStream, ReadsOddHeadersAsOgrDoes) {
    const TempDir dir;
    for (const std::string text : {"one;two\n1;2,5\n",
                                   "one\ttwo\n1\t2\n",
                                   "one,two,\n1,2,3\n",
                                   "one,one\n1,2\n",
                                   " one,two \n1,2\n",
                                   "\"one\",\"t,wo\"\n1,2\n",
                                   "id,wkt\n1,POINT (1 2)\n",
                                   "id,x,y\n1,2,3\n",
                                   "one,two"}) {
        SCOPED_TRACE(text);
        read_both_ways(dir.file("t.csv", text));
    }
}

// A column of that name is a coordinate only beside its other half; else its text would be lost.
TEST(RowStream, KeepsTheTextOfALoneCoordinateColumn) {
    const TempDir dir;
    for (const std::string name : {"x", "Y", "lon", "latitude", "easting"}) {
        SCOPED_TRACE(name);
        const Source source =
            Source::open(dir.file("t.csv", "id," + name + "\n1,41 30.5N\n").string());
        EXPECT_FALSE(source.schema("t").has_geometry());
        FeatureReader reader{source, "t"};
        FeatureBatch batch;
        ASSERT_TRUE(reader.next(batch));
        EXPECT_EQ(batch.text(0, 1), "41 30.5N");
    }
    const Source pair = Source::open(dir.file("t.csv", "id,Lon,LAT\n1,2,3\n").string());
    EXPECT_TRUE(pair.schema("t").has_geometry());
}

TEST(RowStream, ReadsCsvTextsNumbersAndLines) {
    const TempDir dir;
    const auto path =
        dir.file("t.csv", "id,note\n007,\"two\r\nlines\"\n,\"a \"\"b\"\"\"\n\"x,y\",\n");
    const Source source = Source::open(path.string());
    FeatureReader reader{source, "t"};
    FeatureBatch batch;
    ASSERT_TRUE(reader.next(batch));
    ASSERT_EQ(batch.size(), 3U);
    EXPECT_EQ(batch.text(0, 0), "007");
    EXPECT_EQ(batch.text(0, 1), "two\nlines");
    EXPECT_TRUE(batch.is_null(1, 0));
    EXPECT_EQ(batch.text(1, 1), "a \"b\"");
    EXPECT_EQ(batch.text(2, 0), "x,y");
    EXPECT_TRUE(batch.is_null(2, 1));
    EXPECT_EQ(batch.fid(2), 3);
    EXPECT_FALSE(batch.has_geometry(0));
}

TEST(RowStream, LeavesOutColumnsOfACsv) {
    const TempDir dir;
    const auto path = dir.file("t.csv", "a,b,c\n1,2,3\n\"4\",5,6\n");
    const Source source = Source::open(path.string());
    ReadOptions options;
    options.columns = std::vector<std::size_t>{2, 0};
    FeatureReader reader{source, "t", options};
    FeatureBatch batch;
    ASSERT_TRUE(reader.next(batch));
    EXPECT_EQ(batch.text(1, 0), "4");
    EXPECT_TRUE(batch.is_null(1, 1));
    EXPECT_EQ(batch.text(1, 2), "6");
}

constexpr const char* kTable = R"({"type":"FeatureCollection","features":[
{"type":"Feature","properties":{"b":true,"i":-3,"l":9007199254740993,"r":0.5,"d":"2024-02-29","s":"a"},
 "geometry":{"type":"Point","coordinates":[1,2]}},
{"type":"Feature","properties":{"b":false,"i":4,"l":5,"r":2,"d":"1970-01-01","s":""},"geometry":null},
{"type":"Feature","properties":{"b":null,"i":null,"l":null,"r":null,"d":null,"s":null},
 "geometry":{"type":"MultiPoint","coordinates":[[1,2],[3,4]]}},
{"type":"Feature","properties":{"b":true,"i":7,"l":8,"r":9.25,"d":"0001-01-01","s":"é"},
 "geometry":{"type":"Point","coordinates":[5,6,7]}}]})";

TEST(RowStream, ReadsAGeoPackageWithBooleansAsOgrDoes) {
    const TempDir dir;
    const auto path =
        make_dataset(dir / "t.gpkg", kTable, {"-f", "GPKG", "-nln", "t", "-nlt", "GEOMETRY"});
    EXPECT_EQ(read_both_ways(path).size(), 4U);
}

TEST(RowStream, ReadsTextsAndOtherSpellingsOfDaysAsOgrDoes) {
    for (const std::string change : {"b = 7",
                                     "d = '2024/02/09'",
                                     "d = '2024-02-30'",
                                     "s = 5",
                                     "s = x'6100'",
                                     "s = CAST(x'610062' AS TEXT)"}) {
        const TempDir dir;
        const auto path =
            make_dataset(dir / "t.gpkg", kTable, {"-f", "GPKG", "-nln", "t", "-nlt", "NONE"});
        sql_rows(path, "UPDATE t SET " + change + " WHERE rowid = 3");
        SCOPED_TRACE(change);
        EXPECT_EQ(read_both_ways(path).size(), 4U);
    }
}

// SQLite keeps any value in any column. OGR makes 0 of a word there, 2 of `2,9`, nothing of a day it does not know.
TEST(RowStream, AValueItsColumnDoesNotDeclareStaysWhatItIs) {
    struct Case {
        const char* column;
        const char* value;
        const char* read;
    };
    for (const Case c : {Case{"b", "'maybe'", "maybe"},
                         Case{"i", "'three'", "three"},
                         Case{"i", "1.5", "1.5"},
                         Case{"i", "99999999999", "99999999999"},
                         Case{"l", "'12x'", "12x"},
                         Case{"r", "'2,9'", "2,9"},
                         Case{"r", "x'0102'", "0102"},
                         Case{"d", "'06/04/2026'", "06/04/2026"},
                         Case{"d", "17", "17"}}) {
        SCOPED_TRACE(std::string{c.column} + " = " + c.value);
        const TempDir dir;
        const auto path =
            make_dataset(dir / "t.gpkg", kTable, {"-f", "GPKG", "-nln", "t", "-nlt", "NONE"});
        sql_rows(path,
                 std::string{"UPDATE t SET "} + c.column + " = " + c.value + " WHERE rowid = 1");
        const Source source = Source::open(path.string());
        FeatureReader reader{source, "t"};
        FeatureBatch batch;
        ASSERT_TRUE(reader.next(batch));
        const std::size_t column = reader.schema().field_index(c.column).value();
        EXPECT_EQ(batch.text(1, column), c.read);
        if (c.column[0] == 'd') {
            EXPECT_EQ(batch.date(1, column).status, ValueStatus::unreadable);
        } else if (c.column[0] == 'b') {
            EXPECT_EQ(batch.boolean(1, column).status, ValueStatus::unreadable);
        } else if (c.value[0] == '\'' || c.value[0] == 'x') {
            EXPECT_EQ(batch.number(1, column).status, ValueStatus::unreadable);
        }
        EXPECT_EQ(batch.size(), 4U);
    }
}

// SQLite keeps any number in a boolean column; a code for `unknown` must not read as yes.
TEST(RowStream, TakesNoNumberButZeroAndOneForABoolean) {
    const TempDir dir;
    const auto path =
        make_dataset(dir / "t.gpkg", kTable, {"-f", "GPKG", "-nln", "t", "-nlt", "NONE"});
    sql_rows(path, "UPDATE t SET b = 9 WHERE rowid = 1");
    const Source source = Source::open(path.string());
    FeatureReader reader{source, "t"};
    FeatureBatch batch;
    ASSERT_TRUE(reader.next(batch));
    const std::size_t b = reader.schema().field_index("b").value();
    EXPECT_EQ(batch.boolean(0, b).value, true);
    EXPECT_EQ(batch.boolean(1, b).status, ValueStatus::unreadable);
    EXPECT_EQ(batch.text(1, b), "9");
}

TEST(RowStream, ReadsPlacesBesideBooleans) {
    const TempDir dir;
    const auto path =
        make_dataset(dir / "t.gpkg", kTable, {"-f", "GPKG", "-nln", "t", "-nlt", "GEOMETRY"});
    const Source source = Source::open(path.string());
    FeatureReader reader{source, "t"};
    FeatureBatch batch;
    ASSERT_TRUE(reader.next(batch));
    EXPECT_EQ(batch.point(0).value, (Point{1, 2}));
    EXPECT_EQ(batch.point(1).status, ShapeStatus::null);
    EXPECT_EQ(batch.point(2).status, ShapeStatus::other_type);
    EXPECT_EQ(batch.point(3).value, (Point{5, 6}));
    const std::size_t b = reader.schema().field_index("b").value();
    EXPECT_EQ(batch.boolean(0, b).value, true);
    EXPECT_EQ(batch.boolean(1, b).value, false);
    EXPECT_EQ(batch.boolean(2, b).status, ValueStatus::null);
}

}  // namespace
}  // namespace linewood
