#pragma once

#include <string>
#include <string_view>

#include "assess/condition/criteria.hpp"
#include "assess/units/angle.hpp"
#include "assess/units/length.hpp"
#include "assess/units/maybe.hpp"
#include "geo/io/cell.hpp"
#include "src/job/unit_system.hpp"
#include "src/report/worksheet_document.hpp"

namespace linewood {

/// What stands where there is no value.
inline constexpr std::string_view kNoValue = "\u2013";

/// A number of six digits, powers of ten in superscript: `1.23457 × 10⁻⁵`.
std::string six_digits(double v);

/// Figures of a worksheet as people read them, in one unit system.
class SheetFigures {
public:
    explicit SheetFigures(UnitSystem units) : units_{units} {}

    UnitSystem units() const { return units_; }

    /// `40 in`; `not known` where absent.
    std::string girth(Maybe<Length> l) const;
    /// `3 ft`.
    std::string height(Length l) const;
    static std::string degrees(double v);

    /// Of a section's properties: lengths to a power, in inches or centimetres.
    double property(double si, int power) const;
    std::string property_text(double si, int power) const;
    std::string property_unit(int power) const;
    SheetCell property_cell(double si, int power) const;

    SheetCell girth_cell(Maybe<Length> l) const;

    /// The cell of an output column as a worksheet prints it; shares show on which side of their limit
    /// they lie.
    SheetCell column_cell(const Field& field, const Cell& cell, const Criteria& criteria) const;

private:
    UnitSystem units_;
};

/// A column's name in words: `remaining_pct` is `remaining`.
std::string words_of(std::string_view code);

}  // namespace linewood
