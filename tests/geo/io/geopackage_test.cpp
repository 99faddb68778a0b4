#include <cmath>
#include <random>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <ogrsf_frmts.h>

#include "geo/io/feature_reader.hpp"
#include "geo/io/output_dataset.hpp"
#include "tests/geo/io/vector_files.hpp"
#include "tests/support/temp_dir.hpp"

// GeoPackages as others see them: GDAL's validator, SQLite's own checks through Python, and OGR.

namespace linewood {
namespace {

using testing::copy_dataset;
using ::testing::Each;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using testing::kPoles;
using testing::make_dataset;
using testing::sql_rows;
using testing::TempDir;

/// What GDAL's validator says of a GeoPackage; empty = valid.
std::string validator_says(const std::filesystem::path& path) {
    int status = 0;
    const std::string said = testing::run(
        "/usr/bin/python3 -m osgeo_utils.samples.validate_gpkg -q " + path.string(), &status);
    return status == 0 ? "" : said;
}

/// A GeoPackage of `count` points spread over a degree, and one null geometry at the end.
std::vector<Point> write_points(const std::filesystem::path& path,
                                int count,
                                const OutputOptions& options = {}) {
    std::mt19937 random{7};
    std::uniform_real_distribution<double> spread{0.0, 1.0};
    LayerPlan plan;
    plan.name = "poles";
    plan.added = {{"pole_id"}, {"height", FieldType::real, 0, false, false, "ft", "Height"}};
    plan.geometry.kind = GeometryKind::point;
    plan.crs_wkt = "EPSG:4326";
    OutputDataset out = OutputDataset::create(path, OutputFormat::geopackage, options);
    LayerWriter& writer = out.add_layer(plan);
    std::vector<Point> points;
    for (int i = 0; i < count; ++i) {
        points.push_back({-122 + spread(random), 45 + spread(random)});
        writer.append(std::vector<Cell>{std::to_string(i), 1.0 * i}, points.back());
    }
    writer.append(std::vector<Cell>{std::string{"nowhere"}, {}}, std::nullopt);
    out.finish();
    return points;
}

/// FIDs that a spatial filter finds, sorted.
std::vector<std::int64_t> fids_in(OGRLayer& layer, double x0, double y0, double x1, double y1) {
    layer.SetSpatialFilterRect(x0, y0, x1, y1);
    std::vector<std::int64_t> fids;
    for (auto& feature : layer) {
        fids.push_back(feature->GetFID());
    }
    layer.SetSpatialFilter(nullptr);
    std::sort(fids.begin(), fids.end());
    return fids;
}

std::vector<std::int64_t> fids_by_scan(
    OGRLayer& layer, double x0, double y0, double x1, double y1) {
    std::vector<std::int64_t> fids;
    for (auto& feature : layer) {
        const OGRGeometry* geometry = feature->GetGeometryRef();
        if (geometry == nullptr) {
            continue;
        }
        const OGRPoint& p = *geometry->toPoint();
        if (p.getX() >= x0 && p.getX() <= x1 && p.getY() >= y0 && p.getY() <= y1) {
            fids.push_back(feature->GetFID());
        }
    }
    std::sort(fids.begin(), fids.end());
    return fids;
}

GDALDatasetUniquePtr open_for_update(const std::filesystem::path& path) {
    GDALAllRegister();
    return GDALDatasetUniquePtr{GDALDataset::Open(path.c_str(), GDAL_OF_VECTOR | GDAL_OF_UPDATE)};
}

class IndexOfSize : public ::testing::TestWithParam<int> {};

TEST_P(IndexOfSize, IsSoundAndFindsWhatAScanFinds) {
    const TempDir dir;
    write_points(dir / "out.gpkg", GetParam());
    EXPECT_THAT(sql_rows(dir / "out.gpkg", "SELECT rtreecheck('rtree_poles_geom')"),
                ElementsAre("ok"));
    EXPECT_THAT(sql_rows(dir / "out.gpkg", "PRAGMA integrity_check"), ElementsAre("ok"));
    EXPECT_THAT(sql_rows(dir / "out.gpkg", "SELECT count(*) FROM rtree_poles_geom"),
                ElementsAre(std::to_string(GetParam())));
    const GDALDatasetUniquePtr dataset = open_for_update(dir / "out.gpkg");
    ASSERT_TRUE(dataset);
    OGRLayer& layer = *dataset->GetLayer(0);
    EXPECT_TRUE(layer.TestCapability(OLCFastSpatialFilter));
    std::mt19937 random{11};
    std::uniform_real_distribution<double> spread{0.0, 1.0};
    for (int i = 0; i < 20; ++i) {
        const double x = -122 + spread(random);
        const double y = 45 + spread(random);
        const double w = spread(random) * 0.2;
        EXPECT_EQ(fids_in(layer, x, y, x + w, y + w), fids_by_scan(layer, x, y, x + w, y + w));
    }
    EXPECT_EQ(fids_in(layer, -180, -90, 180, 90).size(), static_cast<std::size_t>(GetParam()));
}

// One leaf, its edge, two levels, three levels (51 x 51 = 2601).
INSTANTIATE_TEST_SUITE_P(Sizes,
                         IndexOfSize,
                         ::testing::Values(0, 1, 51, 52, 500, 2601, 2602, 8000));

TEST(GeoPackage, IsValidToGdalsValidator) {
    const TempDir dir;
    write_points(dir / "out.gpkg", 300);
    EXPECT_EQ(validator_says(dir / "out.gpkg"), "");
}

TEST(GeoPackage, OfACopyIsValidToGdalsValidator) {
    const TempDir dir;
    make_dataset(dir / "in.gpkg", kPoles, {"-f", "GPKG", "-nln", "poles"});
    make_dataset(dir / "in.gpkg", kPoles, {"-update", "-nln", "notes", "-nlt", "NONE"});
    copy_dataset(
        Source::open((dir / "in.gpkg").string()), dir / "out.gpkg", OutputFormat::geopackage);
    EXPECT_EQ(validator_says(dir / "out.gpkg"), "");
    EXPECT_THAT(sql_rows(dir / "out.gpkg", "SELECT table_name, data_type FROM gpkg_contents"),
                ElementsAre("poles|features", "notes|attributes"));
}

TEST(GeoPackage, HasNoSideFilesAndADeletedJournal) {
    const TempDir dir;
    write_points(dir / "out.gpkg", 10);
    EXPECT_THAT(dir.names(), ElementsAre("out.gpkg"));
    EXPECT_THAT(sql_rows(dir / "out.gpkg", "PRAGMA journal_mode"), ElementsAre("delete"));
}

TEST(GeoPackage, KeepsItsIndexRightUnderLaterEdits) {
    const TempDir dir;
    write_points(dir / "out.gpkg", 3000);
    {
        const GDALDatasetUniquePtr dataset = open_for_update(dir / "out.gpkg");
        OGRLayer& layer = *dataset->GetLayer(0);
        ASSERT_EQ(dataset->StartTransaction(), OGRERR_NONE);
        const auto added = OGRFeatureUniquePtr{OGRFeature::CreateFeature(layer.GetLayerDefn())};
        added->SetGeometryDirectly(new OGRPoint(10, 10));
        ASSERT_EQ(layer.CreateFeature(added.get()), OGRERR_NONE);
        const OGRFeatureUniquePtr moved{layer.GetFeature(5)};
        moved->SetGeometryDirectly(new OGRPoint(11, 11));
        ASSERT_EQ(layer.SetFeature(moved.get()), OGRERR_NONE);
        const OGRFeatureUniquePtr emptied{layer.GetFeature(6)};
        emptied->SetGeometryDirectly(nullptr);
        ASSERT_EQ(layer.SetFeature(emptied.get()), OGRERR_NONE);
        for (int fid = 100; fid < 1100; ++fid) {
            ASSERT_EQ(layer.DeleteFeature(fid), OGRERR_NONE);
        }
        for (int i = 0; i < 500; ++i) {
            added->SetFID(OGRNullFID);
            added->SetGeometryDirectly(new OGRPoint(20 + 0.001 * i, 20));
            ASSERT_EQ(layer.CreateFeature(added.get()), OGRERR_NONE);
        }
        ASSERT_EQ(dataset->CommitTransaction(), OGRERR_NONE);
    }
    EXPECT_THAT(sql_rows(dir / "out.gpkg", "SELECT rtreecheck('rtree_poles_geom')"),
                ElementsAre("ok"));
    const GDALDatasetUniquePtr dataset = open_for_update(dir / "out.gpkg");
    OGRLayer& layer = *dataset->GetLayer(0);
    EXPECT_EQ(layer.GetFeatureCount(), 3001 + 1 - 1000 + 500);
    EXPECT_EQ(fids_in(layer, 9, 9, 10.5, 10.5).size(), 1U);
    EXPECT_THAT(fids_in(layer, 10.9, 10.9, 11.1, 11.1), ElementsAre(5));
    EXPECT_EQ(fids_in(layer, 19, 19, 21, 21).size(), 500U);
    EXPECT_EQ(fids_in(layer, -123, 44, -121, 46), fids_by_scan(layer, -123, 44, -121, 46));
}

TEST(GeoPackage, HasTheSameTriggersAsGdalMakes) {
    const TempDir dir;
    write_points(dir / "ours.gpkg", 3);
    make_dataset(dir / "gdal.gpkg", kPoles, {"-f", "GPKG", "-nln", "poles"});
    const std::string query =
        "SELECT name, sql FROM sqlite_master WHERE type = 'trigger' AND tbl_name = 'poles' "
        "ORDER BY name";
    const auto ours = sql_rows(dir / "ours.gpkg", query);
    EXPECT_EQ(ours.size(), 8U);
    EXPECT_EQ(ours, sql_rows(dir / "gdal.gpkg", query));
    const std::string extensions = "SELECT * FROM gpkg_extensions WHERE column_name = 'geom'";
    EXPECT_EQ(sql_rows(dir / "ours.gpkg", extensions), sql_rows(dir / "gdal.gpkg", extensions));
}

TEST(GeoPackage, CanDoWithoutAnIndex) {
    const TempDir dir;
    OutputOptions options;
    options.spatial_index = false;
    write_points(dir / "out.gpkg", 10, options);
    EXPECT_THAT(
        sql_rows(dir / "out.gpkg", "SELECT name FROM sqlite_master WHERE name LIKE 'rtree%'"),
        IsEmpty());
    EXPECT_EQ(validator_says(dir / "out.gpkg"), "");
}

TEST(GeoPackage, StatesExtentAndCount) {
    const TempDir dir;
    LayerPlan plan;
    plan.name = "poles";
    plan.added = {{"a"}};
    plan.geometry.kind = GeometryKind::point;
    plan.crs_wkt = "EPSG:4326";
    OutputDataset out = OutputDataset::create(dir / "out.gpkg", OutputFormat::geopackage);
    LayerWriter& writer = out.add_layer(plan);
    writer.append(std::vector<Cell>(1), Point{1, 2});
    writer.append(std::vector<Cell>(1), Point{3, 5});
    out.finish();
    EXPECT_THAT(
        sql_rows(dir / "out.gpkg", "SELECT min_x, min_y, max_x, max_y, srs_id FROM gpkg_contents"),
        ElementsAre("1.0|2.0|3.0|5.0|4326"));
    EXPECT_THAT(sql_rows(dir / "out.gpkg", "SELECT feature_count FROM gpkg_ogr_contents"),
                ElementsAre("2"));
}

TEST(GeoPackage, KeepsTheFidsOfItsInput) {
    const TempDir dir;
    make_dataset(dir / "in.gpkg", kPoles, {"-f", "GPKG", "-nln", "poles"});
    copy_dataset(
        Source::open((dir / "in.gpkg").string()), dir / "out.gpkg", OutputFormat::geopackage);
    EXPECT_EQ(testing::ogr_lines(dir / "out.gpkg", "poles", true),
              testing::ogr_lines(dir / "in.gpkg", "poles", true));
    EXPECT_THAT(sql_rows(dir / "out.gpkg", "SELECT fid FROM poles"), ElementsAre("7", "9", "12"));
}

TEST(GeoPackage, GivesANewFidToASecondFeatureOfTheSame) {
    const TempDir dir;
    make_dataset(dir / "in.gpkg", kPoles, {"-f", "GPKG", "-nln", "poles"});
    const Source source = Source::open((dir / "in.gpkg").string());
    OutputDataset out = OutputDataset::create(dir / "out.gpkg", OutputFormat::geopackage);
    LayerWriter& writer = out.add_layer(testing::copy_plan(source.schema("poles")));
    FeatureReader reader{source, "poles"};
    FeatureBatch batch;
    ASSERT_TRUE(reader.next(batch));
    writer.append(batch, 0, {});
    writer.append(batch, 0, {});
    writer.append(batch, 1, {});
    const OutputSummary summary = out.finish();
    EXPECT_THAT(sql_rows(dir / "out.gpkg", "SELECT fid, pole_id FROM poles ORDER BY fid"),
                ElementsAre("7|007", "8|007", "9|008"));
    ASSERT_EQ(summary.notes.size(), 1U);
    EXPECT_EQ(summary.notes[0].field, "fid");
    EXPECT_THAT(sql_rows(dir / "out.gpkg", "SELECT rtreecheck('rtree_poles_geom')"),
                ElementsAre("ok"));
    EXPECT_THAT(sql_rows(dir / "out.gpkg", "SELECT id FROM rtree_poles_geom ORDER BY id"),
                ElementsAre("7", "8", "9"));
}

TEST(GeoPackage, SaysThatALayerWithoutCrsIsAPlane) {
    const TempDir dir;
    LayerPlan plan;
    plan.name = "poles";
    plan.added = {{"a"}};
    plan.geometry.kind = GeometryKind::point;
    OutputDataset out = OutputDataset::create(dir / "out.gpkg", OutputFormat::geopackage);
    out.add_layer(plan).append(std::vector<Cell>(1), Point{1000, 2000});
    out.finish();
    EXPECT_THAT(sql_rows(dir / "out.gpkg", "SELECT srs_id FROM gpkg_contents"), ElementsAre("-1"));
    // Bytes 5 to 8 of a geometry are its srs_id: -1.
    EXPECT_THAT(sql_rows(dir / "out.gpkg", "SELECT hex(substr(geom, 5, 4)) FROM poles"),
                ElementsAre("FFFFFFFF"));
    EXPECT_EQ(validator_says(dir / "out.gpkg"), "");
    EXPECT_EQ(Source::open((dir / "out.gpkg").string()).schema("poles").crs_wkt, "");
}

TEST(GeoPackage, StoresDatesAndTimesAsTheStandardWants) {
    const TempDir dir;
    const auto in =
        make_dataset(dir / "in.fgb",
                     R"({"type":"FeatureCollection","features":[{"type":"Feature","properties":{
"t":"2024-05-01T23:30:00-05:00"},"geometry":{"type":"Point","coordinates":[1,2]}}]})",
                     {"-f", "FlatGeobuf", "-nln", "poles"});
    copy_dataset(Source::open(in.string()),
                 dir / "out.gpkg",
                 OutputFormat::geopackage,
                 {},
                 [](LayerPlan& plan) {
                     plan.added.push_back({"d", FieldType::date});
                 });
    EXPECT_THAT(sql_rows(dir / "out.gpkg", "SELECT t FROM poles"),
                ElementsAre("2024-05-02T04:30:00.000Z"));
    EXPECT_THAT(sql_rows(dir / "out.gpkg",
                         "SELECT name, type FROM pragma_table_info('poles') WHERE name IN "
                         "('t', 'd')"),
                ElementsAre("t|DATETIME", "d|DATE"));
    EXPECT_EQ(validator_says(dir / "out.gpkg"), "");
}

