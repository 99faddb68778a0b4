#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "geo/io/feature_reader.hpp"
#include "tests/geo/io/vector_files.hpp"
#include "tests/support/temp_dir.hpp"

namespace linewood {
namespace {

using ::testing::AllOf;
using ::testing::ElementsAre;
using testing::error_of;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using testing::TempDir;

std::string feature(const std::string& id, const std::string& geometry) {
    return R"({"type":"Feature","properties":{"pole_id":")" + id + R"("},"geometry":)" + geometry +
           "}";
}

constexpr const char* kGood = R"({"type":"Point","coordinates":[1,2]})";

struct ReadFile {
    explicit ReadFile(const std::filesystem::path& path) {
        const Source source = Source::open(path.string());
        FeatureReader reader{source, path.stem().string()};
        FeatureBatch batch;
        while (reader.next(batch)) {
            for (std::size_t row = 0; row < batch.size(); ++row) {
                rows.push_back(batch.text(row, 0) + (batch.point(row).value ? "" : " nowhere"));
            }
        }
        damage = reader.layer_damage();
    }
    std::vector<std::string> rows;
    std::vector<RowDamage> damage;
};

TEST(DamagedGeoJson, OneGeometryThatIsNoneStopsNothing) {
    const TempDir dir;
    for (const char* const bad : {R"({"type":"Point","coordinates":["x",5]})",
                                  R"({"type":"Point"})",
                                  R"({"type":"LineString","coordinates":[[1,2],["a",3]]})"}) {
        dir.file("p.geojson",
                 R"({"type":"FeatureCollection","features":[)" + feature("A", kGood) + "," +
                     feature("B", bad) + "," + feature("C", kGood) + "]}");
        const ReadFile read{dir / "p.geojson"};
        EXPECT_THAT(read.rows, ElementsAre("A", "B nowhere", "C"));
        ASSERT_EQ(read.damage.size(), 1U) << bad;
        EXPECT_EQ(read.damage[0].kind, DamageKind::geometry);
        EXPECT_THAT(read.damage[0].value, HasSubstr("nvalid"));
    }
}

TEST(DamagedGeoJson, ALineThatIsNoFeatureIsSaid) {
    const TempDir dir;
    dir.file("p.geojsonl",
             feature("A", kGood) + "\n{\"type\":\"Fea\n" + feature("C", kGood) + "\n");
    const ReadFile read{dir / "p.geojsonl"};
    EXPECT_THAT(read.rows, ElementsAre("A", "C"));
    ASSERT_EQ(read.damage.size(), 1U);
    EXPECT_EQ(read.damage[0].kind, DamageKind::row_lost);
    EXPECT_EQ(read.damage[0].value, "line 2 is no feature: {\"type\":\"Fea");
}

TEST(DamagedGeoJson, ALineThatEndsTheReadingStopsTheRun) {
    const TempDir dir;
    dir.file("p.geojsonl", feature("A", kGood) + "\nxxx\n" + feature("C", kGood) + "\n");
    EXPECT_THAT(error_of([&] { const ReadFile read{dir / "p.geojsonl"}; }),
                AllOf(HasSubstr("line 2 is no feature: xxx"), HasSubstr("mend the file")));
}

TEST(DamagedGeoJson, AFileWithoutItsEndSaysWhatToDo) {
    const TempDir dir;
    const std::string whole = R"({"type":"FeatureCollection","features":[)" + feature("A", kGood) +
                              "," + feature("B", kGood) + "]}";
    dir.file("p.geojson", whole.substr(0, whole.size() - 30));
    EXPECT_THAT(error_of([&] { const ReadFile read{dir / "p.geojson"}; }),
                HasSubstr("write it again from its source, or restore it from a copy"));
}

}  // namespace
}  // namespace linewood
