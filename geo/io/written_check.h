#pragma once

// Private to geo/io: values that OGR made of what is none.

#include <memory>
#include <vector>

#include "geo/io/row_check.h"
#include "geo/io/written_cells.h"

namespace linewood {

/// Puts what is written in the file in place of a value that OGR made of it and that says something else: of `abc`
/// in a column of numbers it makes 0, of `2,9` a 2, of `****` nothing. So that it is found unreadable. Of a text with a byte
/// 0 it keeps what is before it.
class WrittenCheck final : public RowCheck {
public:
    struct TypedColumn {
        std::size_t index;
        FieldType type;
    };

    WrittenCheck(std::unique_ptr<WrittenCells> cells, std::vector<TypedColumn> columns)
        : cells_{std::move(cells)}, columns_{std::move(columns)} {}

    void check(BatchRows& rows, std::int64_t first_row) override;

private:
    static void mend_text(FeatureRows& rows,
                          std::size_t row,
                          std::size_t column,
                          std::string_view written);

    std::unique_ptr<WrittenCells> cells_;
    std::vector<TypedColumn> columns_;  ///< those that are read
};

/// A check of a layer's typed columns where its format writes values as text; null for all others.
std::unique_ptr<RowCheck> make_written_check(const std::string& driver,
                                             OGRLayer& layer,
                                             const LayerSchema& schema,
                                             const ReadOptions& options,
                                             const std::string& path);

}  // namespace linewood