TEST(GeoPackage, HoldsUnitsAndMeanings) {
    const TempDir dir;
    write_points(dir / "out.gpkg", 2);
    EXPECT_THAT(
        sql_rows(dir / "out.gpkg",
                 "SELECT table_name, column_name, title, description FROM gpkg_data_columns"),
        ElementsAre("poles|height|height|Height [ft]"));
    EXPECT_THAT(sql_rows(dir / "out.gpkg",
                         "SELECT table_name FROM gpkg_extensions WHERE extension_name = "
                         "'gpkg_schema' ORDER BY 1"),
                ElementsAre("gpkg_data_column_constraints", "gpkg_data_columns"));
}

TEST(GeoPackage, NeverHoldsAnEmptyPoint) {
    const TempDir dir;
    dir.file("in.csv", "id,wkt\n1,POINT EMPTY\n2,POINT (1 2)\n");
    const Source source = Source::open((dir / "in.csv").string());
    copy_dataset(source, dir / "out.gpkg", OutputFormat::geopackage);
    EXPECT_THAT(sql_rows(dir / "out.gpkg", "SELECT id FROM \"in\" WHERE geom IS NULL"),
                ElementsAre("1"));
    EXPECT_EQ(validator_says(dir / "out.gpkg"), "");
}

TEST(GeoPackage, CarriesEveryGeometryUnchanged) {
    const TempDir dir;
    const auto csv = dir.file("in.csv",
                              "id;wkt\n1;POINT Z (1 2 3)\n2;POLYGON ((0 0,1 0,1 1,0 0))\n"
                              "3;CIRCULARSTRING (0 0,1 1,2 0)\n4;LINESTRING M (0 0 5,1 1 6)\n"
                              "5;GEOMETRYCOLLECTION (POINT (1 2),LINESTRING (0 0,1 1))\n"
                              "6;MULTIPOINT ((1 2),(3 4))\n7;LINESTRING EMPTY\n"
                              "8;POINT ZM (1 2 3 4)\n");
    int status = 0;
    testing::run("ogr2ogr -f GPKG -nln poles -nlt GEOMETRY -lco SPATIAL_INDEX=NO " +
                     (dir / "in.gpkg").string() + " " + csv.string(),
                 &status);
    ASSERT_EQ(status, 0);
    sql_rows(dir / "in.gpkg", "UPDATE gpkg_geometry_columns SET geometry_type_name = 'POINT'");
    const Source source = Source::open((dir / "in.gpkg").string());
    EXPECT_EQ(source.schema("poles").geometry.kind, GeometryKind::point);
    copy_dataset(source, dir / "out.gpkg", OutputFormat::geopackage);
    EXPECT_EQ(testing::ogr_lines(dir / "out.gpkg"), testing::ogr_lines(dir / "in.gpkg"));
    EXPECT_THAT(testing::ogr_lines(dir / "out.gpkg").at(7), HasSubstr("POINT ZM (1 2 3 4)"));
    EXPECT_THAT(testing::ogr_lines(dir / "out.gpkg").at(2), HasSubstr("CIRCULARSTRING"));
    EXPECT_THAT(
        sql_rows(dir / "out.gpkg", "SELECT geometry_type_name, z, m FROM gpkg_geometry_columns"),
        ElementsAre("GEOMETRY|2|2"));
    EXPECT_THAT(sql_rows(dir / "out.gpkg",
                         "SELECT extension_name FROM gpkg_extensions WHERE column_name = 'geom' "
                         "ORDER BY 1"),
                ElementsAre("gpkg_geom_CIRCULARSTRING", "gpkg_rtree_index"));
    EXPECT_EQ(validator_says(dir / "out.gpkg"), "");
    EXPECT_THAT(sql_rows(dir / "out.gpkg", "PRAGMA integrity_check"), ElementsAre("ok"));
    EXPECT_THAT(sql_rows(dir / "out.gpkg", "SELECT rtreecheck('rtree_poles_geom')"),
                ElementsAre("ok"));
}

