#include "src/report/section_drawing_outline.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "assess/section/pieces.hpp"
#include "assess/section/remaining_section.hpp"
#include "assess/section/shell_profile.hpp"

namespace linewood {
namespace {

using polar::Band;
using polar::Bands;
using polar::Pieces;
using polar::Slot;
using polar::Vec;

constexpr double kStep = 2.0 * polar::kPi / 180.0;
constexpr double kRadialStep = 0.02;  // radii; steep spirals bend faster than arcs
constexpr double kSamePoint = 1e-9;   // radii

/// A stretch of boundary in the direction in which wood lies on its left (x north, y east).
using Edge = std::vector<Vec>;

/// A curve whose radius is linear in angle (an arc where it is constant), ends included.
void append_curve(double begin, double span, double r_begin, double r_end, Edge& to) {
    const double count = std::max(std::abs(span) / kStep, std::abs(r_end - r_begin) / kRadialStep);
    const int steps = std::max(1, static_cast<int>(std::ceil(count - 1e-9)));
    for (int i = 0; i <= steps; ++i) {
        const double part = static_cast<double>(i) / steps;
        to.push_back((r_begin + part * (r_end - r_begin)) * polar::direction(begin + part * span));
    }
}

double length_of(const Edge& e) {
    double length = 0.0;
    for (std::size_t i = 1; i < e.size(); ++i) {
        length += polar::norm(e[i] - e[i - 1]);
    }
    return length;
}

/// The boundary of one piece, in edges.
class Boundary {
public:
    Boundary(const std::vector<polar::Stretch>& stretches,
             const Bands& bands,
             const Pieces& pieces,
             int piece)
        : stretches_{stretches}, bands_{bands}, pieces_{pieces}, piece_{piece} {
        const auto& slots = bands.slots();
        for (std::size_t i = 0; i < slots.size(); ++i) {
            add_curves(slots[i]);
            add_ray(slots[i], slots[(i + 1) % slots.size()]);
        }
    }

    std::vector<Edge> edges() && { return std::move(edges_); }

private:
    void add(Edge e) {
        if (length_of(e) > polar::kThin) {
            edges_.push_back(std::move(e));
        }
    }

    void add_curves(const Slot& slot) {
        for (std::size_t b = slot.first_band; b < slot.last_band; ++b) {
            if (pieces_.of_band(b) != piece_) {
                continue;
            }
            const Band& band = bands_.all()[b];
            Edge outer;
            append_curve(slot.begin, slot.span, band.outer, band.outer, outer);
            add(std::move(outer));
            if (band.inner < 0) {
                continue;
            }
            const auto kind = stretches_[static_cast<std::size_t>(band.inner)].high.kind;
            Edge inner;
            if (kind == polar::Curve::Kind::edge) {
                inner = {band.inner_last * slot.last_ray, band.inner_first * slot.first_ray};
            } else {
                append_curve(
                    slot.begin + slot.span, -slot.span, band.inner_last, band.inner_first, inner);
            }
            add(std::move(inner));
        }
    }

    /// Wood on one side only of the ray between two slots.
    void add_ray(const Slot& here, const Slot& next) {
        std::vector<double> cuts;
        for (std::size_t b = here.first_band; b < here.last_band; ++b) {
            cuts.push_back(bands_.all()[b].inner_last);
            cuts.push_back(bands_.all()[b].outer);
        }
        for (std::size_t b = next.first_band; b < next.last_band; ++b) {
            cuts.push_back(bands_.all()[b].inner_first);
            cuts.push_back(bands_.all()[b].outer);
        }
        std::sort(cuts.begin(), cuts.end());
        for (std::size_t i = 1; i < cuts.size(); ++i) {
            const double middle = 0.5 * (cuts[i - 1] + cuts[i]);
            const bool wood_here = holds(here, middle, &Band::inner_last);
            const bool wood_next = holds(next, middle, &Band::inner_first);
            if (wood_here && !wood_next) {
                add({cuts[i] * here.last_ray, cuts[i - 1] * here.last_ray});
            } else if (wood_next && !wood_here) {
                add({cuts[i - 1] * here.last_ray, cuts[i] * here.last_ray});
            }
        }
    }

    bool holds(const Slot& slot, double radius, double Band::*inner) const {
        for (std::size_t b = slot.first_band; b < slot.last_band; ++b) {
            const Band& band = bands_.all()[b];
            if (pieces_.of_band(b) == piece_ && band.*inner < radius && radius < band.outer) {
                return true;
            }
        }
        return false;
    }

