#pragma once

// Private to geo/io: a row on its way to a file.

#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include <ogr_spatialref.h>

#include "geo/io/batch_rows.h"
#include "geo/io/out_column.h"
#include "geo/io/output_dataset.hpp"

namespace linewood {

/// The values of one row: carried columns from `rows` (null: they are all null), then `added`.
struct RowInput {
    const BatchRows* rows = nullptr;
    std::size_t row = 0;
    std::span<const Cell> added;
};

/// The same with a value of its own for every column, so that all of a row's stay until it is written.
template <typename Use>
void for_each_value(const LayerPlan& plan,
                    const RowInput& input,
                    std::vector<RawValue>& values,
                    Use use) {
    std::size_t column = 0;
    for (const CarriedColumn& carried : plan.carried) {
        RawValue& value = values[column];
        value.null = true;
        if (input.rows != nullptr) {
            input.rows->get(input.row, carried.source, value);
        }
        use(column++, value);
    }
    for (const Cell& cell : input.added) {
        set_from_cell(values[column], cell);
        use(column, values[column]);
        ++column;
    }
}

/// Calls `use(column, value)` for every output column of `plan` in order. `value` is the caller's, for reuse.
template <typename Use>
void for_each_value(const LayerPlan& plan, const RowInput& input, RawValue& value, Use use) {
    std::size_t column = 0;
    for (const CarriedColumn& carried : plan.carried) {
        value.null = true;
        if (input.rows != nullptr) {
            input.rows->get(input.row, carried.source, value);
        }
        use(column++, value);
    }
    for (const Cell& cell : input.added) {
        set_from_cell(value, cell);
        use(column++, value);
    }
}

/// A layer's writer inside an OutputDataset: turns the ways to append into one.
class LayerSink : public LayerWriter {
public:
    explicit LayerSink(LayerPlan plan) : plan_{std::move(plan)} {
        plan_.repaired = std::make_shared<RepairedTexts>();
    }

    /// From now on coordinates are brought from the plan's system to another. Null: they stay.
    void set_transformation(std::unique_ptr<OGRCoordinateTransformation> to) {
        transformation_ = std::move(to);
    }

    void append(const FeatureBatch& batch, std::size_t row, std::span<const Cell> added) final;
    void append_at(const FeatureBatch& batch,
                   std::size_t row,
                   std::span<const Cell> added,
                   std::optional<Point> point) final;
    void append_along(const FeatureBatch& batch,
                      std::size_t row,
                      std::span<const Cell> added,
                      const LineParts& parts,
                      const PathExtras& extras) final;
    void append(std::span<const Cell> added, std::optional<Point> point) final;
    void append_area(std::span<const Cell> added, const Polygons& area) final;
    void append_line(std::span<const Cell> added, const LineParts& parts) final;
    void number_pieces_from(std::int64_t first) final { next_piece_fid_ = first; }
    void complete() final {
        if (!complete_) {
            close();
            complete_ = true;
        }
    }
    std::int64_t count() const final { return count_; }
    std::vector<OutputNote> losses() const override;
    const RepairedTexts& repaired_texts() const final { return *plan_.repaired; }

    /// Closes the files and checks that they hold what was appended. @throws DataError
    virtual void close() = 0;
    /// Gives up what stands in the way of creating another layer; the next row takes it up again.
    virtual void pause() {}
    /// Lets go of the files without a word; they will be removed.
    virtual void drop() noexcept = 0;
    virtual LayerSummary summary() const;
    virtual void add_notes(std::vector<OutputNote>& notes) const;
    /// The columns, for `fields.csv`.
    virtual const std::vector<OutColumn>& columns() const = 0;
    /// Name of the main file; empty in a GeoPackage.
    virtual std::string file_name() const { return {}; }
    /// Is it to be found in the finished dataset, with as many rows as were appended?
    virtual bool is_written() const { return true; }

    const LayerPlan& plan() const { return plan_; }

protected:
    /// `geometry` is null for none; never an empty point, never with coordinates that are not finite.
    virtual void write(const RowInput& input, OGRGeometryUniquePtr geometry) = 0;

    /// The FID to give a row, OGRNullFID for any.
    std::int64_t fid_for(const RowInput& input);

    LayerPlan plan_;

private:
    void accept(const RowInput& input, OGRGeometryUniquePtr geometry);
    void add_placeless_note(std::vector<OutputNote>& notes) const;
    void start_source_row(const BatchRows& rows, std::size_t row);

    std::int64_t count_ = 0;
    std::int64_t last_source_fid_ = OGRNullFID;
    std::int64_t next_piece_fid_ = OGRNullFID;
    std::int64_t without_geometry_ = 0;
    std::int64_t spoilt_geometry_ = 0;
    std::int64_t empty_points_ = 0;
    std::int64_t placeless_ = 0;  ///< geometries with no place in the system asked for
    std::unique_ptr<OGRCoordinateTransformation> transformation_;
    bool complete_ = false;
};

}  // namespace linewood
