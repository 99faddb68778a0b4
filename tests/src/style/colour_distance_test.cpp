// How far apart the colours of a style are, for eyes with and without colour-vision deficiency.
// Matrices of full protanopia, deuteranopia and tritanopia on linear RGB: Machado, Oliveira and Fernandes (2009),
// "A Physiologically-based Model for Simulation of Color Vision Deficiency"; typed from memory. Distances are CIE76
// in CIELAB of D65 (sRGB: IEC 61966-2-1, from memory).
#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <string_view>

#include <gtest/gtest.h>

#include "src/style/style_sheet.hpp"

namespace linewood {
namespace {

using Triple = std::array<double, 3>;
using Matrix = std::array<Triple, 3>;

constexpr std::array<Matrix, 4> kEyes{{{{{1.0, 0.0, 0.0}, {0.0, 1.0, 0.0}, {0.0, 0.0, 1.0}}},
                                       {{{0.152286, 1.052583, -0.204868},
                                         {0.114503, 0.786281, 0.099216},
                                         {-0.003882, -0.048116, 1.051998}}},
                                       {{{0.367322, 0.860646, -0.227968},
                                         {0.280085, 0.672501, 0.047413},
                                         {-0.011820, 0.042940, 0.968881}}},
                                       {{{1.255528, -0.076749, -0.178779},
                                         {-0.078411, 0.930809, 0.147602},
                                         {0.004733, 0.691367, 0.303900}}}}};
constexpr Matrix kToXyz{{{0.4124564, 0.3575761, 0.1804375},
                         {0.2126729, 0.7151522, 0.0721750},
                         {0.0193339, 0.1191920, 0.9503041}}};
constexpr Triple kWhite{0.95047, 1.0, 1.08883};

Triple times(const Matrix& m, const Triple& v) {
    Triple out{};
    for (std::size_t r = 0; r < 3; ++r) {
        out[r] = m[r][0] * v[0] + m[r][1] * v[1] + m[r][2] * v[2];
    }
    return out;
}

double lightness_of(double share) {
    return share > 216.0 / 24389.0 ? std::cbrt(share) : (24389.0 / 27.0 * share + 16.0) / 116.0;
}

Triple lab_of(const std::string& colour, const Matrix& eyes) {
    Triple linear{};
    for (std::size_t i = 0; i < 3; ++i) {
        const double c = std::stoi(colour.substr(1 + 2 * i, 2), nullptr, 16) / 255.0;
        linear[i] = c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
    }
    Triple seen = times(eyes, linear);
    for (double& s : seen) {
        s = std::clamp(s, 0.0, 1.0);
    }
    const Triple xyz = times(kToXyz, seen);
    const double x = lightness_of(xyz[0] / kWhite[0]);
    const double y = lightness_of(xyz[1] / kWhite[1]);
    const double z = lightness_of(xyz[2] / kWhite[2]);
    return {116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)};
}

std::string colour_of(const LayerStyle& style, const StyleClass& c) {
    switch (style.geometry) {
        case StyleGeometry::point:
            return c.mark.fill;
        case StyleGeometry::line:
            return c.line.colour;
        case StyleGeometry::area:
            return c.area.fill;
    }
    return {};
}

/// The least distance between the colours of two classes of a style, over all eyes.
double least_distance(const LayerStyle& style) {
    double least = 1000.0;
    for (const Matrix& eyes : kEyes) {
        for (std::size_t a = 0; a < style.classes.size(); ++a) {
            for (std::size_t b = a + 1; b < style.classes.size(); ++b) {
                const Triple p = lab_of(colour_of(style, style.classes[a]), eyes);
                const Triple q = lab_of(colour_of(style, style.classes[b]), eyes);
                least = std::min(least, std::hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]));
            }
        }
    }
    return least;
}

TEST(ColourDistance, WhiteAndBlackAreAHundredApart) {
    const Triple white = lab_of("#FFFFFF", kEyes[0]);
    EXPECT_NEAR(white[0], 100.0, 1e-3);
    EXPECT_NEAR(white[1], 0.0, 0.02);
    EXPECT_NEAR(lab_of("#000000", kEyes[0])[0], 0.0, 1e-9);
    // sRGB red: L* 53.24, a* 80.09, b* 67.20 (known figures, from memory).
    EXPECT_NEAR(lab_of("#FF0000", kEyes[0])[1], 80.09, 0.05);
}

/// The README states these two.
TEST(ColourDistance, ClassesOfEveryStyleStayApartForAllEyes) {
    constexpr std::array<std::string_view, 6> kOfWords{"poles_by_verdict",
                                                       "poles_by_urgency",
                                                       "poles_weakest_direction",
                                                       "defects_by_position",
                                                       "sections_by_result",
                                                       "findings_by_severity"};
    for (const LayerStyle& style : shipped_styles().styles) {
        const bool of_words =
            std::find(kOfWords.begin(), kOfWords.end(), style.name) != kOfWords.end();
        EXPECT_GE(least_distance(style), of_words ? 29.0 : 17.0) << style.name;
    }
}

}  // namespace
}  // namespace linewood
