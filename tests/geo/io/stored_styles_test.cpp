// Styles kept in GeoPackages: the table that desktop clients look for, read past the code under test.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "geo/io/feature_reader.hpp"
#include "geo/io/output_dataset.hpp"
#include "tests/geo/io/vector_files.hpp"
#include "tests/support/temp_dir.hpp"

namespace linewood {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using testing::kPoles;
using testing::make_dataset;
using testing::sql_rows;
using testing::TempDir;

constexpr const char* kChange = "2026-01-31T12:00:00.000Z";

StoredStyle style_called(const std::string& name, bool is_default = false) {
    return {name, "<qgis a='it''s'/>", "<sld>\"it's\"</sld>", "Drawn as " + name, is_default};
}

/// A GeoPackage with a point layer that has these styles.
void write_styled(const std::filesystem::path& path, const std::vector<StoredStyle>& styles) {
    LayerPlan plan;
    plan.name = "poles";
    plan.added = {{"pole_id"}};
    plan.geometry.kind = GeometryKind::point;
    plan.crs_wkt = "EPSG:4326";
    plan.styles = styles;
    OutputDataset out = OutputDataset::create(
        path, OutputFormat::geopackage, OutputOptions{.last_change = kChange});
    out.add_layer(plan).append(std::vector<Cell>{std::string{"A"}}, Point{-122.0, 45.0});
    out.finish();
}

/// Puts a column into the layer `poles` of a dataset, in place.
OutputSummary change_in_place(const std::filesystem::path& path,
                              const std::vector<StoredStyle>& styles) {
    const Source source = Source::open(path.string());
    LayerPlan plan;
    plan.source = source.schema("poles");
    plan.name = "poles";
    plan.in_place = true;
    plan.added = {{"verdict"}};
    plan.styles = styles;
    OutputDataset out = OutputDataset::create(
        path, OutputFormat::geopackage, OutputOptions{.last_change = kChange, .in_place = true});
    LayerWriter& poles = out.add_layer(plan);
    FeatureReader reader{source, "poles", ReadOptions{}};
    FeatureBatch batch;
    while (reader.next(batch)) {
        for (std::size_t row = 0; row < batch.size(); ++row) {
            poles.append(batch, row, std::vector<Cell>{std::string{"treat"}});
        }
    }
    return out.finish();
}

std::string validator_says(const std::filesystem::path& path) {
    int status = 0;
    const std::string said = testing::run(
        "/usr/bin/python3 -m osgeo_utils.samples.validate_gpkg -q --extra " + path.string(),
        &status);
    return status == 0 ? "" : said;
}

const char* const kRows =
    "SELECT f_table_name, f_geometry_column, styleName, useAsDefault, owner FROM layer_styles "
    "ORDER BY id";

TEST(StoredStyles, AreRowsOfATableThatTheStandardAllows) {
    const TempDir dir;
    write_styled(dir / "out.gpkg", {style_called("verdict", true), style_called("urgency")});
    EXPECT_EQ(validator_says(dir / "out.gpkg"), "");
    EXPECT_THAT(sql_rows(dir / "out.gpkg", kRows),
                ElementsAre("poles|geom|verdict|1|linewood", "poles|geom|urgency|0|linewood"));
    EXPECT_THAT(sql_rows(dir / "out.gpkg",
                         "SELECT f_table_catalog, f_table_schema, styleQML, styleSLD, description, "
                         "update_time FROM layer_styles WHERE useAsDefault"),
                ElementsAre("||<qgis a='it''s'/>|<sld>\"it's\"</sld>|Drawn as verdict|" +
                            std::string{kChange}));
    EXPECT_THAT(sql_rows(dir / "out.gpkg", "SELECT table_name, data_type FROM gpkg_contents"),
                ElementsAre("poles|features", "layer_styles|attributes"));
}

TEST(StoredStyles, AreTheSameBytesEachTime) {
    const TempDir dir;
    write_styled(dir / "a.gpkg", {style_called("verdict", true)});
    write_styled(dir / "b.gpkg", {style_called("verdict", true)});
    int status = -1;
    testing::run("cmp " + (dir / "a.gpkg").string() + " " + (dir / "b.gpkg").string(), &status);
    EXPECT_EQ(status, 0);
}

TEST(StoredStyles, LeaveNoTableWhereThereAreNone) {
    const TempDir dir;
    write_styled(dir / "out.gpkg", {});
    EXPECT_THAT(sql_rows(dir / "out.gpkg", "SELECT table_name FROM gpkg_contents"),
                ElementsAre("poles"));
}

TEST(StoredStyles, AreNoLayerOfASource) {
    const TempDir dir;
    write_styled(dir / "out.gpkg", {style_called("verdict", true)});
    EXPECT_THAT(Source::open((dir / "out.gpkg").string()).layer_names(), ElementsAre("poles"));
    // A table that is called so and holds no styles is data like any other.
    make_dataset(dir / "in.gpkg", kPoles, {"-f", "GPKG", "-nln", "layer_styles"});
    EXPECT_THAT(Source::open((dir / "in.gpkg").string()).layer_names(),
                ElementsAre("layer_styles"));
}

TEST(StoredStyles, InPlaceReplaceTheirOwnAndNoOthers) {
    const TempDir dir;
    make_dataset(dir / "in.gpkg", kPoles, {"-f", "GPKG", "-nln", "poles"});
    EXPECT_THAT(change_in_place(dir / "in.gpkg", {style_called("old", true)}).notes, IsEmpty());
    EXPECT_THAT(sql_rows(dir / "in.gpkg", kRows), ElementsAre("poles|geom|old|1|linewood"));
    sql_rows(dir / "in.gpkg",
             "INSERT INTO layer_styles (f_table_catalog, f_table_schema, f_table_name, "
             "f_geometry_column, styleName, useAsDefault, owner) VALUES "
             "('', '', 'poles', 'geom', 'mine', 1, 'me'), ('', '', 'roads', 'geom', 'old', 1, "
             "'linewood')");
    EXPECT_THAT(
        change_in_place(dir / "in.gpkg", {style_called("new", true), style_called("more")}).notes,
        IsEmpty());
    // The owner's default stays the default; a layer that was not written keeps what it has.
    EXPECT_THAT(sql_rows(dir / "in.gpkg", kRows),
                ElementsAre("poles|geom|mine|1|me",
                            "roads|geom|old|1|linewood",
                            "poles|geom|new|0|linewood",
                            "poles|geom|more|0|linewood"));
    EXPECT_EQ(validator_says(dir / "in.gpkg"), "");
    EXPECT_THAT(testing::run("ogrinfo -ro -so " + (dir / "in.gpkg").string() + " layer_styles"),
                HasSubstr("Feature Count: 4"));
}

TEST(StoredStyles, KeepAwayFromAnOwnersTableOfThatName) {
    const TempDir dir;
    make_dataset(dir / "in.gpkg", kPoles, {"-f", "GPKG", "-nln", "poles"});
    make_dataset(dir / "in.gpkg", kPoles, {"-update", "-nln", "layer_styles", "-nlt", "NONE"});
    const auto before = sql_rows(dir / "in.gpkg", "SELECT * FROM layer_styles");
    const OutputSummary summary = change_in_place(dir / "in.gpkg", {style_called("new", true)});
    ASSERT_EQ(summary.notes.size(), 1U);
    EXPECT_THAT(summary.notes.front().message, HasSubstr("rename it"));
    EXPECT_EQ(sql_rows(dir / "in.gpkg", "SELECT * FROM layer_styles"), before);
}

}  // namespace
}  // namespace linewood
