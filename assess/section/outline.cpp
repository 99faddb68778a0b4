#include "assess/section/outline.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "assess/section/bracket.hpp"

namespace linewood {

using namespace polar;  // NOLINT(google-build-using-namespace): the geometry of this room

namespace {

constexpr double kAgree = 1e-9;      // relative, between moduli
constexpr double kSameAxis = 1e-9;   // degrees
constexpr double kArcEnd = 1e-12;    // on cosines
constexpr double kFlattest = 1e-18;  // least second moment, R^4: under rounding, keeps J regular

bool holds(const RimArc& arc, Vec unit) { return dot(arc.middle, unit) >= arc.cos_half - kArcEnd; }

/// On the circle of radius `r` the local maxima of |J^-1 (p - c)| as unit vectors, at most two.
///
/// With J^-1 = diag(a, b) this is the distance from q = (a cx, b cy) to a point of the ellipse with
/// semi-axes a r, b r. Mirrored so that a >= b and q lies in the first quadrant, one maximum lies in
/// the third quadrant; a second one, where q is near enough to the centre (inside the evolute), lies
/// in the fourth, between the long axis and the angle of tan^3 t = F / E.
class FarthestOnCircle {
public:
    FarthestOnCircle(Vec compliance, Vec centre, double r) : swapped_{compliance.x < compliance.y} {
        if (swapped_) {
            std::swap(compliance.x, compliance.y);
            std::swap(centre.x, centre.y);
        }
        const double aa = compliance.x * compliance.x;
        const double bb = compliance.y * compliance.y;
        sign_ = {std::copysign(1.0, centre.x), std::copysign(1.0, centre.y)};
        d_ = (aa - bb) * r;
        e_ = aa * std::abs(centre.x);
        f_ = bb * std::abs(centre.y);
        if (f_ == 0.0) {
            add({-1.0, 0.0});
            add({1.0, 0.0});
        } else if (e_ == 0.0) {
            const double s = f_ < d_ ? f_ / d_ : 1.0;
            const double c = std::sqrt(1.0 - s * s);
            add({-c, -s});
            add({c, -s});
        } else {
            opposite_quadrant();
            same_side();
        }
    }

    const Vec* begin() const { return found_.data(); }
    const Vec* end() const { return found_.data() + count_; }

private:
    void opposite_quadrant() {
        const auto slope = [this](double t) {
            const double s = std::sin(t);
            const double c = std::cos(t);
            return Slope{e_ * s + d_ * s * c - f_ * c, e_ * c + d_ * (c * c - s * s) + f_ * s};
        };
        const Vec u = direction(bracketed_root(slope, 0.0, 0.5 * kPi));
        add({-u.x, -u.y});
    }

    void same_side() {
        const auto slope = [this](double t) {
            const double s = std::sin(t);
            const double c = std::cos(t);
            return Slope{d_ * s * c - e_ * s - f_ * c, d_ * (c * c - s * s) - e_ * c + f_ * s};
        };
        const double peak = std::atan(std::cbrt(f_ / e_));
        if (slope(peak).value > 0.0) {
            const Vec u = direction(bracketed_root(slope, 0.0, peak));
            add({u.x, -u.y});
        }
    }

    void add(Vec mirrored) {
        const Vec v{mirrored.x * sign_.x, mirrored.y * sign_.y};
        found_[count_] = swapped_ ? Vec{v.y, v.x} : v;
        ++count_;
    }

