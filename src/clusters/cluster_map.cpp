#include <algorithm>
#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "assess/condition/condition_findings.hpp"
#include "src/clusters/cluster_pictures.hpp"
#include "src/clusters/cluster_words.hpp"
#include "src/report/svg.hpp"

namespace linewood {
namespace {

constexpr double kWidth = 1000.0;
constexpr double kMostHeight = 1100.0;
constexpr double kLeastHeight = 260.0;
constexpr double kEdge = 30.0;
constexpr double kLegend = 165.0;
/// More dots than this would be a grey area, and a page of megabytes.
constexpr std::size_t kMostDots = 12000;
constexpr std::size_t kMostCells = 6000;
constexpr const char* kClusterColour = "#b03a00";
constexpr const char* kNetworkColour = "#000000";

/// Metres to the drawing.
class MapScale {
public:
    explicit MapScale(const std::vector<Point>& places) {
        double high_x = -std::numeric_limits<double>::infinity();
        double high_y = high_x;
        for (const Point p : places) {
            low_.x = std::min(low_.x, p.x);
            low_.y = std::min(low_.y, p.y);
            high_x = std::max(high_x, p.x);
            high_y = std::max(high_y, p.y);
        }
        constexpr double kLeastExtent = 100.0;
        const double wide = std::max(high_x - low_.x, kLeastExtent);
        const double tall = std::max(high_y - low_.y, kLeastExtent);
        per_metre_ = std::min((kWidth - 2 * kEdge) / wide, (kMostHeight - 2 * kEdge) / tall);
        height_ = std::max(kLeastHeight, tall * per_metre_ + 2 * kEdge);
        left_ = (kWidth - wide * per_metre_) / 2;
        top_ = kSvgHeading + (height_ - tall * per_metre_) / 2 + tall * per_metre_;
    }
    SvgPoint operator()(Point p) const {
        return {left_ + (p.x - low_.x) * per_metre_, top_ - (p.y - low_.y) * per_metre_};
    }
    double height() const { return height_; }
    double per_metre() const { return per_metre_; }

private:
    Point low_{std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity()};
    double per_metre_ = 1.0;
    double height_ = 0.0;
    double left_ = 0.0;
    double top_ = 0.0;
};

class MapDrawing {
public:
    MapDrawing(const AssessedData& data,
               const Population& population,
               const ClusterResults& results,
               SvgWriter& svg)
        : population_{population},
          results_{results},
          scale_{population.places},
          svg_{svg},
          spans_{data.spans},
          data_{data} {}

    void draw() {
        // What lies outside the frame is not drawn over the page.
        svg_.open("clipPath", {{"id", "lw-map-clip"}});
        svg_.element(
            "rect", {{"x", 0}, {"y", kSvgHeading}, {"width", kWidth}, {"height", scale_.height()}});
        svg_.close();
        svg_.open("pattern",
                  {{"id", "lw-few"},
                   {"width", 7},
                   {"height", 7},
                   {"patternUnits", "userSpaceOnUse"},
                   {"patternTransform", "rotate(-45)"}});
        svg_.element("rect", {{"width", 7}, {"height", 7}, {"fill", "#ffffff"}});
        svg_.line({0, 3.5}, {7, 3.5}, {{"stroke", "#c4c4c4"}, {"stroke-width", 0.8}});
        svg_.close();
        svg_.open("g", {{"clip-path", "url(#lw-map-clip)"}});
        cells();
        lines();
        dots();
        outlines();
        svg_.close();
        svg_.element("rect",
                     {{"x", 0.5},
                      {"y", kSvgHeading + 0.5},
                      {"width", kWidth - 1},
                      {"height", scale_.height() - 1},
                      {"fill", "none"},
                      {"stroke", "#111"}});
        legend();
    }
    static double height_of(const Population& population) {
        return MapScale{population.places}.height() + kLegend;
    }

private:
    std::string path(const Polygons& area) const {
        std::vector<std::vector<SvgPoint>> rings;
        for (const PolygonRings& polygon : area) {
            for (const auto& ring : polygon) {
                rings.emplace_back();
                for (const Point p : ring) {
                    rings.back().push_back(scale_(p));
                }
            }
        }
        return svg_path(rings);
    }