TEST(GeoPackage, CarriesBytesListsAndSubtypes) {
    const TempDir dir;
    make_dataset(
        dir / "in.gpkg", kPoles, {"-f", "GPKG", "-nln", "poles", "-lco", "SPATIAL_INDEX=NO"});
    sql_rows(dir / "in.gpkg", "ALTER TABLE poles ADD COLUMN b BLOB");
    sql_rows(dir / "in.gpkg", "ALTER TABLE poles ADD COLUMN s SMALLINT");
    sql_rows(dir / "in.gpkg", "ALTER TABLE poles ADD COLUMN f FLOAT");
    sql_rows(dir / "in.gpkg", "ALTER TABLE poles ADD COLUMN t TEXT(3)");
    sql_rows(dir / "in.gpkg", "ALTER TABLE poles ADD COLUMN o BOOLEAN");
    sql_rows(dir / "in.gpkg",
             "UPDATE poles SET b = X'00FF10', s = -3, f = 2.5, t = 'longer', o = 1");
    copy_dataset(
        Source::open((dir / "in.gpkg").string()), dir / "out.gpkg", OutputFormat::geopackage);
    const std::string types =
        "SELECT name, type FROM pragma_table_info('poles') WHERE name IN ('b','s','f','t','o')";
    EXPECT_EQ(sql_rows(dir / "out.gpkg", types), sql_rows(dir / "in.gpkg", types));
    const std::string values = "SELECT hex(b), s, f, t, o FROM poles";
    EXPECT_EQ(sql_rows(dir / "out.gpkg", values), sql_rows(dir / "in.gpkg", values));
}

