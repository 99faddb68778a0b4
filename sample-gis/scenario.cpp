#include "sample-gis/scenario.hpp"

#include <algorithm>
#include <cassert>
#include <iterator>
#include <utility>

#include "sample-gis/decay.hpp"
#include "sample-gis/inspections.hpp"
#include "sample-gis/layout.hpp"
#include "sample-gis/random.hpp"
#include "sample-gis/spans.hpp"
#include "sample-gis/wood.hpp"

namespace linewood::sample {
namespace {

constexpr int kPolesAnArea = 1200;

/// One generator a subject, so that a change to one leaves the others' numbers alone.
enum Subject : std::uint64_t { layout, lines, wood, decay, dirt };
constexpr std::uint64_t kSubjects = 5;
/// Far from every area's numbers.
constexpr std::uint64_t kThinning = std::uint64_t{1} << 40U;

/// 20 areas from west to east, rows by turns to the north and to the south of the first.
Xy corner_of(int area) {
    const int row = area / 20;
    const int north = row % 2 == 0 ? -row / 2 : (row + 1) / 2;
    return {304'000.0 + 22'000.0 * (area % 20), 4'612'000.0 + 18'000.0 * north};
}

void record_poles(Random& random, Layout& plan) {
    for (const Line& line : plan.lines) {
        const int year = line_year(random, line.kind);
        for (const std::size_t i : line.poles) {
            Pole& pole = plan.poles[i];
            if (pole.kind == line.kind && pole.sound_girth == 0.0) {
                record_pole(random, pole, year);
            }
        }
    }
}

void wet_ground(Layout& plan) {
    WetPlaces wet;
    const auto& first = plan.lines[0].poles;
    const auto& second = plan.lines[1].poles;
    wet.centres = {plan.poles[first[first.size() * 35 / 100]].at,
                   plan.poles[second[second.size() * 70 / 100]].at};
    for (Pole& pole : plan.poles) {
        pole.wetness = wet.wetness(pole.at);
    }
}

/// A few directions known from drawings override what the map gives.
void give_directions(Random& random, Layout& plan) {
    for (const Line& line : plan.lines) {
        if (line.kind == LineKind::service && random.chance(0.12)) {
            Pole& pole = plan.poles[line.poles.back()];
            pole.given_azimuth = 5.0 * random.whole(0, 35);
            pole.given_role = "tangent";
        }
    }
}

bool on_first_list(const Pole& pole) {
    const char circuit = pole.circuit.back();
    return circuit == '1' || (circuit == '2' && pole.kind == LineKind::trunk);
}

/// Leaves out defects at random.
void thin_defects(Random& random, double share, Area& area) {
    std::erase_if(area.defects, [&](const auto& /*defect*/) { return !random.chance(share); });
}

Area make_area(int number, int poles, std::uint64_t seed, const Wishes& wishes) {
    const auto of = [&](Subject subject) {
        return Random(seed, static_cast<std::uint64_t>(number) * kSubjects + subject);
    };
    Random layout_random = of(layout);
    Random line_random = of(lines);
    Random wood_random = of(wood);
    Random decay_random = of(decay);
    Layout plan = lay_out(layout_random, number, corner_of(number), poles);
    Area area;
    draw_spans(line_random, plan, wishes.single_spans, area);
    record_poles(wood_random, plan);
    give_directions(wood_random, plan);
    wet_ground(plan);
    Crews crews(decay_random, {});
    for (const Pole& pole : plan.poles) {
        crews.visit(pole, on_first_list(pole), area);
    }
    if (wishes.defects < 1.0) {
        Random thinning(seed, kThinning + static_cast<std::uint64_t>(number));
        thin_defects(thinning, wishes.defects, area);
    }
    area.poles = std::move(plan.poles);
    return area;
}

}  // namespace

std::vector<Dirt> make_scenario(int poles,
                                std::uint64_t seed,
                                const Wishes& wishes,
                                Writer& writer) {
    assert(poles >= 30 && poles <= kMostPoles);
    const int areas = std::max(1, (poles + kPolesAnArea / 2) / kPolesAnArea);
    std::vector<Dirt> all;
    for (int number = 0; number < areas; ++number) {
        const int count = poles / areas + (number < poles % areas ? 1 : 0);
        Area area = make_area(number, count, seed, wishes);
        if (wishes.dirty) {
            Random random(seed, static_cast<std::uint64_t>(number) * kSubjects + dirt);
            auto found = make_dirty(random, area);
            std::move(found.begin(), found.end(), std::back_inserter(all));
        }
        writer.write(area);
    }
    return all;
}

}  // namespace linewood::sample
