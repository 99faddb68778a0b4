#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "geo/io/feature_reader.hpp"
#include "geo/io/grid_turn.hpp"
#include "geo/io/output_dataset.hpp"
#include "tests/geo/io/vector_files.hpp"
#include "tests/support/temp_dir.hpp"

// What is particular to FlatGeobuf, GeoJSON, Shapefile and CSV output.

namespace linewood {
namespace {

using ::testing::Contains;
using testing::content_of;
using testing::copy_dataset;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using testing::make_dataset;
using ::testing::Not;
using testing::ogr_lines;
using testing::TempDir;
using ::testing::UnorderedElementsAre;

/// A layer `poles` of the geometries given as WKT, with their text in the column `id`.
Source of_shapes(const TempDir& dir,
                 const std::vector<std::string>& shapes,
                 const std::string& declared = "POINT",
                 const std::string& crs = "EPSG:4326") {
    std::string csv = "id;wkt\n";
    for (const std::string& shape : shapes) {
        csv += shape + ";" + shape + "\n";
    }
    dir.file("shapes.csv", csv);
    const std::filesystem::path path = dir / "shapes.gpkg";
    int status = 0;
    const std::string said = testing::run(
        "ogr2ogr -f GPKG -nln poles -nlt GEOMETRY -select id -a_srs " + crs +
            " -lco SPATIAL_INDEX=NO " + path.string() + " " + (dir / "shapes.csv").string(),
        &status);
    EXPECT_EQ(status, 0) << said;
    std::string zm = ", z = 0, m = 0";
    std::string type = declared;
    if (type.size() > 2 && type.substr(type.size() - 2) == " Z") {
        type.resize(type.size() - 2);
        zm = ", z = 1, m = 0";
    }
    testing::sql_rows(path,
                      "UPDATE gpkg_geometry_columns SET geometry_type_name = '" + type + "'" + zm);
    return Source::open(path.string());
}

std::vector<std::string> messages(const OutputSummary& summary) {
    std::vector<std::string> out;
    for (const OutputNote& note : summary.notes) {
        out.push_back(note.message);
    }
    return out;
}

TEST(FlatGeobuf, PutsRowsWithoutGeometryIntoATableBeside) {
    const TempDir dir;
    const Source source = of_shapes(dir, {"POINT (1 2)", "", "POINT EMPTY", "POINT (3 4)"});
    const OutputSummary summary = copy_dataset(source, dir / "out", OutputFormat::flatgeobuf);
    EXPECT_THAT(dir.names("out"),
                ElementsAre("fields.csv", "fields.json", "poles.fgb", "poles_nogeom.csv"));
    EXPECT_EQ(ogr_lines(dir / "out/poles.fgb").size(), 2U);
    EXPECT_EQ(content_of(dir / "out/poles_nogeom.csv"), "id\r\n\"\"\r\nPOINT EMPTY\r\n");
    EXPECT_EQ(summary.layers[0].rows, 4);
    EXPECT_THAT(summary.layers[0].files, ElementsAre("poles.fgb", "poles_nogeom.csv"));
    EXPECT_THAT(messages(summary), Contains(HasSubstr("poles_nogeom.csv")));
    EXPECT_THAT(messages(summary), Contains(HasSubstr("spatial order")));
}

TEST(FlatGeobuf, BecomesMixedWhereAnotherGeometryComes) {
    const TempDir dir;
    const Source source = of_shapes(
        dir, {"POINT (1 2)", "POLYGON ((0 0,1 0,1 1,0 0))", "POINT (3 4)", "LINESTRING (0 0,1 1)"});
    copy_dataset(source, dir / "out", OutputFormat::flatgeobuf);
    EXPECT_THAT(dir.names("out"), ElementsAre("fields.csv", "fields.json", "poles.fgb"));
    EXPECT_THAT(ogr_lines(dir / "out/poles.fgb"),
                UnorderedElementsAre("id=POINT (1 2);POINT (1 2)",
                                     "id=POLYGON ((0 0,1 0,1 1,0 0));POLYGON ((0 0,1 0,1 1,0 0))",
                                     "id=POINT (3 4);POINT (3 4)",
                                     "id=LINESTRING (0 0,1 1);LINESTRING (0 0,1 1)"));
}

TEST(FlatGeobuf, CarriesHeightsAndMeasuresThatWereNotDeclared) {
    const TempDir dir;
    const Source source = of_shapes(dir, {"POINT Z (1 2 3)", "POINT ZM (3 4 5 6)"});
    copy_dataset(source, dir / "out", OutputFormat::flatgeobuf);
    const auto lines = ogr_lines(dir / "out/poles.fgb");
    EXPECT_THAT(lines, Contains(HasSubstr(";POINT ZM (3 4 5 6)")));
    EXPECT_THAT(lines, Contains(HasSubstr(";POINT ZM (1 2 3 0)")));
}

TEST(FlatGeobuf, KeepsInputOrderWithoutAnIndex) {
    const TempDir dir;
    std::vector<std::string> shapes;
    for (int i = 0; i < 50; ++i) {
        shapes.push_back("POINT (" + std::to_string(i * 37 % 50) + " " +
                         std::to_string(i * 11 % 50) + ")");
    }
    const Source source = of_shapes(dir, shapes);
    OutputOptions options;
    options.spatial_index = false;
    copy_dataset(source, dir / "out", OutputFormat::flatgeobuf, options);
    const auto lines = ogr_lines(dir / "out/poles.fgb");
    ASSERT_EQ(lines.size(), 50U);
    for (std::size_t i = 0; i < 50; ++i) {
        EXPECT_EQ(lines[i], "id=" + shapes[i] + ";" + shapes[i]);
    }
}

TEST(FlatGeobuf, WithoutRowsIsAFileAllTheSame) {
    const TempDir dir;
    const Source source = of_shapes(dir, {""});
    OutputOptions options;
    options.spatial_index = false;
    copy_dataset(source, dir / "out", OutputFormat::flatgeobuf, options);
    EXPECT_EQ(ogr_lines(dir / "out/poles.fgb").size(), 0U);
    EXPECT_THAT(dir.names("out"), Contains("poles_nogeom.csv"));
}

TEST(FlatGeobuf, HasDatesAsText) {
    const TempDir dir;
    const Source source = of_shapes(dir, {"POINT (1 2)"});
    OutputDataset out = OutputDataset::create(dir / "out", OutputFormat::flatgeobuf);
    LayerPlan plan = testing::copy_plan(source.schema("poles"));
    plan.added = {{"inspected_on", FieldType::date}};
    LayerWriter& writer = out.add_layer(plan);
    writer.append(std::vector<Cell>{Date::from_ymd(2024, 2, 29).value()}, Point{1, 2});
    out.finish();
    const Source copy = Source::open((dir / "out").string());
    EXPECT_EQ(copy.schema("poles").fields[1].type, FieldType::text);
    EXPECT_THAT(ogr_lines(dir / "out/poles.fgb").at(0), HasSubstr("inspected_on=2024-02-29"));
}

TEST(GeoJson, IsRfc7946WithExplicitNulls) {
    const TempDir dir;
    int status = 0;
    dir.file("in.csv", "id;wkt\n1;POINT (500000 5000000)\n2;\n");
    testing::run("ogr2ogr -f GPKG -nln poles -a_srs EPSG:32610 -select id " +
                     (dir / "in.gpkg").string() + " " + (dir / "in.csv").string(),
                 &status);
    ASSERT_EQ(status, 0);
    copy_dataset(Source::open((dir / "in.gpkg").string()),
                 dir / "out",
                 OutputFormat::geojson,
                 {},
                 [](LayerPlan& plan) {
                     plan.added = {{"verdict"}, {"pct", FieldType::real}};
                 });
    const auto json = nlohmann::json::parse(content_of(dir / "out/poles.geojson"));
    EXPECT_FALSE(json.contains("crs"));
    ASSERT_EQ(json["features"].size(), 2U);
    const auto& first = json["features"][0];
    EXPECT_EQ(first["id"], 1);
    EXPECT_TRUE(first["properties"]["verdict"].is_null());
    EXPECT_TRUE(first["properties"]["pct"].is_null());
    // UTM zone 10 north: easting 500000 is the central meridian, 123 W.
    EXPECT_NEAR(first["geometry"]["coordinates"][0].get<double>(), -123.0, 1e-7);
    EXPECT_NEAR(first["geometry"]["coordinates"][1].get<double>(), 45.15, 0.01);
    EXPECT_THAT(content_of(dir / "out/poles.geojson"), HasSubstr("[ -123.0, 45.1"));
    EXPECT_TRUE(json["features"][1]["geometry"].is_null());
    EXPECT_THAT(dir.names("out"), ElementsAre("fields.csv", "fields.json", "poles.geojson"));
}

TEST(GeoJson, HoldsAllTypesAsJsonHasThem) {
    const TempDir dir;
    dir.file("in.geojson",
             R"({"type":"FeatureCollection","features":[{"type":"Feature","properties":{
"list":["a","b"],"o":{"k":1},"n":0.1,"big":9007199254740993,"s":"q\"\\\n","b":true,
"d":"2024-02-29"},"geometry":null}]})");
    copy_dataset(Source::open((dir / "in.geojson").string()),
                 dir / "out",
                 OutputFormat::geojson,
                 {},
                 [](LayerPlan& plan) {
                     plan.name = "poles";
                     plan.geometry.kind = GeometryKind::point;
                 });
    const auto json = nlohmann::json::parse(content_of(dir / "out/poles.geojson"));
    const auto& p = json["features"][0]["properties"];
    EXPECT_EQ(p["list"], nlohmann::json::parse(R"(["a","b"])"));
    EXPECT_EQ(p["o"]["k"], 1);
    EXPECT_EQ(p["n"], 0.1);
    EXPECT_EQ(p["big"], 9007199254740993);
    EXPECT_EQ(p["s"], "q\"\\\n");
    EXPECT_EQ(p["b"], true);
    EXPECT_EQ(p["d"], "2024-02-29");
    EXPECT_THAT(content_of(dir / "out/poles.geojson"), HasSubstr("\"n\": 0.1,"));
}

