#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include <fmt/format.h>

#include "assess/section/remaining_section.hpp"
#include "src/report/section_drawing_parts.hpp"

namespace linewood {
namespace {

constexpr double kSmallCopy = 0.3;  // of the radius of 100 %

double turn_between(double a, double b) {
    return angle_between(Bearing::degrees(a), Bearing::degrees(b)).degrees();
}

/// Remaining strength as a curve around the pole.
class Rose {
public:
    Rose(SvgWriter& svg, const SectionParts& parts, SvgPoint centre, double radius)
        : svg_{svg},
          parts_{parts},
          centre_{centre},
          radius_{radius},
          section_{parts.in.section.shape},
          sound_{solid_modulus(*parts.in.section.original)} {}

    void draw() {
        circle(radius_, "lw-full");
        draw_cut(svg_, parts_, {centre_, kSmallCopy * radius_ / parts_.outer_radius().metres()});
        draw_axes();
        const Criteria& c = parts_.in.criteria;
        circle(radius_ * c.governing_strength_min, "lw-limit");
        if (c.weakest_strength_min != c.governing_strength_min) {
            circle(radius_ * c.weakest_strength_min, "lw-limit2");
        }
        draw_curve();
        draw_marks();
        draw_ring_labels();
    }

private:
    struct CirclePoint {
        SvgPoint at;
        double radius = 0.0;
    };

    double share_at(double azimuth) const {
        return std::min(1.0, section_.modulus(Bearing::degrees(azimuth)) / sound_);
    }
    SvgPoint on(double azimuth, double pixels) const { return towards(centre_, azimuth, pixels); }
    SvgPoint on_curve(double azimuth) const { return on(azimuth, radius_ * share_at(azimuth)); }

    void circle(double radius, const char* look) {
        svg_.element("circle",
                     {{"class", look}, {"cx", centre_.x}, {"cy", centre_.y}, {"r", radius}});
    }

    void draw_axes() {
        if (const auto axis = parts_.in.line.axis) {
            const double a = axis->degrees();
            svg_.line(on(a, radius_), on(a + 180.0, radius_), {{"class", "lw-line"}});
            svg_.line(on(a + 90.0, radius_), on(a - 90.0, radius_), {{"class", "lw-across"}});
        }
    }

    void draw_curve() {
        std::vector<double> azimuths;
        azimuths.reserve(362);
        for (int a = 0; a < 360; ++a) {
            azimuths.push_back(a);
        }
        if (const auto weakest = parts_.in.section.strengths->weakest_axis) {
            azimuths.push_back(weakest->degrees());
            azimuths.push_back(weakest->degrees() + 180.0);
            std::sort(azimuths.begin(), azimuths.end());
        }
        std::vector<SvgPoint> ring;
        ring.reserve(azimuths.size());
        for (const double a : azimuths) {
            ring.push_back(on_curve(a));
        }
        const std::string d = svg_path({ring});
        svg_.element("path", {{"class", "lw-halo"}, {"d", d}});
        svg_.element("path", {{"class", "lw-curve"}, {"d", d}});
    }

    /// A mark on the curve, a thin line out to the rim, and a letter with the share.
    void mark(double azimuth, const char* letter, double share, double limit) {
        svg_.line(on_curve(azimuth), on(azimuth, radius_ + 6.0), {{"class", "lw-thin"}});
        const std::string text = std::string{letter} +
                                 (parts_.in.section.upper_bound ? " \u2264 " : " ") +
                                 share_text(share, limit);
        text_outward(svg_, centre_, azimuth, radius_ + 9.0, text);
        keep_clear_of(azimuth, 9.0 * static_cast<double>(text.size()));
        lines_.push_back(azimuth);
        lines_.push_back(azimuth + 180.0);
    }

    /// Notes where a text of this width beside the rim lies.
    void keep_clear_of(double azimuth, double width) {
        const double a = Angle::degrees(azimuth).radians();
        const SvgPoint p = on(azimuth, radius_ + 9.0);
        const double left = std::sin(a) > 0.35 ? 0.0 : std::sin(a) < -0.35 ? -width : -width / 2.0;
        for (double x = 0.0; x <= width; x += 4.0) {
            for (const double y : {-6.0, 0.0, 6.0}) {
                obstacles_.push_back({p.x + left + x, p.y - 6.0 * std::cos(a) + y});
            }
        }
    }

    void draw_marks() {
        const SectionStrengths& s = *parts_.in.section.strengths;
        const Criteria& c = parts_.in.criteria;
        std::vector<double> named;
        if (const auto axis = parts_.in.line.axis) {
            const double along = axis->degrees();
            const double across = axis->perpendicular().degrees();
            mark(across, "A", *s.transverse, c.governing_strength_min);
            mark(along, "L", *s.longitudinal, c.governing_strength_min);
            square(across, "lw-solid");
            square(along, "lw-ring");
            named = {across, along};
        }
        if (s.weakest_axis) {
            const double w = s.weakest_axis->degrees();
            const auto nearest = [&](double azimuth) {
                double least = 360.0;
                for (const double n : named) {
                    least = std::min(least, turn_between(azimuth, n));
                }
                return least;
            };
            const double end = nearest(w) >= nearest(w + 180.0) ? w : w + 180.0;
            mark(end, "W", s.weakest, c.weakest_strength_min);
            triangle(end);
            triangle(end + 180.0);
        }
    }

