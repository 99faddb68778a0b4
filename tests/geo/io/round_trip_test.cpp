#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "geo/io/feature_reader.hpp"
#include "geo/io/output_dataset.hpp"
#include "tests/geo/io/vector_files.hpp"
#include "tests/support/temp_dir.hpp"

// One layer through every format and back: nulls, dates, booleans, accents, 64-bit integers, empty texts. What a
// format cannot hold is written down here, in the expected lines.

namespace linewood {
namespace {

using testing::copy_dataset;
using ::testing::ElementsAre;
using ::testing::ElementsAreArray;
using testing::make_dataset;
using testing::TempDir;

constexpr const char* kAll = R"({"type":"FeatureCollection","features":[
{"type":"Feature","properties":{"pole_id":"007","name":"Sjöström ± 木","n":-5,"big":9007199254740993,
 "r":0.1,"empty":"","ok":true,"day":"2024-02-29","=f":"=1+1"},
 "geometry":{"type":"Point","coordinates":[-122.1234567,45.5]}},
{"type":"Feature","properties":{"pole_id":"A,\"b\"\nc","name":"<&>","n":null,"big":null,"r":null,
 "empty":"x","ok":false,"day":null,"=f":null},
 "geometry":{"type":"Point","coordinates":[15.25,-33.75]}}]})";

/// The layer `poles` with typed columns.
Source source_of(const TempDir& dir) {
    return Source::open(make_dataset(dir / "in.gpkg", kAll, {"-nln", "poles"}).string());
}

/// All cells of the layer, a line a row: as text, null as `null`. Only the columns named.
std::vector<std::string> cells_of(const Source& source, const std::vector<std::string>& columns) {
    const std::string layer = source.layer_names().front();
    const LayerSchema& schema = source.schema(layer);
    FeatureReader reader{source, layer};
    std::vector<std::string> lines;
    FeatureBatch batch;
    while (reader.next(batch)) {
        for (std::size_t row = 0; row < batch.size(); ++row) {
            std::string line;
            for (const std::string& name : columns) {
                const auto column = schema.field_index(name);
                line += (line.empty() ? "" : ";") + (!column ? std::string{"(none)"}
                                                     : batch.is_null(row, *column)
                                                         ? "null"
                                                         : batch.text(row, *column));
            }
            lines.push_back(line);
        }
    }
    return lines;
}

const std::vector<std::string>& columns() {
    static const std::vector<std::string> kColumns{
        "pole_id", "name", "n", "big", "r", "empty", "ok", "day", "=f"};
    return kColumns;
}

/// Writes the layer in a format, reads it again.
std::vector<std::string> through(OutputFormat format, const std::string& file) {
    const TempDir dir;
    copy_dataset(source_of(dir), dir / "out", format);
    return cells_of(Source::open((dir / "out" / file).string()), columns());
}

const std::vector<std::string>& whole() {
    static const std::vector<std::string> kWhole{
        "007;Sjöström ± 木;-5;9007199254740993;0.1;;true;2024-02-29;=1+1",
        "A,\"b\"\nc;<&>;null;null;null;x;false;null;null"};
    return kWhole;
}

TEST(RoundTrip, TheInputIsWhatTheTestThinks) {
    const TempDir dir;
    EXPECT_THAT(cells_of(source_of(dir), columns()), ElementsAreArray(whole()));
}

TEST(RoundTrip, GeoPackage) {
    const TempDir dir;
    copy_dataset(source_of(dir), dir / "out.gpkg", OutputFormat::geopackage);
    EXPECT_THAT(cells_of(Source::open((dir / "out.gpkg").string()), columns()),
                ElementsAreArray(whole()));
}

TEST(RoundTrip, FlatGeobufInItsOrder) {
    EXPECT_THAT(through(OutputFormat::flatgeobuf, "poles.fgb"),
                ::testing::UnorderedElementsAreArray(whole()));
}

TEST(RoundTrip, GeoJsonAndItsLines) {
    EXPECT_THAT(through(OutputFormat::geojson, "poles.geojson"), ElementsAreArray(whole()));
    EXPECT_THAT(through(OutputFormat::geojsonl, "poles.geojsonl"), ElementsAreArray(whole()));
}

TEST(RoundTrip, Gml) {
    // A name that no XML element can have gets another.
    std::vector<std::string> expected = whole();
    expected[0].replace(expected[0].rfind(";=1+1"), 5, ";(none)");
    expected[1].replace(expected[1].rfind(";null"), 5, ";(none)");
    EXPECT_THAT(through(OutputFormat::gml, "poles.gml"), ElementsAreArray(expected));
}

TEST(RoundTrip, Kml) {
    // A null is not written, so that only the schema tells it from an empty text.
    const auto rows = through(OutputFormat::kml, "poles.kml");
    EXPECT_THAT(rows, ElementsAreArray(whole()));
}

