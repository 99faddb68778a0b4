#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <optional>
#include <vector>

#include "assess/section/shape.hpp"
#include "tests/support/geos_polygon.hpp"

namespace linewood::test {

/// The slow check on RemainingSection: cavities as dense polygons made from the inequalities of
/// SectionShape, cut from the disc by GEOS; area and moments by Green's theorem over the vertices;
/// greatest stress over all vertices. Shares no geometry with the code under test.
/// Coordinates in radii, x east, y north.
class PolygonSection {
public:
    static constexpr int kVertices = 1440;

    /// @param growth widens and deepens every cavity by this many radii: whether the pieces of a
    ///   section hang by a thread shows when they change with it.
    PolygonSection(const Geos& geos, const SectionShape& shape, double growth = 0.0)
        : geos_{geos}, radius_{shape.radius.metres()} {
        Geos::Shape left = geos.polygon(circle(1.0));
        for (const Pocket& p : shape.pockets) {
            cavities_.push_back(pocket(p, growth));
            local_.push_back(p.local);
        }
        if (!shape.shell.empty()) {
            cavities_.push_back(void_of(shape, growth));
            local_.push_back(shape.void_local);
        }
        for (const Geos::Shape& c : cavities_) {
            if (c) {
                left = geos.difference(left, c);
            }
        }
        for (Geos::Shape& part : geos.parts(left)) {
            if (geos.area(part) > kLeast) {
                pieces_.push_back(std::move(part));
            }
        }
        std::sort(pieces_.begin(), pieces_.end(), [&](const auto& a, const auto& b) {
            return geos.area(a) > geos.area(b);
        });
        choose();
    }

    int pieces() const { return static_cast<int>(pieces_.size()); }
    bool acts_together() const { return together_; }
    /// Metres squared.
    double area() const {
        double sum = 0.0;
        for (const auto& p : pieces_) {
            sum += geos_.area(p);
        }
        return sum * radius_ * radius_;
    }
    /// By how much the largest piece is larger than the next, as a share; 1 for one piece.
    double lead() const {
        return pieces_.size() < 2 ? 1.0 : 1.0 - geos_.area(pieces_[1]) / geos_.area(pieces_[0]);
    }
    /// Area of the smallest piece in squared radii; 0 where nothing is left.
    double smallest() const { return pieces_.empty() ? 0.0 : geos_.area(pieces_.back()); }
    double lost_share() const {
        if (pieces_.empty() || together_) {
            return 0.0;
        }
        return 1.0 - geos_.area(pieces_[0]) * radius_ * radius_ / area();
    }

    /// S(load), m^3. @param degrees bearing
    double modulus(double degrees) const {
        if (outline_.empty()) {
            return 0.0;
        }
        const double a = degrees * kDegree;
        const XY e{std::sin(a), std::cos(a)};
        const double det = xx_ * yy_ - xy_ * xy_;
        const XY k{(yy_ * e.x - xy_ * e.y) / det, (xx_ * e.y - xy_ * e.x) / det};
        double greatest = 0.0;
        for (const XY& p : outline_) {
            greatest = std::max(greatest, std::abs(k.x * p.x + k.y * p.y));
        }
        return radius_ * radius_ * radius_ / greatest;
    }

    /// The least modulus of a scan in steps of a quarter degree.
    double weakest() const {
        double least = std::numeric_limits<double>::infinity();
        for (int i = 0; i < 720; ++i) {
            least = std::min(least, modulus(0.25 * i));
        }
        return least;
    }

private:
    static constexpr double kDegree = 3.14159265358979323846 / 180.0;
    static constexpr double kLeast = 1e-9;
    static constexpr double kHair = 1e-9;

    static std::vector<XY> circle(double r) {
        std::vector<XY> ring;
        for (int i = 0; i < kVertices; ++i) {
            const double a = i * 360.0 / kVertices * kDegree;
            ring.push_back({r * std::sin(a), r * std::cos(a)});
        }
        return ring;
    }

    /// The strip |p.t| <= w/2 on the side p.n >= min(0, R - d), less the disc |p| < R - d.
    Geos::Shape pocket(const Pocket& p, double growth) const {
        const double half = std::min(0.5 * p.width.metres() / radius_ + growth + kHair, 3.0);
        const double floor = 1.0 - std::min(p.depth.metres() / radius_ + growth, 3.0);
        const double a = p.azimuth.degrees() * kDegree;
        const XY n{std::sin(a), std::cos(a)};
        const XY t{n.y, -n.x};
        const auto at = [&](double along, double across) {
            return XY{along * n.x + across * t.x, along * n.y + across * t.y};
        };
        // Cavities with a border in common leave no wood along it; without this hair, rounding might.
        const double back = std::min(0.0, floor) - kHair;
        if (half <= 0.0) {
            return {nullptr, Geos::Destroy{nullptr}};
        }
        const Geos::Shape strip =
            geos_.polygon({at(back, -half), at(back, half), at(3.0, half), at(3.0, -half)});
        return floor > 0.0 ? geos_.difference(strip, geos_.polygon(circle(floor)))
                           : geos_.unite(strip, strip);
    }

