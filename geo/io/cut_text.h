#pragma once

// Private to geo/io: texts that GDAL ends at a byte 0, so that another text than the file's is read.

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "geo/io/row_check.h"

namespace linewood {

struct CutText {
    std::int64_t row = 0;  ///< of the file, counted from 0
    std::string column;
    std::string text;  ///< whole; of very long ones the beginning
};

/// Those of a FlatGeobuf file, in the order of its rows. Reads the properties of all features once. A file that is not
/// understood has none: GDAL says what is wrong with it.
std::vector<CutText> cut_texts_of_fgb(const std::string& file);

/// Puts whole texts in place of those cut, with U+FFFD for each byte 0, and says so.
/// @param texts by row; must stay.
std::unique_ptr<RowCheck> make_cut_text_check(const std::vector<CutText>& texts,
                                              const LayerSchema& schema,
                                              const ReadOptions& options);

}  // namespace linewood
