#include "geo/shape/carried_path.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace linewood {
namespace {

constexpr int kMostHalvings = 14;

struct Carried {
    Point own;
    Point there;

    bool placed() const { return std::isfinite(there.x) && std::isfinite(there.y); }
};

Point between(Point a, Point b, double share) {
    return {a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)};
}

double distance_to(Point p, Point a, Point b) {
    const double dx = b.x - a.x;
    const double dy = b.y - a.y;
    const double square = dx * dx + dy * dy;
    const double t =
        square > 0.0 ? std::clamp(((p.x - a.x) * dx + (p.y - a.y) * dy) / square, 0.0, 1.0) : 0.0;
    return std::hypot(p.x - (a.x + t * dx), p.y - (a.y + t * dy));
}

class Carrying {
public:
    Carrying(double tolerance, const std::function<Point(Point)>& carry)
        : tolerance_{tolerance}, carry_{carry} {}

    Carried at(Point own) const { return {own, carry_(own)}; }
    void add(const Carried& c) {
        if (c.placed()) {
            out_.push_back(c.there);
        }
    }
    /// What lies between two points, without them.
    void edge(const Carried& a, const Carried& b, int halvings) {
        if (halvings == 0 || keeps_straight(a, b)) {
            return;
        }
        const Carried middle = at(between(a.own, b.own, 0.5));
        edge(a, middle, halvings - 1);
        add(middle);
        edge(middle, b, halvings - 1);
    }
    std::vector<Point> take() { return std::move(out_); }

private:
    bool keeps_straight(const Carried& a, const Carried& b) const {
        for (const double share : {1.0 / 3.0, 2.0 / 3.0}) {
            const Carried c = at(between(a.own, b.own, share));
            if (c.placed() != a.placed() || c.placed() != b.placed()) {
                return false;
            }
            if (c.placed() && !(distance_to(c.there, a.there, b.there) <= tolerance_)) {
                return false;
            }
        }
        return true;
    }

    double tolerance_;
    const std::function<Point(Point)>& carry_;
    std::vector<Point> out_;
};

}  // namespace

std::vector<Point> carried_path(const std::vector<Point>& path,
                                bool ring,
                                double tolerance,
                                const std::function<Point(Point)>& carry) {
    Carrying carrying{tolerance, carry};
    if (path.empty()) {
        return {};
    }
    const Carried first = carrying.at(path.front());
    carrying.add(first);
    Carried last = first;
    for (std::size_t i = 1; i < path.size(); ++i) {
        const Carried next = carrying.at(path[i]);
        carrying.edge(last, next, kMostHalvings);
        carrying.add(next);
        last = next;
    }
    if (ring) {
        carrying.edge(last, first, kMostHalvings);
    }
    return carrying.take();
}

}  // namespace linewood
