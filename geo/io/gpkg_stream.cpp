#include <algorithm>
#include <array>
#include <limits>
#include <optional>

#include <sqlite3.h>

#include "geo/io/row_stream.h"
#include "geo/io/sqlite_file.h"

namespace linewood {
namespace {

/// A value as SQLite gave it; text and bytes lie in the rows' block of memory.
struct StoredValue {
    FieldType type = FieldType::text;
    bool null = true;
    std::uint32_t size = 0;
    /// A number; of text and bytes where they begin; of a date 10000 times the year, 100 times the month
    /// and the day.
    std::int64_t integer = 0;
    double real = 0.0;
};

class TableRows final : public BatchRows {
public:
    /// @param places of each field of the schema: its place among the values of a row, -1 = not read.
    explicit TableRows(std::shared_ptr<const std::vector<int>> places, std::size_t width)
        : places_{std::move(places)}, width_{width} {}

    std::size_t size() const override { return fids_.size(); }
    std::int64_t fid(std::size_t row) const override { return fids_[row]; }
    bool is_null(std::size_t row, std::size_t column) const override {
        const int place = (*places_)[column];
        return place < 0 || values_[row * width_ + static_cast<std::size_t>(place)].null;
    }
    void get(std::size_t row, std::size_t column, RawValue& value) const override {
        const int place = (*places_)[column];
        value.null = true;
        if (place < 0) {
            return;
        }
        const StoredValue& stored = values_[row * width_ + static_cast<std::size_t>(place)];
        value.null = stored.null;
        value.type = stored.type;
        if (stored.type == FieldType::text || stored.type == FieldType::binary) {
            value.bytes = {text_.data() + stored.integer, stored.size};
        } else if (stored.type == FieldType::real) {
            value.real = stored.real;
        } else if (stored.type == FieldType::date) {
            const auto day = static_cast<int>(stored.integer);
            value.time = TimeStamp{};
            value.time.year = day / 10000;
            value.time.month = day / 100 % 100;
            value.time.day = day % 100;
        } else {
            value.integer = stored.integer;
        }
    }
    StoredGeometry geometry(std::size_t row) const override {
        StoredGeometry stored;
        if (!shapes_.empty() && shapes_[row].size > 0) {
            // Well-known binary is unsigned char to OGR.
            stored.wkb =
                reinterpret_cast<const unsigned char*>(text_.data() + shapes_[row].integer);
            stored.wkb_size = shapes_[row].size;
        }
        return stored;
    }

    void reserve(std::size_t rows) {
        fids_.reserve(rows);
        values_.reserve(rows * width_);
    }
    /// A row, null throughout; its values.
    StoredValue* begin_row(std::int64_t fid) {
        fids_.push_back(fid);
        values_.resize(values_.size() + width_);
        return values_.data() + values_.size() - width_;
    }
    void drop_row() {
        fids_.pop_back();
        values_.resize(values_.size() - width_);
        shapes_.resize(std::min(shapes_.size(), fids_.size()));
    }
    /// The geometry of the last row.
    void put_shape(std::string_view wkb) {
        shapes_.resize(fids_.size());
        put_bytes(shapes_.back(), wkb.data(), wkb.size());
    }
    void put_bytes(StoredValue& value, const void* bytes, std::size_t size) {
        value.integer = static_cast<std::int64_t>(text_.size());
        value.size = static_cast<std::uint32_t>(size);
        text_.append(static_cast<const char*>(bytes), size);
    }

private:
    std::shared_ptr<const std::vector<int>> places_;
    std::size_t width_;
    std::vector<std::int64_t> fids_;
    std::vector<StoredValue> values_;
    std::vector<StoredValue> shapes_;  ///< empty where geometries are not read
    std::string text_;
};

/// The well-known binary in a GeoPackage geometry (GeoPackage 1.3, clause 2.1.3); nothing where it is none.
std::optional<std::string_view> wkb_in(std::string_view blob) {
    constexpr std::array<std::size_t, 5> kEnvelopes{0, 32, 48, 48, 64};
    constexpr std::size_t kHead = 8;
    if (blob.size() < kHead || blob.substr(0, 3) != std::string_view{"GP\0", 3}) {
        return std::nullopt;
    }
    const auto flags = static_cast<unsigned char>(blob[3]);
    const unsigned envelope = (flags >> 1U) & 7U;
    const bool extended = (flags & 0x20U) != 0;
    if (extended || envelope >= kEnvelopes.size() || blob.size() <= kHead + kEnvelopes[envelope]) {
        return std::nullopt;
    }
    return blob.substr(kHead + kEnvelopes[envelope]);
}

class GpkgStream final : public RowStream {
public:
    GpkgStream(sqlite3* db,
               const std::string& table,
               const LayerSchema& schema,
               const ReadOptions& options)
        : rows_{options.batch_size} {
        std::vector<int> places(schema.fields.size(), -1);
        // A view may have none; OGR counts its rows then.
        counted_ = schema.fid_name.empty();
        std::string names = counted_ ? "0" : quoted_name(schema.fid_name);
        for (std::size_t i = 0; i < places.size(); ++i) {
            if (is_wanted(options, i)) {
                places[i] = static_cast<int>(types_.size());
                types_.push_back(schema.fields[i].type);
                names += ',';
                names += quoted_name(schema.fields[i].name);
            }
        }
        if (schema.has_geometry() && options.geometry) {
            with_geometry_ = true;
            names += ',';
            names += quoted_name(schema.geometry_name);
        }
        places_ = std::make_shared<const std::vector<int>>(std::move(places));
        const std::string sql = "SELECT " + names + " FROM " + quoted_name(table);
        sqlite3_stmt* statement = nullptr;
        sqlite3_prepare_v2(db, sql.c_str(), -1, &statement, nullptr);
        statement_.reset(statement);
    }

