#include "src/style/maplibre_style.hpp"

#include <set>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace linewood {
namespace {

using Json = nlohmann::ordered_json;

MapStyleSource source(const char* layer) {
    const Json empty{{"type", "FeatureCollection"}, {"features", Json::array()}};
    return {layer, layer, {{"type", "geojson"}, {"data", empty}}};
}

const Json& layer_of(const Json& style, const std::string& id) {
    for (const Json& layer : style["layers"]) {
        if (layer["id"] == id) {
            return layer;
        }
    }
    static const Json kNone = nullptr;
    return kNone;
}

TEST(MaplibreStyle, ShowsTheDefaultOfALayerAndHidesTheOthers) {
    const Json style = maplibre_style(shipped_styles(), {source("poles")});
    EXPECT_EQ(layer_of(style, "poles_by_verdict")["layout"]["visibility"], "visible");
    EXPECT_EQ(layer_of(style, "poles_by_urgency")["layout"]["visibility"], "none");
    EXPECT_TRUE(layer_of(style, "corridors_by_rejects-none").is_null());
}

TEST(MaplibreStyle, FetchesNothing) {
    const Json style = maplibre_style(shipped_styles(), {source("poles"), source("rates")});
    EXPECT_FALSE(style.contains("glyphs"));
    EXPECT_FALSE(style.contains("sprite"));
    EXPECT_EQ(style.dump().find("http"), std::string::npos);
}

TEST(MaplibreStyle, HasAMarkForEveryImageItNames) {
    std::set<std::string> marks;
    for (const Json& mark : style_marks(shipped_styles())) {
        EXPECT_TRUE(marks.insert(mark["id"]).second);
    }
    const Json style = maplibre_style(shipped_styles(), {source("poles"), source("rates")});
    const Json& image = layer_of(style, "poles_by_verdict")["layout"]["icon-image"];
    EXPECT_EQ(image[0], "case");
    for (std::size_t i = 2; i < image.size(); i += 2) {
        EXPECT_EQ(marks.count(image[i]), 1U) << image[i];
    }
    EXPECT_EQ(marks.count(image.back()), 1U);
    EXPECT_EQ(image.back(), "poles_by_verdict-not_known");
    EXPECT_EQ(layer_of(style, "rates_by_area-thin-hatch")["paint"]["fill-pattern"],
              "rates_by_area-thin");
    EXPECT_EQ(marks.count("rates_by_area-thin"), 1U);
}

TEST(MaplibreStyle, AsksForShortNamesWhereTilesHaveThem) {
    MapStyleSource tiles = source("poles");
    tiles.source_layer = "poles";
    tiles.short_names = {{"verdict", "v"}};
    const Json style = maplibre_style(shipped_styles(), {tiles});
    const Json& layer = layer_of(style, "poles_by_verdict");
    EXPECT_EQ(layer["source-layer"], "poles");
    EXPECT_EQ(layer["layout"]["icon-image"][1].dump(),
              R"(["==",["coalesce",["get","verdict"],["get","v"]],"serviceable"])");
}

TEST(MaplibreStyle, TurnsTicksAndShowsThemFromNearOnly) {
    const Json style = maplibre_style(shipped_styles(), {source("poles")});
    const Json& layer = layer_of(style, "poles_weakest_direction");
    EXPECT_EQ(layer["layout"]["icon-rotate"].dump(),
              R"(["to-number",["get","weakest_azimuth"],0])");
    EXPECT_NEAR(layer["minzoom"].get<double>(), 12.45, 0.01);
}

TEST(MaplibreStyle, GivesThePageItsClasses) {
    const Json classes = style_classes(*shipped_styles().find("poles_by_strength"));
    EXPECT_EQ(classes[1]["from"], 65.0);
    EXPECT_EQ(classes[1]["to"], 80.0);
    EXPECT_TRUE(classes[0]["to"].is_null());
    EXPECT_TRUE(classes.back()["value"].is_null());
    EXPECT_FALSE(classes.back().contains("from"));
    EXPECT_EQ(style_classes(*shipped_styles().find("poles_by_verdict")).back()["mark"],
              "poles_by_verdict-not_known");
}

}  // namespace
}  // namespace linewood
