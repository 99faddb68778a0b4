#pragma once

#include <algorithm>
#include <cstdint>
#include <fstream>
#include <map>
#include <random>
#include <string>
#include <string_view>
#include <vector>

#include <nlohmann/json.hpp>

#include "geo/corridor/line_graph.hpp"
#include "tests/places/places.hpp"

namespace linewood::testing {

/// A vector file of tests/published/stats.
inline nlohmann::json stats_vectors(const std::string& file) {
    return nlohmann::json::parse(std::ifstream{test_file("published/stats/" + file)});
}

/// Poles and spans by name, for LineGraph.
class LineSketch {
public:
    std::uint32_t pole(const std::string& id) {
        const auto [at, fresh] = index_.try_emplace(id, static_cast<std::uint32_t>(ids_.size()));
        if (fresh) {
            ids_.push_back(id);
        }
        return at->second;
    }

    void span(const std::string& from,
              const std::string& to,
              double length_m,
              const std::string& circuit = {}) {
        const std::uint32_t a = pole(from);
        const std::uint32_t b = pole(to);
        spans_.push_back({a, b, length_m, circuit_index(circuit), number(spans_.size())});
    }

    /// Spans of one length along several poles.
    void line(const std::vector<std::string>& poles, double length_m) {
        for (std::size_t i = 0; i + 1 < poles.size(); ++i) {
            span(poles[i], poles[i + 1], length_m);
        }
    }

    /// The same network with poles, spans, ends of spans and circuits in another order.
    LineSketch shuffled(unsigned seed) const {
        std::mt19937 random{seed};
        LineSketch other;
        std::vector<std::string> ids = ids_;
        std::shuffle(ids.begin(), ids.end(), random);
        for (const std::string& id : ids) {
            other.pole(id);
        }
        std::vector<std::string> circuits = circuits_;
        std::shuffle(circuits.begin(), circuits.end(), random);
        other.circuits_ = circuits;
        std::vector<CorridorSpan> spans = spans_;
        std::shuffle(spans.begin(), spans.end(), random);
        for (const CorridorSpan& s : spans) {
            const bool turned = random() % 2 == 0;
            other.span(ids_[turned ? s.to : s.from],
                       ids_[turned ? s.from : s.to],
                       s.length_m,
                       s.circuit == kNone ? std::string{} : circuits_[s.circuit]);
        }
        return other;
    }

    std::vector<std::string_view> ids() const { return {ids_.begin(), ids_.end()}; }
    std::vector<std::string_view> circuits() const { return {circuits_.begin(), circuits_.end()}; }
    std::vector<CorridorSpan>& spans() { return spans_; }
    const std::string& id(std::uint32_t pole) const { return ids_[pole]; }
    std::uint32_t index(const std::string& id) const { return index_.at(id); }
    LineGraph graph() const { return LineGraph{ids(), spans_, circuits()}; }

private:
    static std::uint32_t number(std::size_t i) { return static_cast<std::uint32_t>(i); }

    std::uint32_t circuit_index(const std::string& circuit) {
        if (circuit.empty()) {
            return kNone;
        }
        const auto at = std::find(circuits_.begin(), circuits_.end(), circuit);
        if (at != circuits_.end()) {
            return number(static_cast<std::size_t>(at - circuits_.begin()));
        }
        circuits_.push_back(circuit);
        return number(circuits_.size() - 1);
    }

    std::vector<std::string> ids_;
    std::map<std::string, std::uint32_t> index_;
    std::vector<std::string> circuits_;
    std::vector<CorridorSpan> spans_;
};

/// So many poles with ids in no order, each but the first joined to an earlier one (the one before it
/// mostly: `straight` in 100), and `rings` spans more between any two.
inline LineSketch random_line(unsigned seed, unsigned poles, unsigned straight, unsigned rings) {
    std::mt19937 random{seed};
    LineSketch sketch;
    std::vector<std::string> names;
    for (unsigned i = 0; i < poles; ++i) {
        names.push_back("P" + std::to_string(i * 7919U % 100003U));
        sketch.pole(names.back());
    }
    const auto length = [&] { return 10.0 + static_cast<double>(random() % 200U) / 2.0; };
    for (unsigned i = 1; i < poles; ++i) {
        const unsigned to =
            random() % 100U < straight ? i - 1U : static_cast<unsigned>(random() % i);
        sketch.span(names[i], names[to], length());
    }
    for (unsigned i = 0; i < rings; ++i) {
        sketch.span(names[random() % poles], names[random() % poles], length());
    }
    return sketch;
}

}  // namespace linewood::testing