TEST(GeoPackage, TakesListsAsJson) {
    const TempDir dir;
    dir.file("in.geojson",
             R"({"type":"FeatureCollection","features":[{"type":"Feature","properties":{
"list":["a","b"],"o":{"k":1}},"geometry":null}]})");
    copy_dataset(Source::open((dir / "in.geojson").string()),
                 dir / "out.gpkg",
                 OutputFormat::geopackage,
                 {},
                 [](LayerPlan& plan) { plan.name = "poles"; });
    EXPECT_THAT(sql_rows(dir / "out.gpkg", "SELECT list, o FROM poles"),
                ElementsAre(R"([ "a", "b" ]|{ "k": 1 })"));
}

TEST(GeoPackage, HoldsNoTextThatIsNoUtf8) {
    const TempDir dir;
    make_dataset(
        dir / "in.gpkg", kPoles, {"-f", "GPKG", "-nln", "poles", "-lco", "SPATIAL_INDEX=NO"});
    sql_rows(dir / "in.gpkg", "UPDATE poles SET note = CAST(X'61FF62' AS TEXT)");
    const OutputSummary summary = copy_dataset(
        Source::open((dir / "in.gpkg").string()), dir / "out.gpkg", OutputFormat::geopackage);
    EXPECT_THAT(sql_rows(dir / "out.gpkg", "SELECT hex(note) FROM poles"), Each("61EFBFBD62"));
    ASSERT_EQ(summary.notes.size(), 1U);
    EXPECT_EQ(summary.notes[0].field, "note");
    EXPECT_EQ(summary.notes[0].message,
              "3 texts are not well-formed UTF-8; the bad bytes were replaced");
}

