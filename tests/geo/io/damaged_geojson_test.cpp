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
                for (const RowDamage& d : batch.damage(row)) {
                    EXPECT_EQ(d.kind, DamageKind::geometry);
                    faults.push_back(batch.text(row, 0) + " " + d.value);
                }
            }
        }
        damage = reader.layer_damage();
    }
    std::vector<std::string> rows;
    std::vector<std::string> faults;
    std::vector<RowDamage> damage;
};

std::string collection(const std::string& item) {
    return R"({"type":"FeatureCollection","features":[)" + feature("A", kGood) + ",\n" + item +
           ",\n" + feature("C", kGood) + "]}";
}

std::string sequence(const std::string& item) {
    return feature("A", kGood) + "\n" + item + "\n" + feature("C", kGood) + "\n";
}

/// What GDAL makes a feature without a geometry of, or a geometry without some of its parts.
TEST(DamagedGeoJson, OfAGeometryThatIsNoneTheFeatureAndTheLineAreSaid) {
    const TempDir dir;
    for (const auto& [bad, why] : std::vector<std::pair<std::string, std::string>>{
             {R"({"type":"Point","coordinates":["x",5]})", "\"x\" is no number"},
             {R"({"type":"Point","coordinates":[null,5]})", "null is no number"},
             {R"({"type":"Point","coordinates":[1]})", "a position of one number"},
             {R"({"type":"Point","coordinates":[[1,2]]})",
              "the coordinates are not those of a Point"},
             {R"({"type":"Point","coordinates":{"x":1}})", "the coordinates are no array"},
             {R"({"type":"Point"})", "a Point without coordinates"},
             {R"({"coordinates":[1,2]})", "a geometry without a type"},
             {R"({"type":"Dot","coordinates":[1,2]})", "\"Dot\" is no geometry"},
             {R"("a place")", "the geometry is no object"},
             {R"([1,2])", "the geometry is no object"},
             {R"({"type":"LineString","coordinates":[[1,2],["a",3]]})", "\"a\" is no number"},
             {R"({"type":"LineString","coordinates":[[1,2],5]})",
              "numbers and positions are mixed"},
             {R"({"type":"MultiLineString","coordinates":[[[1,2],[3,4]],[5,6]]})",
              "numbers and positions are mixed"},
             {R"({"type":"GeometryCollection","geometries":[{"type":"Point"}]})",
              "a Point without coordinates"}}) {
        for (const auto& [name, text] : {std::pair{"p.geojson", collection(feature("B", bad))},
                                         std::pair{"p.geojsonl", sequence(feature("B", bad))}}) {
            SCOPED_TRACE(std::string{name} + " " + bad);
            dir.file(name, text);
            const ReadFile read{dir / name};
            EXPECT_THAT(read.rows, ElementsAre("A", "B nowhere", "C"));
            EXPECT_THAT(read.faults, ElementsAre("B line 2: " + why));
            EXPECT_THAT(read.damage, IsEmpty());
        }
    }
}

TEST(DamagedGeoJson, AGeometryThatIsThereOrAbsentIsNoDoubt) {
    const TempDir dir;
    for (const char* const good :
         {R"({"coordinates":[1,2,3.5],"type":"Point"})",
          R"({"type":"point","coordinates":[-1e2,2]})",
          R"({"type":"LineString","coordinates":[]})",
          R"({"type":"MultiPolygon","coordinates":[[[[1,2],[3,4],[5,0],[1,2]]]]})",
          R"({"type":"GeometryCollection","geometries":[]})",
          "null"}) {
        for (const auto& [name, text] : {std::pair{"p.geojson", collection(feature("B", good))},
                                         std::pair{"p.geojsonl", sequence(feature("B", good))}}) {
            dir.file(name, text);
            const ReadFile read{dir / name};
            EXPECT_EQ(read.rows.size(), 3U);
            EXPECT_THAT(read.faults, IsEmpty()) << good;
            EXPECT_THAT(read.damage, IsEmpty()) << good;
        }
    }
}

TEST(DamagedGeoJson, WhatIsNoFeatureOfACollectionIsSaidWithItsLine) {
    const TempDir dir;
    for (const auto& [item, rows] : std::vector<std::pair<std::string, std::size_t>>{
             {"5", 2}, {"null", 2}, {"[1]", 2}, {R"({"kind":"Pole"})", 3}, {"{}", 3}}) {
        dir.file("p.geojson", collection(item));
        const ReadFile read{dir / "p.geojson"};
        EXPECT_EQ(read.rows.size(), rows) << item;
        ASSERT_EQ(read.damage.size(), 1U) << item;
        EXPECT_EQ(read.damage[0].kind, DamageKind::row_lost);
        EXPECT_EQ(read.damage[0].value, "line 2 is no feature: " + item);
    }
    dir.file("p.geojson", collection(R"({"type":"Feature","properties":7,"geometry":null})"));
    const ReadFile read{dir / "p.geojson"};
    ASSERT_EQ(read.damage.size(), 1U);
    EXPECT_EQ(read.damage[0].value, "line 2: the properties are no object: 7");
}

TEST(DamagedGeoJson, OfManyLostLinesTheRestAreCounted) {
    const TempDir dir;
    std::string text = feature("A", kGood) + "\n" + feature("C", kGood) + "\n";
    for (int i = 0; i < 25; ++i) {
        text += "{\"type\":\"Fea\n";
    }
    dir.file("p.geojsonl", text);
    const ReadFile read{dir / "p.geojsonl"};
    ASSERT_EQ(read.damage.size(), 21U);
    EXPECT_EQ(read.damage.back().value, "and 5 more like these");
}

TEST(DamagedGeoJson, TextsBehindRecordSeparatorsAreLookedAtToo) {
    const TempDir dir;
    dir.file("p.geojsons",
             "\x1E{\"type\":\"Feature\",\n\"properties\":{\"pole_id\":\"A\"},\"geometry\":null}\n"
             "\x1E{\"type\":\"Fea\n\x1E" +
                 feature("B", R"({"type":"Point","coordinates":[1]})") + "\n");
    const ReadFile read{dir / "p.geojsons"};
    EXPECT_THAT(read.rows, ElementsAre("A nowhere", "B nowhere"));
    EXPECT_THAT(read.faults, ElementsAre("B line 4: a position of one number"));
    ASSERT_EQ(read.damage.size(), 1U);
    EXPECT_EQ(read.damage[0].value, "line 3 is no feature: {\"type\":\"Fea");
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