    void cells() {
        std::size_t drawn = 0;
        for (const AreaRate& a : results_.areas) {
            if ((a.kind != "hexagon" && a.kind != "square") || !a.figures.rate ||
                ++drawn > kMostCells) {
                continue;
            }
            svg_.element(
                "path",
                {{"d", path(a.outline)},
                 {"fill",
                  a.thin ? "url(#lw-few)"
                         : rate_class_fill(rate_class(*a.figures.rate, population_.rate()))},
                 {"stroke", "#999999"},
                 {"stroke-width", 0.5}});
        }
    }

    void lines() {
        if (population_.edges.size() > kMostDots) {
            return;
        }
        std::string d;
        for (const std::uint32_t span : population_.edge_span) {
            const auto points = spans_.path(span, data_.poles);
            for (std::size_t i = 0; i < points.size(); ++i) {
                const SvgPoint p = scale_(points[i]);
                d += (i == 0 ? "M" : "L") + svg_number(p.x) + " " + svg_number(p.y);
            }
        }
        if (!d.empty()) {
            svg_.element(
                "path", {{"d", d}, {"fill", "none"}, {"stroke", "#777777"}, {"stroke-width", 0.6}});
        }
    }

    void dots() {
        const bool all = population_.places.size() <= kMostDots;
        std::size_t drawn = 0;
        const double size = population_.places.size() > 2000 ? 1.6 : 2.6;
        for (const std::uint8_t decayed : {std::uint8_t{0}, std::uint8_t{1}}) {
            for (std::size_t i = 0; i < population_.places.size(); ++i) {
                if (population_.decayed[i] != decayed || (decayed == 0 && !all) ||
                    (decayed == 1 && ++drawn > kMostDots)) {
                    continue;
                }
                const SvgPoint at = scale_(population_.places[i]);
                if (decayed == 0) {
                    svg_.element("circle",
                                 {{"cx", at.x},
                                  {"cy", at.y},
                                  {"r", size * 0.7},
                                  {"fill", "#ffffff"},
                                  {"stroke", "#555555"},
                                  {"stroke-width", 0.5}});
                } else {
                    svg_.element("circle",
                                 {{"cx", at.x}, {"cy", at.y}, {"r", size}, {"fill", "#000000"}});
                }
            }
        }
    }

    void outlines() {
        const std::vector<const FoundCluster*> clusters = drawn_clusters();
        for (const FoundCluster* c : clusters) {
            const bool straight = c->kind == WindowKind::straight;
            svg_.element("path",
                         {{"d", path(c->outline)},
                          {"fill", "none"},
                          {"stroke", straight ? kClusterColour : kNetworkColour},
                          {"stroke-width", straight ? 3.2 : 2.0},
                          {"stroke-dasharray", straight ? "none" : "7 4"}});
        }
        for (const FoundCluster* c : clusters) {
            label(*c, c->kind == WindowKind::straight);
        }
    }

    std::vector<const FoundCluster*> drawn_clusters() const {
        std::vector<const FoundCluster*> clusters;
        for (const ScanOutcome& scan : results_.scans) {
            for (const FoundCluster& c : scan.clusters) {
                if (c.significant && !c.outline.empty()) {
                    clusters.push_back(&c);
                }
            }
        }
        return clusters;
    }

    /// Straight clusters have their names above, those along the spans below, so that both can be read.
    void label(const FoundCluster& c, bool straight) {
        SvgPoint at{0.0, straight ? 1e9 : -1e9};
        for (const PolygonRings& polygon : c.outline) {
            for (const Point p : polygon.front()) {
                const SvgPoint s = scale_(p);
                if (straight ? s.y < at.y : s.y > at.y) {
                    at = s;
                }
            }
        }
        at.x = std::clamp(at.x, 20.0, kWidth - 20.0);
        at.y = std::clamp(
            straight ? at.y - 6 : at.y + 17, kSvgHeading + 18, kSvgHeading + scale_.height() - 6);
        svg_.text(at,
                  c.name,
                  {{"text-anchor", "middle"},
                   {"font-weight", "bold"},
                   {"stroke", "#ffffff"},
                   {"stroke-width", 4},
                   {"stroke-linejoin", "round"}});
        svg_.text(at,
                  c.name,
                  {{"text-anchor", "middle"},
                   {"font-weight", "bold"},
                   {"class", straight ? "lw-rust" : ""}});
    }

    void legend() {
        const double y = kSvgHeading + scale_.height() + 26;
        const double rate = population_.rate();
        for (int i = 0; i < kRateClasses; ++i) {
            const double row = y + 24 * i;
            svg_.element("rect",
                         {{"x", 4},
                          {"y", row - 13},
                          {"width", 26},
                          {"height", 17},
                          {"fill", rate_class_fill(i)},
                          {"stroke", "#777777"}});
            svg_.text({38, row}, rate_class_words(i, rate));
        }
        key(y);
        scale_bar(y + 24 * 4);
    }

