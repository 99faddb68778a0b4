#include "src/corridor/verdict_mark.hpp"

#include <array>
#include <string>
#include <utility>

namespace linewood {
namespace {

void square(SvgWriter& svg, SvgPoint at, double half, const char* look) {
    svg.element("rect",
                {{"class", look},
                 {"x", at.x - half},
                 {"y", at.y - half},
                 {"width", 2.0 * half},
                 {"height", 2.0 * half}});
}

void circle(SvgWriter& svg, SvgPoint at, double radius, const char* look) {
    svg.element("circle", {{"class", look}, {"cx", at.x}, {"cy", at.y}, {"r", radius}});
}

void diamond(SvgWriter& svg, SvgPoint at, double half) {
    svg.element("path",
                {{"class", "lw-badge"},
                 {"d",
                  svg_path({{{at.x, at.y - half},
                             {at.x + half, at.y},
                             {at.x, at.y + half},
                             {at.x - half, at.y}}})}});
}

}  // namespace

void draw_verdict_mark(SvgWriter& svg, SvgPoint at, Verdict verdict, bool now, double half) {
    if (now) {
        square(svg, at, half + 5.0, "lw-badge");
    }
    switch (verdict) {
        case Verdict::replace:
            square(svg, at, half, "lw-solid");
            return;
        case Verdict::stub:
            square(svg, at, half, "lw-badge");
            svg.element("rect",
                        {{"class", "lw-solid"},
                         {"x", at.x - half},
                         {"y", at.y},
                         {"width", 2.0 * half},
                         {"height", half}});
            return;
        case Verdict::treat:
            circle(svg, at, half, "lw-badge");
            circle(svg, at, half * 0.4, "lw-solid");
            return;
        case Verdict::serviceable:
            circle(svg, at, half * 0.75, "lw-badge");
            return;
        case Verdict::unassessed:
            diamond(svg, at, half);
            return;
    }
}

double draw_mark_key(SvgWriter& svg, SvgPoint at) {
    struct Entry {
        Verdict verdict;
        bool now;
        const char* words;
        double width;
    };
    constexpr std::array<Entry, 6> kEntries{{{Verdict::replace, false, "replace", 88.0},
                                             {Verdict::stub, false, "stub", 66.0},
                                             {Verdict::replace, true, "cannot wait", 122.0},
                                             {Verdict::treat, false, "treat", 70.0},
                                             {Verdict::serviceable, false, "serviceable", 114.0},
                                             {Verdict::unassessed, false, "unassessed", 110.0}}};
    double x = at.x;
    for (const Entry& e : kEntries) {
        draw_verdict_mark(svg, {x + 12.0, at.y}, e.verdict, e.now, 7.0);
        svg.text({x + 28.0, at.y + 5.0}, e.words, {{"class", "lw-small"}});
        x += e.width + 16.0;
    }
    return x - at.x;
}

}  // namespace linewood
