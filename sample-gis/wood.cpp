#include "sample-gis/wood.hpp"

#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <string>

namespace linewood::sample {
namespace {

enum class Wood { pine, fir, cedar };

Wood wood_of(std::string_view species) {
    // Every spelling below starts with the letter that tells the three apart.
    const char c = species.empty() ? 's' : species.front();
    if (c == 'd' || c == 'D') {
        return Wood::fir;
    }
    return c == 'w' || c == 'W' ? Wood::cedar : Wood::pine;
}

std::string species_text(Random& random) {
    static constexpr std::array<const char*, 4> kPine{
        "Southern Pine", "SOUTHERN-PINE", "southern yellow pine", "SYP"};
    static constexpr std::array<const char*, 3> kFir{"Douglas Fir", "douglas-fir", "DF"};
    static constexpr std::array<const char*, 3> kCedar{
        "Western Red Cedar", "western redcedar", "WRC"};
    const double u = random.unit();
    const bool alias = random.chance(0.3);
    if (u < 0.62) {
        return alias ? random.pick(kPine) : "southern_pine";
    }
    if (u < 0.80) {
        return alias ? random.pick(kFir) : "douglas_fir";
    }
    return alias ? random.pick(kCedar) : "western_redcedar";
}

struct Size {
    const char* pole_class;
    double length_ft;
};

Size size_of(Random& random, LineKind kind) {
    static constexpr std::array<Size, 8> kTrunk{{{"3", 45.0},
                                                 {"3", 40.0},
                                                 {"4", 40.0},
                                                 {"4", 40.0},
                                                 {"4", 45.0},
                                                 {"2", 45.0},
                                                 {"5", 40.0},
                                                 {"4", 40.0}}};
    static constexpr std::array<Size, 6> kTap{
        {{"5", 35.0}, {"5", 35.0}, {"6", 35.0}, {"5", 40.0}, {"6", 30.0}, {"5", 40.0}}};
    static constexpr std::array<Size, 5> kTie{
        {{"1", 50.0}, {"2", 50.0}, {"1", 55.0}, {"H1", 55.0}, {"2", 50.0}}};
    static constexpr std::array<Size, 3> kService{{{"6", 30.0}, {"7", 30.0}, {"6", 35.0}}};
    switch (kind) {
        case LineKind::trunk:
            return random.pick(kTrunk);
        case LineKind::tap:
            return random.pick(kTap);
        case LineKind::tie:
            return random.pick(kTie);
        case LineKind::service:
            break;
    }
    return random.pick(kService);
}

/// Load 2 ft below the tip that a class is made for, pounds (American pole classes).
double class_load_lb(std::string_view pole_class) {
    static constexpr std::array<double, 7> kLoads{4500, 3700, 3000, 2400, 1900, 1500, 1200};
    return pole_class == "H1" ? 5400.0 : kLoads[static_cast<std::size_t>(pole_class[0] - '1')];
}

/// Girth at the groundline that carries the class load, inches: M = S f with S = C^3 / 32 pi^2.
double needed_girth(const Size& size, Wood wood) {
    const double stress_psi = wood == Wood::cedar ? 6000.0 : 8000.0;
    const double arm_in = 12.0 * (size.length_ft - setting_ft(size.length_ft) - 2.0);
    return std::cbrt(32.0 * std::numbers::pi * std::numbers::pi * class_load_lb(size.pole_class) *
                     arm_in / stress_psi);
}

}  // namespace

double setting_ft(double length_ft) {
    return length_ft < 40.0 ? 0.1 * length_ft + 2.5 : 0.1 * length_ft + 2.0;
}

double taper_in_per_ft(std::string_view species) {
    switch (wood_of(species)) {
        case Wood::pine:
            return 0.25;
        case Wood::fir:
            return 0.21;
        case Wood::cedar:
            return 0.38;
    }
    return 0.25;
}

int line_year(Random& random, LineKind kind) {
    switch (kind) {
        case LineKind::trunk:
            return random.whole(1962, 1984);
        case LineKind::tap:
            return random.whole(1966, 1999);
        case LineKind::tie:
            return random.whole(1988, 1996);
        case LineKind::service:
            break;
    }
    return random.whole(1975, 2012);
}

void record_pole(Random& random, Pole& pole, int line_year) {
    pole.built = random.chance(0.2) ? random.whole(line_year, 2024) : line_year;
    const std::string species = species_text(random);
    const Size size = size_of(random, pole.kind);
    pole.sound_girth = needed_girth(size, wood_of(species)) * random.between(1.01, 1.08) + 0.5;
    pole.species = random.chance(0.02) ? "" : species;
    pole.pole_class = random.chance(0.015) ? "" : size.pole_class;
    if (!random.chance(0.01)) {
        pole.length = size.length_ft;
    }
    if (random.chance(0.2)) {
        pole.setting_depth = setting_ft(size.length_ft) + 0.5 * random.whole(-1, 2);
    }
    if (!random.chance(0.05)) {
        pole.install_year = pole.built;
    }
    if (random.chance(0.35)) {
        pole.recorded_circumference = rounded(pole.sound_girth + random.between(0.25, 0.6), 0.5);
    }
    const double u = random.unit();
    pole.material = u < 0.012 ? "steel" : (u < 0.015 ? "concrete" : (u < 0.80 ? "wood" : ""));
    const bool wood = pole.material == "wood" || pole.material.empty();
    if (!wood) {
        pole.species.clear();
        pole.recorded_circumference.reset();
    } else if (random.chance(0.85)) {
        pole.reinforced = pole.built < 1985 && random.chance(0.03);
    }
}

}  // namespace linewood::sample
