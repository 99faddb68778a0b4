#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "assess/units/date.hpp"
#include "geo/crs/point.hpp"
#include "geo/io/row_damage.hpp"
#include "geo/shape/polygon.hpp"

namespace linewood {

class BatchRows;

/// The parts of a line or multi-line, each its vertices in order.
using LineParts = std::vector<std::vector<Point>>;

/// Heights (Z) and measures (M) of a path's vertices, part by part as its LineParts; without parts where the
/// line has none.
struct PathExtras {
    std::vector<std::vector<double>> z;
    std::vector<std::vector<double>> m;
};

/// Why a value is there or is not.
enum class ValueStatus : std::uint8_t {
    ok,
    null,        ///< no value stored, the column was not read, or blank text
    unreadable,  ///< something is stored that is not what was asked for (text that is no number)
    not_finite   ///< NaN or an infinity
};

/// Why a shape is there or is not.
enum class ShapeStatus : std::uint8_t {
    ok,
    null,        ///< no geometry stored, or geometries were not read
    empty,       ///< a geometry without coordinates
    other_type,  ///< a geometry, but not of the kind asked for (it is carried through all the same)
    not_finite,  ///< a coordinate is NaN or an infinity
    unreadable   ///< bytes that are no geometry
};

template <typename Value, typename Status>
struct Read {
    std::optional<Value> value;  ///< set exactly where status is ok
    Status status = Status::null;
};

/// Up to a few thousand features of one layer, in file order. Columns are addressed by their position
/// in the layer's schema (all of them, whatever subset was read; a column not read is null).
/// Movable; reusable: FeatureReader::next() refills it. May be handed to another thread, but is for
/// one thread at a time, and stays valid after its reader is gone.
class FeatureBatch {
public:
    FeatureBatch();
    ~FeatureBatch();
    FeatureBatch(FeatureBatch&& other) noexcept;
    FeatureBatch& operator=(FeatureBatch&& other) noexcept;
    FeatureBatch(const FeatureBatch&) = delete;
    FeatureBatch& operator=(const FeatureBatch&) = delete;

    std::size_t size() const;
    /// How many features the reader gave before this batch.
    std::int64_t first_row() const;
    /// Of a composed layer (Source::compose), which of its sources all rows of this batch are from; else 0.
    std::size_t part() const;

    /// @pre row < size(), and column < number of fields, in all that follow.
    /// The feature's FID; -1 where the format gives none.
    std::int64_t fid(std::size_t row) const;
    bool is_null(std::size_t row, std::size_t column) const;

    /// Any type as text: text as stored (a byte 0 as U+FFFD), numbers by the shortest digits that read
    /// back the same, `true`/`false`, dates `YYYY-MM-DD`, times `YYYY-MM-DDTHH:MM:SS[.mmm][Z|+HH:MM]`,
    /// lists as JSON, bytes as hexadecimal. Null is empty text.
    std::string text(std::size_t row, std::size_t column) const;
    /// A text column's bytes without a copy, valid until the batch is refilled; nothing where it is
    /// null or the column is not text.
    std::optional<std::string_view> text_view(std::size_t row, std::size_t column) const;
    /// Numbers, booleans (0, 1), and text that is one number in full (blanks around it and a leading
    /// `+` allowed; decimal point only).
    Read<double, ValueStatus> number(std::size_t row, std::size_t column) const;
    /// Date columns, the date part of timestamps as written, and text as Date::parse reads it.
    Read<Date, ValueStatus> date(std::size_t row, std::size_t column) const;
    /// Boolean columns, numbers 0 and 1, and the texts true/false, t/f, yes/no, y/n, 1/0 without case.
    Read<bool, ValueStatus> boolean(std::size_t row, std::size_t column) const;

    /// What was wrong with the row in the file itself.
    std::vector<RowDamage> damage(std::size_t row) const;

    bool has_geometry(std::size_t row) const;
    /// Has it one that can be written: one that is readable, finite and not empty?
    bool has_usable_geometry(std::size_t row) const;
    /// The geometry as WKT, bytes that are none as hexadecimal; empty where there is none.
    std::string geometry_text(std::size_t row) const;
    /// The first vertex of a geometry of any kind that has finite coordinates.
    std::optional<Point> first_vertex(std::size_t row) const;
    /// A point, or the only point of a multi-point. Z and M are not shown here but are carried.
    Read<Point, ShapeStatus> point(std::size_t row) const;
    /// A line, a curve (as the chords of its arcs), or a collection of these, each a part; parts without
    /// vertices are left out, and one that goes on exactly where the one before ends is one with it.
    /// `other_type` for the rest.
    Read<LineParts, ShapeStatus> path(std::size_t row) const;
    /// A polygon or several (curved borders as the chords of their arcs); `other_type` for the rest.
    Read<Polygons, ShapeStatus> area(std::size_t row) const;
    /// What path() leaves out.
    PathExtras path_extras(std::size_t row) const;

    /// For FeatureReader and LayerWriter.
    const BatchRows* rows() const { return rows_.get(); }
    std::unique_ptr<BatchRows>& rows_slot() { return rows_; }

private:
    std::unique_ptr<BatchRows> rows_;
};

}  // namespace linewood
