#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "geo/crs/point.hpp"
#include "geo/io/cell.hpp"
#include "geo/io/feature_batch.hpp"
#include "geo/io/repaired_text.hpp"
#include "geo/shape/polygon.hpp"

namespace linewood {

struct OutputNote;

/// Appends rows to one layer of an OutputDataset, which owns it. A row is a feature of the input with
/// all its carried columns (types and geometry unchanged, Z, M and unknown kinds included) and a
/// cell for each added column; or added cells alone, the carried columns null.
/// Coordinates are in the layer's CRS; numbers are written as given (the caller rounds).
/// All throw DataError (disk full, a value the format refuses); the dataset is then good for
/// abort() only.
/// @pre added.size() is the number of added columns; the batch is of the plan's source layer.
class LayerWriter {
public:
    virtual ~LayerWriter() = default;
    LayerWriter(const LayerWriter&) = delete;
    LayerWriter& operator=(const LayerWriter&) = delete;
    LayerWriter(LayerWriter&&) = delete;
    LayerWriter& operator=(LayerWriter&&) = delete;

    /// The feature with its own geometry.
    virtual void append(const FeatureBatch& batch,
                        std::size_t row,
                        std::span<const Cell> added) = 0;
    /// The feature with a point (or none) in place of its geometry.
    virtual void append_at(const FeatureBatch& batch,
                           std::size_t row,
                           std::span<const Cell> added,
                           std::optional<Point> point) = 0;
    /// The feature with a line in place of its geometry; parts under two vertices are left out, and
    /// without any part the geometry is null.
    /// @param extras heights and measures of its vertices, where there are any.
    virtual void append_along(const FeatureBatch& batch,
                              std::size_t row,
                              std::span<const Cell> added,
                              const LineParts& parts,
                              const PathExtras& extras) = 0;
    /// A row of added cells alone.
    virtual void append(std::span<const Cell> added, std::optional<Point> point) = 0;
    /// The same with an area; rings under three points are left out, and without any polygon the geometry is
    /// null.
    virtual void append_area(std::span<const Cell> added, const Polygons& area) = 0;
    /// The same with a line; parts under two vertices are left out, and without any part the geometry is null.
    virtual void append_line(std::span<const Cell> added, const LineParts& parts) = 0;

    /// Where several rows in a row carry one source feature's FID (the pieces of a route), the first
    /// keeps it and the others are numbered from `first`, which no source feature may have or pass.
    virtual void number_pieces_from(std::int64_t first) = 0;

    /// No more rows will come: what can be finished is finished now, and its memory given back.
    virtual void complete() = 0;

    /// Texts that could not be written as they were, so far.
    virtual const RepairedTexts& repaired_texts() const = 0;

    /// Values that the format could not hold as they were, so far: a note each column and kind of loss.
    virtual std::vector<OutputNote> losses() const = 0;

    /// Rows appended so far.
    virtual std::int64_t count() const = 0;

protected:
    LayerWriter() = default;
};

}  // namespace linewood
