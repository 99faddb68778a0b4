#include <string>
#include <string_view>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "src/style/qml_style.hpp"
#include "src/style/sld_style.hpp"

namespace linewood {
namespace {

using testing::HasSubstr;
using testing::Not;

std::size_t count_of(std::string_view text, std::string_view word) {
    std::size_t n = 0;
    for (std::size_t at = text.find(word); at != std::string_view::npos;
         at = text.find(word, at + word.size())) {
        ++n;
    }
    return n;
}

/// A style whose words would be markup.
LayerStyle odd_style() {
    LayerStyle style = *shipped_styles().find("poles_by_verdict");
    style.title = "<script>\"&'";
    style.classes.front().label = "a < b & \"c\"";
    return style;
}

TEST(SldStyle, HasARuleAClassAndOneForWhatIsOverIt) {
    for (const LayerStyle& s : shipped_styles().styles) {
        for (const SldVersion version : {SldVersion::sld_1_0, SldVersion::se_1_1}) {
            const std::string sld = sld_style(s, version);
            const std::string rule = version == SldVersion::sld_1_0 ? "<Rule>" : "<se:Rule>";
            EXPECT_EQ(count_of(sld, rule), s.classes.size() + s.over.size())
                << s.name << sld.substr(0, 600);
            EXPECT_EQ(count_of(sld, "ElseFilter"), 1U) << s.name;
        }
    }
}

TEST(SldStyle, TakesNoAbsentValueForZero) {
    const std::string sld =
        sld_style(*shipped_styles().find("poles_by_strength"), SldVersion::sld_1_0);
    EXPECT_EQ(count_of(sld, "<ogc:PropertyIsNull>"), 5U);
    const std::string for_mapserver =
        sld_style(*shipped_styles().find("rates_by_area"), SldVersion::mapserver);
    EXPECT_EQ(count_of(for_mapserver, "ElseFilter"), 0U);
    EXPECT_EQ(count_of(for_mapserver, "<ogc:Or>"), 1U);
    EXPECT_EQ(count_of(for_mapserver, "<ogc:PropertyIsNotEqualTo>"), 5U + 5U + 1U);
}

TEST(SldStyle, TurnsMarksTheWayTheReaderDoes) {
    const LayerStyle& style = *shipped_styles().find("poles_weakest_direction");
    EXPECT_EQ(count_of(sld_style(style, SldVersion::sld_1_0), "ogc:Sub"), 0U);
    EXPECT_EQ(count_of(sld_style(style, SldVersion::mapserver), "<ogc:Literal>360</ogc:Literal>"),
              1U);
}

TEST(SldStyle, NamesTheLayerItIsFor) {
    const LayerStyle& style = *shipped_styles().find("poles_by_verdict");
    EXPECT_THAT(sld_style(style, SldVersion::sld_1_0, "my_poles"), HasSubstr("my_poles"));
    EXPECT_THAT(sld_style(style, SldVersion::sld_1_0), HasSubstr("#B0300A"));
}

TEST(SldStyle, WritesMarkupInWordsAsText) {
    for (const std::string& text : {sld_style(odd_style(), SldVersion::sld_1_0),
                                    sld_style(odd_style(), SldVersion::se_1_1)}) {
        EXPECT_THAT(text, Not(HasSubstr("<script>")));
        EXPECT_THAT(text, HasSubstr("a &lt; b &amp; "));
    }
}

TEST(QmlStyle, HasARuleAClassWithItsLabel) {
    for (const LayerStyle& s : shipped_styles().styles) {
        const std::string qml = qml_style(s);
        EXPECT_EQ(count_of(qml, "<rule "), s.classes.size() + s.over.size()) << s.name;
        EXPECT_EQ(count_of(qml, "<symbol "), s.classes.size() + s.over.size()) << s.name;
        // The rest is what no other rule holds for, absent values too.
        EXPECT_EQ(count_of(qml, "filter=\"NOT coalesce("), 1U) << s.name;
        EXPECT_EQ(count_of(qml, " filter=\""), s.classes.size() + s.over.size()) << s.name;
    }
    EXPECT_THAT(qml_style(odd_style()), Not(HasSubstr("a < b")));
}

}  // namespace
}  // namespace linewood
