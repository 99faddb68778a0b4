#include "geo/io/csv_lines.h"

#include <algorithm>
#include <optional>

#include "geo/io/data_error.hpp"

namespace linewood {
namespace {

constexpr std::size_t kBlock = std::size_t{1} << 18U;
constexpr std::size_t kMostInLine = std::size_t{64} << 20U;
/// A quoted cell of more than one line that is longer was never closed.
constexpr std::size_t kMostInQuotes = std::size_t{1} << 20U;

bool is_line_end(char c) { return c == '\n' || c == '\r'; }

/// Splits one row, which may grow by lines while a quotation mark is open.
class RowSplitter {
public:
    RowSplitter(CsvRow& row, char separator) : row_{row}, separator_{separator} {}

    enum class Outcome { complete, open, never_closed };

    /// Goes on to the end of the text.
    Outcome run() {
        for (;;) {
            const Outcome cell = in_quotes_ ? quoted_rest() : begin_cell();
            if (cell != Outcome::complete) {
                return cell;
            }
            if (at_ >= row_.text.size()) {
                return Outcome::complete;
            }
            ++at_;  // the separator
        }
    }

    std::size_t quote_at() const { return quote_at_; }

    /// From the start of the row again, the mark at that place being a character.
    void restart_with_character(std::size_t place) {
        characters_.push_back(place);
        row_.cells.clear();
        row_.unclosed.clear();
        row_.misplaced.clear();
        at_ = 0;
        in_quotes_ = false;
    }

private:
    Outcome begin_cell() {
        const std::string& text = row_.text;
        std::size_t first = at_;
        while (first < text.size() && text[first] == ' ') {
            ++first;
        }
        const bool mark = first < text.size() && text[first] == '"';
        if (mark && std::find(characters_.begin(), characters_.end(), first) == characters_.end()) {
            in_quotes_ = true;
            quote_at_ = first;
            at_ = first + 1;
            cell_.clear();
            return quoted_rest();
        }
        const std::size_t end = std::min(text.find(separator_, at_), text.size());
        const std::string_view cell{text.data() + at_, end - at_};
        if (mark) {
            row_.unclosed.push_back(row_.cells.size());
        } else if (cell.find('"') != std::string_view::npos) {
            row_.misplaced.push_back(row_.cells.size());
        }
        row_.cells.emplace_back(cell);
        at_ = end;
        return Outcome::complete;
    }

    Outcome quoted_rest() {
        const std::string& text = row_.text;
        for (;;) {
            const std::size_t mark = text.find('"', at_);
            if (mark == std::string::npos) {
                cell_.append(text, at_, std::string::npos);
                at_ = text.size();
                return Outcome::open;
            }
            cell_.append(text, at_, mark - at_);
            at_ = mark + 1;
            if (at_ < text.size() && text[at_] == '"') {
                cell_ += '"';
                ++at_;
                continue;
            }
            return close_quotes();
        }
    }

    /// Behind a mark that ends a cell there is a separator or the end; else it was no end, or no beginning.
    Outcome close_quotes() {
        const std::string& text = row_.text;
        std::size_t after = at_;
        while (after < text.size() && text[after] == ' ') {
            ++after;
        }
        if (after < text.size() && text[after] != separator_) {
            if (text.find('\n', quote_at_) < at_) {
                return Outcome::never_closed;
            }
            const std::size_t end = std::min(text.find(separator_, at_), text.size());
            cell_.assign(text, quote_at_, end - quote_at_);
            row_.misplaced.push_back(row_.cells.size());
            after = end;
        }
        row_.cells.push_back(cell_);
        at_ = after;
        in_quotes_ = false;
        return Outcome::complete;
    }

