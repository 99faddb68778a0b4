#include "src/assessed/assessed_poles.hpp"

#include <cmath>
#include <stdexcept>

namespace linewood {

bool AssessedPoles::has_place(std::uint32_t pole) const {
    return std::isfinite(places[pole].x) && std::isfinite(places[pole].y);
}

bool AssessedPoles::has_strength(std::uint32_t pole) const {
    return std::isfinite(remaining_pct[pole]);
}

const TextColumn& AssessedPoles::attribute(std::string_view name) const {
    for (const auto& [known, column] : attributes) {
        if (known == name) {
            return column;
        }
    }
    throw std::out_of_range{"no attribute " + std::string{name} + " was asked for"};
}

}  // namespace linewood