    void key(double y) {
        const double x = 420;
        svg_.element("rect",
                     {{"x", x},
                      {"y", y - 13},
                      {"width", 26},
                      {"height", 17},
                      {"fill", "url(#lw-few)"},
                      {"stroke", "#777777"}});
        svg_.text({x + 34, y}, "too few inspected to say");
        svg_.element("circle", {{"cx", x + 13}, {"cy", y + 19}, {"r", 3.4}, {"fill", "#000000"}});
        svg_.text({x + 34, y + 24}, "decayed pole");
        svg_.element("circle",
                     {{"cx", x + 13},
                      {"cy", y + 43},
                      {"r", 3.0},
                      {"fill", "#ffffff"},
                      {"stroke", "#555555"}});
        svg_.text({x + 34, y + 48},
                  population_.places.size() <= kMostDots ? "other inspected pole"
                                                         : "other inspected poles are not drawn");
        svg_.line(
            {x, y + 67}, {x + 26, y + 67}, {{"stroke", kClusterColour}, {"stroke-width", 3.2}});
        svg_.text({x + 34, y + 72}, "cluster in a straight line (S)");
        svg_.line({x, y + 91},
                  {x + 26, y + 91},
                  {{"stroke", kNetworkColour}, {"stroke-width", 2}, {"stroke-dasharray", "7 4"}});
        svg_.text({x + 34, y + 96}, "cluster along the spans (N)");
    }

    /// A round number of metres, about a fifth of the width.
    void scale_bar(double y) {
        const double wanted = kWidth / 5.0 / scale_.per_metre();
        const double power = std::pow(10.0, std::floor(std::log10(wanted)));
        const double metres = wanted >= 5 * power   ? 5 * power
                              : wanted >= 2 * power ? 2 * power
                                                    : power;
        const double length = metres * scale_.per_metre();
        const double x = kWidth - length - 10;
        svg_.line({x, y - 8}, {x + length, y - 8}, {{"stroke", "#111"}, {"stroke-width", 3}});
        svg_.text(
            {x + length, y - 16},
            metres >= 1000 ? plain_number(metres / 1000) + " km" : plain_number(metres) + " m",
            {{"text-anchor", "end"}});
        svg_.text({kWidth - 10, y - 44}, "north is up", {{"text-anchor", "end"}});
    }

    const Population& population_;
    const ClusterResults& results_;
    MapScale scale_;
    SvgWriter& svg_;
    const AssessedSpans& spans_;
    const AssessedData& data_;
};

}  // namespace

int rate_class(double share, double rate_of_all) {
    if (share == 0.0) {
        return 0;
    }
    const double times = share / rate_of_all;
    return times < 0.75 ? 1 : times < 1.5 ? 2 : times < 3.0 ? 3 : 4;
}

std::string rate_class_words(int rate_class, double rate_of_all) {
    const auto percent = [&](double times) {
        return fmt::format("{:.1f} %", std::min(100.0, 100.0 * times * rate_of_all));
    };
    switch (rate_class) {
        case 0:
            return "none decayed";
        case 1:
            return "under three quarters of the rate of all (" + percent(0.75) + ")";
        case 2:
            return "about the rate of all (to " + percent(1.5) + ")";
        case 3:
            return "above it (to " + percent(3.0) + ")";
        default:
            return "three times the rate of all or more";
    }
}

const char* rate_class_fill(int rate_class) {
    // One hue, by lightness: told apart by everyone, and in print without colour.
    constexpr const char* kFills[kRateClasses] = {
        "#f3f6fa", "#dbe6f2", "#b2cbe4", "#7ba6cf", "#4a7fb5"};
    return kFills[rate_class];
}

std::string cluster_map(const AssessedData& data,
                        const Population& population,
                        const ClusterResults& results) {
    if (population.places.empty()) {
        return {};
    }
    SvgWriter svg{
        kWidth,
        kSvgHeading + MapDrawing::height_of(population),
        "Map of decayed poles, rates and clusters",
        "Inspected poles in their places, cells shaded by the share of decayed poles, and "
        "the outlines of the clusters that the tables name.",
        "",
        SvgForm::fragment};
    MapDrawing{data, population, results, svg}.draw();
    return svg.finish();
}

}  // namespace linewood
