#include <cstring>
#include <filesystem>
#include <fstream>

#include "geo/io/row_stream.h"

namespace linewood {
namespace {

constexpr std::size_t kBlock = std::size_t{1} << 16U;

/// Rows of text cells, side by side in one block of memory. An empty cell is null.
class CsvRows final : public BatchRows {
public:
    explicit CsvRows(std::size_t columns) : columns_{columns} {}

    std::size_t size() const override { return cells_.size() / columns_; }
    std::int64_t fid(std::size_t row) const override {
        return first_row + static_cast<std::int64_t>(row) + 1;
    }
    bool is_null(std::size_t row, std::size_t column) const override {
        return cell(row, column).size == 0;
    }
    void get(std::size_t row, std::size_t column, RawValue& value) const override {
        const Cell& c = cell(row, column);
        value.null = c.size == 0;
        value.type = FieldType::text;
        value.bytes = {text_.data() + c.begin, c.size};
    }
    StoredGeometry geometry(std::size_t /*row*/) const override { return {}; }

    void reserve(std::size_t rows) {
        cells_.reserve(rows * columns_);
        text_.reserve(rows * columns_ * 6);
    }

    /// Adds a record. @param wanted which columns are kept; the others are null.
    /// @return false where it is not well-formed or has not one cell a column; then it is not added.
    bool add(std::string_view record, const std::vector<bool>& wanted) {
        const std::size_t cells = cells_.size();
        const std::size_t bytes = text_.size();
        if (split(record, wanted) && cells_.size() == cells + columns_) {
            return true;
        }
        cells_.resize(cells);
        text_.resize(bytes);
        return false;
    }

private:
    struct Cell {
        std::uint32_t begin = 0;
        std::uint32_t size = 0;
    };

    const Cell& cell(std::size_t row, std::size_t column) const {
        return cells_[row * columns_ + column];
    }

    bool split(std::string_view record, const std::vector<bool>& wanted) {
        std::size_t at = 0;
        for (std::size_t column = 0; column < columns_; ++column) {
            const std::size_t begin = text_.size();
            const bool quoted = at < record.size() && record[at] == '"';
            if (!(quoted ? take_quoted(record, at) : take_plain(record, at))) {
                return false;
            }
            if (!wanted[column]) {
                text_.resize(begin);
            }
            cells_.push_back({static_cast<std::uint32_t>(begin),
                              static_cast<std::uint32_t>(text_.size() - begin)});
            const bool last = column + 1 == columns_;
            if (last || at == record.size()) {
                return last && at == record.size();
            }
            ++at;  // the comma
        }
        return false;
    }

    bool take_plain(std::string_view record, std::size_t& at) {
        const std::size_t begin = at;
        for (; at < record.size() && record[at] != ','; ++at) {
            const char c = record[at];
            if (c == '"' || c == '\0' || c == '\r') {
                return false;
            }
        }
        text_.append(record, begin, at - begin);
        return true;
    }

    bool take_quoted(std::string_view record, std::size_t& at) {
        for (++at; at < record.size(); ++at) {
            const char c = record[at];
            if (c == '\0' || c == '\r') {
                return false;
            }
            if (c == '"') {
                ++at;
                if (at == record.size() || record[at] == ',') {
                    return true;
                }
                if (record[at] != '"') {
                    return false;
                }
            }
            text_ += c;
        }
        return false;
    }

    std::size_t columns_;
    std::vector<Cell> cells_;
    std::string text_;
};

/// Hands out a file's lines, without their ends (LF or CRLF).
class Lines {
public:
    explicit Lines(const std::string& file) : in_{file, std::ios::binary} {}

    /// @return false after the last line. The line stays until the next call.
    bool next(std::string_view& line) {
        for (;;) {
            const char* from = buffer_.data() + at_ + looked_;
            const auto* end =
                static_cast<const char*>(std::memchr(from, '\n', buffer_.size() - at_ - looked_));
            if (end != nullptr || (ended_ && at_ < buffer_.size())) {
                const char* begin = buffer_.data() + at_;
                const char* last = end == nullptr ? buffer_.data() + buffer_.size() : end;
                line = {begin, static_cast<std::size_t>(last - begin)};
                at_ += line.size() + (end == nullptr ? 0 : 1);
                looked_ = 0;
                if (!line.empty() && line.back() == '\r') {
                    line.remove_suffix(1);
                }
                return true;
            }
            if (ended_) {
                return false;
            }
            looked_ = buffer_.size() - at_;
            fill();
        }
    }
    bool failed() const { return in_.bad(); }

private:
    void fill() {
        buffer_.erase(0, at_);
        at_ = 0;
        const std::size_t before = buffer_.size();
        buffer_.resize(before + kBlock);
        in_.read(buffer_.data() + before, static_cast<std::streamsize>(kBlock));
        buffer_.resize(before + static_cast<std::size_t>(in_.gcount()));
        ended_ = !in_;
    }

