#include "src/corridor/line_model.hpp"

#include <algorithm>

#include "geo/corridor/run_id.hpp"

namespace linewood {
namespace {

std::vector<std::string_view> names_of_circuits(const AssessedData& data) {
    const auto& of_spans = data.spans.circuits().values();
    const auto& of_poles = data.poles.circuits.values();
    std::vector<std::string_view> names{of_spans.begin(), of_spans.end()};
    names.insert(names.end(), of_poles.begin(), of_poles.end());
    return names;
}

std::vector<std::string_view> ids_of(const AssessedPoles& poles) {
    std::vector<std::string_view> ids;
    ids.reserve(poles.size());
    for (std::uint32_t pole = 0; pole < poles.size(); ++pole) {
        ids.push_back(poles.ids.id(pole));
    }
    return ids;
}

}  // namespace

LineModel::LineModel(const AssessedData& data)
    : data_{data},
      circuit_names_{names_of_circuits(data)},
      graph_{ids_of(data.poles), line_spans(), circuit_names_},
      runs_{graph_} {
    const std::vector<std::string_view> ids = ids_of(data.poles);
    run_ids_.reserve(runs_.runs().size());
    for (std::size_t run = 0; run < runs_.runs().size(); ++run) {
        run_ids_.push_back(linewood::run_id(run_name(runs_, run, graph_, ids, circuit_names_)));
    }
}

std::vector<CorridorSpan> LineModel::line_spans() const {
    const AssessedPoles& poles = data_.poles;
    const auto first_of_poles = static_cast<std::uint32_t>(data_.spans.circuits().values().size());
    std::vector<CorridorSpan> spans;
    spans.reserve(data_.spans.size());
    for (std::uint32_t i = 0; i < data_.spans.size(); ++i) {
        const AssessedSpans::Span& span = data_.spans[i];
        if (!span.line) {
            continue;
        }
        std::uint32_t circuit = data_.spans.circuits().code(i);
        if (circuit == 0 && poles.circuits.code(span.from) == poles.circuits.code(span.to)) {
            circuit = first_of_poles + poles.circuits.code(span.from);
        }
        spans.push_back({span.from, span.to, span.length_m, circuit, i});
    }
    return spans;
}

bool LineModel::run_counts(std::uint32_t run) const {
    const auto stops = runs_.stops(run);
    return stops.size() > 1 || counts(stops.front().pole);
}

std::string LineModel::circuits_of(std::uint32_t run) const {
    std::string text;
    for (const std::uint32_t circuit : graph_.circuits(runs_.runs()[run].circuits)) {
        text += text.empty() ? "" : "+";
        text += circuit_names_[circuit];
    }
    return text;
}

std::vector<Point> LineModel::path(std::uint32_t step, std::uint32_t from) const {
    const std::uint32_t span = graph_.step(step).span;
    std::vector<Point> path = data_.spans.path(span, data_.poles);
    if (data_.spans[span].from != from) {
        std::reverse(path.begin(), path.end());
    }
    return path;
}

std::vector<Point> LineModel::run_path(std::uint32_t run) const {
    std::vector<Point> whole;
    for (const Runs::Stop& stop : runs_.stops(run)) {
        if (stop.step == kNone) {
            break;
        }
        const std::vector<Point> next = path(stop.step, stop.pole);
        for (const Point p : next) {
            if (whole.empty() || whole.back() != p) {
                whole.push_back(p);
            }
        }
    }
    return whole;
}

std::vector<Point> LineModel::to_layer(std::vector<Point> path) const {
    for (Point& p : path) {
        p = data_.frame->to_layer(p);
    }
    return path;
}

}  // namespace linewood
