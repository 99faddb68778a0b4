#include "sample-gis/layout.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <optional>

namespace linewood::sample {
namespace {

constexpr double kRadians = std::numbers::pi / 180.0;

/// How a line winds: spans, straight legs between turns, and the way it comes back to.
struct Winding {
    double span_m = 75.0;
    double spread_m = 6.0;
    int leg_least = 6;
    int leg_most = 15;
    double home = 90.0;  ///< grid azimuth
    bool bends = true;
};

/// Most turns of a country line are slight; the rest follow field corners.
double turn_size(Random& random) {
    const double u = random.unit();
    if (u < 0.45) {
        return random.between(1.0, 4.8);
    }
    if (u < 0.80) {
        return random.between(6.0, 28.0);
    }
    return random.between(32.0, 62.0);
}

/// `count` places after `start`, with the crew's small errors beside the string line.
std::vector<Xy> wind(Random& random, Xy start, double first, int count, const Winding& way) {
    std::vector<Xy> places;
    places.reserve(static_cast<std::size_t>(count));
    Xy on_string = start;
    double along = first;
    int left = random.whole(way.leg_least, way.leg_most);
    for (int i = 0; i < count; ++i) {
        on_string = step(on_string, along, way.span_m + way.spread_m * random.bell());
        places.push_back(step(on_string, along + 90.0, 0.1 * random.bell()));
        if (--left > 0 || !way.bends) {
            continue;
        }
        const double off = std::remainder(along - way.home, 360.0);
        const double size = turn_size(random);
        if (std::abs(off) < 1.0) {
            along += random.chance(0.5) ? size : -size;
        } else {
            along -= std::copysign(std::min(size, std::abs(off) + 5.0), off);
        }
        left =
            std::abs(off) > 25.0 ? random.whole(3, 6) : random.whole(way.leg_least, way.leg_most);
    }
    return places;
}

class Builder {
public:
    Builder(Random& random, int number, Xy corner)
        : random_{random}, corner_{corner}, number_{std::to_string(number + 101)} {}

    Layout build(int count);

private:
    std::size_t add(Xy at, const std::string& circuit, LineKind kind);
    void extend(Line& line, const std::vector<Xy>& places);
    void trunks(int first_count, int second_count);
    void tie(int count);
    int taps(const Line& trunk, int budget, const std::string& circuit);
    void tap(std::size_t root, double along, int count, const std::string& circuit);
    void services(int count);
    void note_headings();
    std::vector<std::size_t> tap_roots(const Line& trunk) const;
    bool is_clear(Xy at, double metres) const;
    std::string circuit(int which) const { return "QM-" + number_ + std::to_string(which); }

