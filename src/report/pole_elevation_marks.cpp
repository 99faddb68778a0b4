#include "src/report/pole_elevation_marks.hpp"

#include <algorithm>
#include <string_view>

namespace linewood {

void draw_zigzag(SvgWriter& svg, double y, double left, double right) {
    std::string points;
    const int teeth = std::max(2, static_cast<int>((right - left) / 9.0));
    for (int i = 0; i <= teeth; ++i) {
        points += i == 0 ? "" : " ";
        points += svg_number(left + (right - left) * i / teeth) + ",";
        points += svg_number(y + (i % 2 == 0 ? -3.5 : 3.5));
    }
    svg.element("polyline", {{"class", "lw-thin"}, {"points", points}});
}

void draw_defect_mark(SvgWriter& svg, DefectKind kind, SvgPoint at, double half) {
    switch (kind) {
        case DefectKind::external_pocket: {
            const double x = at.x - half;
            svg.element("path",
                        {{"class", "lw-notch"},
                         {"d",
                          svg_path({{{x - 1.0, at.y - 11.0},
                                     {x + half * 0.4, at.y - 7.0},
                                     {x + half * 0.4, at.y + 7.0},
                                     {x - 1.0, at.y + 11.0}}})}});
            return;
        }
        case DefectKind::internal_rot:
            svg.element("ellipse",
                        {{"class", "lw-void"},
                         {"cx", at.x},
                         {"cy", at.y},
                         {"rx", half * 0.45},
                         {"ry", std::min(13.0, half * 0.45)}});
            return;
        case DefectKind::shell_rot:
            for (const double side : {-1.0, 1.0}) {
                const double x = at.x + side * (half - 3.5);
                svg.line({x, at.y - 10.0},
                         {x, at.y + 10.0},
                         {{"class", "lw-bore"}, {"stroke-dasharray", "3 3"}});
            }
            return;
        case DefectKind::bore:
            svg.element(
                "circle",
                {{"class", "lw-ring"}, {"cx", at.x + half * 0.7}, {"cy", at.y}, {"r", 4.5}});
            return;
    }
}

void draw_section_mark(SvgWriter& svg, SvgPoint at, double half, bool known) {
    const SvgPoint left{at.x - half, at.y};
    const SvgPoint right{at.x + half, at.y};
    svg.line(left, right, {{"class", "lw-halo"}});
    svg.line(left, right, {{"class", known ? "lw-bore" : "lw-unsure"}});
    for (const double x : {left.x, right.x}) {
        svg.line({x, at.y - 5.0}, {x, at.y + 5.0}, {{"class", "lw-bore"}});
    }
}

void draw_extent_mark(SvgWriter& svg, double x, double top, double bottom) {
    svg.line({x, top}, {x, bottom}, {{"class", "lw-bore"}});
    for (const double y : {top, bottom}) {
        svg.line({x - 4.0, y}, {x + 4.0, y}, {{"class", "lw-thin"}});
    }
}

namespace {

constexpr double kRow = 25.0;
constexpr double kSwatch = 30.0;

/// One column of the legend: a sign, then words, row by row.
class LegendColumn {
public:
    LegendColumn(SvgWriter& svg, double x, double top) : svg_{svg}, x_{x}, y_{top} {}

    /// Middle of the sign of the next row.
    SvgPoint sign() const { return {x_ + kSwatch / 2.0, y_}; }
    void words(const std::string& text) {
        svg_.text({x_ + kSwatch + 12.0, y_ + 5.0}, text, {{"class", "lw-small"}});
        y_ += kRow;
    }
    void box(std::string_view look) {
        svg_.element(
            "rect",
            {{"class", look}, {"x", x_}, {"y", y_ - 7.0}, {"width", kSwatch}, {"height", 14.0}});
    }

private:
    SvgWriter& svg_;
    double x_;
    double y_;
};

}  // namespace

void draw_elevation_legend(
    SvgWriter& svg, const ElevationLegend& legend, double top, double left, double right) {
    constexpr double kHalf = kSwatch / 2.0;
    svg.line({left, top - 18.0}, {right, top - 18.0}, {{"class", "lw-rule"}});
    LegendColumn first{svg, left + 4.0, top};
    const bool sure = legend.girth_known && legend.taper_known;
    first.box(sure ? "lw-sound" : "lw-original");
    first.words(!legend.girth_known ? "girth not known: an even 40 in drawn"
                : sure              ? "sound pole, with its taper"
                                    : "sound pole, taper not known: even");
    first.box("lw-zone");
    first.words("groundline zone, up to " + legend.zone_top);
    draw_section_mark(svg, first.sign(), kHalf, true);
    first.words("section, its girth now; % governing");
    svg.line({first.sign().x - kHalf, first.sign().y},
             {first.sign().x + kHalf, first.sign().y},
             {{"class", "lw-level"}});
    first.words("groundline");
    for (const double dy : {-3.5, 3.5}) {
        draw_zigzag(svg, first.sign().y + dy, first.sign().x - kHalf, first.sign().x + kHalf);
    }
    first.words("scale changes; a single line: end unknown");

    LegendColumn second{svg, left + 362.0, top};
    const auto defect = [&](DefectKind kind, const char* words) {
        draw_defect_mark(svg, kind, second.sign(), kHalf);
        second.words(words);
    };
    defect(DefectKind::external_pocket, "pocket, open to the outside");
    defect(DefectKind::internal_rot, "internal rot");
    defect(DefectKind::bore, "bored and found sound");
    defect(DefectKind::shell_rot, "shell rot");
    draw_extent_mark(svg, second.sign().x, second.sign().y - 8.0, second.sign().y + 8.0);
    second.words("extent up and down");
    svg.text({left + 4.0, top + 5.0 * kRow + 5.0},
             "Heights in " + legend.height_unit +
                 " above the groundline. Widths are drawn larger than heights.",
             {{"class", "lw-small"}});
}

}  // namespace linewood