/// Shapefiles know no empty text, no booleans and only short names; the rest arrives.
TEST(RoundTrip, Shapefile) {
    const TempDir dir;
    copy_dataset(source_of(dir), dir / "out", OutputFormat::shapefile);
    EXPECT_THAT(cells_of(Source::open((dir / "out" / "poles.shp").string()),
                         {"pole_id", "name", "n", "big", "r", "empty", "ok", "day"}),
                ElementsAre("007;Sjöström ± 木;-5;9007199254740993;0.1;null;1;2024-02-29",
                            "A,\"b\"\nc;<&>;null;null;null;x;0;null"));
}

/// Spreadsheets know no empty text; a text that begins like a formula is text all the same.
TEST(RoundTrip, Spreadsheets) {
    std::vector<std::string> expected = whole();
    expected[0].replace(expected[0].find(";0.1;;"), 6, ";0.1;null;");
    for (const auto& [format, file] :
         {std::pair{OutputFormat::xlsx, "poles.xlsx"}, std::pair{OutputFormat::ods, "poles.ods"}}) {
        EXPECT_THAT(through(format, file), ElementsAreArray(expected)) << file;
    }
}

/// CSV is guarded against spreadsheets, and read as text: its reader knows no types and no empty text.
TEST(RoundTrip, Csv) {
    const TempDir dir;
    copy_dataset(source_of(dir), dir / "out", OutputFormat::csv);
    const std::vector<std::string> rows =
        cells_of(Source::open((dir / "out" / "poles.csv").string()),
                 {"pole_id", "name", "n", "big", "r", "empty", "ok", "day"});
    EXPECT_THAT(rows,
                ElementsAre("007;Sjöström ± 木;-5;9007199254740993;0.1;null;true;2024-02-29",
                            "A,\"b\"\nc;<&>;null;null;null;x;false;null"));
    EXPECT_EQ(testing::content_of(dir / "out" / "poles.csvt"),
              "\"String\",\"String\",\"Integer\",\"Integer64\",\"Real\",\"String\",\"String\","
              "\"Date\",\"String\",\"CoordX\",\"CoordY\"\r\n");
    EXPECT_THAT(testing::content_of(dir / "out" / "poles.csv"), ::testing::HasSubstr(",'=1+1,"));
}

/// Read only; its texts cannot be told from null where they are empty, and its numbers have 53 bits.
TEST(RoundTrip, FileGeodatabaseIsRead) {
    const TempDir dir;
    source_of(dir);
    int status = 0;
    const std::string said =
        testing::run("ogr2ogr -unsetFid -f OpenFileGDB -nln poles " + (dir / "in.gdb").string() +
                         " " + (dir / "in.gpkg").string(),
                     &status);
    ASSERT_EQ(status, 0) << said;
    EXPECT_THAT(cells_of(Source::open((dir / "in.gdb").string()), {"pole_id", "name", "n", "r"}),
                ElementsAre("007;Sjöström ± 木;-5;0.1", "A,\"b\"\nc;<&>;null;null"));
}

// ---- The coordinate system asked for ----

TEST(CrsOption, PlacesAreBroughtOver) {
    const TempDir dir;
    OutputOptions options;
    options.crs = "EPSG:32610";
    copy_dataset(Source::open(make_dataset(dir / "in.gpkg", testing::kPoles).string()),
                 dir / "out.gpkg",
                 OutputFormat::geopackage,
                 options);
    const Source out = Source::open((dir / "out.gpkg").string());
    EXPECT_THAT(out.schema(out.layer_names().front()).crs_wkt,
                ::testing::HasSubstr("UTM zone 10N"));
    const auto lines = testing::ogr_lines(dir / "out.gpkg");
    ASSERT_FALSE(lines.empty());
    EXPECT_THAT(lines.front(), ::testing::ContainsRegex("POINT \\([0-9]{6}"));
}

TEST(CrsOption, GeoJsonAskedOtherwiseNamesItsSystem) {
    const TempDir dir;
    OutputOptions options;
    options.crs = "EPSG:32610";
    copy_dataset(Source::open(make_dataset(dir / "in.gpkg", testing::kPoles).string()),
                 dir / "out",
                 OutputFormat::geojson,
                 options);
    bool named = false;
    for (const std::string& name : dir.names("out")) {
        named = named ||
                (name.find(".geojson") != std::string::npos &&
                 testing::content_of(dir / "out" / name).find("EPSG::32610") != std::string::npos);
    }
    EXPECT_TRUE(named);
    EXPECT_FALSE(is_known_crs("no such system"));
    EXPECT_TRUE(is_known_crs("EPSG:4326"));
}

}  // namespace
}  // namespace linewood
