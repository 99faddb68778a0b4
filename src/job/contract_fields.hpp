#pragma once

#include <cstdint>
#include <span>
#include <string_view>
#include <vector>

#include "assess/record/finding.hpp"

namespace linewood {

/// What the values of an input field are.
enum class Quantity : std::uint8_t {
    text,
    number,   ///< of no unit that could be another
    girth,    ///< a length; may be given as diameter or radius
    length,   ///< any other length
    angle,    ///< degrees
    azimuth,  ///< degrees, or hours on the clock
    code,     ///< one of `words`
    boolean,
    date
};

/// Is it measured in a unit that has to be stated?
bool is_dimension(Quantity q);

/// A field that an input layer is read by.
struct ContractField {
    InputLayer layer;
    std::string_view name;
    Quantity quantity;
    std::string_view unit;     ///< where no job file says otherwise
    std::string_view meaning;  ///< for people
    std::span<const std::string_view> words = {};
    bool open = false;       ///< other words than `words` may stand there
    bool required = false;   ///< without it no row of the layer can be used
    bool whole = false;      ///< a number without a fraction
    bool from_zero = false;  ///< 0 is a reading like any other: an angle, a height
};

/// All of one layer, in the order of the documents.
std::span<const ContractField> input_fields(InputLayer layer);
/// The field of that name, or null.
const ContractField* contract_field(InputLayer layer, std::string_view name);
std::vector<std::string_view> contract_field_names(InputLayer layer);

/// A unit as a job file names it, with its size in metres, 1 for angles.
struct NamedUnit {
    std::string_view name;
    double size;
};

/// The units in which a quantity may be given; none where it has no unit.
std::span<const NamedUnit> units_of(Quantity q);

}  // namespace linewood
