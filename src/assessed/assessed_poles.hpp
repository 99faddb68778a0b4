#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "assess/record/line_direction.hpp"
#include "assess/units/date.hpp"
#include "assess/verdict/verdict.hpp"
#include "geo/crs/point.hpp"
#include "src/assessed/text_column.hpp"
#include "src/pipeline/pole_index.hpp"

namespace linewood {

/// The poles of an assessed dataset, in the order of the layer, column by column: about 130 bytes a
/// pole and its id.
struct AssessedPoles {
    PoleIndex ids;
    std::vector<Point> places;  ///< metres in the plane of the frame; NaN where there is no place
    std::vector<Verdict> verdicts;
    std::vector<Urgency> urgencies;
    std::vector<LineRole> roles;
    std::vector<double> remaining_pct;  ///< governing strength of the worst section; NaN: not known
    std::vector<std::optional<std::int16_t>> install_years;
    std::vector<std::optional<Date>> inspected_on;
    std::vector<bool> inspected;  ///< on a day or on none that is recorded
    std::vector<bool> repeated;   ///< an earlier pole has its id, or it has none: not to be counted
    TextColumn circuits;
    TextColumn species;
    TextColumn classes;
    /// Other columns that were asked for, by name.
    std::vector<std::pair<std::string, TextColumn>> attributes;

    std::uint32_t size() const { return ids.size(); }
    bool has_place(std::uint32_t pole) const;
    /// The strength is known.
    bool has_strength(std::uint32_t pole) const;
    /// A column that was asked for. @throws std::out_of_range
    const TextColumn& attribute(std::string_view name) const;
};

}  // namespace linewood
