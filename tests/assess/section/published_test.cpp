// tests/published/round_sections.json. The concentric cases are shapes of the model; the others are
// put together from the boundary integrals that the model is computed with.

#include <cmath>
#include <fstream>
#include <string>

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "assess/section/outline.hpp"
#include "assess/section/remaining_section.hpp"
#include "tests/places/places.hpp"

namespace linewood {
namespace {

using polar::Moments;

constexpr double kRadius = 6.0;          // in
constexpr double kPrinted = 0.51e-5;     // half a unit of the fifth decimal
constexpr double kSound = 169.64600329;  // pi 12^3 / 32
constexpr double kCubicInch = 0.0254 * 0.0254 * 0.0254;

const nlohmann::json& table() {
    static const nlohmann::json kParsed =
        nlohmann::json::parse(std::ifstream{testing::test_file("published/round_sections.json")});
    return kParsed;
}

/// Checks a section given by its moments in radii and its outline; it is symmetric about the x axis.
void check(const nlohmann::json& row, const Moments& moments, const Outline& outline) {
    const double r2 = kRadius * kRadius;
    const Moments own = moments.about(moments.centroid());
    EXPECT_NEAR(moments.area * r2, row["area"].get<double>(), kPrinted);
    EXPECT_NEAR(moments.centroid().x * kRadius, row["centroid"].get<double>(), kPrinted);
    EXPECT_NEAR(own.xx * r2 * r2, row["along"]["moment"].get<double>(), kPrinted);
    EXPECT_NEAR(own.yy * r2 * r2, row["across"]["moment"].get<double>(), kPrinted);
    const double along = outline.modulus(Bearing::degrees(0.0));
    const double across = outline.modulus(Bearing::degrees(90.0));
    EXPECT_NEAR(along, row["along"]["modulus"].get<double>(), kPrinted);
    EXPECT_NEAR(across, row["across"]["modulus"].get<double>(), kPrinted);
    EXPECT_NEAR(along / kSound, row["along"]["share"].get<double>(), kPrinted);
    EXPECT_NEAR(across / kSound, row["across"]["share"].get<double>(), kPrinted);
}

TEST(published, hollow_sections) {
    ASSERT_EQ(table()["hollow"].size(), 2U);
    for (const auto& row : table()["hollow"]) {
        SCOPED_TRACE(row["name"].get<std::string>());
        SectionShape shape;
        shape.radius = Length::inches(kRadius);
        shape.shell.push_back({Bearing::degrees(77.0), Length::inches(row["shell"].get<double>())});
        const RemainingSection section{shape};
        const double modulus = row["modulus"].get<double>();
        EXPECT_NEAR(section.area() / 0.0254 / 0.0254, row["area"].get<double>(), kPrinted);
        EXPECT_NEAR(section.modulus(Bearing::degrees(12.0)) / kCubicInch, modulus, kPrinted);
        EXPECT_NEAR(section.weakest().modulus / kCubicInch, modulus, kPrinted);
        EXPECT_NEAR(section.weakest().modulus / kCubicInch * kRadius,
                    row["moment"].get<double>(),
                    kRadius * kPrinted);
        EXPECT_NEAR(section.weakest().modulus / solid_modulus(Length::inches(12.0 * polar::kPi)),
                    row["share"].get<double>(),
                    kPrinted);
        EXPECT_FALSE(section.weakest().axis.has_value());
    }
}

TEST(published, enclosed_round_void) {
    const auto& row = table()["enclosed_round_void"];
    const double r = row["radius"].get<double>() / kRadius;
    const double off = row["eccentricity"].get<double>() / kRadius;
    const Moments m = polar::under_arc(1.0, 0.0, polar::kTurn) -
                      polar::under_arc(r, 0.0, polar::kTurn).about({-off, 0.0});
    Outline outline{kRadius, m};
    outline.add_arc({{1.0, 0.0}, -1.0, 1.0});
    check(row, m, outline);
}

TEST(published, segment_removed) {
    const auto& row = table()["segment_removed"];
    const double chord = 1.0 - row["depth"].get<double>() / kRadius;
    const double half = std::acos(chord);
    const polar::Vec p{chord, -std::sin(half)};
    const polar::Vec q{chord, std::sin(half)};
    const Moments m =
        polar::under_arc(1.0, half, polar::kTurn - 2.0 * half) + polar::under_edge(p, q);
    Outline outline{kRadius, m};
    outline.add_corner(p);
    outline.add_corner(q);
    outline.add_arc({{-1.0, 0.0}, -chord, 1.0});
    check(row, m, outline);
}

TEST(published, radial_sided_pocket) {
    const auto& row = table()["radial_sided_pocket"];
    const double bottom = 1.0 - row["depth"].get<double>() / kRadius;
    const double half = row["angle"].get<double>() * polar::kPi / 360.0;
    const Moments m = polar::under_arc(1.0, half, polar::kTurn - 2.0 * half) +
                      polar::under_arc(bottom, -half, 2.0 * half);
    Outline outline{kRadius, m};
    outline.add_arc({{-1.0, 0.0}, -std::cos(half), 1.0});
    outline.add_arc({{1.0, 0.0}, std::cos(half), bottom});
    outline.add_corner(polar::direction(half));
    outline.add_corner(polar::direction(-half));
    check(row, m, outline);
}

}  // namespace
}  // namespace linewood
