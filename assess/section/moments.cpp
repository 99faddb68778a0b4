#include "assess/section/moments.hpp"

#include <array>
#include <cmath>

namespace linewood::polar {

namespace {

struct Node {
    double at;      // in [-1, 1]
    double weight;  // sums to 2
};

// Gauss-Legendre, 8 points: roots of P8 and their weights, as in any table of the rule; the tests
// check that the rule integrates powers up to 15 exactly.
constexpr std::array<Node, 4> kHalfRule = {{{0.1834346424956498049, 0.3626837833783619830},
                                            {0.5255324099163289858, 0.3137066458778872873},
                                            {0.7966664774136267396, 0.2223810344533744706},
                                            {0.9602898564975362317, 0.1012285362903762591}}};

void add_ray(Moments& sum, double r, double angle, double weight) {
    const Vec u = direction(angle);
    const double r2 = r * r;
    const double first = weight * r2 * r / 3.0;
    const double second = weight * r2 * r2 / 4.0;
    sum.area += weight * r2 / 2.0;
    sum.x += first * u.x;
    sum.y += first * u.y;
    sum.xx += second * u.x * u.x;
    sum.xy += second * u.x * u.y;
    sum.yy += second * u.y * u.y;
}

}  // namespace

Moments& Moments::operator+=(const Moments& o) {
    area += o.area;
    x += o.x;
    y += o.y;
    xx += o.xx;
    xy += o.xy;
    yy += o.yy;
    return *this;
}

Moments& Moments::operator-=(const Moments& o) {
    area -= o.area;
    x -= o.x;
    y -= o.y;
    xx -= o.xx;
    xy -= o.xy;
    yy -= o.yy;
    return *this;
}

Moments Moments::about(Vec o) const {
    return {area,
            x - o.x * area,
            y - o.y * area,
            xx - 2.0 * o.x * x + o.x * o.x * area,
            xy - o.x * y - o.y * x + o.x * o.y * area,
            yy - 2.0 * o.y * y + o.y * o.y * area};
}

Moments under_arc(double r, double begin, double span) {
    return under_arc(r, direction(begin), direction(begin + span), span);
}

Moments under_arc(double r, Vec begin, Vec end, double span) {
    const double r2 = r * r;
    const double r4 = r2 * r2;
    // Integrals over the angle: of cos^2, sin cos and sin^2.
    const double bow = 0.5 * (end.x * end.y - begin.x * begin.y);
    const double twist = 0.5 * (end.y * end.y - begin.y * begin.y);
    return {0.5 * r2 * span,
            r2 * r / 3.0 * (end.y - begin.y),
            r2 * r / 3.0 * (begin.x - end.x),
            0.25 * r4 * (0.5 * span + bow),
            0.25 * r4 * twist,
            0.25 * r4 * (0.5 * span - bow)};
}

Moments under_edge(Vec p, Vec q) {
    const double area = 0.5 * cross(p, q);
    return {area,
            area / 3.0 * (p.x + q.x),
            area / 3.0 * (p.y + q.y),
            area / 6.0 * (p.x * p.x + p.x * q.x + q.x * q.x),
            area / 12.0 * (2.0 * p.x * p.y + p.x * q.y + q.x * p.y + 2.0 * q.x * q.y),
            area / 6.0 * (p.y * p.y + p.y * q.y + q.y * q.y)};
}

Moments under_spiral(double r0, double slope, double begin, double span) {
    const int panels = 1 + static_cast<int>(std::abs(span) / (0.5 * kPi));
    const double half = 0.5 * span / panels;
    Moments sum;
    for (int panel = 0; panel < panels; ++panel) {
        const double middle = (2 * panel + 1) * half;
        for (const Node& node : kHalfRule) {
            for (const double at : {middle - node.at * half, middle + node.at * half}) {
                add_ray(sum, r0 + slope * at, begin + at, node.weight * half);
            }
        }
    }
    return sum;
}

Moments under_strip(double r, double h) {
    const double r2 = r * r;
    const double h2 = h * h;
    const double bow = h * std::sqrt(r2 - h2);
    const double arc = r2 * std::asin(h / r);
    return {bow + arc,
            h * (r2 - h2 / 3.0),
            0.0,
            (bow * (5.0 * r2 - 2.0 * h2) + 3.0 * r2 * arc) / 12.0,
            0.0,
            (bow * (2.0 * h2 - r2) + r2 * arc) / 4.0};
}

}  // namespace linewood::polar
