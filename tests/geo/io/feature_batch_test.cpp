#include "geo/io/feature_batch.hpp"

#include <filesystem>
#include <random>
#include <thread>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "geo/io/data_error.hpp"
#include "geo/io/feature_reader.hpp"
#include "tests/geo/io/vector_files.hpp"
#include "tests/support/temp_dir.hpp"

namespace linewood {
namespace {

using ::testing::ElementsAre;
using testing::make_dataset;
using testing::read_lines;
using testing::TempDir;

/// The first batch of a source's first layer.
struct FirstBatch {
    explicit FirstBatch(const std::string& path, const ReadOptions& options = {})
        : source{Source::open(path)}, reader{source, source.layer_names().front(), options} {
        reader.next(batch);
    }
    std::size_t field(std::string_view name) const {
        return reader.schema().field_index(name).value();
    }
    Source source;
    FeatureReader reader;
    FeatureBatch batch;
};

TEST(FeatureBatch, KeepsCsvTextAsItIsAndFindsPoints) {
    const TempDir dir;
    const auto path = dir.file("poles.csv", "pole_id,X,Y,girth\n007,1.5,2,\n008,,,\"35,5\"\n");
    const FirstBatch first{path.string()};
    ASSERT_EQ(first.batch.size(), 2U);
    EXPECT_EQ(first.batch.text(0, first.field("pole_id")), "007");
    EXPECT_TRUE(first.batch.is_null(0, first.field("girth")));
    EXPECT_EQ(first.batch.point(0).value, (Point{1.5, 2.0}));
    EXPECT_EQ(first.batch.point(1).status, ShapeStatus::null);
    EXPECT_EQ(first.batch.number(1, first.field("girth")).status, ValueStatus::unreadable);
    EXPECT_EQ(first.batch.number(0, first.field("girth")).status, ValueStatus::null);
    EXPECT_EQ(first.batch.number(0, first.field("pole_id")).value, 7.0);
}

TEST(FeatureBatch, FindsWktInACsv) {
    const TempDir dir;
    const auto path = dir.file("spans.csv", "id,wkt\n1,\"LINESTRING (0 0,1 2)\"\n2,\n");
    const FirstBatch first{path.string()};
    const auto parts = first.batch.path(0);
    ASSERT_TRUE(parts.value.has_value());
    EXPECT_THAT(*parts.value, ElementsAre(ElementsAre(Point{0, 0}, Point{1, 2})));
    EXPECT_EQ(first.batch.path(1).status, ShapeStatus::null);
}

TEST(FeatureBatch, ReadsTheHeadOfACsvWhereItLooksLikeNumbers) {
    const TempDir dir;
    const auto path = dir.file("t.csv", "2019,2020\n5,6\n");
    const FirstBatch first{path.string()};
    EXPECT_EQ(first.batch.size(), 1U);
    EXPECT_EQ(first.reader.schema().fields[0].name, "2019");
}

constexpr const char* kTypes = R"({"type":"FeatureCollection","features":[
{"type":"Feature","properties":{"i":-3,"l":9007199254740993,"r":0.1,"b":true,"d":"2024-02-29",
 "t":"2024-05-01T23:30:00.250-05:00","s":"a \"b\"","list":[1,2],"o":{"k":1}},"geometry":null},
{"type":"Feature","properties":{"i":null,"l":null,"r":1e300,"b":null,"d":null,"t":null,"s":null,
 "list":null,"o":null},"geometry":null}]})";

TEST(FeatureBatch, GivesEveryTypeAsText) {
    const TempDir dir;
    const auto path = make_dataset(dir / "t.gpkg", kTypes, {"-f", "GPKG", "-nln", "t"});
    for (const bool columnar : {false, true}) {
        ReadOptions options;
        options.columnar = columnar;
        const FirstBatch first{path.string(), options};
        const auto text = [&](const char* name) { return first.batch.text(0, first.field(name)); };
        EXPECT_EQ(text("i"), "-3");
        EXPECT_EQ(text("l"), "9007199254740993");
        EXPECT_EQ(text("r"), "0.1");
        EXPECT_EQ(text("b"), "true");
        EXPECT_EQ(text("d"), "2024-02-29");
        EXPECT_EQ(text("t"), "2024-05-01T23:30:00.250-05:00");
        EXPECT_EQ(text("s"), "a \"b\"");
        EXPECT_EQ(first.batch.text(1, first.field("i")), "");
        EXPECT_EQ(first.batch.text_view(0, first.field("s")), "a \"b\"");
        EXPECT_EQ(first.batch.text_view(0, first.field("i")), std::nullopt);
    }
}