    /// r(a) <= R - t(a), t linear between the readings on either side of a.
    Geos::Shape void_of(const SectionShape& shape, double growth) const {
        std::vector<double> angles;
        angles.reserve(kVertices + shape.shell.size());
        for (int i = 0; i < kVertices; ++i) {
            angles.push_back(i * 360.0 / kVertices);
        }
        for (const ShellReading& r : shape.shell) {
            angles.push_back(r.azimuth.degrees());
        }
        std::sort(angles.begin(), angles.end());
        std::vector<XY> ring;
        double most = 0.0;
        for (const double degrees : angles) {
            const double t = shell(shape, degrees) / radius_;
            const double r = t < 1.0 ? std::max(0.0, 1.0 - t + growth) : 0.0;
            most = std::max(most, r);
            // A point for the centre stays a proper polygon if it is a very small step.
            const double shown = std::max(r, 1e-7);
            ring.push_back(
                {shown * std::sin(degrees * kDegree), shown * std::cos(degrees * kDegree)});
        }
        if (most == 0.0) {
            return {nullptr, Geos::Destroy{nullptr}};
        }
        return geos_.polygon(ring);
    }

    static double shell(const SectionShape& shape, double degrees) {
        double before = 1e9;
        double after = 1e9;
        double t_before = 0.0;
        double t_after = 0.0;
        for (const ShellReading& r : shape.shell) {
            const double back = std::fmod(degrees - r.azimuth.degrees() + 720.0, 360.0);
            const double ahead = std::fmod(r.azimuth.degrees() - degrees + 720.0, 360.0);
            if (back < before) {
                before = back;
                t_before = r.thickness.metres();
            }
            if (ahead < after) {
                after = ahead;
                t_after = r.thickness.metres();
            }
        }
        const double span = before + after;
        return span > 0.0 ? (t_before * after + t_after * before) / span : t_before;
    }

    /// How many pieces the cavity borders over more than a point.
    int bordered(const Geos::Shape& cavity) const {
        const Geos::Shape wide = geos_.buffer(cavity, 1e-4);
        int touched = 0;
        for (const auto& p : pieces_) {
            touched += geos_.area(geos_.intersection(wide, p)) > 3e-7 ? 1 : 0;
        }
        return touched;
    }

    /// Whether all that parts the section is local.
    bool parted_by_local_only() const {
        bool any_parts = false;
        bool parting_local = true;
        bool touching_local = true;
        for (std::size_t i = 0; i < cavities_.size(); ++i) {
            const int pieces = cavities_[i] ? bordered(cavities_[i]) : 0;
            any_parts = any_parts || pieces > 1;
            parting_local = parting_local && (pieces < 2 || local_[i]);
            touching_local = touching_local && (pieces < 1 || local_[i]);
        }
        return any_parts ? parting_local : touching_local;
    }

    void choose() {
        together_ = pieces_.size() > 1 && parted_by_local_only();
        Sums sums;
        for (std::size_t i = 0; i < pieces_.size() && (i == 0 || together_); ++i) {
            const auto rings = geos_.rings(pieces_[i]);
            for (std::size_t r = 0; r < rings.size(); ++r) {
                // GEOS does not promise the sense of rings: the first is the outer one.
                sums.add(rings[r], (signed_area(rings[r]) > 0.0) == (r == 0) ? 1.0 : -1.0);
            }
            outline_.insert(outline_.end(), rings.front().begin(), rings.front().end());
        }
        if (!outline_.empty()) {
            about_centroid(sums);
        }
    }

    /// Green's theorem.
    struct Sums {
        double area = 0.0;
        double x = 0.0;
        double y = 0.0;
        double xx = 0.0;
        double xy = 0.0;
        double yy = 0.0;

        void add(const std::vector<XY>& ring, double sense) {
            for (std::size_t i = 0; i + 1 < ring.size(); ++i) {
                const XY a = ring[i];
                const XY b = ring[i + 1];
                const double c = sense * (a.x * b.y - b.x * a.y);
                area += c / 2.0;
                x += c * (a.x + b.x) / 6.0;
                y += c * (a.y + b.y) / 6.0;
                xx += c * (a.x * a.x + a.x * b.x + b.x * b.x) / 12.0;
                yy += c * (a.y * a.y + a.y * b.y + b.y * b.y) / 12.0;
                xy += c * (2.0 * a.x * a.y + a.x * b.y + b.x * a.y + 2.0 * b.x * b.y) / 24.0;
            }
        }
    };

    static double signed_area(const std::vector<XY>& ring) {
        double sum = 0.0;
        for (std::size_t i = 0; i + 1 < ring.size(); ++i) {
            sum += ring[i].x * ring[i + 1].y - ring[i + 1].x * ring[i].y;
        }
        return 0.5 * sum;
    }

    void about_centroid(const Sums& s) {
        const XY centre{s.x / s.area, s.y / s.area};
        xx_ = s.xx - s.area * centre.x * centre.x;
        yy_ = s.yy - s.area * centre.y * centre.y;
        xy_ = s.xy - s.area * centre.x * centre.y;
        for (XY& p : outline_) {
            p = {p.x - centre.x, p.y - centre.y};
        }
    }

    const Geos& geos_;
    double radius_;
    std::vector<Geos::Shape> cavities_;
    std::vector<bool> local_;
    std::vector<Geos::Shape> pieces_;
    std::vector<XY> outline_;
    bool together_ = false;
    double xx_ = 0.0;
    double xy_ = 0.0;
    double yy_ = 0.0;
};

}  // namespace linewood::test
