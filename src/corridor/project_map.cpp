#include "src/corridor/project_map.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "src/corridor/verdict_mark.hpp"
#include "src/report/svg.hpp"

namespace linewood {
namespace {

constexpr double kWidth = 1000.0;
constexpr double kMargin = 70.0;
constexpr double kLeastHeight = 220.0;
constexpr double kMostHeight = 460.0;
constexpr double kFoot = 74.0;
constexpr double kLeastWidthM = 400.0;
constexpr double kLeastDepthM = 120.0;

bool has_place(Point p) { return std::isfinite(p.x) && std::isfinite(p.y); }

struct Extent {
    double west = std::numeric_limits<double>::infinity();
    double east = -std::numeric_limits<double>::infinity();
    double south = std::numeric_limits<double>::infinity();
    double north = -std::numeric_limits<double>::infinity();

    void add(Point p) {
        west = std::min(west, p.x);
        east = std::max(east, p.x);
        south = std::min(south, p.y);
        north = std::max(north, p.y);
    }
    void grow_to(double width, double depth) {
        const double dx = std::max(0.0, width - (east - west)) / 2.0;
        const double dy = std::max(0.0, depth - (north - south)) / 2.0;
        west -= dx;
        east += dx;
        south -= dy;
        north += dy;
    }
};

/// The greatest of 1, 2, 5 times a power of ten that is at most `metres`.
double round_length(double metres) {
    const double power = std::pow(10.0, std::floor(std::log10(metres)));
    for (const double times : {5.0, 2.0}) {
        if (times * power <= metres) {
            return times * power;
        }
    }
    return power;
}

class MapDrawing {
public:
    MapDrawing(const ProjectMap& map, const Extent& extent)
        : map_{map},
          extent_{extent},
          scale_{std::min((kWidth - 2.0 * kMargin) / (extent.east - extent.west),
                          (kMostHeight - 2.0 * kMargin) / (extent.north - extent.south))},
          height_{std::clamp(
              (extent.north - extent.south) * scale_ + 2.0 * kMargin, kLeastHeight, kMostHeight)},
          svg_{kWidth,
               kSvgHeading + height_ + kFoot,
               fmt::format("Map of {}", map.title),
               "The stretch of the project thick, the line around it thin, poles by verdict",
               "",
               SvgForm::fragment} {}

    std::string draw() {
        svg_.element("rect",
                     {{"class", "lw-rule"},
                      {"x", 1.0},
                      {"y", kSvgHeading + 1.0},
                      {"width", kWidth - 2.0},
                      {"height", height_ - 2.0}});
        for (const bool of_project : {false, true}) {
            for (const MapLine& line : map_.lines) {
                if (line.of_project == of_project) {
                    draw_line(line);
                }
            }
        }
        draw_poles();
        draw_north();
        draw_scale();
        draw_mark_key(svg_, {10.0, kSvgHeading + height_ + 52.0});
        return svg_.finish();
    }

private:
    SvgPoint at(Point p) const {
        const double middle_x = (extent_.west + extent_.east) / 2.0;
        const double middle_y = (extent_.south + extent_.north) / 2.0;
        return {kWidth / 2.0 + (p.x - middle_x) * scale_,
                kSvgHeading + height_ / 2.0 - (p.y - middle_y) * scale_};
    }

    bool inside(SvgPoint p) const {
        return p.x > 4.0 && p.x < kWidth - 4.0 && p.y > kSvgHeading + 4.0 &&
               p.y < kSvgHeading + height_ - 4.0;
    }

    void draw_line(const MapLine& line) {
        const char* look = line.of_project ? "lw-bore" : "lw-rule";
        for (std::size_t i = 1; i < line.path.size(); ++i) {
            if (!has_place(line.path[i - 1]) || !has_place(line.path[i])) {
                continue;
            }
            SvgPoint a = at(line.path[i - 1]);
            SvgPoint b = at(line.path[i]);
            if (cut_to_frame(a, b)) {
                svg_.line(a, b, {{"class", look}});
            }
        }
    }

