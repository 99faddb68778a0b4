#pragma once

#include <compare>
#include <cstdint>
#include <vector>

#include "geo/crs/point.hpp"

namespace linewood {

/// A cell of a grid. Rows count north, columns east, from the origin of the coordinate system.
struct CellIndex {
    std::int64_t row = 0;
    std::int64_t column = 0;

    friend auto operator<=>(const CellIndex&, const CellIndex&) = default;
};

/// Cells of equal size that cover the plane, to count poles in. The origin is that of the coordinate
/// system, so two runs share their cells. Use an equal-area projected system.
class AreaGrid {
public:
    /// Hexagons with a corner to the north, centres at ((i + (j odd)/2) r sqrt 3, 1.5 r j).
    /// @param circumradius_m from the centre to a corner. @pre above 0
    static AreaGrid hexagons(double circumradius_m);
    /// Squares, centres at ((i + 1/2) side, (j + 1/2) side). @pre side_m above 0
    static AreaGrid squares(double side_m);

    /// The cell whose centre is nearest; of equally near ones (within 1 micrometre) that of lower
    /// row, then lower column.
    CellIndex cell_of(Point at) const;
    Point centre(CellIndex cell) const;
    /// Corners counter-clockwise, the first not repeated. Neighbouring cells have the very same
    /// numbers where they touch.
    std::vector<Point> corners(CellIndex cell) const;
    double area_m2() const;

private:
    AreaGrid(bool hexagonal, double size_m) : hexagonal_{hexagonal}, size_m_{size_m} {}

    CellIndex square_of(Point at) const;
    CellIndex hexagon_of(Point at) const;

    bool hexagonal_;
    double size_m_;
};

}  // namespace linewood