TEST(GeoPackage, HoldsColumnsThatDifferOnlyByCase) {
    const TempDir dir;
    dir.file("in.geojson",
             R"({"type":"FeatureCollection","features":[{"type":"Feature","properties":{
"Name":"a","name":"b","fid":"c","GEOM":"d"},"geometry":{"type":"Point","coordinates":[1,2]}}]})");
    copy_dataset(Source::open((dir / "in.geojson").string()),
                 dir / "out.gpkg",
                 OutputFormat::geopackage,
                 {},
                 [](LayerPlan& plan) { plan.name = "poles"; });
    EXPECT_THAT(sql_rows(dir / "out.gpkg", "SELECT \"Name\", name_2, in_fid, in_GEOM FROM poles"),
                ElementsAre("a|b|c|d"));
}

TEST(GeoPackage, HoldsThreeHundredColumns) {
    const TempDir dir;
    LayerPlan plan;
    plan.name = "wide";
    std::vector<Cell> cells;
    for (int i = 0; i < 300; ++i) {
        plan.added.push_back({"c" + std::to_string(i), FieldType::integer});
        cells.emplace_back(std::int64_t{i});
    }
    OutputDataset out = OutputDataset::create(dir / "out.gpkg", OutputFormat::geopackage);
    out.add_layer(plan).append(cells, std::nullopt);
    out.finish();
    EXPECT_THAT(sql_rows(dir / "out.gpkg", "SELECT c299 FROM wide"), ElementsAre("299"));
}

