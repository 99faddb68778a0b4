#pragma once

#include <cstdint>
#include <functional>
#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "geo/network/network_builder.hpp"

namespace linewood::testing {

/// A span feature that owns its points and names its poles by letter (0: none).
struct DrawnSpan {
    std::vector<std::vector<Point>> parts;
    char from = 0;
    char to = 0;
    std::uint32_t circuit = kNone;
    float voltage_kv = std::numeric_limits<float>::quiet_NaN();
    SpanKind kind = SpanKind::line;
};

/// A network drawn as text, in metres: one character is 10 m, east to the right, north up.
///
///     A---B---C     letters: poles, A at (0, 0) where it is the first character of the first line
///          \  |     - | / \ : a span, drawn from the pole on its left (or above) to the other
///           +-D     + : a bend without a pole;  . : an end without a pole
///
/// A line that meets another line's stroke crosses it.
struct DrawnNetwork {
    std::string names;  ///< of the poles, in their order
    std::vector<Point> poles;
    std::vector<DrawnSpan> spans;
    Ground ground = Ground::planar(1.0);
    NetworkSettings settings;

    DrawnNetwork() = default;
    explicit DrawnNetwork(std::string_view text);

    std::uint32_t index(char name) const;
    Point& pole(char name) { return poles[index(name)]; }
    /// Adds a pole.
    void add_pole(char name, Point at);
    /// Adds a one-part span.
    DrawnSpan& add_span(std::vector<Point> path);
    /// The span drawn between the two poles (its path starts at one and ends at the other).
    DrawnSpan& span(char a, char b);

    Network solve() const;
    LineDirection at(char name) const { return solve().direction(index(name)); }

    /// The same with every point moved.
    DrawnNetwork moved(const std::function<Point(Point)>& move) const;
    /// The same around a place on the WGS 84 ellipsoid, right to about 1e-4 over a kilometre.
    DrawnNetwork on_earth(Point centre) const;
};

/// How many findings of a code.
int count(const Network& network, std::string_view code);

/// A pole without a place.
inline constexpr Point kNowhere{std::numeric_limits<double>::quiet_NaN(),
                                std::numeric_limits<double>::quiet_NaN()};

}  // namespace linewood::testing
