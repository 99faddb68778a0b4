#include "tests/support/drawn_network.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <set>
#include <stdexcept>
#include <utility>

namespace linewood::testing {
namespace {

constexpr double kMetresPerCharacter = 10.0;

struct Step {
    int column;
    int row;
    char stroke;
};
constexpr std::array<Step, 8> kSteps{{{1, 0, '-'},
                                      {-1, 1, '/'},
                                      {0, 1, '|'},
                                      {1, 1, '\\'},
                                      {-1, 0, '-'},
                                      {1, -1, '/'},
                                      {0, -1, '|'},
                                      {-1, -1, '\\'}}};

struct Cell {
    int column = 0;
    int row = 0;
    auto operator<=>(const Cell&) const = default;
};

class Map {
public:
    explicit Map(std::string_view text) {
        for (std::size_t begin = 0; begin <= text.size();) {
            const std::size_t end = std::min(text.find('\n', begin), text.size());
            lines_.emplace_back(text.substr(begin, end - begin));
            begin = end + 1;
        }
        while (!lines_.empty() && lines_.front().empty()) {
            lines_.erase(lines_.begin());
        }
    }
    char at(Cell c) const {
        if (c.row < 0 || c.row >= rows() || c.column < 0) {
            return ' ';
        }
        const std::string& line = lines_[static_cast<std::size_t>(c.row)];
        const auto column = static_cast<std::size_t>(c.column);
        return column < line.size() ? line[column] : ' ';
    }
    int rows() const { return static_cast<int>(lines_.size()); }
    int columns(int row) const {
        return static_cast<int>(lines_[static_cast<std::size_t>(row)].size());
    }

    /// The next node (pole, bend, end) from `from` in that direction, if a stroke leads there.
    std::optional<Cell> follow(Cell from, Step step) const {
        Cell c{from.column + step.column, from.row + step.row};
        if (at(c) != step.stroke) {
            return std::nullopt;
        }
        while (std::string_view("-|/\\").find(at(c)) != std::string_view::npos) {
            c = {c.column + step.column, c.row + step.row};
        }
        return at(c) == ' ' ? std::nullopt : std::optional(c);
    }

private:
    std::vector<std::string> lines_;
};

bool is_pole(char c) { return std::isalpha(static_cast<unsigned char>(c)) != 0; }

Point place_of(Cell c) { return {c.column * kMetresPerCharacter, -c.row * kMetresPerCharacter}; }

/// The cells of the path that leaves `from` by `step`: over bends, to a pole or an end.
std::vector<Cell> trace(const Map& map, Cell from, Step step) {
    std::vector<Cell> path{from};
    auto next = map.follow(from, step);
    while (next) {
        path.push_back(*next);
        if (map.at(*next) != '+') {
            return path;
        }
        const Cell bend = *next;
        next = std::nullopt;
        for (const Step& on : kSteps) {
            const bool back = on.column == -step.column && on.row == -step.row;
            if (const auto reached = back ? std::nullopt : map.follow(bend, on)) {
                next = reached;
                step = on;
                break;
            }
        }
    }
    return {};
}

/// Every pole's cell, line by line.
std::vector<Cell> poles_of(const Map& map) {
    std::vector<Cell> cells;
    for (int row = 0; row < map.rows(); ++row) {
        for (int column = 0; column < map.columns(row); ++column) {
            if (is_pole(map.at({column, row}))) {
                cells.push_back({column, row});
            }
        }
    }
    return cells;
}

}  // namespace

DrawnNetwork::DrawnNetwork(std::string_view text) {
    const Map map{text};
    std::set<std::pair<Cell, Cell>> seen;
    for (const Cell cell : poles_of(map)) {
        add_pole(map.at(cell), place_of(cell));
        for (const Step& step : kSteps) {
            const std::vector<Cell> cells = trace(map, cell, step);
            // Known from its other end, if its last leg was walked from there.
            if (cells.size() < 2 || seen.contains({cells.back(), cells[cells.size() - 2]})) {
                continue;
            }
            seen.insert({cells[0], cells[1]});
            std::vector<Point> path(cells.size());
            std::transform(cells.begin(), cells.end(), path.begin(), place_of);
            add_span(path);
        }
    }
}

std::uint32_t DrawnNetwork::index(char name) const {
    const std::size_t at = names.find(name);
    if (at == std::string::npos) {
        throw std::out_of_range(std::string("no pole ") + name);
    }
    return static_cast<std::uint32_t>(at);
}

void DrawnNetwork::add_pole(char name, Point at) {
    names.push_back(name);
    poles.push_back(at);
}

DrawnSpan& DrawnNetwork::add_span(std::vector<Point> path) {
    DrawnSpan span;
    span.parts.push_back(std::move(path));
    spans.push_back(std::move(span));
    return spans.back();
}

DrawnSpan& DrawnNetwork::span(char a, char b) {
    for (DrawnSpan& s : spans) {
        const Point first = s.parts.front().front();
        const Point last = s.parts.back().back();
        if ((first == pole(a) && last == pole(b)) || (first == pole(b) && last == pole(a))) {
            return s;
        }
    }
    throw std::out_of_range(std::string("no span ") + a + b);
}

Network DrawnNetwork::solve() const {
    NetworkBuilder builder{ground, poles, settings};
    std::uint32_t row = 0;
    for (const DrawnSpan& s : spans) {
        const std::vector<std::span<const Point>> parts(s.parts.begin(), s.parts.end());
        SpanFeature feature;
        feature.parts = parts;
        const auto named = [&](char name) {
            NamedPole pole;
            const std::size_t at = names.find(name);
            if (name != 0) {
                pole.unknown = at == std::string::npos;
                pole.index = pole.unknown ? kNone : static_cast<std::uint32_t>(at);
                pole.text = "named";
            }
            return pole;
        };
        feature.from = named(s.from);
        feature.to = named(s.to);
        feature.circuit = s.circuit;
        feature.voltage_kv = s.voltage_kv;
        feature.kind = s.kind;
        feature.row = row++;
        builder.add(feature);
    }
    return builder.finish();
}

DrawnNetwork DrawnNetwork::moved(const std::function<Point(Point)>& move) const {
    DrawnNetwork other = *this;
    for (Point& p : other.poles) {
        p = move(p);
    }
    for (DrawnSpan& s : other.spans) {
        for (auto& part : s.parts) {
            for (Point& p : part) {
                p = move(p);
            }
        }
    }
    return other;
}

DrawnNetwork DrawnNetwork::on_earth(Point centre) const {
    // WGS 84: EPSG ellipsoid 7030.
    const Ground earth = Ground::geodesic(6378137.0, 1.0 / 298.257223563);
    const Ground::Scale scale = earth.scale_at(centre);
    DrawnNetwork other = moved([&](Point p) {
        const double x = centre.x + p.x / scale.x_m;
        return Point{x >= 180.0 ? x - 360.0 : x, centre.y + p.y / scale.y_m};
    });
    other.ground = earth;
    return other;
}

int count(const Network& network, std::string_view code) {
    int n = 0;
    network.each_finding([&](Finding&& finding) { n += finding.code == code ? 1 : 0; });
    return n;
}

}  // namespace linewood::testing
