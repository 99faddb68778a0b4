#include "src/report/svg.hpp"

#include <gtest/gtest.h>

#include "tests/src/report/xml_check.hpp"

namespace linewood {
namespace {

TEST(SvgNumber, KeepsTwoDecimalsAndNoMore) {
    const std::vector<std::pair<double, std::string>> rows{{0.0, "0"},
                                                           {-0.0, "0"},
                                                           {-0.001, "0"},
                                                           {1.0, "1"},
                                                           {1.5, "1.5"},
                                                           {1.234567, "1.23"},
                                                           {-12.3, "-12.3"},
                                                           {100.0, "100"},
                                                           {0.005, "0.01"},
                                                           {99.999, "100"},
                                                           {1e7, "10000000"}};
    for (const auto& [v, text] : rows) {
        EXPECT_EQ(svg_number(v), text) << v;
    }
}

TEST(SvgEscape, LeavesNothingThatEndsATextOrAnAttribute) {
    EXPECT_EQ(svg_escape("<script>alert(1)</script>"), "&lt;script&gt;alert(1)&lt;/script&gt;");
    EXPECT_EQ(svg_escape("a & \"b\" 'c'"), "a &amp; &quot;b&quot; &#39;c&#39;");
    EXPECT_EQ(svg_escape("one\ttwo\r\nthree"), "one two  three");
}

TEST(SvgEscape, ReplacesWhatXmlDoesNotAllow) {
    const std::string bad = "\xEF\xBF\xBD";
    const std::vector<std::pair<std::string, std::string>> rows{
        {"p\xC3\xB8l 12\xC2\xB0 \xE2\x82\xAC \xF0\x9F\x8C\xB2",
         "p\xC3\xB8l 12\xC2\xB0 \xE2\x82\xAC \xF0\x9F\x8C\xB2"},
        {std::string{"a\0b", 3}, "a" + bad + "b"},
        {"\x1B[31m", bad + "[31m"},
        {"\xFF", bad},
        {"\xC3", bad},                                // cut short
        {"\xC0\xAF", bad + bad},                      // overlong
        {"\xED\xA0\x80", bad + bad + bad},            // half of a surrogate pair
        {"\xF4\x90\x80\x80", bad + bad + bad + bad},  // above the last code point
        {"\xEF\xBF\xBE", bad},                        // U+FFFE is no character
        {"\xC2\x85", bad}};                           // a control of the second row
    for (const auto& [text, escaped] : rows) {
        EXPECT_EQ(svg_escape(text), escaped) << text;
    }
}

TEST(SvgShortened, CutsCharactersAndNotBytes) {
    EXPECT_EQ(svg_shortened("pole", 4), "pole");
    EXPECT_EQ(svg_shortened("poles", 4), "pol\u2026");
    EXPECT_EQ(svg_shortened("\u00f8\u00f8\u00f8\u00f8\u00f8", 3), "\u00f8\u00f8\u2026");
    EXPECT_EQ(svg_shortened("", 4), "");
}

TEST(SvgPath, ClosesEveryRing) {
    EXPECT_EQ(svg_path({{{0.0, 0.0}, {1.0, 0.0}, {1.0, 1.5}}, {{2.0, 2.0}, {3.0, 2.0}}}),
              "M0 0L1 0L1 1.5ZM2 2L3 2Z");
    EXPECT_EQ(svg_path({}), "");
}

TEST(SvgWriter, MakesOneWellFormedDocument) {
    SvgWriter svg{100.0, 50.0, "A <b> & \"c\"", "words", "  text{fill:#111}\n"};
    svg.open("g", {{"class", "a\"b<c"}});
    svg.text({1.0, 2.0}, "<script>");
    svg.line({0.0, 0.0}, {5.0, 5.0});
    const std::string document = svg.finish();
    const test::XmlCheck xml{document};
    EXPECT_EQ(xml.fault(), "");
    ASSERT_GE(xml.elements().size(), 6U);
    EXPECT_EQ(xml.elements()[0].at("viewBox"), "0 0 100 50");
    EXPECT_EQ(xml.elements()[0].at("role"), "img");
    EXPECT_EQ(xml.elements()[1].name, "title");
    EXPECT_EQ(xml.elements()[1].text, "A &lt;b&gt; &amp; &quot;c&quot;");
    EXPECT_EQ(xml.elements()[2].name, "desc");
    EXPECT_TRUE(xml.has_text("&lt;script&gt;"));
}

TEST(XmlCheck, RefusesWhatIsNotWellFormed) {
    const std::string head = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n";
    for (const std::string& bad : {std::string{"<a>"},
                                   head,
                                   head + "<a>",
                                   head + "<a></b>",
                                   head + "<a b=c/>",
                                   head + "<a b=\"<\"/>",
                                   head + "<a/><a/>",
                                   head + "<a>&x;</a>",
                                   head + "<a b=\"1\" b=\"2\"/>"}) {
        EXPECT_NE(test::XmlCheck{bad}.fault(), "") << bad;
    }
}

}  // namespace
}  // namespace linewood
