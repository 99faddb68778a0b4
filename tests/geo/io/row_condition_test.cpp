#include "geo/io/row_condition.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "geo/io/feature_reader.hpp"
#include "tests/geo/io/vector_files.hpp"
#include "tests/support/temp_dir.hpp"

namespace linewood {
namespace {

using ::testing::HasSubstr;
using testing::make_dataset;
using testing::TempDir;

/// Forty points; `n` counts them, `kind` is a, b, c in turn, `kv` is absent in every fifth.
std::string forty_points() {
    std::string text = R"({"type":"FeatureCollection","features":[)";
    for (int i = 0; i < 40; ++i) {
        const std::string n = std::to_string(i);
        text += (i > 0 ? "," : "") + std::string{R"({"type":"Feature","properties":{"n":)"} + n +
                R"(,"kind":")" + "abc"[i % 3] + R"(","kv":)" + (i % 5 == 0 ? "null" : n + ".5") +
                R"(},"geometry":{"type":"Point","coordinates":[)" + std::to_string((i * 7) % 40) +
                "," + std::to_string((i * 11) % 40) + "]}}";
    }
    return text + "]}";
}

TEST(RowsWhere, AsksTheRowsInTheOrderTheyAreRead) {
    const TempDir dir;
    for (const auto& [name, driver] : {std::pair{"t.gpkg", "GPKG"},
                                       std::pair{"t.fgb", "FlatGeobuf"},
                                       std::pair{"t.geojson", "GeoJSON"},
                                       std::pair{"t.shp", "ESRI Shapefile"},
                                       std::pair{"t.csv", "CSV"}}) {
        SCOPED_TRACE(driver);
        const bool csv = std::string_view{driver} == "CSV";
        const auto path =
            make_dataset(dir / name, forty_points(), {"-f", driver, "-nln", "t"}).string();
        const Source source = Source::open(path);
        const std::vector<bool> rows = rows_where(
            source, "t", csv ? "kind = 'b' AND CAST(kv AS FLOAT) > 10" : "KIND = 'b' AND kv > 10");
        FeatureReader reader{source, "t"};
        FeatureBatch batch;
        ASSERT_TRUE(reader.next(batch));
        ASSERT_EQ(rows.size(), 40U);
        const std::size_t n = reader.schema().field_index("n").value();
        std::int64_t met = 0;
        for (std::size_t row = 0; row < rows.size(); ++row) {
            const int i = static_cast<int>(batch.number(row, n).value.value());
            EXPECT_EQ(rows[row], i % 3 == 1 && i % 5 != 0 && i >= 10) << i;
            met += rows[row] ? 1 : 0;
        }
        EXPECT_EQ(met, 8);
    }
}

TEST(RowsWhere, LeavesTheLayerAsItWasForThoseWhoReadOn) {
    const TempDir dir;
    const auto path = make_dataset(dir / "t.geojson", forty_points(), {"-f", "GeoJSON"}).string();
    const Source source = Source::open(path);
    const std::string layer = source.layer_names().front();
    rows_where(source, layer, "n < 3");
    FeatureReader reader{source, layer};
    FeatureBatch batch;
    ASSERT_TRUE(reader.next(batch));
    EXPECT_EQ(batch.size(), 40U);
    EXPECT_EQ(batch.text(1, reader.schema().field_index("kind").value()), "b");
    EXPECT_TRUE(batch.has_geometry(1));
}

TEST(RowsWhere, SaysWhatIsWrongWithACondition) {
    const TempDir dir;
    const auto path = make_dataset(dir / "t.gpkg", forty_points(), {"-f", "GPKG", "-nln", "t"});
    const Source source = Source::open(path.string());
    for (const char* const wrong : {"type = 'b'", "kind = ", "kind > 3", "; DROP TABLE t"}) {
        SCOPED_TRACE(wrong);
        try {
            rows_where(source, "t", wrong);
            ADD_FAILURE() << "it was taken";
        } catch (const ConditionError& e) {
            EXPECT_THAT(e.what(), HasSubstr(wrong));
            EXPECT_THAT(e.what(), HasSubstr("its columns are n, kind, kv"));
        }
    }
}

}  // namespace
}  // namespace linewood
