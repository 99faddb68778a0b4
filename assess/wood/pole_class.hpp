#pragma once

#include <optional>
#include <string_view>

#include "assess/record/pole.hpp"
#include "assess/units/length.hpp"

namespace linewood {

/// The class as a record or a user writes it: `4`, `H1`. Also read: any case, blanks around,
/// `class 4`, `cl. 4`, `H-1`, `H 1`, and the `4.0` that a numeric column leaves behind.
/// @return nothing for anything else; there is no class 8, no H0 and no H7.
std::optional<PoleClass> parse_pole_class(std::string_view text);

/// `H6` ... `H1`, `1` ... `7`, `9`, `10`.
std::string_view name_of(PoleClass c);

/// What a class promises, whatever the species: a least girth at the tip, and a horizontal load
/// 2 ft below the tip that a pole of the class carries at its groundline.
struct ClassRow {
    PoleClass pole_class;
    Length top_girth;
    double load_n;  ///< newtons; 1 lbf = 4.4482216152605 N exactly
    std::string_view top_confidence;
    std::string_view load_confidence;
};

/// Sources: E. T. Hawes 1947, top row of the dimension table (as quoted by a forestry handbook);
/// two secondary summaries of the American class system for loads; ANSI O5.1 from memory where the
/// row's confidence says so. Never throws; O(1).
const ClassRow& class_row(PoleClass c);

}  // namespace linewood