TEST(FeatureBatch, TakesTheDateOfATimestampAsWritten) {
    const TempDir dir;
    const auto path = make_dataset(dir / "t.gpkg", kTypes, {"-f", "GPKG", "-nln", "t"});
    const FirstBatch first{path.string()};
    EXPECT_EQ(first.batch.date(0, first.field("t")).value, Date::from_ymd(2024, 5, 1));
    EXPECT_EQ(first.batch.date(0, first.field("d")).value, Date::from_ymd(2024, 2, 29));
    EXPECT_EQ(first.batch.date(0, first.field("i")).status, ValueStatus::unreadable);
    EXPECT_EQ(first.batch.date(1, first.field("d")).status, ValueStatus::null);
}

TEST(FeatureBatch, ReadsGeoJsonDatesAsTheTextTheyAre) {
    const TempDir dir;
    const auto path = dir.file("t.geojson", kTypes);
    const FirstBatch first{path.string()};
    EXPECT_EQ(first.batch.text(0, first.field("t")), "2024-05-01T23:30:00.250-05:00");
    EXPECT_EQ(first.batch.date(0, first.field("d")).value, Date::from_ymd(2024, 2, 29));
    EXPECT_EQ(first.batch.text(0, first.field("list")), "[ 1, 2 ]");
    EXPECT_EQ(first.batch.text(0, first.field("o")), "{ \"k\": 1 }");
}

TEST(FeatureBatch, ReadsBooleansFromWordsAndNumbers) {
    const TempDir dir;
    const auto path = dir.file("t.csv", "a,b\nYes,\nf,\n1,\n0,\nperhaps,\n\"  \",\n");
    const FirstBatch first{path.string()};
    EXPECT_EQ(first.batch.boolean(0, 0).value, true);
    EXPECT_EQ(first.batch.boolean(1, 0).value, false);
    EXPECT_EQ(first.batch.boolean(2, 0).value, true);
    EXPECT_EQ(first.batch.boolean(3, 0).value, false);
    EXPECT_EQ(first.batch.boolean(4, 0).status, ValueStatus::unreadable);
    EXPECT_EQ(first.batch.boolean(5, 0).status, ValueStatus::null);
}

TEST(FeatureBatch, TellsNumbersFromTextsThatAreNone) {
    const TempDir dir;
    const auto path = dir.file(
        "t.csv", "a;b\n+3.5;\n 12 ;\n1e3;\n12 in;\nnan;\ninf;\n1e999;\n--1;\n+-1;\n1,5;\n");
    const FirstBatch first{path.string()};
    const auto status = [&](std::size_t row) { return first.batch.number(row, 0).status; };
    EXPECT_EQ(first.batch.number(0, 0).value, 3.5);
    EXPECT_EQ(first.batch.number(1, 0).value, 12.0);
    EXPECT_EQ(first.batch.number(2, 0).value, 1000.0);
    EXPECT_EQ(status(3), ValueStatus::unreadable);
    EXPECT_EQ(status(4), ValueStatus::not_finite);
    EXPECT_EQ(status(5), ValueStatus::not_finite);
    EXPECT_EQ(status(6), ValueStatus::not_finite);
    EXPECT_EQ(status(7), ValueStatus::unreadable);
    EXPECT_EQ(status(8), ValueStatus::unreadable);
    EXPECT_EQ(status(9), ValueStatus::unreadable);
}