    CsvRow& row_;
    char separator_;
    std::vector<std::size_t> characters_;
    std::string cell_;
    std::size_t at_ = 0;
    std::size_t quote_at_ = 0;
    bool in_quotes_ = false;
};

/// As GDAL finds it: the only one of the three that the first row has outside quotation marks, else a comma.
char separator_in(std::string_view line) {
    char found = '\0';
    bool in_quotes = false;
    for (const char c : line) {
        if (c == '"') {
            in_quotes = !in_quotes;
        } else if (!in_quotes && (c == ',' || c == ';' || c == '\t')) {
            if (found != '\0' && found != c) {
                return ',';
            }
            found = c;
        }
    }
    return found;
}

}  // namespace

TextLines::TextLines(const std::filesystem::path& file)
    : file_{file}, in_{file, std::ios::binary}, block_(kBlock) {
    if (!in_) {
        throw DataError{file.string(), "", "the file cannot be read; check its permissions"};
    }
}

bool TextLines::fill() {
    in_.read(block_.data(), static_cast<std::streamsize>(block_.size()));
    at_ = 0;
    end_ = static_cast<std::size_t>(in_.gcount());
    if (in_.bad()) {
        throw DataError{file_.string(), "", "reading failed; check the disk it is on"};
    }
    return end_ > 0;
}

bool TextLines::next(std::string& line) {
    if (!again_.empty()) {
        line = std::move(again_.front());
        again_.pop_front();
        return true;
    }
    line.clear();
    bool any = false;
    while (at_ < end_ || fill()) {
        if (skip_lf_ && block_[at_] == '\n') {
            ++at_;
            skip_lf_ = false;
            continue;
        }
        skip_lf_ = false;
        any = true;
        const char* const from = block_.data() + at_;
        const char* const stop = block_.data() + end_;
        const char* const found = std::find_if(from, stop, is_line_end);
        line.append(from, found);
        at_ += static_cast<std::size_t>(found - from);
        if (line.size() > kMostInLine) {
            throw DataError{
                file_.string(), "", "a line of it is longer than 64 MiB; is it a CSV file?"};
        }
        if (found != stop) {
            skip_lf_ = *found == '\r';
            ++at_;
            return true;
        }
    }
    return any;
}

bool CsvRows::next(CsvRow& row) {
    row.cells.clear();
    row.unclosed.clear();
    row.misplaced.clear();
    do {
        if (!lines_.next(row.text)) {
            return false;
        }
    } while (row.text.empty());
    if (!begun_) {
        begun_ = true;
        if (row.text.rfind("\xEF\xBB\xBF", 0) == 0) {
            row.text.erase(0, 3);
        }
        separator_ = separator_in(row.text);
    }
    row.split = row.text.find('"') != std::string::npos || row.text.find('\0') != std::string::npos;
    if (!row.split) {
        return true;
    }
    RowSplitter splitter{row, separator_};
    std::vector<std::size_t> line_ends;
    for (;;) {
        const auto outcome = splitter.run();
        if (outcome == RowSplitter::Outcome::complete) {
            return true;
        }
        std::string more;
        if (outcome == RowSplitter::Outcome::open &&
            row.text.size() - splitter.quote_at() < kMostInQuotes && lines_.next(more)) {
            line_ends.push_back(row.text.size());
            row.text += '\n';
            row.text += more;
            continue;
        }
        // The mark is a character, and the lines behind its own are rows again.
        while (!line_ends.empty() && line_ends.back() > splitter.quote_at()) {
            lines_.put_back(row.text.substr(line_ends.back() + 1));
            row.text.resize(line_ends.back());
            line_ends.pop_back();
        }
        splitter.restart_with_character(splitter.quote_at());
    }
}

void CsvRows::split(CsvRow& row) const {
    row.cells.clear();
    std::size_t from = 0;
    for (;;) {
        const std::size_t end = std::min(row.text.find(separator_, from), row.text.size());
        row.cells.emplace_back(row.text, from, end - from);
        if (end == row.text.size()) {
            return;
        }
        from = end + 1;
    }
}

std::size_t CsvRows::count(const CsvRow& row) const {
    return 1 + static_cast<std::size_t>(std::count(row.text.begin(), row.text.end(), separator_));
}

}  // namespace linewood
