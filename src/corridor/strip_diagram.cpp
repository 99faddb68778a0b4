#include "src/corridor/strip_diagram.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "src/corridor/verdict_mark.hpp"
#include "src/report/svg.hpp"

namespace linewood {
namespace {

constexpr double kWidth = 1000.0;
constexpr double kMargin = 72.0;
constexpr double kNameWidth = 64.0;  ///< before the first pole of a part
constexpr double kBetween = 40.0;    ///< after its last
constexpr double kHeight = 212.0;
constexpr double kLineY = kSvgHeading + 120.0;
constexpr double kLeastGap = 44.0;
constexpr double kMostGap = 150.0;
constexpr double kUsualGap = 62.0;
constexpr std::size_t kLeastInSegment = 4;  ///< or a new row is begun

double median_span(const StripPart& part) {
    std::vector<double> spans;
    for (std::size_t i = 1; i < part.poles.size(); ++i) {
        spans.push_back(part.poles[i].station_m - part.poles[i - 1].station_m);
    }
    if (spans.empty()) {
        return 1.0;
    }
    const auto middle = spans.begin() + static_cast<std::ptrdiff_t>(spans.size() / 2);
    std::nth_element(spans.begin(), middle, spans.end());
    return std::max(*middle, 1e-3);
}

/// Poles of one part that stand in one row, each at its place across the page.
struct Segment {
    const StripPart* part = nullptr;
    std::size_t first = 0;
    std::vector<double> x;
    std::vector<bool> broken;  ///< the span that leads to the pole is drawn shorter than it is

    const StripPole& pole(std::size_t i) const { return part->poles[first + i]; }
    bool begins() const { return first == 0; }
    bool ends() const { return first + x.size() == part->poles.size(); }
};
using Row = std::vector<Segment>;

class RowPlanner {
public:
    void add(const StripPart& part) {
        const double unit = median_span(part);
        std::size_t next = 0;
        while (next < part.poles.size()) {
            // The last pole of a row begins the next one, so that no span is lost between them.
            const std::size_t first = next == 0 ? 0 : next - 1;
            Segment segment = segment_from(part, first, unit);
            const std::size_t wanted = std::min(part.poles.size() - first, kLeastInSegment);
            if (!rows_.back().empty() && segment.x.size() < wanted) {
                start_row();
                continue;
            }
            next = first + segment.x.size();
            cursor_ = segment.x.back() + kBetween;
            rows_.back().push_back(std::move(segment));
            if (next < part.poles.size()) {
                start_row();
            }
        }
    }
    std::vector<Row> take() { return std::move(rows_); }

private:
    void start_row() {
        rows_.emplace_back();
        cursor_ = 0.0;
    }

    Segment segment_from(const StripPart& part, std::size_t first, double unit) const {
        Segment segment{&part, first, {}, {}};
        double x = cursor_ + kNameWidth;
        bool broken = false;
        for (std::size_t i = first; i < part.poles.size() && x <= kWidth - kMargin; ++i) {
            segment.x.push_back(x);
            segment.broken.push_back(broken);
            if (i + 1 < part.poles.size()) {
                const double metres = part.poles[i + 1].station_m - part.poles[i].station_m;
                const double drawn = metres / unit * kUsualGap;
                x += std::clamp(drawn, kLeastGap, kMostGap);
                broken = drawn > kMostGap;
            }
        }
        return segment;
    }

    std::vector<Row> rows_{Row{}};
    double cursor_ = 0.0;
};

std::string metres_text(double m) {
    const std::string digits = fmt::format("{:.0f}", m);
    return digits == "-0" ? "0" : digits;
}

class RowDrawing {
public:
    explicit RowDrawing(const Row& row)
        : row_{row},
          svg_{kWidth,
               kSvgHeading + kHeight,
               fmt::format("Strip of {} to {}",
                           row.front().pole(0).id,
                           row.back().pole(row.back().x.size() - 1).id),
               "Poles in the order of the line, with stations in metres",
               "",
               SvgForm::fragment} {}