    void square(double azimuth, const char* look) {
        const SvgPoint p = on_curve(azimuth);
        svg_.element("rect",
                     {{"class", look},
                      {"x", p.x - 5.0},
                      {"y", p.y - 5.0},
                      {"width", 10.0},
                      {"height", 10.0}});
    }

    /// Its tip touches the curve from outside and points at the centre.
    void triangle(double azimuth) {
        const SvgPoint tip = on_curve(azimuth);
        const SvgPoint left = towards(tip, azimuth - 25.0, 16.0);
        const SvgPoint right = towards(tip, azimuth + 25.0, 16.0);
        svg_.element("path", {{"class", "lw-dot"}, {"d", svg_path({{tip, left, right}})}});
    }

    /// Everything a label on a circle had better stay clear of.
    void gather_obstacles() {
        const Criteria& c = parts_.in.criteria;
        for (int a = 0; a < 360; a += 2) {
            obstacles_.push_back(on_curve(a));
            for (const double share :
                 {1.0, c.governing_strength_min, c.weakest_strength_min, kSmallCopy}) {
                circles_.push_back({on(a, radius_ * share), radius_ * share});
            }
        }
        for (const double azimuth : lines_) {
            for (int part = 0; part <= 40; ++part) {
                obstacles_.push_back(on(azimuth, radius_ * part / 40.0));
            }
        }
    }

    void draw_ring_labels() {
        const Criteria& c = parts_.in.criteria;
        gather_obstacles();
        ring_label(1.0, "100 %");
        ring_label(c.governing_strength_min, "limit " + plain_percent(c.governing_strength_min));
        if (c.weakest_strength_min != c.governing_strength_min) {
            ring_label(c.weakest_strength_min, plain_percent(c.weakest_strength_min));
        }
    }

    static std::string plain_percent(double share) { return svg_number(share * 100.0) + " %"; }

    /// How free a box of this half width is: the distance of the nearest obstacle, at most 12 pixels,
    /// less what lies under the box. Other circles may come nearer than the curve.
    double room_around(SvgPoint p, double half, double share) const {
        constexpr double kFar = 12.0;
        const auto distance = [&](SvgPoint o) {
            const double dx = std::max(0.0, std::abs(o.x - p.x) - half);
            const double dy = std::max(0.0, std::abs(o.y - p.y) - 9.0);
            // Most are far off, and how far does not matter: nearly all the time went into roots.
            return std::max(dx, dy) >= kFar ? kFar : std::sqrt(dx * dx + dy * dy);
        };
        double room = kFar;
        double covered = 0.0;
        for (const SvgPoint o : obstacles_) {
            const double d = distance(o);
            room = std::min(room, d);
            covered += d < 1.0 ? 1.0 : 0.0;
        }
        for (const CirclePoint& o : circles_) {
            if (std::abs(o.radius - radius_ * share) > 1.0) {
                room = std::min(room, 6.0 + distance(o.at));
            }
        }
        return room - covered;
    }

    /// On its circle, or just beside it where it is crowded there.
    void ring_label(double share, const std::string& text) {
        const double half = 3.0 + 3.7 * static_cast<double>(text.size());
        SvgPoint best;
        double best_room = -1e9;
        for (int a = 0; a < 360; a += 5) {
            for (const double beside : {0.0, 13.0, -13.0}) {
                const SvgPoint p = on(a, radius_ * share + beside);
                const double room = room_around(p, half, share) - (beside > 0.0   ? 7.0
                                                                   : beside < 0.0 ? 11.0
                                                                                  : 0.0);
                if (room > best_room + 1e-9) {
                    best = p;
                    best_room = room;
                }
            }
        }
        svg_.element("rect",
                     {{"class", "lw-page"},
                      {"x", best.x - half},
                      {"y", best.y - 9.0},
                      {"width", 2.0 * half},
                      {"height", 18.0}});
        svg_.text({best.x, best.y + 5.0}, text, {{"class", "lw-small"}, {"text-anchor", "middle"}});
        for (const double dx : {-half, 0.0, half}) {
            obstacles_.push_back({best.x + dx, best.y});
        }
    }

    SvgWriter& svg_;
    const SectionParts& parts_;
    SvgPoint centre_;
    double radius_;
    RemainingSection section_;
    double sound_;
    std::vector<double> lines_;  ///< azimuths of lines from the centre
    std::vector<SvgPoint> obstacles_;
    std::vector<CirclePoint> circles_;
};

}  // namespace

void draw_rose(SvgWriter& svg, const SectionParts& parts, SvgPoint centre, double radius) {
    if (!parts.has_strengths()) {
        const SectionCondition& s = parts.in.section;
        const bool gone = s.present && !(*s.present > Length{});
        svg.text({centre.x, centre.y - 12.0},
                 gone ? "Nothing is left here:" : "Not known: a girth or a size",
                 {{"text-anchor", "middle"}});
        svg.text({centre.x, centre.y + 12.0},
                 gone ? "the girth now is 0" : "it needs was not recorded",
                 {{"text-anchor", "middle"}});
        return;
    }
    Rose{svg, parts, centre, radius}.draw();
}

}  // namespace linewood