    bool swapped_;
    Vec sign_{};
    double d_;
    double e_;
    double f_;
    std::array<Vec, 2> found_{};
    std::size_t count_ = 0;
};

/// An arc as an interval of axis angle.
struct Cover {
    double begin;
    double end;
};

/// The widest stretch of axis angle that no cover holds. @param covers begins in [-pi, 2 pi), each
/// cover repeated every half turn, so that two full periods from 0 on are seen.
double widest_gap(std::vector<Cover>& covers) {
    std::sort(covers.begin(), covers.end(), [](Cover a, Cover b) { return a.begin < b.begin; });
    double reach = 0.0;
    double gap = 0.0;
    for (const Cover& c : covers) {
        gap = std::max(gap, c.begin - reach);
        reach = std::max(reach, c.end);
    }
    return gap;
}

}  // namespace

Outline::Outline(double radius, const Moments& moments)
    : radius_{radius}, area_{moments.area}, centroid_{moments.centroid()} {
    const Moments own = moments.about(centroid_);
    const double mean = 0.5 * (own.xx + own.yy);
    const double half_difference = 0.5 * (own.xx - own.yy);
    const double spread = std::hypot(half_difference, own.xy);
    const double angle = 0.5 * std::atan2(own.xy, half_difference);
    frame_ = Angle::radians(angle).degrees();
    axis_ = direction(angle);
    compliance_ = {1.0 / std::max(mean + spread, kFlattest),
                   1.0 / std::max(mean - spread, kFlattest)};
    centroid_ = to_frame(centroid_);
}

Outline Outline::symmetric(double radius, Bearing frame, const Moments& moments) {
    Outline o;
    o.radius_ = radius;
    o.area_ = moments.area;
    o.frame_ = frame.degrees();
    o.centroid_ = {moments.x / moments.area, 0.0};
    o.compliance_ = {1.0 / std::max(moments.xx - o.centroid_.x * moments.x, kFlattest),
                     1.0 / std::max(moments.yy, kFlattest)};
    return o;
}

Vec Outline::to_frame(Vec p) const { return {dot(axis_, p), cross(axis_, p)}; }

void Outline::add_arc(const RimArc& arc) {
    arcs_.push_back({to_frame(arc.middle), arc.cos_half, arc.radius});
}

/// Every point where |k.(p - centroid)| may be greatest, with that value.
template <typename See>
void Outline::for_each_extreme(Vec k, const See& see) const {
    const double at_centroid = dot(k, centroid_);
    for (const Vec& p : corners_) {
        see(std::abs(dot(k, p) - at_centroid), p);
    }
    const double length = norm(k);
    for (const RimArc& arc : arcs_) {
        const double along = dot(k, arc.middle);
        const double least = (arc.cos_half - kArcEnd) * length;
        if (along >= least) {
            see(std::abs(arc.radius * length - at_centroid), (arc.radius / length) * k);
        }
        if (-along >= least) {
            see(std::abs(arc.radius * length + at_centroid), (-arc.radius / length) * k);
        }
    }
}

double Outline::modulus(Bearing load) const {
    const Vec e = direction(Angle::degrees(load.degrees() - frame_).radians());
    const Vec k{e.x * compliance_.x, e.y * compliance_.y};
    double greatest = 0.0;
    for_each_extreme(k, [&](double stress, Vec /*p*/) { greatest = std::max(greatest, stress); });
    return greatest > 0.0 ? radius_ * radius_ * radius_ / greatest : 0.0;
}

ExtremeFibre Outline::extreme_fibre(Bearing load) const {
    const Vec e = direction(Angle::degrees(load.degrees() - frame_).radians());
    const Vec k{e.x * compliance_.x, e.y * compliance_.y};
    double greatest = 0.0;
    Vec at{0.0, 0.0};
    for_each_extreme(k, [&](double stress, Vec p) {
        if (stress > greatest) {
            greatest = stress;
            at = p;
        }
    });
    if (!(greatest > 0.0)) {
        return {};
    }
    const double r4 = radius_ * radius_ * radius_ * radius_;
    const Vec p = to_east_north(at);
    const Vec turned = to_east_north(k);
    return {radius_ * p.x,
            radius_ * p.y,
            turned.x / r4,
            turned.y / r4,
            radius_ * radius_ * radius_ / greatest};
}

BendingFigures Outline::figures() const {
    if (!(radius_ > 0.0)) {
        return {};
    }
    const double r4 = radius_ * radius_ * radius_ * radius_;
    const Vec along = to_east_north({1.0, 0.0});
    const double first = r4 / compliance_.x;
    const double second = r4 / compliance_.y;
    const Vec c = to_east_north(centroid_);
    return {area_ * radius_ * radius_,
            radius_ * c.x,
            radius_ * c.y,
            first * along.x * along.x + second * along.y * along.y,
            (first - second) * along.x * along.y,
            first * along.y * along.y + second * along.x * along.x};
}

/// A vector of the frame as east and north.
Vec Outline::to_east_north(Vec in_frame) const {
    const Vec axis = direction(Angle::degrees(frame_).radians());  // north, east
    return {in_frame.x * axis.y + in_frame.y * axis.x, in_frame.x * axis.x - in_frame.y * axis.y};
}

Vec Outline::per_stress(Vec p) const {
    return {(p.x - centroid_.x) * compliance_.x, (p.y - centroid_.y) * compliance_.y};
}

Outline::Candidates Outline::extreme_stresses() const {
    Candidates found;
    for (const Vec& p : corners_) {
        found.push_back(per_stress(p));
    }
    for (const RimArc* arc = arcs_.begin(); arc != arcs_.end(); ++arc) {
        const auto same = [arc](const RimArc& other) { return other.radius == arc->radius; };
        if (std::any_of(arcs_.begin(), arc, same)) {
            continue;  // solved with the first arc of this circle
        }
        for (const Vec u : FarthestOnCircle{compliance_, centroid_, arc->radius}) {
            const auto on = [&](const RimArc& other) { return same(other) && holds(other, u); };
            if (std::any_of(arc, arcs_.end(), on)) {
                found.push_back(per_stress(arc->radius * u));
            }
        }
    }
    return found;
}

double Outline::azimuth_of(Vec v) const {
    const double a = Bearing::wrap(frame_ + Angle::radians(std::atan2(v.y, v.x)).degrees(), 180.0);
    return a > 180.0 - kSameAxis ? 0.0 : a;
}

WeakestDirection Outline::weakest() const {
    const Candidates found = extreme_stresses();
    double greatest = 0.0;
    for (const Vec& w : found) {
        greatest = std::max(greatest, dot(w, w));
    }
    if (!(greatest > 0.0)) {
        return {};
    }
    const double peak = std::sqrt(greatest);
    WeakestDirection weakest{radius_ * radius_ * radius_ / peak, {}};
    if (all_directions_agree(peak)) {
        return weakest;
    }
    double azimuth = 180.0;
    for (const Vec& w : found) {
        if (dot(w, w) >= greatest * (1.0 - 2.0 * kAgree)) {
            azimuth = std::min(azimuth, azimuth_of(w));
        }
    }
    weakest.axis = Axis::degrees(azimuth);
    return weakest;
}

/// All moduli agree only where J is the same all round, the centroid is the disc's centre and the
/// rim, taken with its mirror image through the centre, is a whole circle. A gap g in that circle
/// lowers the stress in its middle by the factor cos(g / 2).
bool Outline::all_directions_agree(double greatest) const {
    double rim = 0.0;
    for (const RimArc& arc : arcs_) {
        rim = std::max(rim, arc.radius);
    }
    const double softest = std::min(compliance_.x, compliance_.y) * (1.0 + kAgree);
    const double off = norm(centroid_);
    return greatest <= softest * (rim - off) &&
           greatest <= softest * (rim * std::cos(0.5 * largest_gap(rim)) - off);
}

double Outline::largest_gap(double radius) const {
    std::vector<Cover> covers;
    for (const RimArc& arc : arcs_) {
        if (arc.radius != radius) {
            continue;
        }
        if (arc.cos_half <= 0.0) {
            return 0.0;  // half the circle or more: with its mirror image, all of it
        }
        const double half = std::acos(std::min(arc.cos_half, 1.0));
        const double middle = std::atan2(arc.middle.y, arc.middle.x);
        double begin = wrap_turn(middle - half);
        begin = begin >= kPi ? begin - kPi : begin;
        for (const double shift : {-kPi, 0.0, kPi}) {
            covers.push_back({begin + shift, begin + shift + 2.0 * half});
        }
    }
    return covers.empty() ? kPi : widest_gap(covers);
}

}  // namespace linewood