constexpr const char* kShapes = R"({"type":"FeatureCollection","features":[
{"type":"Feature","properties":{},"geometry":{"type":"Point","coordinates":[1,2,3]}},
{"type":"Feature","properties":{},"geometry":{"type":"MultiPoint","coordinates":[[3,4]]}},
{"type":"Feature","properties":{},"geometry":{"type":"MultiPoint","coordinates":[[3,4],[5,6]]}},
{"type":"Feature","properties":{},"geometry":{"type":"LineString","coordinates":[[0,0],[1,1],[2,0]]}},
{"type":"Feature","properties":{},"geometry":{"type":"MultiLineString",
 "coordinates":[[[0,0,9],[1,1,9]],[[5,5,9],[6,6,9]]]}},
{"type":"Feature","properties":{},"geometry":{"type":"Polygon","coordinates":[[[0,0],[1,0],[1,1],[0,0]]]}},
{"type":"Feature","properties":{},"geometry":null}]})";

constexpr const char* kTouching = R"({"type":"FeatureCollection","features":[
{"type":"Feature","properties":{},"geometry":{"type":"MultiLineString",
 "coordinates":[[[0,0,1],[1,1,2]],[[1,1,2],[2,0,3],[3,0,4]],[[5,5,5],[6,6,6]]]}}]})";

TEST(FeatureBatch, JoinsPartsThatGoOnWhereTheOneBeforeEnds) {
    const TempDir dir;
    const auto path = make_dataset(dir / "t.gpkg", kTouching, {"-f", "GPKG", "-nln", "t"});
    for (const bool columnar : {false, true}) {
        ReadOptions options;
        options.columnar = columnar;
        const FirstBatch first{path.string(), options};
        EXPECT_THAT(*first.batch.path(0).value,
                    ElementsAre(ElementsAre(Point{0, 0}, Point{1, 1}, Point{2, 0}, Point{3, 0}),
                                ElementsAre(Point{5, 5}, Point{6, 6})));
        EXPECT_THAT(first.batch.path_extras(0).z,
                    ElementsAre(ElementsAre(1, 2, 3, 4), ElementsAre(5, 6)));
    }
}

TEST(FeatureBatch, ReadsPointsAndLinesAndSaysWhatTheRestIs) {
    const TempDir dir;
    const auto path = make_dataset(dir / "t.gpkg", kShapes, {"-f", "GPKG", "-nln", "t"});
    for (const bool columnar : {false, true}) {
        ReadOptions options;
        options.columnar = columnar;
        const FirstBatch first{path.string(), options};
        const FeatureBatch& b = first.batch;
        ASSERT_EQ(b.size(), 7U);
        EXPECT_EQ(b.point(0).value, (Point{1, 2}));
        EXPECT_EQ(b.point(1).value, (Point{3, 4}));
        EXPECT_EQ(b.point(2).status, ShapeStatus::other_type);
        EXPECT_EQ(b.point(3).status, ShapeStatus::other_type);
        EXPECT_THAT(*b.path(3).value,
                    ElementsAre(ElementsAre(Point{0, 0}, Point{1, 1}, Point{2, 0})));
        EXPECT_THAT(*b.path(4).value,
                    ElementsAre(ElementsAre(Point{0, 0}, Point{1, 1}),
                                ElementsAre(Point{5, 5}, Point{6, 6})));
        EXPECT_EQ(b.path(5).status, ShapeStatus::other_type);
        EXPECT_TRUE(b.has_geometry(5));
        EXPECT_EQ(b.path(0).status, ShapeStatus::other_type);
        EXPECT_EQ(b.point(6).status, ShapeStatus::null);
        EXPECT_FALSE(b.has_geometry(6));
        EXPECT_THAT(b.path_extras(4).z, ElementsAre(ElementsAre(9, 9), ElementsAre(9, 9)));
        EXPECT_TRUE(b.path_extras(4).m.empty());
        EXPECT_TRUE(b.path_extras(3).z.empty());
        EXPECT_TRUE(b.path_extras(5).z.empty());
        EXPECT_TRUE(b.path_extras(6).z.empty());
    }
}