    bool is_open() const { return statement_ != nullptr; }

    State next(std::unique_ptr<BatchRows>& slot) override {
        auto rows = std::make_unique<TableRows>(places_, types_.size());
        rows->reserve(rows_);
        State state = odd_ ? State::odd : State::rows;
        while (state == State::rows && rows->size() < rows_) {
            const int code = sqlite3_step(statement_.get());
            if (code == SQLITE_DONE) {
                state = State::end;
            } else if (code != SQLITE_ROW || !take_row(*rows)) {
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
    bool take_row(TableRows& rows) {
        sqlite3_stmt* s = statement_.get();
        if (sqlite3_column_type(s, 0) != SQLITE_INTEGER) {
            return false;
        }
        StoredValue* values = rows.begin_row(counted_ ? given_ : sqlite3_column_int64(s, 0));
        for (std::size_t i = 0; i < types_.size(); ++i) {
            values[i].type = types_[i];
            if (!take(rows, values[i], static_cast<int>(i) + 1)) {
                rows.drop_row();
                return false;
            }
        }
        if (with_geometry_ && !take_shape(rows, static_cast<int>(types_.size()) + 1)) {
            rows.drop_row();
            return false;
        }
        ++given_;
        return true;
    }

    bool take_shape(TableRows& rows, int column) {
        sqlite3_stmt* s = statement_.get();
        const int stored = sqlite3_column_type(s, column);
        if (stored == SQLITE_NULL) {
            rows.put_shape({});
            return true;
        }
        const void* bytes = sqlite3_column_blob(s, column);
        const auto size = static_cast<std::size_t>(sqlite3_column_bytes(s, column));
        if (stored != SQLITE_BLOB || bytes == nullptr) {
            return false;
        }
        const auto wkb = wkb_in({static_cast<const char*>(bytes), size});
        if (wkb) {
            rows.put_shape(*wkb);
        }
        return wkb.has_value();
    }

    /// @return false where OGR has to read it.
    bool take(TableRows& rows, StoredValue& value, int column) {
        sqlite3_stmt* s = statement_.get();
        const int stored = sqlite3_column_type(s, column);
        if (stored == SQLITE_NULL) {
            return true;
        }
        value.null = false;
        switch (value.type) {
            case FieldType::text:
                return stored == SQLITE_TEXT && take_text(rows, value, column);
            case FieldType::binary:
                take_as_stored(rows, value, column, stored);
                return stored == SQLITE_BLOB;
            case FieldType::date:
                if (stored == SQLITE_TEXT &&
                    (take_day(value, column) || take_spelt_day(value, column))) {
                    return true;
                }
                break;
            case FieldType::integer:
            case FieldType::boolean:
                value.integer = sqlite3_column_int64(s, column);
                if (stored == SQLITE_INTEGER && is_int(value.integer)) {
                    return true;
                }
                break;
            case FieldType::integer64:
                value.integer = sqlite3_column_int64(s, column);
                if (stored == SQLITE_INTEGER) {
                    return true;
                }
                break;
            case FieldType::real:
                value.real = sqlite3_column_double(s, column);
                if (stored == SQLITE_FLOAT || stored == SQLITE_INTEGER) {
                    return true;
                }
                break;
            default:
                return false;
        }
        take_as_stored(rows, value, column, stored);
        return true;
    }

    /// A value that its column does not declare: SQLite keeps anything anywhere. It stays what it is, and is
    /// found unreadable; OGR would make a 0 of a word, and of `2,9` a 2.
    void take_as_stored(TableRows& rows, StoredValue& value, int column, int stored) const {
        sqlite3_stmt* s = statement_.get();
        if (stored == SQLITE_INTEGER) {
            value.type = FieldType::integer64;
            value.integer = sqlite3_column_int64(s, column);
        } else if (stored == SQLITE_FLOAT) {
            value.type = FieldType::real;
            value.real = sqlite3_column_double(s, column);
        } else if (stored == SQLITE_TEXT) {
            value.type = FieldType::text;
            const std::string_view text = text_at(column);
            rows.put_bytes(value, text.data() == nullptr ? "" : text.data(), text.size());
        } else {
            value.type = FieldType::binary;
            const void* bytes = sqlite3_column_blob(s, column);
            const auto size = static_cast<std::size_t>(sqlite3_column_bytes(s, column));
            rows.put_bytes(value, bytes == nullptr ? "" : bytes, size);
        }
    }

    static bool is_int(std::int64_t value) {
        return value >= std::numeric_limits<int>::min() && value <= std::numeric_limits<int>::max();
    }

    /// What OGR takes for a day as well, such as `2026/04/06`.
    bool take_spelt_day(StoredValue& value, int column) const {
        OGRField day{};
        if (OGRParseDate(std::string{text_at(column)}.c_str(), &day, 0) == FALSE) {
            return false;
        }
        value.integer = day.Date.Year * 10000 + day.Date.Month * 100 + day.Date.Day;
        return true;
    }

    std::string_view text_at(int column) const {
        const unsigned char* text = sqlite3_column_text(statement_.get(), column);
        const auto size = static_cast<std::size_t>(sqlite3_column_bytes(statement_.get(), column));
        // SQLite hands text out as unsigned char.
        return text == nullptr ? std::string_view{}
                               : std::string_view{reinterpret_cast<const char*>(text), size};
    }

    bool take_text(TableRows& rows, StoredValue& value, int column) const {
        const std::string_view text = text_at(column);
        if (text.find('\0') != std::string_view::npos) {
            return false;
        }
        rows.put_bytes(value, text.data() == nullptr ? "" : text.data(), text.size());
        return true;
    }

    /// `YYYY-MM-DD` to the letter.
    bool take_day(StoredValue& value, int column) const {
        const std::string_view text = text_at(column);
        const auto date = text.size() == 10 && text[4] == '-' ? Date::parse(text) : std::nullopt;
        if (date) {
            const Date::Ymd ymd = date->ymd();
            value.integer = ymd.year * 10000 + ymd.month * 100 + ymd.day;
        }
        return date.has_value();
    }

    struct Finalize {
        void operator()(sqlite3_stmt* s) const { sqlite3_finalize(s); }
    };
    std::size_t rows_;  // a batch
    bool with_geometry_ = false;
    bool counted_ = false;    // FIDs are, from 0
    std::int64_t given_ = 0;  // rows so far
    std::vector<FieldType> types_;
    std::shared_ptr<const std::vector<int>> places_;
    std::unique_ptr<sqlite3_stmt, Finalize> statement_;
    bool odd_ = false;
};

}  // namespace

std::unique_ptr<RowStream> open_gpkg_stream(GDALDataset& dataset,
                                            OGRLayer& layer,
                                            const LayerSchema& schema,
                                            const ReadOptions& options) {
    if (driver_name(dataset) != "GPKG") {
        return nullptr;
    }
    for (std::size_t i = 0; i < schema.fields.size(); ++i) {
        const FieldType type = schema.fields[i].type;
        if (is_wanted(options, i) &&
            (type == FieldType::datetime || type == FieldType::time || type == FieldType::list)) {
            return nullptr;
        }
    }
    // The connection is the loan's: no second one, which might leave files beside the input.
    auto* db = static_cast<sqlite3*>(dataset.GetInternalHandle("SQLITE_HANDLE"));
    if (db == nullptr) {
        return nullptr;
    }
    auto stream = std::make_unique<GpkgStream>(db, layer.GetName(), schema, options);
    return stream->is_open() ? std::move(stream) : nullptr;
}

}  // namespace linewood
