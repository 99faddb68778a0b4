#pragma once

#include <cstdint>
#include <filesystem>
#include <fstream>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "geo/io/cell.hpp"

namespace linewood {

/// Writes one CSV file: UTF-8 without a mark, commas, CRLF (RFC 4180), a header of different names.
/// Null is an empty cell, empty text is `""`; numbers by the shortest digits that read back the same; dates
/// `YYYY-MM-DD`; `true`/`false`. NaN and infinities are null. Text that a spreadsheet would run as a formula
/// (begins with = + - @ tab or CR and is not a plain number) gets a `'` in front.
class CsvWriter {
public:
    /// Creates the file. @throws DataError
    CsvWriter(std::filesystem::path path, std::span<const std::string> header);

    /// One row from cells. @pre one cell a column.
    void write_row(std::span<const Cell> cells);

    /// Or cell by cell: `null()`, `value()` and `raw()` in column order, then `end_row()`.
    void null() { separate(); }
    void value(const Cell& cell);
    void text(std::string_view text);
    /// Ready text that needs no quotes: numbers, dates.
    void raw(std::string_view text);
    void end_row();

    std::int64_t rows() const { return rows_; }
    /// Flushes and closes; checks that all bytes arrived. @throws DataError
    void finish();

private:
    void separate();
    void flush();

    std::filesystem::path path_;
    std::ofstream out_;
    std::string buffer_;
    std::uint64_t written_ = 0;
    std::int64_t rows_ = 0;
    bool row_begun_ = false;
};

/// `text` made safe for spreadsheets as CsvWriter does it (without the quotes).
std::string guarded_csv_text(std::string_view text);
/// The text that was made safe so.
std::string_view unguarded_csv_text(std::string_view text);

}  // namespace linewood