TEST(FeatureBatch, TellsEmptyFromNullAndFromNotFinite) {
    const TempDir dir;
    // Well-known binary in a GeoPackage's envelope: POINT (NaN NaN), POINT (NaN 5), LINESTRING EMPTY,
    // LINESTRING (0 0, 1 inf).
    make_dataset(dir / "t.gpkg",
                 testing::kPoles,
                 {"-f", "GPKG", "-nln", "t", "-lco", "SPATIAL_INDEX=NO", "-nlt", "GEOMETRY"});
    const std::string nan = "000000000000F87F";
    const std::string zero(16, '0');
    const auto put = [&](const char* fid, const std::string& wkb) {
        testing::sql_rows(dir / "t.gpkg",
                          "INSERT OR REPLACE INTO t (fid, geom) VALUES (" + std::string{fid} +
                              ", X'4750000100000000" + wkb + "')");
    };
    put("1", "0101000000" + nan + nan);
    put("2", "0101000000" + nan + "0000000000001440");
    put("3", "010200000000000000");
    put("4", "010200000002000000" + zero + zero + "000000000000F03F" + "000000000000F07F");
    for (const bool columnar : {false, true}) {
        ReadOptions options;
        options.columnar = columnar;
        const FirstBatch first{(dir / "t.gpkg").string(), options};
        EXPECT_EQ(first.batch.point(0).status, ShapeStatus::empty);
        EXPECT_EQ(first.batch.point(1).status, ShapeStatus::not_finite);
        EXPECT_EQ(first.batch.path(2).status, ShapeStatus::empty);
        EXPECT_EQ(first.batch.path(3).status, ShapeStatus::not_finite);
    }
}

TEST(FeatureReader, GivesAllRowsInBatchesOfTheSizeAsked) {
    const TempDir dir;
    std::string rows = "id,b\n";
    for (int i = 0; i < 25; ++i) {
        rows += std::to_string(i) + ",\n";
    }
    const auto path = dir.file("t.csv", rows);
    const Source source = Source::open(path.string());
    ReadOptions options;
    options.batch_size = 10;
    FeatureReader reader{source, "t", options};
    FeatureBatch batch;
    std::vector<std::size_t> sizes;
    std::vector<std::int64_t> firsts;
    while (reader.next(batch)) {
        sizes.push_back(batch.size());
        firsts.push_back(batch.first_row());
    }
    EXPECT_THAT(sizes, ElementsAre(10, 10, 5));
    EXPECT_THAT(firsts, ElementsAre(0, 10, 20));
    EXPECT_EQ(reader.rows_read(), 25);
    EXPECT_EQ(batch.size(), 0U);
    EXPECT_FALSE(reader.next(batch));
}

TEST(FeatureReader, LeavesOutColumnsAndGeometryThatWereNotAskedFor) {
    const TempDir dir;
    const auto path = make_dataset(dir / "t.gpkg", testing::kPoles, {"-f", "GPKG", "-nln", "t"});
    for (const bool columnar : {false, true}) {
        ReadOptions options;
        options.columns = {2};
        options.geometry = false;
        options.columnar = columnar;
        const FirstBatch first{path.string(), options};
        EXPECT_EQ(first.batch.number(0, 2).value, 35.5);
        EXPECT_TRUE(first.batch.is_null(0, 0));
        EXPECT_FALSE(first.batch.has_geometry(0));
        EXPECT_EQ(first.batch.fid(0), 7);
    }
}

TEST(FeatureReader, ReadsAnEmptyLayer) {
    const TempDir dir;
    const auto path = make_dataset(
        dir / "t.gpkg", testing::kPoles, {"-f", "GPKG", "-nln", "t", "-where", "height > 1000"});
    const FirstBatch first{path.string()};
    EXPECT_EQ(first.batch.size(), 0U);
}

