#include "assess/section/crossings.hpp"

#include <algorithm>
#include <cmath>

#include "assess/section/bracket.hpp"

namespace linewood::polar {

namespace {

constexpr double kParallel = 1e-13;

/// A curve together with the stretch it bounds.
struct Bound {
    const Curve& curve;
    const Stretch& stretch;
};

class Crossings {
public:
    Crossings(const Stretch& a, const Stretch& b, std::vector<double>& to)
        : a_{a}, b_{b}, to_{to} {}

    void of(const Bound& p, const Bound& q) {
        using Kind = Curve::Kind;
        if (q.curve.kind == Kind::arc) {
            of_arc(p, q.curve.size);
        } else if (p.curve.kind == Kind::arc) {
            of_arc(q, p.curve.size);
        } else if (p.curve.kind == Kind::edge && q.curve.kind == Kind::edge) {
            of_edges(p.curve, q.curve);
        } else if (p.curve.kind == Kind::edge) {
            of_edge_and_spiral(p.curve, q);
        } else if (q.curve.kind == Kind::edge) {
            of_edge_and_spiral(q.curve, p);
        }  // two spirals belong to the one void and do not overlap
    }

    void of_arc(const Bound& p, double radius) {
        const Curve& c = p.curve;
        if (c.kind == Curve::Kind::edge && c.size < radius) {
            const double half = std::acos(c.size / radius);
            add(c.normal - half);
            add(c.normal + half);
        } else if (c.kind == Curve::Kind::spiral) {
            const double offset = (radius - c.size) / c.slope;
            if (offset >= 0.0 && offset <= p.stretch.span) {
                add(p.stretch.begin + offset);
            }
        }
    }

private:
    void add(double angle) {
        const double in_turn = wrap_turn(angle);
        if (a_.holds(in_turn) && b_.holds(in_turn)) {
            to_.push_back(in_turn);
        }
    }

    void of_edges(const Curve& p, const Curve& q) {
        const double determinant = cross(p.unit, q.unit);
        if (std::abs(determinant) > kParallel) {
            const Vec meet = (1.0 / determinant) * Vec{p.size * q.unit.y - q.size * p.unit.y,
                                                       q.size * p.unit.x - p.size * q.unit.x};
            add(std::atan2(meet.y, meet.x));
        }
    }

    /// The spiral's range as seen from the edge's normal may lie a turn off: try each.
    void of_edge_and_spiral(const Curve& edge, const Bound& spiral) {
        const double sight = std::acos(std::min(edge.size, 1.0));
        for (int turn = -2; turn <= 2; ++turn) {
            const double begin = spiral.stretch.begin - edge.normal + turn * kTurn;
            const double from = std::max(begin, -sight);
            const double to = std::min(begin + spiral.stretch.span, sight);
            if (from < to) {
                within(edge, spiral.curve, begin, from, to);
            }
        }
    }

    /// r cos(angle) - distance rises to one peak and falls from it, wherever r >= 0 and the angle,
    /// counted from the edge's normal, is within a quarter turn: at each of its stationary points,
    /// slope = r tan(angle), the right side is rising.
    void within(const Curve& edge, const Curve& spiral, double begin, double from, double to) {
        const auto across = [&](double t) {
            const double r = spiral.size + spiral.slope * (t - begin);
            const double c = std::cos(t);
            const double s = std::sin(t);
            return Slope{r * c - edge.size, spiral.slope * c - r * s};
        };
        const auto rising = [&](double t) {
            const double r = spiral.size + spiral.slope * (t - begin);
            const double c = std::cos(t);
            const double s = std::sin(t);
            // Negated, since the root is bracketed from its falling side.
            return Slope{r * s - spiral.slope * c, r * c + 2.0 * spiral.slope * s};
        };
        double peak = from;
        if (across(from).derivative > 0.0) {
            peak = across(to).derivative < 0.0 ? bracketed_root(rising, from, to) : to;
        }
        if (across(peak).value <= 0.0) {
            return;
        }
        if (across(from).value < 0.0) {
            add(edge.normal + bracketed_root(across, from, peak));
        }
        if (across(to).value < 0.0) {
            add(edge.normal + bracketed_root(across, to, peak));
        }
    }

    const Stretch& a_;
    const Stretch& b_;
    std::vector<double>& to_;
};

bool overlap(const Stretch& a, const Stretch& b) { return a.holds(b.begin) || b.holds(a.begin); }

/// The rim bounds nothing new.
bool bounds_inside(const Curve& c) { return c.kind != Curve::Kind::arc || c.size < 1.0; }

}  // namespace

void append_crossings(const Stretch& a, const Stretch& b, std::vector<double>& angles) {
    if (a.cavity == b.cavity || !overlap(a, b)) {
        return;
    }
    Crossings crossings{a, b, angles};
    if (bounds_inside(a.high) && bounds_inside(b.high)) {
        crossings.of({a.high, a}, {b.high, b});
    }
    if (b.low > 0.0) {
        crossings.of_arc({a.high, a}, b.low);
    }
}

}  // namespace linewood::polar
