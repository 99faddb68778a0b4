#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "geo/corridor/line_graph.hpp"
#include "geo/corridor/runs.hpp"

namespace linewood {

/// What names a run: its start, the pole after it, its end, and its circuits. No two runs share the
/// first two, so the name is the run's own; it says the same in every export of the same line.
struct RunName {
    std::string start;
    std::string next;  ///< empty for a pole without spans
    std::string end;   ///< the start again, of a closed run and of a pole without spans
    std::vector<std::string> circuits;  ///< in the order of their names

    friend bool operator==(const RunName&, const RunName&) = default;
};

RunName run_name(const Runs& runs,
                 std::size_t run,
                 const LineGraph& graph,
                 std::span<const std::string_view> pole_ids,
                 std::span<const std::string_view> circuit_names);

/// The name as one text: `start~next~end~circuit+circuit`. In its parts `~`, `+` and `%` are written
/// `%7E`, `%2B` and `%25`, so it can be taken apart again whatever the ids hold.
std::string run_id(const RunName& name);

/// The other way round; nothing where the text is no run id.
std::optional<RunName> read_run_id(std::string_view id);

}  // namespace linewood