TEST(FeatureReader, KeepsABatchAliveAfterItsReaderInAnotherThread) {
    const TempDir dir;
    const auto path = make_dataset(dir / "t.gpkg", testing::kPoles, {"-f", "GPKG", "-nln", "t"});
    FeatureBatch kept;
    {
        FirstBatch first{path.string()};
        kept = std::move(first.batch);
    }
    std::string text;
    std::thread other{[&] { text = kept.text(0, 0); }};
    other.join();
    EXPECT_EQ(text, "007");
    EXPECT_EQ(kept.point(0).value, (Point{-122.5, 45.25}));
}

TEST(FeatureReader, ReadsTheSameByColumnsAsByFeatures) {
    const TempDir dir;
    for (const char* format : {"GPKG", "FlatGeobuf"}) {
        for (const char* content : {kTypes, kShapes, testing::kPoles}) {
            const std::string name = std::string{"t."} + (format[0] == 'G' ? "gpkg" : "fgb");
            std::filesystem::remove(dir / name);
            std::vector<std::string> arguments{"-f", format, "-nln", "t"};
            if (content == kTypes) {  // lists and objects are nothing for FlatGeobuf's driver
                arguments.insert(arguments.end(), {"-select", "i,l,r,b,d,t,s"});
            }
            const auto path = make_dataset(dir / name, content, arguments);
            const Source source = Source::open(path.string());
            EXPECT_EQ(read_lines(source, "t", true, 2), read_lines(source, "t", false)) << format;
        }
    }
}

/// 1000 rows of random values of every type, a third of them null.
std::string random_rows() {
    std::mt19937 random{17};
    std::string out = R"({"type":"FeatureCollection","features":[)";
    for (int i = 0; i < 1000; ++i) {
        const auto or_null = [&](const std::string& value) {
            return random() % 3 == 0 ? std::string{"null"} : value;
        };
        const auto number = [&] { return std::to_string(100 + random() % 900); };
        out += std::string{i == 0 ? "" : ","} + R"({"type":"Feature","properties":{"i":)" +
               or_null(number()) + R"(,"l":)" + or_null("90071992547409" + number()) + R"(,"r":)" +
               or_null("0." + number()) + R"(,"b":)" +
               or_null(random() % 2 == 0 ? "true" : "false") + R"(,"d":)" +
               or_null("\"2024-0" + std::to_string(1 + random() % 9) + "-15\"") + R"(,"s":)" +
               or_null("\"" + std::string(random() % 50, 'x') + number() + "\"") +
               R"(},"geometry":)" +
               (random() % 5 == 0
                    ? "null"
                    : R"({"type":"Point","coordinates":[)" + number() + ".5," + number() + "]}") +
               "}";
    }
    return out + "]}";
}

TEST(FeatureReader, ReadsRandomRowsTheSameByColumnsAsByFeatures) {
    const TempDir dir;
    for (const char* format : {"GPKG", "FlatGeobuf"}) {
        const std::string name = std::string{"t."} + (format[0] == 'G' ? "gpkg" : "fgb");
        for (const char* columns : {"i,l,r,b,d,s", "i,l,r,s", "b,s"}) {
            std::filesystem::remove(dir / name);
            const auto path = make_dataset(
                dir / name, random_rows(), {"-f", format, "-nln", "t", "-select", columns});
            const Source source = Source::open(path.string());
            const auto by_features = read_lines(source, "t", false);
            EXPECT_GT(by_features.size(), 700U);
            for (const std::size_t batch_size : {7UL, 64UL, 4096UL}) {
                EXPECT_EQ(read_lines(source, "t", true, batch_size), by_features)
                    << format << " " << columns;
            }
        }
    }
}