    const std::vector<polar::Stretch>& stretches_;
    const Bands& bands_;
    const Pieces& pieces_;
    int piece_;
    std::vector<Edge> edges_;
};

void append_points(const Edge& edge, Edge& ring) {
    for (const Vec p : edge) {
        if (ring.empty() || polar::norm(p - ring.back()) > kSamePoint) {
            ring.push_back(p);
        }
    }
}

/// Edges joined end to end. Where several begin at one point any choice fills the same area.
std::vector<Edge> rings_of(std::vector<Edge> edges) {
    std::vector<Edge> rings;
    while (!edges.empty()) {
        Edge ring;
        append_points(edges.back(), ring);
        edges.pop_back();
        while (!edges.empty()) {
            const auto gap = [&](const Edge& e) { return polar::norm(e.front() - ring.back()); };
            const auto next =
                std::min_element(edges.begin(), edges.end(), [&](const Edge& a, const Edge& b) {
                    return gap(a) < gap(b);
                });
            if (polar::norm(ring.front() - ring.back()) <= gap(*next)) {
                break;
            }
            append_points(*next, ring);
            edges.erase(next);
        }
        if (ring.size() > 1 && polar::norm(ring.front() - ring.back()) <= kSamePoint) {
            ring.pop_back();
        }
        rings.push_back(std::move(ring));
    }
    return rings;
}

PlanRing to_plan(const Edge& ring, double radius) {
    PlanRing plan;
    plan.reserve(ring.size());
    for (const Vec p : ring) {
        plan.push_back({p.y * radius, p.x * radius});
    }
    return plan;
}

/// Half of the outline of a pocket that opens along +x, from the middle of its mouth to the middle of
/// its bottom, on the side y >= 0; lengths in radii.
Edge half_pocket(double half, double depth) {
    Edge e;
    const double mouth = std::asin(std::min(1.0, half));
    const double bottom = 1.0 - depth;
    if (bottom > 0.0) {
        append_curve(0.0, mouth, 1.0, 1.0, e);
        if (half < bottom) {
            const double foot = std::asin(half / bottom);
            append_curve(foot, -foot, bottom, bottom, e);
        } else {
            e.push_back({0.0, std::min(1.0, half)});
            append_curve(0.5 * polar::kPi, -0.5 * polar::kPi, bottom, bottom, e);
        }
        return e;
    }
    const double floor = std::max(bottom, -1.0);
    const double floor_rim = std::acos(floor);  // where the floor meets the rim
    if (half >= std::sin(floor_rim)) {
        // The sides leave the disc before the floor: around to the floor by the rim.
        append_curve(0.0, mouth, 1.0, 1.0, e);
        append_curve(polar::kPi - mouth, floor_rim - (polar::kPi - mouth), 1.0, 1.0, e);
    } else {
        append_curve(0.0, mouth, 1.0, 1.0, e);
        e.push_back({floor, half});
    }
    e.push_back({floor, 0.0});
    return e;
}

}  // namespace

std::vector<DrawnPiece> remaining_outline(const SectionShape& shape) {
    const double radius = shape.radius.metres();
    std::vector<DrawnPiece> drawn;
    if (!(radius > 0.0)) {
        return drawn;
    }
    const auto stretches = polar::stretches_of(shape);
    const Bands bands{stretches};
    const Pieces pieces{bands};
    const int carrying = RemainingSection{shape}.carrying_piece();
    for (int i = 0; i < pieces.count(); ++i) {
        DrawnPiece piece;
        piece.carries = carrying < 0 || i == carrying;
        piece.area = pieces.moments(i).area * radius * radius;
        for (const Edge& ring : rings_of(Boundary{stretches, bands, pieces, i}.edges())) {
            piece.rings.push_back(to_plan(ring, radius));
        }
        drawn.push_back(std::move(piece));
    }
    return drawn;
}

PlanRing pocket_outline(const SectionShape& shape, const Pocket& pocket) {
    const double radius = shape.radius.metres();
    assert(radius > 0.0);
    const Edge half = half_pocket(std::min(0.5 * (pocket.width / shape.radius), 1.0),
                                  pocket.depth / shape.radius);
    const Vec outward = polar::direction(pocket.azimuth.radians());
    const Vec across{-outward.y, outward.x};
    Edge ring;
    for (const Vec p : half) {
        ring.push_back(p.x * outward + p.y * across);
    }
    for (std::size_t i = half.size() - 1; i-- > 1;) {
        ring.push_back(half[i].x * outward - half[i].y * across);
    }
    return to_plan(ring, radius);
}

PlanRing void_outline(const SectionShape& shape) {
    const ShellProfile profile{shape};
    const double radius = shape.radius.metres();
    const auto& readings = profile.readings();
    const bool any = std::any_of(
        readings.begin(), readings.end(), [](const auto& r) { return r.thickness < 1.0; });
    if (!any || !(radius > 0.0)) {
        return {};
    }
    Edge ring;
    for (std::size_t i = 0; i < readings.size(); ++i) {
        const auto& here = readings[i];
        const auto& next = readings[(i + 1) % readings.size()];
        const double turn = Bearing::wrap(next.azimuth - here.azimuth, 360.0);
        append_curve(Angle::degrees(here.azimuth).radians(),
                     Angle::degrees(turn > 0.0 ? turn : 360.0).radians(),
                     1.0 - here.thickness,
                     1.0 - next.thickness,
                     ring);
        ring.pop_back();  // the next stretch begins there
    }
    return to_plan(ring, radius);
}

}  // namespace linewood
