#pragma once

#include <algorithm>
#include <cmath>
#include <random>
#include <string>

#include "assess/section/shape.hpp"

namespace linewood::test {

/// A seeded source of cross-sections for tests. The same seed gives the same sections everywhere:
/// only the engine's raw words are used, not the library's distributions.
class SectionSource {
public:
    explicit SectionSource(unsigned seed) : engine_{seed} {}

    /// In [from, to).
    double between(double from, double to) {
        return from + (to - from) * (static_cast<double>(engine_()) / 4294967296.0);
    }
    int whole(int from, int to) {
        return from + static_cast<int>(engine_() % static_cast<unsigned>(to - from + 1));
    }
    bool one_in(int n) { return whole(1, n) == 1; }

    Bearing azimuth() {
        return Bearing::degrees(one_in(4) ? 45.0 * whole(0, 7) : between(0.0, 360.0));
    }

    /// @param radius in metres
    Pocket pocket(double radius) {
        Pocket p;
        p.azimuth = azimuth();
        p.width = Length::metres(radius * between(0.02, one_in(3) ? 2.3 : 1.0));
        p.depth = Length::metres(radius * between(0.02, one_in(3) ? 2.1 : 0.95));
        return p;
    }

    /// Up to `pockets` pockets and `bores` readings at least 2 degrees apart; both may come out 0.
    SectionShape shape(int pockets, int bores) {
        SectionShape s;
        const double radius = between(0.05, 0.35);
        s.radius = Length::metres(radius);
        for (int i = whole(0, pockets); i > 0; --i) {
            s.pockets.push_back(pocket(radius));
        }
        const bool sound = one_in(2);
        for (int i = whole(0, bores); i > 0; --i) {
            const Bearing a = azimuth();
            const bool near = std::any_of(s.shell.begin(), s.shell.end(), [a](const auto& r) {
                return angle_between(a, r.azimuth).degrees() < 2.0;
            });
            if (!near) {
                const double t = sound && one_in(3) ? 1.0 : between(0.0, 1.0);
                s.shell.push_back({a, Length::metres(radius * t)});
            }
        }
        return s;
    }

private:
    std::mt19937 engine_;
};

/// What a shape is, in radii and degrees, for the message of a failed test.
inline std::string describe(const SectionShape& s) {
    const auto in_radii = [&s](Length l) { return std::to_string(l / s.radius); };
    std::string text = "R " + std::to_string(s.radius.metres());
    for (const Pocket& p : s.pockets) {
        text += "; pocket at " + std::to_string(p.azimuth.degrees()) + " w " + in_radii(p.width) +
                " d " + in_radii(p.depth) + (p.local ? " local" : "");
    }
    for (const ShellReading& r : s.shell) {
        text += "; shell at " + std::to_string(r.azimuth.degrees()) + " t " + in_radii(r.thickness);
    }
    return text + (s.void_local ? "; void local" : "");
}

/// S of the sound disc of the shape's radius.
inline double sound_modulus(const SectionShape& s) {
    const double r = s.radius.metres();
    return 3.14159265358979323846 / 4.0 * r * r * r;
}

}  // namespace linewood::test