// SQLite stores anything in any column; read by columns a value stays what it is.
TEST(FeatureReader, LeavesValuesOfTheWrongTypeAsTheyAre) {
    const TempDir dir;
    make_dataset(dir / "t.gpkg",
                 kTypes,
                 {"-f", "GPKG", "-nln", "t", "-select", "i,l,r,b,d,s", "-lco", "SPATIAL_INDEX=NO"});
    const auto put = [&](const std::string& set) {
        testing::sql_rows(dir / "t.gpkg", "INSERT INTO t (i, l, r, b, d, s) VALUES (" + set + ")");
    };
    put("'abc', '12 in', '3.5 m', 'yes', '2024/05/01', 7");
    put("2.75, 1e10, 4, 7, '2024-05-01T10:00:00Z', 2.5");
    put("99999999999, 5, X'00', 2, 20240501, X'616263'");
    put("'', '', '', '', '', ''");
    const std::vector<std::vector<std::string>> expected{
        {"abc", "2.75", "99999999999", ""},
        {"12 in", "10000000000", "5", ""},
        {"3.5 m", "4", "00", ""},
        {"yes", "7", "2", ""},
        {"2024-05-01", "2024-05-01", "20240501", ""},  // days as OGR spells them, too
        {"7", "2.5", "abc", ""}};
    const Source source = Source::open((dir / "t.gpkg").string());
    for (std::size_t column = 0; column < expected.size(); ++column) {
        SCOPED_TRACE(column);
        ReadOptions options;
        options.columns = {column};
        FeatureReader reader{source, "t", options};
        FeatureBatch batch;
        std::vector<std::string> read;
        while (reader.next(batch)) {
            for (std::size_t row = 0; row < batch.size(); ++row) {
                read.push_back(batch.is_null(row, column) ? "null" : batch.text(row, column));
            }
        }
        ASSERT_EQ(read.size(), 6U);
        EXPECT_EQ((std::vector<std::string>{read.begin() + 2, read.end()}), expected[column]);
    }
}

TEST(FeatureReader, ReadsThreeHundredColumns) {
    const TempDir dir;
    std::string properties;
    for (int i = 0; i < 300; ++i) {
        properties +=
            std::string{i == 0 ? "" : ","} + "\"c" + std::to_string(i) + "\":" + std::to_string(i);
    }
    const auto path = make_dataset(dir / "t.gpkg",
                                   R"({"type":"FeatureCollection","features":[{"type":"Feature",)"
                                   R"("properties":{)" +
                                       properties + R"(},"geometry":null}]})",
                                   {"-f", "GPKG", "-nln", "t"});
    const FirstBatch first{path.string()};
    ASSERT_EQ(first.batch.size(), 1U);
    EXPECT_EQ(first.batch.number(0, 299).value, 299.0);
}

TEST(FeatureReader, ReadsTextsOfAnySizeAndBytes) {
    const TempDir dir;
    make_dataset(
        dir / "t.gpkg", testing::kPoles, {"-f", "GPKG", "-nln", "t", "-lco", "SPATIAL_INDEX=NO"});
    testing::sql_rows(dir / "t.gpkg",
                      "UPDATE t SET note = CAST(X'61FF62' AS TEXT), pole_id = "
                      "replace(hex(zeroblob(5000)), '0', 'x') WHERE fid = 7");
    testing::sql_rows(dir / "t.gpkg", "UPDATE t SET note = CAST(X'610062' AS TEXT) WHERE fid = 9");
    const Source source = Source::open((dir / "t.gpkg").string());
    for (const bool columnar : {false, true}) {
        ReadOptions options;
        options.columnar = columnar;
        FeatureReader reader{source, "t", options};
        FeatureBatch batch;
        std::vector<std::string> ids;
        std::vector<std::string> notes;
        std::vector<RowDamage> damage;
        while (reader.next(batch)) {
            for (std::size_t row = 0; row < batch.size(); ++row) {
                ids.push_back(batch.text(row, 0));
                notes.push_back(batch.text(row, 3));
                const auto found = batch.damage(row);
                damage.insert(damage.end(), found.begin(), found.end());
            }
        }
        ASSERT_GE(ids.size(), 2U);
        EXPECT_EQ(ids[0], std::string(10000, 'x'));
        EXPECT_EQ(notes[0],
                  "a\xFF"
                  "b");
        EXPECT_EQ(notes[1],
                  "a\xEF\xBF\xBD"
                  "b");
        ASSERT_EQ(damage.size(), 1U);
        EXPECT_EQ(damage[0].kind, DamageKind::nul_in_database);
        EXPECT_EQ(damage[0].value, "a\\x00b");
    }
}

}  // namespace
}  // namespace linewood
