#include "sample-gis/spans.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>
#include <utility>

namespace linewood::sample {
namespace {

class Draughtsman {
public:
    Draughtsman(Random& random, const Layout& layout, Area& area)
        : random_{random}, layout_{layout}, area_{area} {}

    void draw(bool single);

private:
    static Span blank(const Line& line, const char* kind);
    Xy near(std::size_t pole_index, double metres);
    void one_by_one(const Line& line, bool with_ids, double scatter);
    void as_route(const Line& line);
    void service_drop(std::size_t i, const Line& line);
    void guys(const Line& line);
    void guy(std::size_t i, double away, const Line& line);
    bool is_straight(const Line& line) const;
    void keep(Span span);
    const Pole& pole(std::size_t i) const { return layout_.poles[i]; }

    Random& random_;
    const Layout& layout_;
    Area& area_;
};

Span Draughtsman::blank(const Line& line, const char* kind) {
    Span s;
    s.circuit = line.circuit;
    s.kv = line.kv;
    s.kind = kind;
    return s;
}

void Draughtsman::keep(Span span) {
    std::string serial = std::to_string(area_.spans.size() + 1);
    serial.insert(0, serial.size() < 4 ? 4 - serial.size() : 0, '0');
    const std::string& first = layout_.poles.front().id;
    span.id = "S" + first.substr(0, first.find('-')) + "-" + serial;
    for (Xy& p : span.points) {
        p = {rounded(p.x, 0.01), rounded(p.y, 0.01)};
    }
    area_.spans.push_back(std::move(span));
}

Xy Draughtsman::near(std::size_t pole_index, double metres) {
    const double away = metres * random_.unit();
    return step(pole(pole_index).at, random_.between(0.0, 360.0), away);
}

void Draughtsman::one_by_one(const Line& line, bool with_ids, double scatter) {
    for (std::size_t i = 0; i + 1 < line.poles.size(); ++i) {
        Span s = blank(line, random_.chance(0.4) ? "" : "line");
        std::pair<std::size_t, std::size_t> ends{line.poles[i], line.poles[i + 1]};
        if (random_.chance(0.12)) {
            std::swap(ends.first, ends.second);
        }
        const double off = random_.chance(0.2) ? scatter : 0.0;
        s.points = {near(ends.first, off), near(ends.second, off)};
        if (random_.chance(0.01)) {  // drawn round a tree: a bend where there is no pole
            const Xy middle{(s.points[0].x + s.points[1].x) / 2.0,
                            (s.points[0].y + s.points[1].y) / 2.0};
            const double square = heading(s.points[0], s.points[1]) + 90.0;
            s.points.insert(s.points.begin() + 1, step(middle, square, 2.5));
        }
        if (with_ids && random_.chance(0.6)) {
            s.from = pole(ends.first).id;
            s.to = pole(ends.second).id;
        }
        keep(std::move(s));
    }
}

bool Draughtsman::is_straight(const Line& line) const {
    const Xy a = pole(line.poles.front()).at;
    const Xy b = pole(line.poles.back()).at;
    const double along = heading(a, b);
    return std::all_of(line.poles.begin(), line.poles.end(), [&](std::size_t i) {
        const double off = (heading(a, pole(i).at) - along) * (std::numbers::pi / 180.0);
        return std::abs(distance(a, pole(i).at) * std::sin(off)) < 0.4;
    });
}

void Draughtsman::as_route(const Line& line) {
    Span s = blank(line, "line");
    if (line.poles.size() > 3 && is_straight(line)) {
        // Two vertices, with the poles between lying on the line.
        s.points = {pole(line.poles.front()).at, pole(line.poles.back()).at};
    } else {
        for (const std::size_t i : line.poles) {
            s.points.push_back(near(i, random_.chance(0.1) ? 0.4 : 0.0));
        }
    }
    if (random_.chance(0.3)) {
        s.from = pole(line.poles.front()).id;
        s.to = pole(line.poles.back()).id;
    }
    if (random_.chance(0.15)) {
        std::reverse(s.points.begin(), s.points.end());
        std::swap(s.from, s.to);
    }
    keep(std::move(s));
}

void Draughtsman::service_drop(std::size_t i, const Line& line) {
    Span s = blank(line, "service");
    s.kv = 0.24;
    const double side = pole(i).heading + (random_.chance(0.5) ? 90.0 : -90.0);
    const double away = random_.between(18.0, 40.0);
    s.points = {pole(i).at, step(pole(i).at, side + random_.between(-25.0, 25.0), away)};
    keep(std::move(s));
}

void Draughtsman::guy(std::size_t i, double away, const Line& line) {
    Span s = blank(line, "guy");
    s.kv.reset();
    s.points = {pole(i).at, step(pole(i).at, away, random_.between(5.0, 9.0))};
    keep(std::move(s));
}

/// Down guys behind dead ends and outside corners.
void Draughtsman::guys(const Line& line) {
    const auto at = [&](std::size_t k) { return pole(line.poles[k]).at; };
    const std::size_t n = line.poles.size();
    if (n < 2) {
        return;
    }
    if (random_.chance(0.7)) {
        guy(line.poles[n - 1], heading(at(n - 2), at(n - 1)), line);
    }
    for (std::size_t k = 1; k + 1 < n; ++k) {
        const double in = heading(at(k - 1), at(k));
        const double turn = std::remainder(heading(at(k), at(k + 1)) - in, 360.0);
        if (std::abs(turn) > 15.0) {
            guy(line.poles[k], in + turn / 2.0 + (turn > 0.0 ? -90.0 : 90.0), line);
        }
    }
}

void Draughtsman::draw(bool single) {
    for (const Line& line : layout_.lines) {
        const bool first = !line.circuit.empty() && line.circuit.back() == '1';
        if (line.kind == LineKind::service) {
            Span s = blank(line, "service");
            s.points = {pole(line.poles[0]).at, pole(line.poles[1]).at};
            keep(std::move(s));
            continue;
        }
        if (line.kind == LineKind::tie) {
            one_by_one(line, false, 1.5);
        } else if (first || single) {
            one_by_one(line, true, 0.8);
        } else {
            as_route(line);
        }
        guys(line);
        for (std::size_t k = 1; k < line.poles.size(); ++k) {
            if (line.kind == LineKind::tap && random_.chance(0.08)) {
                service_drop(line.poles[k], line);
            }
        }
    }
}

}  // namespace

void draw_spans(Random& random, const Layout& layout, bool single, Area& area) {
    Draughtsman(random, layout, area).draw(single);
}

}  // namespace linewood::sample
