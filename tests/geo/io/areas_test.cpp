#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "geo/io/feature_reader.hpp"
#include "geo/io/output_dataset.hpp"
#include "geo/shape/outline.hpp"
#include "tests/geo/io/vector_files.hpp"
#include "tests/support/temp_dir.hpp"

namespace linewood {
namespace {

using testing::TempDir;

LayerPlan plan_of(const char* name, GeometryKind kind) {
    LayerPlan plan;
    plan.name = name;
    plan.added = {Field{.name = "name"}};
    plan.geometry = {kind, true, false, false};
    plan.crs_wkt = "EPSG:4326";
    return plan;
}

std::array<Cell, 1> named(const char* name) { return {Cell{std::string{name}}}; }

const Polygons kRing{{{{0, 0}, {10, 0}, {10, 10}, {0, 10}}, {{4, 4}, {4, 6}, {6, 6}, {6, 4}}}};
const Polygons kTwo{{{{20, 0}, {30, 0}, {30, 10}}}, {{{40, 0}, {50, 0}, {50, 10}}}};

TEST(Areas, ComeBackAsTheyWereWritten) {
    for (const OutputFormat format : {OutputFormat::geopackage,
                                      OutputFormat::flatgeobuf,
                                      OutputFormat::geojson,
                                      OutputFormat::shapefile}) {
        const TempDir folder;
        const auto path = folder / (format == OutputFormat::geopackage ? "out.gpkg" : "out");
        OutputDataset dataset = OutputDataset::create(path, format);
        LayerWriter& areas = dataset.add_layer(plan_of("areas", GeometryKind::polygon));
        LayerWriter& lines = dataset.add_layer(plan_of("lines", GeometryKind::line));
        areas.append_area(named("ring"), kRing);
        areas.append_area(named("two"), kTwo);
        areas.append_area(named("none"), {});
        areas.append_area(named("flat"), {{{{0, 0}, {1, 1}}}});
        lines.append_line(named("line"), {{{0, 0}, {5, 5}, {9, 9}}});
        dataset.finish();

        const Source source = Source::open(path.string());
        std::map<std::string, double> sizes;
        FeatureReader reader{source, "areas"};
        FeatureBatch batch;
        while (reader.next(batch)) {
            for (std::size_t row = 0; row < batch.size(); ++row) {
                const auto read = batch.area(row);
                sizes[batch.text(row, 0)] = read.value ? area_of(*read.value) : -1.0;
                EXPECT_EQ(batch.path(row).value.has_value(), false);
            }
        }
        EXPECT_DOUBLE_EQ(sizes["ring"], 96.0) << name_of(format);
        EXPECT_DOUBLE_EQ(sizes["two"], 100.0) << name_of(format);
        if (format != OutputFormat::flatgeobuf) {  // that has rows without geometry beside it
            EXPECT_DOUBLE_EQ(sizes["none"], -1.0) << name_of(format);
            EXPECT_DOUBLE_EQ(sizes["flat"], -1.0) << name_of(format);
        }
        FeatureReader line_reader{source, "lines"};
        ASSERT_TRUE(line_reader.next(batch)) << name_of(format);
        EXPECT_EQ(batch.path(0).value->front().size(), 3U) << name_of(format);
        EXPECT_EQ(batch.area(0).status, ShapeStatus::other_type) << name_of(format);
    }
}

}  // namespace
}  // namespace linewood
