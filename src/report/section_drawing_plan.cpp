#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "src/report/section_drawing_parts.hpp"

namespace linewood {
namespace {

constexpr double kSectorInner = 1.05;  // in outer radii
constexpr double kSectorOuter = 1.12;
constexpr double kBadge = 1.29;
constexpr double kLineEnd = 1.42;

/// A label on a feature of the plan.
struct Badge {
    std::string text;
    double azimuth;
    SvgPoint feature;
    bool round;
};

class Plan {
public:
    Plan(SvgWriter& svg, const SectionParts& parts, SvgPoint centre, double radius)
        : svg_{svg},
          parts_{parts},
          shape_{parts.in.section.shape},
          frame_{centre, radius / parts.outer_radius().metres()},
          outer_{radius} {}

    void draw() {
        draw_sectors();
        draw_outlines();
        draw_cut(svg_, parts_, frame_);
        draw_axes();
        draw_bores();
        draw_badges();
        draw_north();
        draw_scale_bar();
    }

private:
    SvgPoint on(double azimuth, double pixels) const {
        return towards(frame_.centre, azimuth, pixels);
    }
    double pixels(Length l) const { return l.metres() * frame_.scale; }

    void circle(double radius, const char* look) {
        svg_.element(
            "circle",
            {{"class", look}, {"cx", frame_.centre.x}, {"cy", frame_.centre.y}, {"r", radius}});
    }

    void draw_sector(double middle, Angle half, const char* look) {
        if (half <= Angle{}) {
            return;
        }
        const double h = half.degrees();
        std::vector<SvgPoint> ring;
        const int steps = std::max(1, static_cast<int>(std::ceil(h)));
        for (int i = 0; i <= steps; ++i) {
            ring.push_back(on(middle - h + 2.0 * h * i / steps, outer_ * kSectorOuter));
        }
        for (int i = steps; i >= 0; --i) {
            ring.push_back(on(middle - h + 2.0 * h * i / steps, outer_ * kSectorInner));
        }
        svg_.element("path", {{"class", look}, {"d", svg_path({ring})}});
    }

    void draw_sectors() {
        if (!parts_.in.line.axis) {
            return;
        }
        const double axis = parts_.in.line.axis->degrees();
        const Criteria& c = parts_.in.criteria;
        for (const double half_turn : {0.0, 180.0}) {
            draw_sector(axis + half_turn, c.in_line_sector, "lw-inline");
            draw_sector(axis + 90.0 + half_turn, c.out_of_line_sector, "lw-outofline");
        }
    }

    void draw_outlines() {
        if (parts_.is_outline_assumed()) {
            return;  // the outline of the cut is the original one
        }
        const double present = pixels(shape_.radius);
        if (present < outer_ - 0.5) {
            circle(outer_, "lw-original");
        }
        circle(present, "lw-present");
    }

    void draw_axes() {
        if (!parts_.in.line.axis) {
            return;
        }
        const double axis = parts_.in.line.axis->degrees();
        const double across = parts_.in.line.axis->perpendicular().degrees();
        draw_axis(axis, "lw-line", "line");
        draw_axis(across, "lw-across", "across");
    }

    void draw_axis(double azimuth, const char* look, const char* word) {
        svg_.line(on(azimuth, outer_ * kLineEnd),
                  on(azimuth + 180.0, outer_ * kLineEnd),
                  {{"class", look}});
        text_outward(svg_, frame_.centre, azimuth, outer_ * kLineEnd + 6.0, word);
    }

    void draw_bores() {
        if (parts_.in.shell_all_round) {
            return;
        }
        const double rim = pixels(shape_.radius);
        for (const ShellReading& r : parts_.shell) {
            const double azimuth = r.azimuth.degrees();
            const bool sound = r.thickness >= shape_.radius;
            const SvgPoint end = on(azimuth, std::max(0.0, rim - pixels(r.thickness)));
            svg_.line(on(azimuth, rim + 4.0), end, {{"class", "lw-halo"}});
            svg_.line(on(azimuth, rim + 4.0), end, {{"class", "lw-bore"}});
            svg_.element("circle",
                         {{"class", sound ? "lw-ring" : "lw-dot"},
                          {"cx", end.x},
                          {"cy", end.y},
                          {"r", 4.5}});
        }
    }

    std::vector<Badge> badges() const {
        std::vector<Badge> all;
        const double rim = pixels(shape_.radius);
        for (std::size_t i = 0; i < shape_.pockets.size(); ++i) {
            const Pocket& p = shape_.pockets[i];
            const double depth = std::min(pixels(p.depth), rim);
            const double azimuth = p.azimuth.degrees();
            all.push_back(
                {fmt::format("P{}", i + 1), azimuth, on(azimuth, rim - depth / 2.0), false});
        }
        for (std::size_t i = 0; !parts_.in.shell_all_round && i < parts_.shell.size(); ++i) {
            const double azimuth = parts_.shell[i].azimuth.degrees();
            all.push_back({fmt::format("B{}", i + 1), azimuth, on(azimuth, rim + 4.0), true});
        }
        return all;
    }

    std::vector<Badge> shown_badges() const {
        const std::vector<Badge> all = badges();
        const std::vector<bool> shown = shown_labels(label_azimuths(parts_), kLabelGap);
        std::vector<Badge> some;
        for (std::size_t i = 0; i < all.size(); ++i) {
            if (shown[i]) {
                some.push_back(all[i]);
            }
        }
        return some;
    }