    Random& random_;
    Xy corner_;
    std::string number_;
    Layout out_;
    std::vector<Xy> crossings_;
};

std::size_t Builder::add(Xy at, const std::string& circuit, LineKind kind) {
    Pole pole;
    std::string serial = std::to_string(out_.poles.size() + 1);
    serial.insert(0, serial.size() < 4 ? 4 - serial.size() : 0, '0');
    pole.id = number_ + "-" + serial;
    pole.at = {rounded(at.x, 0.01), rounded(at.y, 0.01)};
    pole.circuit = circuit;
    pole.kind = kind;
    out_.poles.push_back(std::move(pole));
    return out_.poles.size() - 1;
}

void Builder::extend(Line& line, const std::vector<Xy>& places) {
    for (const Xy& at : places) {
        line.poles.push_back(add(at, line.circuit, line.kind));
    }
}

void Builder::trunks(int first_count, int second_count) {
    const Xy substation{corner_.x + 2000.0, corner_.y + 9000.0};
    const Winding way{};
    Winding straight = way;
    straight.bends = false;
    Line first{LineKind::trunk, circuit(1), 12.47, {}};
    first.poles.push_back(add(substation, first.circuit, first.kind));
    const int north = std::max(4, first_count / 6);
    extend(first, wind(random_, substation, 8.0, std::min(north, first_count - 1), straight));
    extend(first,
           wind(random_, out_.poles.back().at, 62.0, std::max(0, first_count - 1 - north), way));
    // The second circuit shares the first poles out of the substation, then goes its own way.
    Line second{LineKind::trunk, circuit(2), 12.47, {}};
    const std::size_t shared = std::min<std::size_t>(6, first.poles.size());
    second.poles.assign(first.poles.begin(),
                        first.poles.begin() + static_cast<std::ptrdiff_t>(shared));
    const int south = std::max(4, second_count / 5);
    const Xy leave = out_.poles[second.poles.back()].at;
    extend(second, wind(random_, leave, 152.0, std::min(south, second_count), straight));
    extend(second,
           wind(random_, out_.poles.back().at, 112.0, std::max(0, second_count - south), way));
    out_.lines.push_back(std::move(first));
    out_.lines.push_back(std::move(second));
}

void Builder::tie(int count) {
    if (count == 0) {
        return;
    }
    const auto middle = [this](const Line& line, std::size_t i) {
        const Xy a = out_.poles[line.poles[i]].at;
        const Xy b = out_.poles[line.poles[i + 1]].at;
        return Xy{(a.x + b.x) / 2.0, (a.y + b.y) / 2.0};
    };
    const Line& north = out_.lines[0];
    const Line& south = out_.lines[1];
    const Xy over = middle(north, north.poles.size() * 6 / 10);
    std::size_t nearest = 0;
    for (std::size_t i = 0; i + 1 < south.poles.size(); ++i) {
        const double off = std::abs(middle(south, i).x - over.x);
        nearest = off < std::abs(middle(south, nearest).x - over.x) ? i : nearest;
    }
    const Xy under = middle(south, nearest);
    crossings_ = {over, under};
    // Poles at half a span either side of both crossings.
    const double along = heading(over, under);
    const double between = distance(over, under);
    const int spans = std::max(1, static_cast<int>(std::lround(between / 105.0)));
    const double span = between / spans;
    const int beyond = std::max(2, (count - spans) / 2);
    const Xy first = step(over, along + 180.0, 0.5 * span);
    std::vector<Xy> places =
        wind(random_, first, along + 180.0, beyond - 1, {105.0, 6.0, 17, 30, along + 180.0, true});
    std::reverse(places.begin(), places.end());
    places.push_back(first);
    for (int i = 0; i <= spans; ++i) {
        places.push_back(step(over, along, (0.5 + i) * span));
    }
    const int rest = std::max(0, count - static_cast<int>(places.size()));
    const auto tail = wind(random_, places.back(), along, rest, {105.0, 6.0, 17, 30, along, true});
    places.insert(places.end(), tail.begin(), tail.end());
    places.resize(static_cast<std::size_t>(count));
    Line line{LineKind::tie, circuit(3), 34.5, {}};
    extend(line, places);
    out_.lines.push_back(std::move(line));
}

/// Poles of a trunk where a tap may leave: on quiet ground, away from corners, crossings and ends.
std::vector<std::size_t> Builder::tap_roots(const Line& trunk) const {
    constexpr std::size_t kReach = 8;
    const auto at = [&](std::size_t i) { return out_.poles[trunk.poles[i]].at; };
    std::vector<std::size_t> roots;
    for (std::size_t i = kReach + 6; i + kReach < trunk.poles.size(); ++i) {
        bool quiet = true;
        for (std::size_t j = i - kReach; j < i + kReach && quiet; ++j) {
            quiet = std::abs(std::remainder(heading(at(j), at(j + 1)) - 90.0, 360.0)) < 32.0;
        }
        for (const Xy& crossing : crossings_) {
            quiet = quiet && distance(crossing, at(i)) > 650.0;
        }
        if (quiet) {
            roots.push_back(i);
        }
    }
    return roots;
}

void Builder::tap(std::size_t root, double along, int count, const std::string& circuit) {
    Line line{LineKind::tap, circuit, 7.2, {root}};
    Winding way{68.0, 5.0, 6, 12, along, random_.chance(0.4)};
    std::vector<Xy> places = wind(random_, out_.poles[root].at, along, count, way);
    extend(line, places);
    out_.lines.push_back(std::move(line));
}

/// @return the poles of the budget that found no place
int Builder::taps(const Line& trunk, int budget, const std::string& circuit) {
    std::vector<std::pair<std::size_t, double>> roots;  // pole, heading of the tap
    double side = random_.chance(0.5) ? 90.0 : -90.0;
    std::size_t next = 0;
    for (const std::size_t i : tap_roots(trunk)) {
        if (i < next) {
            continue;
        }
        const double along =
            heading(out_.poles[trunk.poles[i - 1]].at, out_.poles[trunk.poles[i + 1]].at);
        roots.emplace_back(trunk.poles[i], along + side);
        side = -side;
        next = i + static_cast<std::size_t>(random_.whole(3, 6));
    }
    constexpr int kMost = 20;
    int rest = budget;
    for (std::size_t r = 0; r < roots.size() && rest > 0; ++r) {
        const int fair = rest / static_cast<int>(roots.size() - r);
        const int length = r + 1 == roots.size()
                               ? std::min(rest, kMost)
                               : std::clamp(random_.whole(fair / 3, fair * 5 / 3), 1, kMost);
        const int branch = length >= 9 && random_.chance(0.4) ? random_.whole(2, 3) : 0;
        const int stem = std::min(length - branch, rest);
        const std::size_t before = out_.poles.size();
        tap(roots[r].first, roots[r].second, stem, circuit);
        rest -= stem;
        if (branch > 0 && rest >= branch) {
            tap(before + static_cast<std::size_t>(stem / 2),
                roots[r].second + 90.0,
                branch,
                circuit);
            rest -= branch;
        }
    }
    return rest;
}

bool Builder::is_clear(Xy at, double metres) const {
    return std::none_of(out_.poles.begin(), out_.poles.end(), [&](const Pole& p) {
        return distance(p.at, at) < metres;
    });
}

/// A pole of its own at the yard, fed by a service drop.
void Builder::services(int count) {
    const std::size_t line_poles = out_.poles.size();
    for (int made = 0; made < count;) {
        const std::size_t from = random_.index(line_poles);
        const double away = random_.between(28.0, 45.0);
        const Xy at = step(out_.poles[from].at, random_.between(0.0, 360.0), away);
        if (!is_clear(at, 24.0)) {
            continue;
        }
        const std::string circuit = out_.poles[from].circuit;
        Line line{LineKind::service, circuit, 0.24, {from}};
        line.poles.push_back(add(at, circuit, LineKind::service));
        out_.lines.push_back(std::move(line));
        ++made;
    }
}

void Builder::note_headings() {
    for (const Line& line : out_.lines) {
        for (std::size_t i = 0; i < line.poles.size() && line.poles.size() > 1; ++i) {
            Pole& pole = out_.poles[line.poles[i]];
            if (i == 0 && pole.kind != line.kind) {
                continue;  // belongs to the line it leaves
            }
            const std::size_t a = i > 0 ? i - 1 : 0;
            const std::size_t b = std::min(i + 1, line.poles.size() - 1);
            pole.heading = heading(out_.poles[line.poles[a]].at, out_.poles[line.poles[b]].at);
        }
    }
}

Layout Builder::build(int count) {
    const int service = count * 3 / 100;
    const int tie_count = count >= 400 ? count * 14 / 100 : 0;
    const int circuits = count - service - tie_count;
    const int first = circuits / 2;
    const int second = circuits - first;
    const int tap_share = count >= 100 ? 55 : 0;
    trunks(first - first * tap_share / 100, second - second * tap_share / 100);
    tie(tie_count);
    const Line first_trunk = out_.lines[0];
    const Line second_trunk = out_.lines[1];
    int left = taps(first_trunk, first * tap_share / 100, circuit(1));
    left += taps(second_trunk, second * tap_share / 100, circuit(2));
    if (left > 0) {  // what found no place along the trunks lengthens the first
        Line& longer = out_.lines[0];
        const std::vector<std::size_t>& last = longer.poles;
        const Xy end = out_.poles[last.back()].at;
        const Xy before = out_.poles[last[last.size() - 2]].at;
        extend(longer, wind(random_, end, heading(before, end), left, {}));
    }
    services(service);
    note_headings();
    return std::move(out_);
}

}  // namespace

Xy step(Xy from, double heading, double distance) {
    return {from.x + distance * std::sin(heading * kRadians),
            from.y + distance * std::cos(heading * kRadians)};
}

double distance(Xy a, Xy b) { return std::hypot(b.x - a.x, b.y - a.y); }

double heading(Xy a, Xy b) { return std::atan2(b.x - a.x, b.y - a.y) / kRadians; }

Layout lay_out(Random& random, int number, Xy corner, int count) {
    return Builder(random, number, corner).build(count);
}

}  // namespace linewood::sample
