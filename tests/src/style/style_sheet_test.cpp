#include "src/style/style_sheet.hpp"

#include <set>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace linewood {
namespace {

using testing::ElementsAre;

std::vector<std::string> names(const std::vector<const LayerStyle*>& styles) {
    std::vector<std::string> out;
    for (const LayerStyle* s : styles) {
        out.push_back(s->name);
    }
    return out;
}

TEST(StyleSheet, HasTheStylesOfEveryLayerTheDefaultFirst) {
    EXPECT_THAT(names(shipped_styles().of_layer("poles")),
                ElementsAre("poles_by_verdict",
                            "poles_by_urgency",
                            "poles_by_strength",
                            "poles_weakest_direction"));
    for (const char* layer : {"spans",
                              "defects",
                              "sections",
                              "findings",
                              "clusters",
                              "rates",
                              "corridors",
                              "projects"}) {
        const auto styles = shipped_styles().of_layer(layer);
        ASSERT_EQ(styles.size(), 1U) << layer;
        EXPECT_TRUE(styles[0]->is_default) << layer;
    }
    EXPECT_TRUE(shipped_styles().of_layer("run").empty());
}

TEST(StyleSheet, FindsStylesByName) {
    ASSERT_NE(shipped_styles().find("rates_by_area"), nullptr);
    EXPECT_EQ(shipped_styles().find("rates_by_area")->layer, "rates");
    EXPECT_EQ(shipped_styles().find("rates"), nullptr);
    EXPECT_EQ(shipped_styles().names().size(), shipped_styles().styles.size());
}

TEST(StyleSheet, HasAClassOfItsOwnForAbsentValuesEverywhere) {
    for (const LayerStyle& s : shipped_styles().styles) {
        EXPECT_EQ(s.classes.back().condition.kind, ClassCondition::Kind::rest) << s.name;
    }
}

TEST(StyleSheet, TellsClassesOfPointsApartByShapeAlone) {
    for (const LayerStyle& s : shipped_styles().styles) {
        std::set<MarkShape> shapes;
        if (s.geometry == StyleGeometry::point) {
            for (const StyleClass& c : s.classes) {
                EXPECT_TRUE(shapes.insert(c.mark.shape).second) << s.name << " " << c.id;
            }
        }
    }
}

TEST(StyleSheet, TellsClassesOfLinesApartByWidthOrDash) {
    for (const LayerStyle& s : shipped_styles().styles) {
        std::set<std::pair<double, std::vector<double>>> looks;
        if (s.geometry == StyleGeometry::line) {
            for (const StyleClass& c : s.classes) {
                EXPECT_TRUE(looks.insert({c.line.width, c.line.dash}).second)
                    << s.name << " " << c.id;
            }
        }
    }
}

TEST(StyleSheet, SaysHowAClassIsCalledOutside) {
    const LayerStyle& s = shipped_styles().styles.front();
    EXPECT_EQ(class_key(s, s.classes.front()), "poles_by_verdict-serviceable");
}

}  // namespace
}  // namespace linewood
