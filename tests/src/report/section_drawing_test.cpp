#include "src/report/section_drawing.hpp"

#include <cmath>
#include <functional>
#include <numbers>
#include <sstream>

#include <gtest/gtest.h>

#include "assess/section/remaining_section.hpp"
#include "src/report/section_drawing_parts.hpp"
#include "tests/src/report/drawn_section.hpp"
#include "tests/src/report/xml_check.hpp"
#include "tests/support/section_shapes.hpp"

namespace linewood {
namespace {

using test::DrawnSection;
using test::XmlCheck;
using test::XmlElement;

std::vector<SvgPoint> points_of(const std::string& path) {
    std::vector<SvgPoint> points;
    std::string numbers = path;
    for (char& c : numbers) {
        c = c == 'M' || c == 'L' || c == 'Z' ? ' ' : c;
    }
    std::istringstream in{numbers};
    SvgPoint p;
    while (in >> p.x >> p.y) {
        points.push_back(p);
    }
    return points;
}

double number(const XmlElement& e, const std::string& attribute) {
    return std::stod(e.at(attribute));
}

DrawnSection instructive() {
    return DrawnSection{40.0, 37.0}
        .pocket(135.0, 5.0, 2.5)
        .bore(15.0, 4.0)
        .bore(135.0, 5.0)
        .bore(255.0, 3.5)
        .line(45.0);
}

struct HardCase {
    std::string name;
    DrawnSection section;
};

std::vector<HardCase> hard_cases() {
    const std::optional<double> none;
    DrawnSection many{44.0, 42.0};
    for (int i = 0; i < 40; ++i) {
        many.pocket(i * 9.0, 0.6, 0.5).bore(i * 9.0 + 4.0, 1.0 + i % 3);
    }
    return {
        {"tiny crescent",
         DrawnSection{40.0, 38.0}.pocket(0.0, 11.9, 8.5).pocket(180.0, 3.0, 2.0).bore(90.0, 0.6)},
        {"split",
         DrawnSection{40.0, 36.0}.pocket(90.0, 3.0, 3.5).pocket(270.0, 4.0, 4.0).bore(90.0, 2.2)},
        {"pocket over the whole width",
         DrawnSection{40.0, 36.0}.pocket(45.0, 20.0, 3.0).line(100.0)},
        {"void touches the surface", DrawnSection{40.0, 36.0}.bore(0.0, 0.0).bore(180.0, 4.0)},
        {"nothing left", DrawnSection{40.0, 36.0}.bore(0.0, 0.0).line(0.0)},
        {"no axis", DrawnSection{40.0, 38.0}.pocket(none, 4.0, 2.0)},
        {"sound", DrawnSection{40.0, 40.0}.line(170.0)},
        {"many", many.line(30.0)},
        {"negative shell",
         DrawnSection{40.0, 38.0}.pocket(90.0, 3.0, 4.0).bore(90.0, 2.0).line(0.0)},
        {"much less than it was", DrawnSection{40.0, 6.0}.pocket(60.0, 0.5, 0.4).line(0.0)},
        {"original not known", DrawnSection{none, 36.0}.pocket(60.0, 4.0, 2.0).bore(none, 2.0)},
        {"no girth", DrawnSection{none, none}.pocket(60.0, 4.0, 2.0).line(0.0)},
        {"deeper than the radius", DrawnSection{40.0, 38.0}.pocket(30.0, 3.0, 9.0).line(0.0)},
        {"millimetres",
         DrawnSection{40.0, 36.5}
             .pocket(none, 3.0, 1.5)
             .bore(0.0, 2.5)
             .line(120.0)
             .units(UnitSystem::si)},
    };
}

TEST(SectionDrawing, IsWellFormedAndStaysOnItsPage) {
    for (const HardCase& c : hard_cases()) {
        const std::string document = c.section.drawing();
        const XmlCheck xml{document};
        ASSERT_EQ(xml.fault(), "") << c.name;
        const double width = number(xml.elements().front(), "width");
        const double height = number(xml.elements().front(), "height");
        for (const XmlElement& e : xml.elements()) {
            if (e.name == "text") {
                const double x = number(e, "x");
                const double reach = 8.6 * static_cast<double>(e.text.size());
                const std::string anchor = e.at("text-anchor");
                const double right = anchor == "end"      ? x
                                     : anchor == "middle" ? x + reach / 2
                                                          : x + reach;
                EXPECT_LT(right, width + 40.0) << c.name << ": " << e.text;
                EXPECT_GT(x, 0.0) << c.name << ": " << e.text;
                EXPECT_GT(number(e, "y"), 10.0) << c.name << ": " << e.text;
                EXPECT_LT(number(e, "y"), height) << c.name << ": " << e.text;
            }
            for (const SvgPoint& p : points_of(e.name == "path" ? e.at("d") : "")) {
                EXPECT_TRUE(p.x >= 0.0 && p.x <= width && p.y >= 0.0 && p.y <= height) << c.name;
            }
        }
    }
}

TEST(SectionDrawing, HoldsNoScriptAndNothingFromElsewhere) {
    const std::string hostile = "<script>alert(1)</script>\"'&";
    const std::string document = instructive().titled(hostile).drawing();
    const XmlCheck xml{document};
    EXPECT_EQ(xml.fault(), "");
    for (const XmlElement& e : xml.elements()) {
        EXPECT_NE(e.name, "script");
        for (const auto& [name, value] : e.attributes) {
            EXPECT_NE(name.substr(0, 2), "on") << name;
            EXPECT_NE(name, "style") << "forbidden in pages";
            EXPECT_EQ(name.find("href"), std::string::npos) << name;
            EXPECT_TRUE(name == "xmlns" || value.find("://") == std::string::npos) << value;
        }
    }
    EXPECT_TRUE(xml.has_text("&lt;script&gt;alert(1)&lt;/script&gt;&quot;&#39;&amp;"));
    EXPECT_EQ(document.find("@import"), std::string::npos);
    EXPECT_EQ(document.find("<!"), std::string::npos);
}

TEST(SectionDrawing, GivesTheSameBytesAgain) {
    EXPECT_EQ(instructive().drawing(), instructive().drawing());
}

TEST(SectionDrawing, DrawsTheStrengthTheSectionHas) {
    for (const DrawnSection& s :
         {instructive(), DrawnSection{40.0, 38.0}.pocket(10.0, 4.0, 3.0).line(77.0)}) {
        const std::string document = s.drawing();
        const XmlCheck xml{document};
        const auto full = xml.with_class("lw-full");
        ASSERT_EQ(full.size(), 1U);
        const SvgPoint centre{number(full[0], "cx"), number(full[0], "cy")};
        const double radius = number(full[0], "r");
        const SectionCondition condition = s.condition();
        const RemainingSection section{condition.shape};
        const double sound = solid_modulus(*condition.original);
        const auto curve = points_of(xml.with_class("lw-curve").at(0).at("d"));
        ASSERT_GE(curve.size(), 360U);
        double least = 1.0;
        for (const SvgPoint& p : curve) {
            const double azimuth =
                std::atan2(p.x - centre.x, centre.y - p.y) * 180.0 / std::numbers::pi;
            const double drawn = std::hypot(p.x - centre.x, p.y - centre.y) / radius;
            const double share = std::min(1.0, section.modulus(Bearing::degrees(azimuth)) / sound);
            EXPECT_NEAR(drawn, share, 2e-4) << azimuth;
            least = std::min(least, drawn);
        }
        EXPECT_NEAR(least, condition.strengths->weakest, 1e-4);
        const auto limit = xml.with_class("lw-limit").at(0);
        EXPECT_NEAR(number(limit, "r") / radius, s.criteria().governing_strength_min, 1e-4);
    }
}

TEST(SectionDrawing, DrawsTheWoodThatIsThere) {
    const DrawnSection s = instructive();
    const std::string document = s.drawing();
    const XmlCheck xml{document};
    const auto original = xml.with_class("lw-original").at(0);
    const double radius = number(original, "r");
    const SvgPoint centre{number(original, "cx"), number(original, "cy")};
    const SectionCondition condition = s.condition();
    const double present = radius * (37.0 / 40.0);
    double greatest = 0.0;
    for (const SvgPoint& p : points_of(xml.with_class("lw-wood").at(0).at("d"))) {
        greatest = std::max(greatest, std::hypot(p.x - centre.x, p.y - centre.y));
    }
    EXPECT_NEAR(greatest, present, 0.02);
    // A pocket at 135 degrees lies to the lower right, and nothing is missing opposite.
    const auto pocket = points_of(xml.with_class("lw-pocket").at(0).at("d"));
    double x = 0.0;
    double y = 0.0;
    for (const SvgPoint& p : pocket) {
        x += p.x / static_cast<double>(pocket.size());
        y += p.y / static_cast<double>(pocket.size());
    }
    EXPECT_GT(x, centre.x);
    EXPECT_GT(y, centre.y);
    EXPECT_NEAR(x - centre.x, y - centre.y, 0.5);
}

TEST(SectionDrawing, SaysTheNumbersThatWereAssessed) {
    const DrawnSection s = instructive();
    const std::string document = s.drawing();
    const XmlCheck xml{document};
    const SectionStrengths strengths = *s.condition().strengths;
    EXPECT_TRUE(xml.has_text(share_text(strengths.governing, 0.65)));
    EXPECT_TRUE(xml.has_text("A " + share_text(*strengths.transverse, 0.65)));
    EXPECT_TRUE(xml.has_text("L " + share_text(*strengths.longitudinal, 0.65)));
    EXPECT_TRUE(xml.has_text("W " + share_text(strengths.weakest, 0.5)));
    EXPECT_TRUE(xml.has_text(share_text(strengths.area)));
    EXPECT_TRUE(xml.has_text("Girth now 37 in, original 40 in"));
    EXPECT_TRUE(xml.has_text("P1 5 \u00d7 2.5 at 135\u00b0, out of line"));
    EXPECT_TRUE(xml.has_text("B1 shell 4 at 15\u00b0"));
    EXPECT_TRUE(xml.has_text("FAILS"));
    const std::string millimetres = instructive().units(UnitSystem::si).drawing();
    EXPECT_TRUE(XmlCheck{millimetres}.has_text("Girth now 939.8 mm, original 1016 mm"));
}

TEST(SectionDrawing, MarksWhatNobodyRecorded) {
    const std::string placed = DrawnSection{40.0, 38.0}.pocket({}, 4.0, 2.0).line(0.0).drawing();
    EXPECT_NE(placed.find(">P1* 4 \u00d7 2 at "), std::string::npos);
    EXPECT_TRUE(XmlCheck{placed}.has_text("* direction not certain:"));
    const std::string round = DrawnSection{40.0, 38.0}.bore({}, 2.0).line(0.0).drawing();
    const XmlCheck xml{round};
    EXPECT_TRUE(xml.with_class("lw-bore").empty());
    EXPECT_FALSE(xml.with_class("lw-void").empty());
    EXPECT_TRUE(xml.has_text("Shell 2 all round: bores"));
}

TEST(SectionDrawing, ShowsPiecesThatDoNotCarryDifferently) {
    const std::string document = hard_cases()[1].section.drawing();
    const XmlCheck xml{document};
    EXPECT_GE(xml.with_class("lw-wood").size(), 1U);
    EXPECT_GE(xml.with_class("lw-lost").size(), 1U);
    EXPECT_TRUE(xml.has_text("carries nothing"));
}

TEST(SectionDrawing, SaysWhyThereIsNoStrengthToDraw) {
    const std::string gone = DrawnSection{40.0, 0.0}.drawing();
    EXPECT_TRUE(XmlCheck{gone}.has_text("the girth now is 0"));
    EXPECT_FALSE(XmlCheck{gone}.has_text("it needs was not recorded"));
    const std::string unknown = DrawnSection{40.0, std::nullopt}.bore(90.0, 2.0).drawing();
    EXPECT_TRUE(XmlCheck{unknown}.has_text("it needs was not recorded"));
}

TEST(SectionDrawing, ShowsNoWoodWhereTheGirthNowIsNotKnown) {
    const std::string document = DrawnSection{40.0, std::nullopt}.bore(90.0, 2.0).drawing();
    const XmlCheck xml{document};
    EXPECT_TRUE(xml.with_class("lw-wood").empty());
    EXPECT_FALSE(xml.with_class("lw-original").empty());
    EXPECT_TRUE(xml.has_text("Plan, north up; girth now not known"));
    EXPECT_FALSE(xml.has_text("wood that carries"));
}

TEST(SectionDrawing, KeepsLongDefectsClearOfTheLegend) {
    DrawnSection section{40.0, 38.0};
    for (int i = 0; i < 30; ++i) {
        section.pocket(i * 12.0 + 0.123, 3.456, 1.234).bore(i * 12.0 + 6.0, 3.25);
    }
    const std::string document = section.line(30.0).units(UnitSystem::si).drawing();
    const XmlCheck xml{document};
    double legend = 0.0;
    double legend_end = 0.0;
    for (const XmlElement& e : xml.elements()) {
        legend = e.text == "Legend" ? number(e, "x") : legend;
        legend_end = e.text == "limit, weakest" ? number(e, "y") : legend_end;
    }
    int pockets = 0;
    for (const XmlElement& e : xml.elements()) {
        if (e.name == "text" && e.text.find(" \u00d7 ") != std::string::npos && e.text[0] == 'P') {
            ++pockets;
            // Two of its letters are two bytes; 7.3 is the mean width in a wide font.
            const double end = number(e, "x") + 7.3 * static_cast<double>(e.text.size() - 2);
            EXPECT_TRUE(end < legend || number(e, "y") > legend_end) << e.text;
            EXPECT_LT(end, 900.0) << e.text;
        }
    }
    EXPECT_EQ(pockets, 30);
}

TEST(SectionDrawing, NamesFewerMarksWhereThereIsNoRoomForAll) {
    std::vector<double> crowded;
    for (int i = 0; i < 80; ++i) {
        crowded.push_back(Bearing::wrap(i * 4.5 + 100.0, 360.0));
    }
    const std::vector<bool> shown = shown_labels(crowded, kLabelGap);
    std::vector<double> kept;
    for (std::size_t i = 0; i < crowded.size(); ++i) {
        if (shown[i]) {
            kept.push_back(crowded[i]);
        }
    }
    EXPECT_GE(kept.size(), 20U);
    for (std::size_t i = 0; i < kept.size(); ++i) {
        for (std::size_t k = 0; k < i; ++k) {
            const double d = Bearing::wrap(kept[i] - kept[k], 360.0);
            EXPECT_GE(std::min(d, 360.0 - d), kLabelGap - 1e-9);
        }
    }
    EXPECT_EQ(shown_labels(std::vector<double>(20, 45.0), kLabelGap), std::vector<bool>(20, true));
}

TEST(ShareText, ShowsOnWhichSideOfItsLimitItLies) {
    const std::vector<std::pair<double, std::string>> rows{{0.673, "67.3 %"},
                                                           {0.65, "65.0 %"},
                                                           {0.6496, "64.96 %"},
                                                           {0.65004, "65.004 %"},
                                                           {0.649999, "64.9999 %"},
                                                           {0.0, "0.0 %"}};
    for (const auto& [share, text] : rows) {
        EXPECT_EQ(share_text(share, 0.65), text);
    }
}

TEST(SpreadAround, KeepsLabelsApartAndInOrder) {
    const auto apart = [](const std::vector<double>& at, double gap) {
        for (std::size_t i = 0; i < at.size(); ++i) {
            for (std::size_t k = 0; k < i; ++k) {
                const double d = Bearing::wrap(at[i] - at[k], 360.0);
                EXPECT_GE(std::min(d, 360.0 - d), gap - 0.1) << i << " " << k;
            }
        }
    };
    apart(spread_around({0.0, 1.0, 359.0, 90.0, 91.0}, 13.0), 13.0);
    apart(spread_around(std::vector<double>(20, 45.0), 13.0), 13.0);
    apart(spread_around(std::vector<double>(60, 45.0), 13.0), 6.0);
    EXPECT_EQ(spread_around({10.0, 200.0}, 13.0), (std::vector<double>{10.0, 200.0}));
    EXPECT_TRUE(spread_around({}, 13.0).empty());
}

}  // namespace
}  // namespace linewood