TEST(GeoJson, HasNullForWhatHasNoPlaceOnTheEarth) {
    const TempDir dir;
    const Source source = of_shapes(dir, {"POINT (1 2)", "POINT (1 95)", "POINT (3 4)"});
    const OutputSummary summary = copy_dataset(source, dir / "out", OutputFormat::geojson);
    EXPECT_THAT(
        ogr_lines(dir / "out/poles.geojson"),
        ElementsAre(
            "id=POINT (1 2);POINT (1 2)", "id=POINT (1 95);null", "id=POINT (3 4);POINT (3 4)"));
    EXPECT_THAT(messages(summary), Contains(HasSubstr("1 geometries have no place")));
}

TEST(Shapefile, HasShortNamesAListOfThemAndItsEncoding) {
    const TempDir dir;
    const Source source = of_shapes(dir, {"POINT (1 2)", ""});
    copy_dataset(source, dir / "out", OutputFormat::shapefile, {}, [](LayerPlan& plan) {
        plan.added = {
            {"remaining_pct", FieldType::real, 0, false, false, "%", "Remaining strength"},
            {"climb_safe", FieldType::boolean}};
    });
    EXPECT_THAT(dir.names("out"),
                ElementsAre("fields.csv",
                            "fields.json",
                            "poles.cpg",
                            "poles.dbf",
                            "poles.prj",
                            "poles.shp",
                            "poles.shx"));
    EXPECT_THAT(content_of(dir / "out/poles.cpg"), HasSubstr("UTF-8"));
    EXPECT_THAT(ogr_lines(dir / "out/poles.shp"),
                ElementsAre("id=POINT (1 2);remain_pct=null;climb_safe=null;POINT (1 2)",
                            "id=null;remain_pct=null;climb_safe=null;null"));
    EXPECT_THAT(
        content_of(dir / "out/fields.csv"),
        HasSubstr("poles,poles.shp,remain_pct,remaining_pct,real,%,Remaining strength\r\n"));
}