    void draw_badges() {
        const std::vector<Badge> all = shown_badges();
        std::vector<double> wanted;
        wanted.reserve(all.size());
        for (const Badge& b : all) {
            wanted.push_back(b.azimuth);
        }
        const std::vector<double> azimuths = spread_around(wanted, kLabelGap);
        for (std::size_t i = 0; i < all.size(); ++i) {
            const SvgPoint at = on(azimuths[i], outer_ * kBadge);
            svg_.line(at, all[i].feature, {{"class", "lw-slim-halo"}});
            svg_.line(at, all[i].feature, {{"class", "lw-thin"}});
            if (!all[i].round) {
                svg_.element("circle",
                             {{"class", "lw-solid"},
                              {"cx", all[i].feature.x},
                              {"cy", all[i].feature.y},
                              {"r", 2.5}});
            }
        }
        for (std::size_t i = 0; i < all.size(); ++i) {
            draw_badge(all[i], on(azimuths[i], outer_ * kBadge));
        }
    }

    void draw_badge(const Badge& b, SvgPoint at) {
        const double half = 9.0 + 4.0 * static_cast<double>(b.text.size() - 1);
        svg_.element("rect",
                     {{"class", "lw-badge"},
                      {"x", at.x - half},
                      {"y", at.y - 11.0},
                      {"width", 2.0 * half},
                      {"height", 22.0},
                      {"rx", b.round ? 11.0 : 0.0}});
        svg_.text({at.x, at.y + 5.0}, b.text, {{"class", "lw-small"}, {"text-anchor", "middle"}});
    }

    void draw_north() {
        const double x = frame_.centre.x - outer_ * 1.2;
        const double y = frame_.centre.y - outer_ * 1.04;
        svg_.element("path",
                     {{"class", "lw-solid"},
                      {"d", svg_path({{{x, y - 22.0}, {x + 8.0, y + 12.0}, {x, y + 5.0}}})}});
        svg_.element("path",
                     {{"class", "lw-thin"},
                      {"d", svg_path({{{x, y - 22.0}, {x - 8.0, y + 12.0}, {x, y + 5.0}}})}});
        svg_.text({x, y - 27.0}, "N", {{"class", "lw-bold"}, {"text-anchor", "middle"}});
    }

    /// The longest round length that is at most the outer radius.
    Length scale_length() const {
        const bool us = parts_.in.units == UnitSystem::us;
        Length best = us ? Length::inches(0.1) : Length::millimetres(1.0);
        for (const double power : {0.1, 1.0, 10.0, 100.0, 1000.0}) {
            for (const double lead : {1.0, 2.0, 5.0}) {
                const double v = lead * power;
                const Length l = us ? Length::inches(v) : Length::millimetres(v);
                best = l <= parts_.outer_radius() ? std::max(best, l) : best;
            }
        }
        return best;
    }

    void draw_scale_bar() {
        const Length length = scale_length();
        const double width = pixels(length);
        const double x = frame_.centre.x - width / 2.0;
        const double y = frame_.centre.y + outer_ * kLineEnd + 26.0;
        svg_.element("rect",
                     {{"class", "lw-thin"}, {"x", x}, {"y", y}, {"width", width}, {"height", 6.0}});
        svg_.element(
            "rect",
            {{"class", "lw-solid"}, {"x", x}, {"y", y}, {"width", width / 2.0}, {"height", 6.0}});
        svg_.text({x - 6.0, y + 8.0}, "0", {{"class", "lw-small"}, {"text-anchor", "end"}});
        svg_.text(
            {x + width + 6.0, y + 8.0},
            fmt::format("{} {}", figure_text(length, parts_.in.units), girth_unit(parts_.in.units)),
            {{"class", "lw-small"}});
    }

    SvgWriter& svg_;
    const SectionParts& parts_;
    const SectionShape& shape_;
    PlanFrame frame_;
    double outer_;
};

}  // namespace

std::vector<double> label_azimuths(const SectionParts& parts) {
    std::vector<double> azimuths;
    for (const Pocket& p : parts.in.section.shape.pockets) {
        azimuths.push_back(p.azimuth.degrees());
    }
    if (!parts.in.shell_all_round) {
        for (const ShellReading& r : parts.shell) {
            azimuths.push_back(r.azimuth.degrees());
        }
    }
    return azimuths;
}

void draw_cut(SvgWriter& svg, const SectionParts& parts, const PlanFrame& frame) {
    if (!parts.rot.empty()) {
        svg.element("path", {{"class", "lw-void"}, {"d", frame.path({parts.rot})}});
    }
    for (const Pocket& p : parts.in.section.shape.pockets) {
        svg.element("path",
                    {{"class", "lw-pocket"},
                     {"d", frame.path({pocket_outline(parts.in.section.shape, p)})}});
    }
    const char* wood = parts.is_outline_assumed() ? "lw-original" : "lw-wood";
    for (const bool carries : {false, true}) {
        for (const DrawnPiece& piece : parts.pieces) {
            if (piece.carries == carries) {
                svg.element("path",
                            {{"class", carries ? wood : "lw-lost"},
                             {"fill-rule", "evenodd"},
                             {"d", frame.path(piece.rings)}});
            }
        }
    }
}

void draw_plan(SvgWriter& svg, const SectionParts& parts, SvgPoint centre, double radius) {
    if (!(parts.outer_radius() > Length{})) {
        svg.text(centre, "Girth not known: nothing to draw", {{"text-anchor", "middle"}});
        return;
    }
    Plan{svg, parts, centre, radius}.draw();
}

}  // namespace linewood
