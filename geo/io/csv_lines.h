#pragma once

// Private to geo/io: the lines and the rows of a CSV file, read leniently.

#include <cstddef>
#include <deque>
#include <filesystem>
#include <fstream>
#include <string>
#include <string_view>
#include <vector>

namespace linewood {

/// The lines of a text file, ended by LF, CR or both, one at a time; they can be put back.
class TextLines {
public:
    /// @throws DataError
    explicit TextLines(const std::filesystem::path& file);

    /// False after the last. @throws DataError for a line that can be no row (64 MiB), or a failed read.
    bool next(std::string& line);
    /// To be given again, before all others.
    void put_back(std::string line) { again_.push_front(std::move(line)); }

private:
    bool fill();

    std::filesystem::path file_;
    std::ifstream in_;
    std::vector<char> block_;
    std::size_t at_ = 0;
    std::size_t end_ = 0;
    bool skip_lf_ = false;
    std::deque<std::string> again_;
};

/// One row: its cells, and what was odd about its quotation marks.
struct CsvRow {
    std::string text;  ///< as it stands in the file, lines joined by LF
    std::vector<std::string> cells;
    std::vector<std::size_t> unclosed;   ///< cells that a mark opens which is never closed
    std::vector<std::size_t> misplaced;  ///< cells with a mark in their middle
    bool split = false;                  ///< false: a plain line, `cells` is not filled
};

/// The rows of a CSV file, empty lines left out.
class CsvRows {
public:
    explicit CsvRows(const std::filesystem::path& file) : lines_{file} {}

    /// The separator that the first row shows: `,`, `;` or a tab; 0 where there is none of them.
    char separator() const { return separator_; }
    /// False after the last. The first is the header. A line without quotation marks and bytes 0 is not split.
    bool next(CsvRow& row);
    /// Fills `cells` of a plain line.
    void split(CsvRow& row) const;
    /// Cells of a plain line.
    std::size_t count(const CsvRow& row) const;

private:
    TextLines lines_;
    char separator_ = '\0';
    bool begun_ = false;
};

}  // namespace linewood
