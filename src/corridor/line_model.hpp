#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "geo/corridor/line_graph.hpp"
#include "geo/corridor/runs.hpp"
#include "geo/crs/point.hpp"
#include "geo/io/feature_batch.hpp"
#include "src/assessed/assessed_data.hpp"

namespace linewood {

/// The line of an assessed dataset, cut into runs. Services and guys are not of it. A span of which no
/// circuit is recorded is of that of its two poles where both have the same.
class LineModel {
public:
    /// The data must outlive it.
    explicit LineModel(const AssessedData& data);

    const AssessedData& data() const { return data_; }
    const LineGraph& graph() const { return graph_; }
    const Runs& runs() const { return runs_; }
    std::string_view pole_id(std::uint32_t pole) const { return data_.poles.ids.id(pole); }
    /// The pole is one of its own: no earlier one has its id, and it has one.
    bool counts(std::uint32_t pole) const { return !data_.poles.repeated[pole]; }
    /// False for the run of one pole that does not count.
    bool run_counts(std::uint32_t run) const;
    const std::string& run_id(std::uint32_t run) const { return run_ids_[run]; }
    /// Circuits of a run by name: `A+B`; empty = none recorded.
    std::string circuits_of(std::uint32_t run) const;
    const std::vector<std::string_view>& circuit_names() const { return circuit_names_; }

    /// The way of a step over its bends, in metres of the frame, from the pole `from` on.
    std::vector<Point> path(std::uint32_t step, std::uint32_t from) const;
    /// The way of a run, as path().
    std::vector<Point> run_path(std::uint32_t run) const;
    /// Metres to the coordinates of the poles layer.
    std::vector<Point> to_layer(std::vector<Point> path) const;

private:
    std::vector<CorridorSpan> line_spans() const;

    const AssessedData& data_;
    std::vector<std::string_view> circuit_names_;  ///< of the spans, then of the poles
    LineGraph graph_;
    Runs runs_;
    std::vector<std::string> run_ids_;
};

}  // namespace linewood