TEST(Shapefile, PutsOtherKindsOfGeometryIntoFilesOfTheirOwn) {
    const TempDir dir;
    const Source source = of_shapes(dir,
                                    {"POINT (1 2)",
                                     "POLYGON ((0 0,0 1,1 1,0 0))",
                                     "POINT Z (3 4 5)",
                                     "CIRCULARSTRING (0 0,1 1,2 0)",
                                     "GEOMETRYCOLLECTION (POINT (1 2),LINESTRING (0 0,1 1))"});
    const OutputSummary summary = copy_dataset(source, dir / "out", OutputFormat::shapefile);
    EXPECT_EQ(summary.layers[0].rows, 5);
    EXPECT_THAT(summary.layers[0].files,
                UnorderedElementsAre("poles.shp",
                                     "poles_polygon.shp",
                                     "poles_point_z.shp",
                                     "poles_line.shp",
                                     "poles_othergeom.csv"));
    EXPECT_THAT(ogr_lines(dir / "out/poles.shp"), ElementsAre("id=POINT (1 2);POINT (1 2)"));
    EXPECT_THAT(ogr_lines(dir / "out/poles_polygon.shp"),
                ElementsAre(HasSubstr(";POLYGON ((0 0,0 1,1 1,0 0))")));
    EXPECT_THAT(ogr_lines(dir / "out/poles_point_z.shp"),
                ElementsAre(HasSubstr(";POINT Z (3 4 5)")));
    EXPECT_THAT(content_of(dir / "out/poles_othergeom.csv"),
                HasSubstr("GEOMETRYCOLLECTION (POINT (1 2),LINESTRING (0 0,1 1))"));
    EXPECT_THAT(messages(summary), Contains(HasSubstr("poles_polygon.shp")));
}