    std::ifstream in_;
    std::string buffer_;
    std::size_t at_ = 0;
    std::size_t looked_ = 0;  // bytes behind `at_` that hold no end of a line
    bool ended_ = false;
};

class CsvStream final : public RowStream {
public:
    CsvStream(const std::string& file, const LayerSchema& schema, const ReadOptions& options)
        : lines_{file}, columns_{schema.fields.size()}, rows_{options.batch_size} {
        for (std::size_t i = 0; i < columns_; ++i) {
            wanted_.push_back(is_wanted(options, i));
        }
    }

    /// Is the header what OGR took it for?
    bool has_header(const LayerSchema& schema) {
        std::string_view line;
        if (!lines_.next(line)) {
            return false;
        }
        constexpr std::string_view kMark = "\xEF\xBB\xBF";
        if (line.rfind(kMark, 0) == 0) {
            line.remove_prefix(kMark.size());
        }
        CsvRows header{columns_};
        if (!header.add(line, std::vector<bool>(columns_, true))) {
            return false;
        }
        RawValue name;
        for (std::size_t i = 0; i < columns_; ++i) {
            header.get(0, i, name);
            if (name.bytes != schema.fields[i].name) {
                return false;
            }
        }
        return true;
    }

    State next(std::unique_ptr<BatchRows>& slot) override {
        auto rows = std::make_unique<CsvRows>(columns_);
        rows->reserve(rows_);
        State state = odd_ ? State::odd : State::rows;
        while (state == State::rows && rows->size() < rows_) {
            std::string_view record;
            if (!read_record(record)) {
                state = lines_.failed() ? State::odd : State::end;
            } else if (!rows->add(record, wanted_)) {
                state = State::odd;
            }
        }
        if (state == State::odd) {
            odd_ = true;
            state = rows->size() == 0 ? State::odd : State::rows;
        }
        slot = std::move(rows);
        return state;
    }

private:
    /// A line, and those that follow while a quoted text goes on.
    bool read_record(std::string_view& record) {
        if (!lines_.next(record)) {
            return false;
        }
        if (!is_open(record)) {
            return true;
        }
        several_ = record;
        std::string_view more;
        while (is_open(several_) && lines_.next(more)) {
            several_ += '\n';
            several_ += more;
        }
        record = several_;
        return true;
    }

    static bool is_open(std::string_view text) {
        bool open = false;
        for (std::size_t at = text.find('"'); at != std::string_view::npos;
             at = text.find('"', at + 1)) {
            open = !open;
        }
        return open;
    }

    Lines lines_;
    std::size_t columns_;
    std::size_t rows_;  // a batch
    std::vector<bool> wanted_;
    std::string several_;
    bool odd_ = false;
};

}  // namespace

bool is_wanted(const ReadOptions& options, std::size_t column) {
    if (!options.columns) {
        return true;
    }
    for (const std::size_t wanted : *options.columns) {
        if (wanted == column) {
            return true;
        }
    }
    return false;
}

std::string driver_name(GDALDataset& dataset) {
    const GDALDriver* driver = dataset.GetDriver();
    return driver == nullptr ? "" : driver->GetDescription();
}

std::unique_ptr<RowStream> open_csv_stream(GDALDataset& dataset,
                                           const std::string& file,
                                           const LayerSchema& schema,
                                           const ReadOptions& options) {
    std::error_code error;
    if (driver_name(dataset) != "CSV" || schema.has_geometry() || schema.fields.empty() ||
        !std::filesystem::is_regular_file(file, error)) {
        return nullptr;
    }
    for (const Field& field : schema.fields) {
        if (field.type != FieldType::text || field.json || field.width != 0) {
            return nullptr;
        }
    }
    auto stream = std::make_unique<CsvStream>(file, schema, options);
    return stream->has_header(schema) ? std::move(stream) : nullptr;
}

}  // namespace linewood
