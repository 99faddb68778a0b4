#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace linewood {

enum class Severity : std::uint8_t { error, warning, note };

/// The input layer a finding speaks of.
enum class InputLayer : std::uint8_t { poles, spans, inspections, defects };

/// A place in the coordinates of the layer read.
struct Place {
    double x = 0.0;
    double y = 0.0;
};

/// One doubt about the data: which layer, which feature, which field, which value, and in words
/// what is doubtful and what was done about it.
struct Finding {
    Severity severity = Severity::warning;
    std::string_view code;  ///< a `kFinding…` constant of finding_codes.hpp: stable, lower_case
    InputLayer layer = InputLayer::poles;
    /// Its id, else its FID, as text; empty where the finding is about the layer as a whole, or
    /// where `row` is to be resolved to the id by the caller.
    std::string feature;
    std::string field;
    std::string value;
    std::string message;
    std::optional<Place> place;
    /// Position of the feature in the order it was read (poles: the pole's index), -1 if none.
    std::int64_t row = -1;
};

using Findings = std::vector<Finding>;

std::string_view name_of(Severity s);
std::string_view name_of(InputLayer l);

}  // namespace linewood
