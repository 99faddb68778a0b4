#include "sample-gis/inspections.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "sample-gis/wood.hpp"

namespace linewood::sample {
namespace {

constexpr double kPi = std::numbers::pi;

bool is_wood(const Pole& pole) { return pole.material.empty() || pole.material == "wood"; }

std::string method(Random& random, const Pole& pole, int year) {
    if (!is_wood(pole)) {
        return "visual";
    }
    const double u = random.unit();
    if (year - pole.built < 10) {
        return u < 0.10 ? "visual" : (u < 0.70 ? "hammer" : "bore");
    }
    if (u < 0.02) {
        return "";
    }
    return u < 0.05 ? "visual" : (u < 0.15 ? "hammer" : (u < 0.40 ? "bore" : "excavated"));
}

bool measures_well(const std::string& method) { return method == "bore" || method == "excavated"; }

}  // namespace

/// Crews see 35 poles of an area a day, Monday to Friday, from April on.
int Crews::next_day(int year) {
    constexpr int kPolesADay = 35;
    int& seen = year == 2025 ? seen_first_ : seen_second_;
    const int workday = seen++ / kPolesADay;
    const int monday = year == 2025 ? day_of(2025, 4, 7) : day_of(2026, 4, 6);
    return monday + workday / 5 * 7 + workday % 5;
}

void Crews::visit(const Pole& pole, bool early, Area& area) {
    const double missed = is_wood(pole) ? (pole.kind == LineKind::service ? 0.2 : 0.07) : 0.4;
    const Condition condition = aged(random_, pole, 2025);
    if (random_.chance(missed)) {
        return;
    }
    const bool again = early && random_.chance(condition.severity > 0.6 ? 0.5 : 0.06);
    if (early) {
        write_down(pole, condition, {next_day(2025), !again, false, 1.0}, area);
    }
    if (!early || again) {
        write_down(pole, condition, {next_day(2026), true, again, again ? 1.06 : 1.0}, area);
    }
}

void Crews::write_down(const Pole& pole, const Condition& c, const Visit& visit, Area& area) {
    Inspection inspection = inspect(pole, c, visit);
    find_defects(pole, c, visit, inspection, area);
    area.inspections.push_back(std::move(inspection));
}

Inspection Crews::inspect(const Pole& pole, const Condition& c, const Visit& visit) {
    static constexpr std::array<const char*, 7> kNotes{"leaning about 5 degrees",
                                                       "vines to 6 ft, cut back",
                                                       "ground wire cut at 4 ft",
                                                       "cross-arm brace loose, \"B\" phase side",
                                                       "½ in check, full length of face",
                                                       "soil raised by field road; dug 20 in",
                                                       "gate locked, reached from the north"};
    Inspection out;
    out.pole_id = pole.id;
    out.day = visit.day;
    out.method = method(random_, pole, visit.day < day_of(2026, 1, 1) ? 2025 : 2026);
    if (is_wood(pole)) {
        out.method = visit.again ? "excavated" : out.method;
        girths(pole, c, visit, out);
    }
    if (!random_.chance(0.15)) {
        out.climb_safe = c.safe_to_climb;
    }
    if (!random_.chance(0.12) || c.damage == "extensive") {
        out.aboveground_damage = c.damage;
    }
    if (out.method == "excavated") {
        out.decay_below_excavation = c.deeper_than_dug;
        const bool decayed = c.severity > 0.0;
        out.treated = random_.chance(decayed ? 0.55 : 0.3);
    }
    if (random_.chance(0.05)) {
        out.notes = random_.pick(kNotes);
    }
    return out;
}

void Crews::girths(const Pole& pole, const Condition& c, const Visit& visit, Inspection& out) {
    double original = 0.05;
    double present = 0.1;
    if (out.method == "excavated") {
        original = 0.75;
        present = 0.95;
    } else if (out.method == "bore") {
        original = 0.4;
        present = 0.5;
    } else if (out.method == "hammer") {
        original = 0.15;
        present = 0.5;
    } else if (out.method.empty()) {
        present = 0.7;
    }
    if (random_.chance(original)) {
        const double above = random_.chance(0.08) ? 5.0 : 0.0;
        out.original_circumference =
            rounded(pole.sound_girth - above * taper_in_per_ft(pole.species), 0.25);
        if (above > 0.0 || random_.chance(0.2)) {
            out.original_height = above;
        }
    }
    // Shell rot hides under the soil: only digging and scraping brings the girth down to sound wood.
    const double lost = out.method == "excavated" ? 2.0 * kPi * c.shell_rot * visit.growth : 0.0;
    if (random_.chance(present)) {
        out.present_circumference = rounded(pole.sound_girth - lost, 0.25);
    }
}

void Crews::find_defects(const Pole& pole,
                         const Condition& c,
                         const Visit& visit,
                         const Inspection& inspection,
                         Area& area) {
    const bool dug = inspection.method == "excavated";
    if (dug && c.shell_rot > 0.0) {
        outside(pole, c, visit, area);
    }
    pockets(pole, c, visit, dug, area);
    if (measures_well(inspection.method)) {
        bores(pole, c, visit, dug, area);
    }
}

Defect Crews::blank(const Pole& pole, const char* kind, const Visit& visit) {
    Defect d;
    d.pole_id = pole.id;
    d.kind = kind;
    // An undated defect joins the latest inspection, so only the latest may leave the date out.
    if (!visit.last || !random_.chance(0.25)) {
        d.day = visit.day;
    }
    return d;
}

void Crews::height(Defect& defect, double feet) {
    if (feet != 0.0 || random_.chance(0.7)) {
        defect.height = feet;
    }
}

void Crews::outside(const Pole& pole, const Condition& c, const Visit& visit, Area& area) {
    Defect d = blank(pole, "shell_rot", visit);
    height(d, 0.0);
    const double depth = c.shell_rot * visit.growth;
    const double u = random_.unit();
    if (u < 0.30) {
        d.present_circumference = rounded(pole.sound_girth - 2.0 * kPi * depth, 0.25);
    } else if (u < 0.85) {
        d.depth = std::max(0.125, rounded(depth, 0.125));
    } else {  // on part of the circle: a shallow pocket
        d.depth = std::max(0.125, rounded(depth, 0.125));
        d.width = rounded(random_.between(4.0, 8.0), 0.5);
        direction(pole, d, 5.0 * random_.whole(0, 71));
    }
    d.cause = random_.chance(0.8) ? "decay" : "";
    area.defects.push_back(std::move(d));
}

void Crews::pockets(
    const Pole& pole, const Condition& c, const Visit& visit, bool dug, Area& area) {
    for (const Pocket& p : c.pockets) {
        if (!dug && p.height <= 0.0) {
            continue;
        }
        Defect d = blank(pole, "external_pocket", visit);
        height(d, p.height);
        direction(pole, d, p.azimuth);
        d.width = p.cause == "bolt_hole" ? p.width : std::max(0.25, rounded(p.width, 0.25));
        d.depth =
            std::max(0.25, rounded(p.depth * (p.cause == "decay" ? visit.growth : 1.0), 0.25));
        if (random_.chance(0.7)) {
            d.extent = rounded(p.extent, 1.0);
        }
        d.cause = p.cause;
        area.defects.push_back(std::move(d));
    }
}

void Crews::sound_bores(const Pole& pole, const Visit& visit, Area& area) {
    const int bores = random_.chance(0.05) ? random_.whole(1, 2) : 0;
    const double first = 5.0 * random_.whole(0, 71);
    for (int i = 0; i < bores; ++i) {
        Defect d = blank(pole, "bore", visit);
        height(d, 0.0);
        direction(pole, d, std::fmod(first + 180.0 * i, 360.0));
        area.defects.push_back(std::move(d));
    }
}

void Crews::bores(const Pole& pole, const Condition& c, const Visit& visit, bool dug, Area& area) {
    if (c.heart_shell.empty()) {
        sound_bores(pole, visit, area);
        return;
    }
    static constexpr std::array<double, 6> kAngles{45.0, 45.0, 45.0, 45.0, 30.0, 60.0};
    const bool slanted = random_.chance(0.6);
    const double angle = random_.pick(kAngles);
    // The usual 0.7 for 45 degrees, the cosine otherwise.
    const double share = angle == 45.0 ? 0.7 : std::cos(angle * kPi / 180.0);
    const bool from_pocket = dug && c.pockets.size() == 1 && c.pockets[0].height <= 0.5;
    for (std::size_t i = 0; i < c.heart_shell.size(); ++i) {
        Defect d = blank(pole, "internal_rot", visit);
        double shell = c.heart_shell[i] / visit.growth;
        if (from_pocket && i == 0) {
            d.height = c.pockets[0].height;
            d.azimuth = c.pockets[0].azimuth;
            d.azimuth_ref = "true";
            d.bore_from = "pocket";
            shell = std::max(0.5, shell - c.pockets[0].depth);
        } else {
            height(d, c.heart_height);
            direction(pole, d, c.heart_azimuths[i]);
        }
        if (d.bore_from.empty() && random_.chance(0.3)) {
            d.bore_from = "surface";
        }
        d.shell_thickness = std::max(0.25, rounded(slanted ? shell / share : shell, 0.25));
        if (slanted) {
            d.bore_angle = angle;
        }
        d.cause = random_.chance(0.85) ? "decay" : "insect";
        area.defects.push_back(std::move(d));
    }
}

/// Writes the direction as one of the habits of the trade would.
void Crews::direction(const Pole& pole, Defect& defect, double true_azimuth) {
    const auto wrapped = [](double v) { return v - 360.0 * std::floor(v / 360.0); };
    const double along = pole.heading + norths_.convergence;
    const double off = std::abs(std::remainder(true_azimuth - along, 180.0));
    const bool clear = std::abs(off - 30.0) > 4.0 && std::abs(off - 60.0) > 4.0;
    const std::string position = off < 30.0 ? "in_line" : (off > 60.0 ? "out_of_line" : "oblique");
    const double habit = random_.unit();
    if (habit < 0.03) {
        return;
    }
    if (habit < 0.10) {
        defect.position = position;
        return;
    }
    if (habit < 0.17) {
        const double hours = rounded(wrapped(true_azimuth - along) / 30.0, 0.5);
        defect.azimuth = hours < 0.25 ? 12.0 : hours;
        defect.azimuth_ref = "clock";
        return;
    }
    if (habit < 0.25) {
        defect.azimuth = wrapped(rounded(true_azimuth - norths_.declination, 1.0));
        defect.azimuth_ref = "magnetic";
    } else if (habit < 0.31) {
        defect.azimuth = wrapped(rounded(true_azimuth - norths_.convergence, 1.0));
        defect.azimuth_ref = "grid";
    } else {
        defect.azimuth = true_azimuth;
        defect.azimuth_ref = habit < 0.45 ? "" : "true";
    }
    if (clear && pole.kind != LineKind::service && random_.chance(0.15)) {
        defect.position = position;
    }
}

}  // namespace linewood::sample