TEST(GeoPackage, ReplacesGeometriesWhereAsked) {
    const TempDir dir;
    make_dataset(dir / "in.gpkg", kPoles, {"-f", "GPKG", "-nln", "poles"});
    const Source source = Source::open((dir / "in.gpkg").string());
    LayerPlan plan = testing::copy_plan(source.schema("poles"));
    plan.geometry.kind = GeometryKind::mixed;
    OutputDataset out = OutputDataset::create(dir / "out.gpkg", OutputFormat::geopackage);
    LayerWriter& writer = out.add_layer(plan);
    FeatureReader reader{source, "poles"};
    FeatureBatch batch;
    ASSERT_TRUE(reader.next(batch));
    writer.append_at(batch, 0, {}, Point{5, 6});
    writer.append_at(batch, 1, {}, std::nullopt);
    writer.append_along(batch, 2, {}, {{{0, 0}, {1, 1}}, {{9, 9}}}, {});
    EXPECT_EQ(writer.count(), 3);
    out.finish();
    const auto lines = testing::ogr_lines(dir / "out.gpkg");
    EXPECT_THAT(lines.at(0), HasSubstr("pole_id=007"));
    EXPECT_THAT(lines.at(0), HasSubstr("POINT (5 6)"));
    EXPECT_THAT(lines.at(1), HasSubstr(";null"));
    EXPECT_THAT(lines.at(2), HasSubstr("LINESTRING (0 0,1 1)"));
}

TEST(GeoPackage, MayBeWrittenWhileItsInputIsRead) {
    const TempDir dir;
    write_points(dir / "in.gpkg", 10000);
    const Source source = Source::open((dir / "in.gpkg").string());
    const OutputSummary summary = copy_dataset(source, dir / "out.gpkg", OutputFormat::geopackage);
    EXPECT_EQ(summary.layers[0].rows, 10001);
    EXPECT_EQ(summary.layers[0].rows_without_geometry, 1);
    EXPECT_EQ(testing::ogr_lines(dir / "out.gpkg", "poles", true),
              testing::ogr_lines(dir / "in.gpkg", "poles", true));
}

}  // namespace
}  // namespace linewood