    /// Leaves of a line from a to b what is within the frame; false where nothing is.
    bool cut_to_frame(SvgPoint& a, SvgPoint& b) const {
        const SvgPoint way{b.x - a.x, b.y - a.y};
        double begin = 0.0;
        double end = 1.0;
        const auto keep = [&](double from, double step, double least, double most) {
            if (step == 0.0) {
                return from >= least && from <= most;
            }
            const double one = (least - from) / step;
            const double other = (most - from) / step;
            begin = std::max(begin, std::min(one, other));
            end = std::min(end, std::max(one, other));
            return begin < end;
        };
        if (!keep(a.x, way.x, 4.0, kWidth - 4.0) ||
            !keep(a.y, way.y, kSvgHeading + 4.0, kSvgHeading + height_ - 4.0)) {
            return false;
        }
        b = {a.x + end * way.x, a.y + end * way.y};
        a = {a.x + begin * way.x, a.y + begin * way.y};
        return true;
    }

    void draw_poles() {
        // Where there are many, small ones.
        const double half = map_.poles.size() > 150 ? 4.0 : map_.poles.size() > 50 ? 5.5 : 7.5;
        for (const MapPole& pole : map_.poles) {
            if (has_place(pole.place) && inside(at(pole.place))) {
                draw_verdict_mark(svg_, at(pole.place), pole.verdict, pole.now, half);
                const SvgPoint p = at(pole.place);
                taken_.push_back({p.x - half - 3, p.y - half - 3, p.x + half + 3, p.y + half + 3});
            }
        }
        for (const MapPole& pole : map_.poles) {
            if (pole.labelled && has_place(pole.place) && inside(at(pole.place))) {
                label(at(pole.place), svg_shortened(pole.label, kMapIdLetters), half);
            }
        }
    }

    struct Box {
        double left = 0.0;
        double top = 0.0;
        double right = 0.0;
        double bottom = 0.0;
        bool meets(const Box& o) const {
            return left < o.right && o.left < right && top < o.bottom && o.top < bottom;
        }
    };

    void label(SvgPoint p, const std::string& text, double half) {
        const double width = 8.2 * static_cast<double>(text.size());
        const std::array<SvgPoint, 4> places{{{p.x + half + 6.0, p.y + 5.0},
                                              {p.x - half - 6.0 - width, p.y + 5.0},
                                              {p.x - width / 2.0, p.y - half - 8.0},
                                              {p.x - width / 2.0, p.y + half + 18.0}}};
        for (const SvgPoint place : places) {
            const Box box{place.x, place.y - 13.0, place.x + width, place.y + 3.0};
            const bool fits = box.left > 4.0 && box.right < kWidth - 4.0 &&
                              box.top > kSvgHeading + 4.0 &&
                              box.bottom < kSvgHeading + height_ - 4.0;
            const bool free = std::none_of(
                taken_.begin(), taken_.end(), [&](const Box& o) { return box.meets(o); });
            if (fits && free) {
                svg_.text(place, text, {{"class", "lw-small"}});
                taken_.push_back(box);
                return;
            }
        }
    }

    void draw_north() {
        const double x = kWidth - 30.0;
        const double y = kSvgHeading + 46.0;
        svg_.line({x, y}, {x, y - 26.0}, {{"class", "lw-bore"}});
        svg_.element(
            "path",
            {{"class", "lw-solid"},
             {"d", svg_path({{{x, y - 36.0}, {x + 6.0, y - 22.0}, {x - 6.0, y - 22.0}}})}});
        svg_.text({x, y + 16.0}, "N", {{"class", "lw-small lw-bold"}, {"text-anchor", "middle"}});
    }

    void draw_scale() {
        const double metres = round_length(250.0 / scale_);
        const double width = metres * scale_;
        const double y = kSvgHeading + height_ + 20.0;
        svg_.line({10.0, y}, {10.0 + width, y}, {{"class", "lw-bore"}});
        for (const double x : {10.0, 10.0 + width}) {
            svg_.line({x, y - 6.0}, {x, y + 6.0}, {{"class", "lw-bore"}});
        }
        svg_.text({20.0 + width, y + 5.0},
                  metres >= 1000.0 ? fmt::format("{:g} km", metres / 1000.0)
                                   : fmt::format("{:g} m", metres),
                  {{"class", "lw-small"}});
    }

    const ProjectMap& map_;
    Extent extent_;
    double scale_;
    double height_;
    SvgWriter svg_;
    std::vector<Box> taken_;
};

}  // namespace

std::string draw_project_map(const ProjectMap& map) {
    Extent extent;
    for (const MapPole& pole : map.poles) {
        if (has_place(pole.place)) {
            extent.add(pole.place);
        }
    }
    if (extent.west > extent.east) {
        return {};
    }
    extent.grow_to(kLeastWidthM, kLeastDepthM);
    return MapDrawing{map, extent}.draw();
}

}  // namespace linewood