TEST(Shapefile, TellsOfNumbersThatItCannotHold) {
    for (const OutputFormat format : {OutputFormat::shapefile, OutputFormat::ods}) {
        const TempDir dir;
        LayerPlan plan;
        plan.name = "poles";
        plan.added = {{"a", FieldType::real}};
        plan.geometry.kind = GeometryKind::point;
        OutputDataset out = OutputDataset::create(dir / "out", format);
        LayerWriter& writer = out.add_layer(plan);
        for (const double v : {1e300, -1e25, 3.5e-17, -1e-300, 0.0, 1.0}) {
            writer.append(std::vector<Cell>{v}, Point{1, 2});
        }
        const std::vector<std::string> told = messages(out.finish());
        EXPECT_THAT(told, Contains(HasSubstr("2 numbers are so small")));
        if (format == OutputFormat::shapefile) {
            EXPECT_THAT(told, Contains(HasSubstr("2 values do not fit the column's type")));
            EXPECT_THAT(ogr_lines(dir / "out/poles.shp")[0], HasSubstr("a=null"));
            EXPECT_THAT(ogr_lines(dir / "out/poles.shp")[1], HasSubstr("a=null"));
        }
    }
}

TEST(Shapefile, HoldsLargeAndSmallNumbers) {
    const TempDir dir;
    LayerPlan plan;
    plan.name = "poles";
    plan.added = {{"a", FieldType::real}, {"b", FieldType::integer}};
    plan.geometry.kind = GeometryKind::point;
    OutputDataset out = OutputDataset::create(dir / "out", OutputFormat::shapefile);
    LayerWriter& writer = out.add_layer(plan);
    const std::vector<double> values{0.1, 1e12, 123456789.123456, -1e-6, 1e20};
    for (const double v : values) {
        writer.append(std::vector<Cell>{v, std::int64_t{2147483647}}, Point{1, 2});
    }
    out.finish();
    const Source source = Source::open((dir / "out/poles.shp").string());
    FeatureReader reader{source, "poles"};
    FeatureBatch batch;
    ASSERT_TRUE(reader.next(batch));
    for (std::size_t i = 0; i < values.size(); ++i) {
        ASSERT_TRUE(batch.number(i, 0).value.has_value()) << values[i];
        EXPECT_NEAR(*batch.number(i, 0).value, values[i], std::abs(values[i]) * 1e-12);
        EXPECT_EQ(batch.number(i, 1).value, 2147483647.0);
    }
}

