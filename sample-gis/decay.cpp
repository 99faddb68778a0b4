#include "sample-gis/decay.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "sample-gis/wood.hpp"

namespace linewood::sample {
namespace {

double azimuth(Random& random) { return 5.0 * random.whole(0, 71); }

void rot_outside(Random& random, Condition& c, double severity) {
    c.shell_rot = 0.1 + 1.8 * severity * severity + 0.05 * random.unit();
}

void rot_inside(Random& random, Condition& c, double severity, double radius) {
    const int bores = random.chance(0.7) ? 2 : random.whole(1, 4);
    const double first = azimuth(random);
    const double shell = std::min(4.8 - 4.2 * severity, radius - 0.6);
    for (int i = 0; i < bores; ++i) {
        c.heart_azimuths.push_back(std::fmod(first + 5.0 * std::round(72.0 * i / bores), 360.0));
        c.heart_shell.push_back(std::clamp(shell + 0.35 * random.bell(), 0.5, radius - 0.3));
    }
    c.heart_height = random.chance(0.85) ? 0.0 : (random.chance(0.5) ? -1.0 : random.whole(3, 6));
}

void rot_pocket(Random& random, Condition& c, double severity) {
    static constexpr std::array<const char*, 5> kCauses{"decay", "decay", "insect", "decay", ""};
    const int pockets = random.chance(0.25) ? 2 : 1;
    for (int i = 0; i < pockets; ++i) {
        Pocket p;
        p.height = 0.25 * random.whole(-6, 1);
        p.azimuth = azimuth(random);
        p.width = 1.5 + 6.5 * severity * random.between(0.8, 1.2);
        p.depth = 0.5 + 3.4 * severity * random.between(0.8, 1.2);
        p.extent = random.between(4.0, 20.0);
        p.cause = random.pick(kCauses);
        c.pockets.push_back(p);
    }
}

Pocket pocket(Random& random, double height, double width, double depth, const char* cause) {
    Pocket p;
    p.height = height;
    p.azimuth = azimuth(random);
    p.width = width;
    p.depth = depth;
    p.extent = width * random.between(1.0, 3.0);
    p.cause = cause;
    return p;
}

/// What happens to poles of any age. Every number is drawn in a statement of its own: the order in
/// which a compiler takes the arguments of a call is its own choice.
void mishaps(Random& random, Condition& c, double tip) {
    if (random.chance(0.014)) {
        const double depth = random.between(1.0, 2.4);
        const double width = random.between(1.5, 3.5);
        const int height = random.whole(12, std::max(13, static_cast<int>(tip) - 4));
        c.pockets.push_back(pocket(random, height, width, depth, "woodpecker"));
    }
    if (random.chance(0.018)) {
        const double depth = random.between(0.3, 1.1);
        const double width = random.between(2.0, 7.0);
        const double height = 0.5 * random.whole(0, 5);
        c.pockets.push_back(pocket(random, height, width, depth, "mechanical"));
    }
    if (random.chance(0.005)) {
        const double depth = random.between(0.3, 0.9);
        const double width = random.between(4.0, 8.0);
        const int height = random.whole(1, 4);
        c.pockets.push_back(pocket(random, height, width, depth, "fire"));
    }
    if (random.chance(0.014)) {
        const double depth = random.between(1.0, 2.8);
        const double width = 0.125 * random.whole(2, 5);
        const int height = random.whole(0, 12);
        Pocket p = pocket(random, height, width, depth, "check");
        p.extent = random.between(30.0, 90.0);
        c.pockets.push_back(p);
    }
    if (random.chance(0.006)) {
        const double depth = random.between(1.8, 2.5);
        const double height = tip - random.whole(2, 6);
        c.pockets.push_back(pocket(random, height, 0.6875, depth, "bolt_hole"));
    }
}

/// Decay of the groundline zone, by how bad it is.
void decay(Random& random, Condition& c, const Pole& pole) {
    const double radius = pole.sound_girth / (2.0 * std::numbers::pi);
    const double kind = random.unit();
    if (kind < 0.45) {
        rot_outside(random, c, c.severity);
    } else if (kind < 0.76) {
        rot_inside(random, c, c.severity, radius);
    } else if (kind < 0.90) {
        rot_pocket(random, c, c.severity);
    } else {
        rot_outside(random, c, 0.6 * c.severity);
        rot_inside(random, c, 0.8 * c.severity, radius - c.shell_rot);
        if (random.chance(0.6)) {
            rot_pocket(random, c, 0.4 * c.severity);
        }
    }
    c.deeper_than_dug = c.severity > 0.5 && random.chance(0.05);
}

}  // namespace

double WetPlaces::wetness(Xy at) const {
    double w = 1.0;
    for (const Xy& centre : centres) {
        const double dx = (at.x - centre.x) / radius;
        const double dy = (at.y - centre.y) / radius;
        const double d2 = dx * dx + dy * dy;
        w = std::max(w, 1.0 + 4.0 / (1.0 + d2 * d2));
    }
    return w;
}

Condition aged(Random& random, const Pole& pole, int year) {
    Condition c;
    if (pole.material == "steel" || pole.material == "concrete") {
        return c;
    }
    const double tip = pole.length.value_or(35.0) - setting_ft(pole.length.value_or(35.0));
    mishaps(random, c, tip);
    const double age = std::max(0, year - pole.built);
    // Cedar's heartwood lasts; the pines of the older treatments last least.
    const double taper = taper_in_per_ft(pole.species);
    const double life = taper > 0.3 ? 86.0 : (taper < 0.25 ? 80.0 : 74.0);
    const double hazard = pole.wetness * (age / life) * (age / life);
    if (random.unit() < hazard / (1.0 + hazard)) {
        const double u = random.unit();
        c.severity = pole.wetness > 2.0 ? std::sqrt(u) : u;
        decay(random, c, pole);
        if (age > 40.0 && random.chance(0.04)) {
            const double depth = random.between(1.0, 3.0);
            const double width = random.between(2.0, 4.0);
            c.pockets.push_back(pocket(random, tip - 1.0, width, depth, "decay"));
        }
    }
    const double fate = random.unit();
    c.damage = fate < 0.005 ? "extensive" : (fate < 0.06 ? "minor" : "none");
    const double fear = c.damage == "extensive" ? 0.8 : (c.severity > 0.9 ? 0.5 : 0.004);
    c.safe_to_climb = !random.chance(fear);
    return c;
}

}  // namespace linewood::sample
