#include "geo/io/csv_writer.hpp"

#include <cmath>
#include <system_error>

#include "geo/io/data_error.hpp"
#include "geo/io/value_text.hpp"

namespace linewood {
namespace {

constexpr std::size_t kFlushAt = std::size_t{1} << 16U;

bool starts_formula(std::string_view text) {
    if (text.empty()) {
        return false;
    }
    const char c = text.front();
    if (c == '\t' || c == '\r' || c == '=' || c == '@') {
        return true;
    }
    return (c == '+' || c == '-') && parse_number(text).status != ValueStatus::ok;
}

bool needs_quotes(std::string_view text) {
    return text.empty() || text.find_first_of("\",\r\n") != std::string_view::npos ||
           text.front() == ' ' || text.back() == ' ';
}

}  // namespace

std::string guarded_csv_text(std::string_view text) {
    std::string out;
    if (starts_formula(text)) {
        out += '\'';
    }
    out += text;
    return out;
}

std::string_view unguarded_csv_text(std::string_view text) {
    return !text.empty() && text.front() == '\'' && starts_formula(text.substr(1)) ? text.substr(1)
                                                                                   : text;
}

CsvWriter::CsvWriter(std::filesystem::path path, std::span<const std::string> header)
    : path_{std::move(path)}, out_{path_, std::ios::binary | std::ios::trunc} {
    if (!out_) {
        throw DataError{path_.string(), "", "the file cannot be created; check the folder"};
    }
    for (const std::string& name : header) {
        text(name);
    }
    end_row();
    rows_ = 0;
}

void CsvWriter::separate() {
    if (row_begun_) {
        buffer_ += ',';
    }
    row_begun_ = true;
}

void CsvWriter::raw(std::string_view text) {
    separate();
    buffer_ += text;
}

void CsvWriter::text(std::string_view text) {
    separate();
    const bool guard = starts_formula(text);
    if (!needs_quotes(text)) {
        if (guard) {
            buffer_ += '\'';
        }
        buffer_ += text;
        return;
    }
    buffer_ += '"';
    if (guard) {
        buffer_ += '\'';
    }
    for (const char c : text) {
        if (c == '"') {
            buffer_ += '"';
        }
        buffer_ += c;
    }
    buffer_ += '"';
}

void CsvWriter::value(const Cell& cell) {
    if (const auto* text_value = std::get_if<std::string>(&cell)) {
        text(is_utf8(*text_value) ? *text_value : repaired_utf8(*text_value));
    } else if (const auto* real = std::get_if<double>(&cell)) {
        raw(std::isfinite(*real) ? number_text(*real) : "");
    } else if (const auto* whole = std::get_if<std::int64_t>(&cell)) {
        raw(number_text(*whole));
    } else if (const auto* flag = std::get_if<bool>(&cell)) {
        raw(*flag ? "true" : "false");
    } else if (const auto* date = std::get_if<Date>(&cell)) {
        raw(date->to_string());
    } else {
        null();
    }
}

void CsvWriter::write_row(std::span<const Cell> cells) {
    for (const Cell& cell : cells) {
        value(cell);
    }
    end_row();
}

void CsvWriter::end_row() {
    buffer_ += "\r\n";
    row_begun_ = false;
    ++rows_;
    if (buffer_.size() >= kFlushAt) {
        flush();
    }
}

void CsvWriter::flush() {
    out_.write(buffer_.data(), static_cast<std::streamsize>(buffer_.size()));
    if (!out_) {
        throw DataError{path_.string(),
                        "",
                        "writing failed; the disk may be full: free some space or choose another "
                        "place"};
    }
    written_ += buffer_.size();
    buffer_.clear();
}

void CsvWriter::finish() {
    flush();
    out_.close();
    std::error_code error;
    if (!out_ || std::filesystem::file_size(path_, error) != written_ || error) {
        throw DataError{path_.string(),
                        "",
                        "not all bytes arrived; the disk may be full: free some space or choose "
                        "another place"};
    }
}

}  // namespace linewood