TEST(CsvOutput, HasCoordinatesInColumnsAndReadsBack) {
    const TempDir dir;
    const Source source =
        of_shapes(dir, {"POINT (1.5 2)", "", "LINESTRING (0 0,1 1)", "POINT Z (1 2 3)"});
    const OutputSummary summary = copy_dataset(source, dir / "out", OutputFormat::csv);
    EXPECT_EQ(content_of(dir / "out/poles.csv"), "id,lon,lat\r\nPOINT (1.5 2),1.5,2\r\n\"\",,\r\n");
    EXPECT_EQ(content_of(dir / "out/poles_othergeom.csv"),
              "id,wkt\r\n\"LINESTRING (0 0,1 1)\",\"LINESTRING (0 0,1 1)\"\r\n"
              "POINT Z (1 2 3),POINT Z (1 2 3)\r\n");
    EXPECT_EQ(summary.layers[0].rows, 4);
    const Source copy = Source::open((dir / "out").string());
    FeatureReader reader{copy, "poles"};
    FeatureBatch batch;
    ASSERT_TRUE(reader.next(batch));
    EXPECT_EQ(batch.point(0).value, (Point{1.5, 2}));
    EXPECT_FALSE(batch.has_geometry(1));
}

TEST(CsvOutput, HasLinesAsWkt) {
    const TempDir dir;
    const Source source = of_shapes(dir, {"LINESTRING (0 0,1 1)"}, "LINESTRING");
    copy_dataset(source, dir / "out", OutputFormat::csv);
    EXPECT_EQ(content_of(dir / "out/poles.csv"),
              "id,wkt\r\n\"LINESTRING (0 0,1 1)\",\"LINESTRING (0 0,1 1)\"\r\n");
}

TEST(CsvOutput, NamesCoordinatesSoThatNoColumnIsTwice) {
    const TempDir dir;
    LayerPlan plan;
    plan.name = "poles";
    plan.added = {{"X"}, {"y"}};
    plan.geometry.kind = GeometryKind::point;
    OutputDataset out = OutputDataset::create(dir / "out", OutputFormat::csv);
    out.add_layer(plan).append(std::vector<Cell>{std::string{"a"}, std::string{"b"}}, Point{1, 2});
    out.finish();
    EXPECT_EQ(content_of(dir / "out/poles.csv"), "X,y,geom_x,geom_y\r\na,b,1,2\r\n");
}

TEST(Formats, AFlatGeobufSaysWhichGeometriesGetAHeightOfZero) {
    const TempDir dir;
    dir.file("in/poles.csv",
             "id,wkt\nA,POINT (1 2)\nB,POINT Z (1 2 30)\nC,POINT (3 4)\nD,POINT (5 6)\n");
    dir.file("in/spans.csv", "id,wkt\nA,\"LINESTRING (1 2,3 4)\"\n");
    const OutputSummary summary =
        copy_dataset(Source::open((dir / "in").string()), dir / "out", OutputFormat::flatgeobuf);
    std::vector<std::string> of_poles;
    for (const OutputNote& note : summary.notes) {
        if (note.message.find("height") != std::string::npos) {
            of_poles.push_back(note.layer + ": " + note.message);
        }
    }
    EXPECT_THAT(of_poles,
                ::testing::ElementsAre("poles: 3 geometries have no height (Z); in a FlatGeobuf of "
                                       "which others have one they get 0"));
}

