#include <algorithm>
#include <filesystem>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/geo/io/vector_files.hpp"
#include "tests/support/temp_dir.hpp"

// FlatGeobuf files written past OGR hold, for OGR (which verifies every buffer it reads), what its own hold.

namespace linewood {
namespace {

using testing::copy_dataset;
using testing::make_dataset;
using testing::ogr_lines;
using testing::run;
using testing::TempDir;

using Lines = std::vector<std::string>;

std::string feature(const std::string& properties, const std::string& geometry) {
    return R"({"type":"Feature","properties":{)" + properties + R"(},"geometry":)" + geometry + "}";
}

std::string collection(const std::vector<std::string>& features) {
    std::string out = R"({"type":"FeatureCollection","features":[)";
    for (std::size_t i = 0; i < features.size(); ++i) {
        out += (i == 0 ? "" : ",") + features[i];
    }
    return out + "]}";
}

std::string shape(const std::string& type, const std::string& coordinates) {
    return R"({"type":")" + type + R"(","coordinates":)" + coordinates + "}";
}

Lines sorted(Lines lines) {
    std::sort(lines.begin(), lines.end());
    return lines;
}

/// Copies a dataset's layer `t` with and without an index and compares with the rows it had.
void expect_same_rows(const std::filesystem::path& from) {
    const TempDir dir;
    const Lines expected = ogr_lines(from, "t");
    const Source source = Source::open(from.string());
    copy_dataset(source, dir / "indexed", OutputFormat::flatgeobuf);
    OutputOptions options;
    options.spatial_index = false;
    copy_dataset(source, dir / "plain", OutputFormat::flatgeobuf, options);
    EXPECT_EQ(sorted(ogr_lines(dir / "indexed" / "t.fgb")), sorted(expected));
    EXPECT_EQ(ogr_lines(dir / "plain" / "t.fgb"), expected);
    for (const char* kind : {"indexed", "plain"}) {
        EXPECT_EQ(std::distance(std::filesystem::directory_iterator{dir / kind}, {}), 3) << kind;
    }
}

constexpr const char* kValues =
    R"("i":-3,"l":9007199254740993,"r":0.1,"b":true,"s":"a \"é\"","e":"")";

TEST(FlatGeobuf, HoldsEveryTypeOfColumn) {
    const TempDir dir;
    const std::string point = shape("Point", "[1,2]");
    expect_same_rows(make_dataset(
        dir / "t.gpkg",
        collection(
            {feature(kValues, point),
             feature(R"("i":null,"l":null,"r":null,"b":null,"s":null,"e":null)", point),
             feature(R"("i":2147483647,"l":-1,"r":1e300,"b":false,"s":"x","e":"y")", point)}),
        {"-f", "GPKG", "-nln", "t"}));
}

TEST(FlatGeobuf, HoldsPointsAndLinesWithTheirDimensions) {
    struct Case {
        const char* type;
        std::vector<std::string> coordinates;
    };
    const std::vector<Case> cases{
        {"Point", {"[1,2]", "[-3.5,1e6]"}},
        {"Point", {"[1,2,3]", "[4,5,6.5]"}},
        {"LineString", {"[[1,2],[3,4]]", "[[0,0],[1,1],[2,5],[3,3]]"}},
        {"LineString", {"[[1,2,9],[3,4,8]]"}},
        {"MultiPoint", {"[[1,2]]", "[[1,2],[3,4],[5,6]]"}},
        {"MultiLineString", {"[[[1,2],[3,4]]]", "[[[1,2],[3,4]],[[5,6],[7,8],[9,9]]]"}},
        {"MultiLineString", {"[[[1,2,3],[3,4,5]],[[5,6,7],[7,8,9],[9,9,9]]]"}}};
    for (const Case& c : cases) {
        std::vector<std::string> features;
        for (const std::string& coordinates : c.coordinates) {
            features.push_back(feature(R"("n":"a")", shape(c.type, coordinates)));
            features.push_back(feature(R"("n":"of odd length")", shape(c.type, coordinates)));
        }
        const TempDir dir;
        SCOPED_TRACE(c.type);
        expect_same_rows(
            make_dataset(dir / "t.gpkg", collection(features), {"-f", "GPKG", "-nln", "t"}));
        for (const char* dims : {"XYM", "XYZM"}) {
            SCOPED_TRACE(dims);
            const std::string path = std::string{"m"} + dims + ".gpkg";
            expect_same_rows(make_dataset(
                dir / path, collection(features), {"-f", "GPKG", "-nln", "t", "-dim", dims}));
        }
    }
}

TEST(FlatGeobuf, FindsByItsIndexWhatLiesInABox) {
    // 16 children a node: one level, its end, and where the next begins.
    for (const int count : {1, 2, 16, 17, 256, 257, 700}) {
        std::vector<std::string> features;
        for (int i = 0; i < count; ++i) {
            const std::string x = std::to_string(i * 37 % 101);
            const std::string y = std::to_string(i * 53 % 89);
            features.push_back(feature(
                "\"n\":" + std::to_string(i),
                i % 5 == 0
                    ? shape("LineString", "[[" + x + "," + y + "],[50,40]]")
                    : shape("LineString", "[[" + x + "," + y + "],[" + x + ".5," + y + "]]")));
        }
        const TempDir dir;
        const auto from =
            make_dataset(dir / "t.gpkg", collection(features), {"-f", "GPKG", "-nln", "t"});
        copy_dataset(Source::open(from.string()), dir / "out", OutputFormat::flatgeobuf);
        for (const char* box :
             {"0 0 101 89", "10 10 20 20", "50 40 50 40", "99 80 120 89", "-9 -9 -1 -1"}) {
            const auto found = [&](const std::filesystem::path& path) {
                std::string out = run("ogrinfo -q -al -spat " + std::string{box} + " " +
                                      path.string() + " | grep 'n (Integer)' | sort");
                return out;
            };
            EXPECT_EQ(found(dir / "out" / "t.fgb"), found(from)) << count << " in " << box;
        }
    }
}

TEST(FlatGeobuf, GoesOnThroughOgrWhereAGeometryIsOfAnotherType) {
    const TempDir dir;
    const auto from =
        make_dataset(dir / "t.gpkg",
                     collection({feature(R"("n":1)", shape("Point", "[1,2]")),
                                 feature(R"("n":2)", shape("Point", "[3,4]")),
                                 feature(R"("n":3)", shape("LineString", "[[1,2],[3,4]]"))}),
                     {"-f", "GPKG", "-nln", "t", "-nlt", "GEOMETRY"});
    const auto as_points = [](LayerPlan& plan) {
        plan.geometry = {GeometryKind::point, false, false, false};
    };
    copy_dataset(Source::open(from.string()),
                 dir / "out",
                 OutputFormat::flatgeobuf,
                 OutputOptions{},
                 as_points);
    EXPECT_EQ(sorted(ogr_lines(dir / "out" / "t.fgb")), sorted(ogr_lines(from, "t")));
}

TEST(FlatGeobuf, IsTheSameFileEveryTime) {
    std::vector<std::string> features;
    for (int i = 0; i < 300; ++i) {
        features.push_back(feature("\"n\":" + std::to_string(i),
                                   shape("Point", "[" + std::to_string(i % 7) + ",3]")));
    }
    const TempDir dir;
    const auto from =
        make_dataset(dir / "t.gpkg", collection(features), {"-f", "GPKG", "-nln", "t"});
    for (const char* out : {"one", "two"}) {
        copy_dataset(Source::open(from.string()), dir / out, OutputFormat::flatgeobuf);
    }
    EXPECT_EQ(
        run("cmp " + (dir / "one" / "t.fgb").string() + " " + (dir / "two" / "t.fgb").string()),
        "");
}

}  // namespace
}  // namespace linewood
