#include "geo/io/csv_scan.h"

#include <algorithm>
#include <fstream>

#include "geo/io/csv_lines.h"
#include "geo/io/data_error.hpp"
#include "geo/io/nul_text.h"

namespace linewood {
namespace {

constexpr std::size_t kShown = 400;

std::string shown(std::string_view text) { return std::string{text.substr(0, kShown)}; }

bool is_blank(std::string_view text) {
    return text.find_first_not_of(" \t\n") == std::string_view::npos;
}

/// Looks at rows that are split.
class RowCheck {
public:
    RowCheck(std::vector<std::string> header, char separator)
        : header_{std::move(header)}, separator_{separator} {}

    /// Adds what is wrong with a row; nothing where it is as it should be.
    void check(const CsvRow& row, std::vector<RowDamage>& out) const {
        for (const std::size_t cell : row.unclosed) {
            out.push_back({DamageKind::quote_unclosed, column(cell), shown(row.cells[cell])});
        }
        for (const std::size_t cell : row.misplaced) {
            out.push_back({DamageKind::quote_misplaced, column(cell), shown(row.cells[cell])});
        }
        for (std::size_t i = 0; i < row.cells.size(); ++i) {
            if (row.cells[i].find('\0') != std::string::npos) {
                out.push_back({DamageKind::nul_bytes,
                               column(i),
                               with_nul_as(shown(row.cells[i]), kNulShown)});
            }
        }
        if (row.cells.size() < header_.size()) {
            out.push_back({DamageKind::missing_cells,
                           header_[row.cells.size()],
                           with_nul_as(shown(row.text), kNulShown)});
        }
        check_surplus(row, out);
    }

private:
    std::string column(std::size_t cell) const {
        return cell < header_.size() ? header_[cell] : std::string{};
    }

    /// Cells without anything in them (a separator at the end of every line) are no loss.
    void check_surplus(const CsvRow& row, std::vector<RowDamage>& out) const {
        std::string surplus;
        bool any = false;
        for (std::size_t i = header_.size(); i < row.cells.size(); ++i) {
            surplus += i > header_.size() ? std::string{separator_} : "";
            surplus += row.cells[i];
            any = any || !is_blank(row.cells[i]);
        }
        if (any) {
            out.push_back({DamageKind::surplus_cells, "", with_nul_as(shown(surplus), kNulShown)});
        }
    }

    std::vector<std::string> header_;
    char separator_;
};

/// The header's names; empty where there is no header, or no separator in it.
std::vector<std::string> read_header(CsvRows& rows, CsvRow& row) {
    if (!rows.next(row) || rows.separator() == '\0') {
        return {};
    }
    if (!row.split) {
        rows.split(row);
    }
    std::vector<std::string> names;
    names.reserve(row.cells.size());
    for (const std::string& cell : row.cells) {
        names.push_back(with_nul_as(cell, kNulReplacement));
    }
    return names;
}

class CopyWriter {
public:
    CopyWriter(const std::filesystem::path& path, char separator)
        : path_{path}, out_{path, std::ios::binary | std::ios::trunc}, separator_{separator} {}

    void write(const std::string& text) {
        out_ << text << '\n';
        check();
    }

    /// @param width cells there shall be.
    void write(const std::vector<std::string>& cells, std::size_t width) {
        std::string line;
        for (std::size_t i = 0; i < width; ++i) {
            line += i > 0 ? std::string{separator_} : "";
            line += i < cells.size() ? quoted(cells[i]) : "";
        }
        // An empty line would be no row.
        write(line.empty() ? "\"\"" : line);
    }

    void finish() {
        out_.close();
        check();
    }

private:
    std::string quoted(const std::string& cell) const {
        if (cell.find_first_of(std::string{"\"\n\0", 3} + separator_) == std::string::npos) {
            return cell;
        }
        std::string out{"\""};
        for (const char c : cell) {
            if (c == '\0') {
                out += kNulReplacement;
                continue;
            }
            out += c;
            if (c == '"') {
                out += c;
            }
        }
        return out + '"';
    }

    void check() const {
        if (!out_) {
            throw DataError{path_.string(),
                            "",
                            "a mended copy of the input cannot be written; free some space in the "
                            "folder for temporary files, or name another in TMPDIR"};
        }
    }

    std::filesystem::path path_;
    std::ofstream out_;
    char separator_;
};

}  // namespace

bool is_damaged_csv(const std::filesystem::path& file) {
    CsvRows rows{file};
    CsvRow row;
    const std::vector<std::string> header = read_header(rows, row);
    if (header.empty()) {
        return false;
    }
    const RowCheck check{header, rows.separator()};
    std::vector<RowDamage> damage;
    check.check(row, damage);
    while (damage.empty() && rows.next(row)) {
        if (!row.split && rows.count(row) == header.size()) {
            continue;
        }
        if (!row.split) {
            rows.split(row);
        }
        check.check(row, damage);
    }
    return !damage.empty();
}

std::vector<PlacedDamage> mend_csv(const std::filesystem::path& file,
                                   const std::filesystem::path& copy) {
    CsvRows rows{file};
    CsvRow row;
    const std::vector<std::string> header = read_header(rows, row);
    const RowCheck check{header, rows.separator()};
    CopyWriter out{copy, rows.separator()};
    out.write(header, header.size());
    std::vector<PlacedDamage> placed;
    std::vector<RowDamage> damage;
    check.check(row, damage);  // that of the header is said with the first row
    for (std::int64_t at = 0; rows.next(row); ++at) {
        if (!row.split && rows.count(row) == header.size()) {
            out.write(row.text);
        } else {
            if (!row.split) {
                rows.split(row);
            }
            check.check(row, damage);
            out.write(row.cells, header.size());
        }
        for (RowDamage& d : damage) {
            placed.push_back({at, std::move(d)});
        }
        damage.clear();
    }
    out.finish();
    return placed;
}

}  // namespace linewood