TEST(Formats, APlaneIsNotWrittenAsDegrees) {
    const TempDir dir;
    dir.file("poles.csv", "pole_id,x,y\nA,500000,5000000\n");
    const Source source = Source::open((dir / "poles.csv").string());
    const Source local = of_shapes(
        dir, {"POINT (1 2)"}, "POINT", R"('LOCAL_CS["yard",UNIT["metre",1],AXIS["x",EAST]]')");
    for (const OutputFormat format :
         {OutputFormat::kml, OutputFormat::geojsonl, OutputFormat::geojson}) {
        for (const Source& plane : {source, local}) {
            EXPECT_THAT(
                testing::error_of([&] { testing::copy_dataset(plane, dir / "out", format); }),
                ::testing::AllOf(::testing::HasSubstr("layer 'poles'"),
                                 ::testing::HasSubstr("take --format flatgeobuf")));
            EXPECT_FALSE(std::filesystem::exists(dir / "out"));
        }
    }
}

TEST(Formats, APlaneIsNotBroughtOntoTheEarth) {
    const TempDir dir;
    dir.file("poles.csv", "pole_id,x,y\nA,500000,5000000\n");
    const Source source = Source::open((dir / "poles.csv").string());
    const Source local = of_shapes(
        dir, {"POINT (1 2)"}, "POINT", R"('LOCAL_CS["yard",UNIT["metre",1],AXIS["x",EAST]]')");
    OutputOptions options;
    options.crs = "EPSG:32610";
    for (const Source& plane : {source, local}) {
        EXPECT_THAT(testing::error_of([&] {
                        testing::copy_dataset(
                            plane, dir / "out.gpkg", OutputFormat::geopackage, options);
                    }),
                    ::testing::HasSubstr("leave --crs away"));
    }
}

TEST(Formats, AGmlOfALocalPlaneSaysThatItsUnitIsLost) {
    const TempDir dir;
    const Source local = of_shapes(
        dir, {"POINT (1 2)"}, "POINT", R"('LOCAL_CS["yard",UNIT["foot",0.3048],AXIS["x",EAST]]')");
    const OutputSummary summary = testing::copy_dataset(local, dir / "out", OutputFormat::gml);
    ASSERT_EQ(summary.notes.size(), 1U);
    EXPECT_THAT(summary.notes[0].message, ::testing::HasSubstr("in the unit foot"));
}

TEST(Formats, GridNorthTurnsWhereTheCoordinatesAreOfAnotherGrid) {
    const std::string utm = "EPSG:32610";
    EXPECT_FALSE(turns_grid(OutputFormat::geopackage, "", utm));
    EXPECT_FALSE(turns_grid(OutputFormat::geopackage, "EPSG:32610", utm));
    EXPECT_TRUE(turns_grid(OutputFormat::geopackage, "EPSG:32611", utm));
    EXPECT_TRUE(turns_grid(OutputFormat::geopackage, "EPSG:4326", utm));
    for (const OutputFormat degrees :
         {OutputFormat::geojson, OutputFormat::geojsonl, OutputFormat::kml}) {
        EXPECT_TRUE(turns_grid(degrees, "", utm));
        EXPECT_FALSE(turns_grid(degrees, "", "EPSG:4326"));
        EXPECT_FALSE(turns_grid(degrees, "", "EPSG:4269"));
    }
    EXPECT_FALSE(turns_grid(OutputFormat::geojson, "EPSG:32610", utm));
    EXPECT_FALSE(turns_grid(OutputFormat::csv, "EPSG:32610", ""));
}

}  // namespace
}  // namespace linewood