    std::string draw() {
        for (const Segment& segment : row_) {
            draw_segment(segment);
        }
        return svg_.finish();
    }

private:
    void draw_segment(const Segment& s) {
        svg_.text({s.x.front() - 20.0, kLineY + 5.0},
                  s.part->name,
                  {{"class", "lw-small lw-bold"}, {"text-anchor", "end"}});
        if (!s.begins()) {
            goes_on(s.x.front(), -1.0);
        }
        if (!s.ends()) {
            goes_on(s.x.back(), 1.0);
        }
        for (std::size_t i = 1; i < s.x.size(); ++i) {
            draw_span(s, i);
        }
        for (std::size_t i = 0; i < s.x.size(); ++i) {
            draw_pole(s.pole(i), s.x[i]);
        }
    }

    /// The line goes on in the row before or after.
    void goes_on(double x, double side) {
        svg_.line({x, kLineY}, {x + side * 18.0, kLineY}, {{"class", "lw-across"}});
    }

    void draw_span(const Segment& s, std::size_t i) {
        const double a = s.x[i - 1];
        const double b = s.x[i];
        svg_.line({a, kLineY}, {b, kLineY}, {{"class", "lw-bore"}});
        const double middle = (a + b) / 2.0;
        if (s.broken[i]) {
            svg_.line({middle - 5.0, kLineY}, {middle + 5.0, kLineY}, {{"class", "lw-halo"}});
            for (const double side : {-5.0, 5.0}) {
                svg_.line({middle + side - 3.0, kLineY + 9.0},
                          {middle + side + 3.0, kLineY - 9.0},
                          {{"class", "lw-thin"}});
            }
        }
        svg_.text({middle, kLineY + 48.0},
                  metres_text(s.pole(i).station_m - s.pole(i - 1).station_m),
                  {{"class", "lw-small"}, {"text-anchor", "middle"}});
    }

    void draw_pole(const StripPole& p, double x) {
        draw_role(p, x);
        draw_verdict_mark(svg_, {x, kLineY}, p.verdict, p.now, 8.0);
        const std::string turn =
            "rotate(-55 " + svg_number(x + 4.0) + " " + svg_number(kLineY - 20.0) + ")";
        svg_.text({x + 4.0, kLineY - 20.0},
                  svg_shortened(p.label, kStripIdLetters),
                  {{"class", "lw-small"}, {"transform", turn}});
        svg_.text({x, kLineY + 30.0},
                  metres_text(p.station_m),
                  {{"class", "lw-small lw-bold"}, {"text-anchor", "middle"}});
        if (!p.mark.empty()) {
            svg_.text({x, kLineY + 84.0},
                      svg_shortened(p.mark, kStripMarkLetters),
                      {{"class", "lw-small"}, {"text-anchor", "middle"}});
        }
    }

    void draw_role(const StripPole& p, double x) {
        const double y = kLineY + 66.0;
        switch (p.role) {
            case LineRole::angle:
                svg_.element("polyline",
                             {{"class", "lw-thin"},
                              {"points",
                               svg_number(x - 17.0) + "," + svg_number(y - 9.0) + " " +
                                   svg_number(x - 24.0) + "," + svg_number(y) + " " +
                                   svg_number(x - 12.0) + "," + svg_number(y)}});
                svg_.text(
                    {x - 8.0, y},
                    p.deflection_deg ? fmt::format("{:.0f}°", *p.deflection_deg) : std::string{"?"},
                    {{"class", "lw-small"}});
                return;
            case LineRole::dead_end:
                svg_.line({x, kLineY - 17.0}, {x, kLineY + 17.0}, {{"class", "lw-bore"}});
                return;
            case LineRole::junction:
                svg_.line({x, kLineY}, {x + 14.0, kLineY + 15.0}, {{"class", "lw-bore"}});
                svg_.line({x, kLineY}, {x - 14.0, kLineY + 15.0}, {{"class", "lw-bore"}});
                return;
            case LineRole::tangent:
            case LineRole::isolated:
                return;
        }
    }

    const Row& row_;
    SvgWriter svg_;
};

}  // namespace

std::vector<std::string> strip_rows(const std::vector<StripPart>& parts) {
    RowPlanner planner;
    for (const StripPart& part : parts) {
        planner.add(part);
    }
    std::vector<std::string> drawings;
    for (const Row& row : planner.take()) {
        if (!row.empty()) {
            drawings.push_back(RowDrawing{row}.draw());
        }
    }
    return drawings;
}

}  // namespace linewood
