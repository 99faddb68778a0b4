#pragma once

#include <cstdint>
#include <limits>
#include <span>
#include <vector>

#include "geo/crs/ground.hpp"
#include "geo/crs/point.hpp"
#include "geo/network/span_feature.hpp"

namespace linewood {

/// Distances this near to each other are the same: nothing is decided by rounding.
inline constexpr double kSameMetres = 1e-6;

/// True where `p` is a place on this ground that can be reckoned with: finite, latitude within 90,
/// at most 1e15 units from the origin.
bool is_place(Point p, const Ground& ground);

/// Finds poles near a place or near a straight piece of path, in metres, on cells of a fixed size
/// kept in a hash table: neither an outlier far away nor a dense town spoils it. Poles at exactly
/// the same place are one; the lowest index stands for them. Poles without a place are not in it.
/// 24 bytes a pole and 4 to 8 for the table.
class PoleGrid {
public:
    /// @param reach_m about how far queries look; cells are no smaller than that.
    PoleGrid(const Ground& ground, std::span<const Point> poles, double reach_m);

    struct Nearest {
        std::uint32_t pole = kNone;
        double distance_m = std::numeric_limits<double>::infinity();
        /// Of the next pole, within the tolerance too; infinite where there is none.
        double second_m = std::numeric_limits<double>::infinity();
    };
    /// The nearest pole within `tolerance_m` of `at`; of equally near ones that of lowest index.
    /// @pre is_place(at)
    Nearest nearest(Point at, double tolerance_m) const;

    struct Beside {
        std::uint32_t pole = kNone;
        double distance_m = 0.0;
        double fraction = 0.0;  ///< of the way from a to b in layer coordinates, in [0, 1]
    };
    /// Appends every pole within `tolerance_m` of the straight way from `a` to `b`, in no order.
    /// Cost: grows with the cells along it, at most with the number of poles.
    /// @pre is_place(a), is_place(b)
    void beside(Point a, Point b, double tolerance_m, std::vector<Beside>& out) const;

    /// True where at least half of the poles have eight others within `tolerance_m`, judged by a
    /// sample. No real line looks so; coordinates in a wrong unit do.
    bool too_dense(double tolerance_m) const;

private:
    struct Entry {
        Point at;
        std::uint32_t pole = kNone;
        bool shared = false;  ///< another pole is at exactly this place
    };
    struct Cell {
        std::int64_t x = 0;
        std::int64_t y = 0;
        friend bool operator==(Cell, Cell) = default;
    };

    Cell cell_of(Point p) const;
    std::size_t bucket_of(Cell cell) const;
    Point framed(Point p) const;
    void choose_cells(std::span<const Point> poles, double reach_m);
    void fill(std::span<const Point> poles);
    void merge_same_places();
    template <typename Visit>
    void visit_cell(Cell cell, Visit& visit) const;
    template <typename Visit>
    void visit_way(Point a, Point b, double x_reach, double y_reach, Visit& visit) const;
    template <typename Visit>
    void visit_around_world(
        Point a, Point b, Ground::Scale scale, double reach_m, Visit&& visit) const;

    Ground ground_;
    double cell_x_ = 1.0;
    double cell_y_ = 1.0;
    std::size_t mask_ = 0;
    std::vector<std::uint32_t> first_;  ///< of each bucket, into entries_; one more at the end
    std::vector<Entry> entries_;
};

}  // namespace linewood
