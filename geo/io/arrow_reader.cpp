#include "geo/io/arrow_reader.h"

#include <chrono>

#include <ogr_api.h>

#include "geo/io/row_stream.h"

namespace linewood {
namespace {

constexpr std::size_t kMostAttributes = 100;  // 126 is where GDAL 3.6.2 fails

using Kind = ArrowColumn::Kind;

Kind kind_of(std::string_view format) {
    constexpr std::pair<std::string_view, Kind> kKinds[] = {{"i", Kind::int32},
                                                            {"l", Kind::int64},
                                                            {"g", Kind::real},
                                                            {"u", Kind::text},
                                                            {"U", Kind::large_text},
                                                            {"z", Kind::binary},
                                                            {"Z", Kind::large_binary},
                                                            {"tdD", Kind::date}};
    for (const auto& [text, kind] : kKinds) {
        if (text == format) {
            return kind;
        }
    }
    return Kind::absent;
}

/// The kinds a field's column may have so that its values are those of the feature interface.
bool suits(FieldType type, Kind kind) {
    switch (type) {
        case FieldType::text:
            return kind == Kind::text || kind == Kind::large_text;
        case FieldType::integer:
            return kind == Kind::int32;
        case FieldType::integer64:
            return kind == Kind::int64;
        case FieldType::real:
            return kind == Kind::real;
        case FieldType::date:
            return kind == Kind::date;
        case FieldType::binary:
            return kind == Kind::binary || kind == Kind::large_binary;
        default:
            return false;
    }
}

bool may_stream(const GDALDataset& dataset, const LayerSchema& schema, const ReadOptions& options) {
    auto& asked =
        const_cast<GDALDataset&>(dataset);  // NOLINT(cppcoreguidelines-pro-type-const-cast)
    const GDALDriver* driver = asked.GetDriver();
    const std::string_view name = driver == nullptr ? "" : driver->GetDescription();
    if ((name != "GPKG" && name != "FlatGeobuf") ||
        CSLFetchNameValue(asked.GetOpenOptions(), "IMMUTABLE") != nullptr) {
        return false;
    }
    std::size_t wanted = 0;
    for (std::size_t i = 0; i < schema.fields.size(); ++i) {
        if (is_wanted(options, i)) {
            ++wanted;
            const Field& field = schema.fields[i];
            if (field.narrow || field.type == FieldType::datetime ||
                field.type == FieldType::time || field.type == FieldType::list ||
                field.type == FieldType::boolean) {
                return false;
            }
        }
    }
    return wanted <= kMostAttributes;
}

/// Where the stream's children are; nothing where they are not as expected: FID, wanted fields, geometry.
std::shared_ptr<const ArrowLayout> layout_of(const ArrowSchema& stream,
                                             const LayerSchema& schema,
                                             const ReadOptions& options) {
    auto layout = std::make_shared<ArrowLayout>();
    layout->columns.resize(schema.fields.size());
    std::int64_t child = 0;
    const auto next = [&]() -> const ArrowSchema* {
        return child < stream.n_children ? stream.children[child] : nullptr;
    };
    if (next() == nullptr || kind_of(next()->format) != Kind::int64) {
        return nullptr;
    }
    layout->fid_child = child++;
    for (std::size_t i = 0; i < schema.fields.size(); ++i) {
        if (!is_wanted(options, i)) {
            continue;
        }
        const ArrowSchema* column = next();
        if (column == nullptr || schema.fields[i].name != column->name ||
            !suits(schema.fields[i].type, kind_of(column->format))) {
            return nullptr;
        }
        layout->columns[i] = {kind_of(column->format), child++};
    }
    if (options.geometry && schema.has_geometry()) {
        const Kind kind = next() == nullptr ? Kind::absent : kind_of(next()->format);
        if (kind != Kind::binary && kind != Kind::large_binary) {
            return nullptr;
        }
        layout->geometry = {kind, child++};
    }
    return child == stream.n_children ? layout : nullptr;
}

bool bit(const void* bits, std::int64_t at) {
    const auto* bytes = static_cast<const unsigned char*>(bits);
    const unsigned byte = bytes[at / 8];
    return ((byte >> static_cast<unsigned>(at % 8)) & 1U) != 0;
}

template <typename T>
T value_at(const ArrowArray& array, std::int64_t at) {
    return static_cast<const T*>(array.buffers[1])[at];
}

template <typename Offset>
std::string_view bytes_at(const ArrowArray& array, std::int64_t at) {
    const auto* offsets = static_cast<const Offset*>(array.buffers[1]);
    const auto* data = static_cast<const char*>(array.buffers[2]);
    const Offset first = offsets[at];
    const Offset last = offsets[at + 1];
    return last == first ? std::string_view{}
                         : std::string_view{data + first, static_cast<std::size_t>(last - first)};
}

std::string_view bytes_at(const ArrowArray& array, Kind kind, std::int64_t at) {
    return kind == Kind::large_text || kind == Kind::large_binary
               ? bytes_at<std::int64_t>(array, at)
               : bytes_at<std::int32_t>(array, at);
}

/// As OGR's feature interface gives text: up to the first NUL.
std::string_view until_nul(std::string_view text) { return text.substr(0, text.find('\0')); }

TimeStamp day(std::int32_t days) {
    const std::chrono::year_month_day ymd{std::chrono::sys_days{std::chrono::days{days}}};
    TimeStamp t;
    t.year = static_cast<int>(ymd.year());
    t.month = static_cast<int>(static_cast<unsigned>(ymd.month()));
    t.day = static_cast<int>(static_cast<unsigned>(ymd.day()));
    return t;
}

}  // namespace

void ArrowRows::release() {
    if (array_.release != nullptr) {
        array_.release(&array_);
    }
    array_ = {};
}

ArrowArray& ArrowRows::refill() {
    release();
    return array_;
}

std::int64_t ArrowRows::fid(std::size_t row) const {
    const ArrowArray& child = *array_.children[layout_->fid_child];
    return value_at<std::int64_t>(child,
                                  static_cast<std::int64_t>(row) + array_.offset + child.offset);
}

namespace {

/// The place of a row in a child's buffers; -1 where the value is null.
std::int64_t place_of(const ArrowArray& array, const ArrowArray& child, std::size_t row) {
    const std::int64_t at = static_cast<std::int64_t>(row) + array.offset + child.offset;
    const bool valid = child.buffers[0] == nullptr || bit(child.buffers[0], at);
    return valid ? at : -1;
}

}  // namespace

bool ArrowRows::is_null(std::size_t row, std::size_t column) const {
    const ArrowColumn& c = layout_->columns[column];
    return c.child < 0 || place_of(array_, *array_.children[c.child], row) < 0;
}

void ArrowRows::get(std::size_t row, std::size_t column, RawValue& value) const {
    const ArrowColumn& c = layout_->columns[column];
    value.null = true;
    if (c.child < 0) {
        return;
    }
    const ArrowArray& child = *array_.children[c.child];
    const std::int64_t at = place_of(array_, child, row);
    if (at < 0) {
        return;
    }
    value.null = false;
    switch (c.kind) {
        case Kind::int32:
            value.type = FieldType::integer;
            value.integer = value_at<std::int32_t>(child, at);
            break;
        case Kind::int64:
            value.type = FieldType::integer64;
            value.integer = value_at<std::int64_t>(child, at);
            break;
        case Kind::real:
            value.type = FieldType::real;
            value.real = value_at<double>(child, at);
            break;
        case Kind::text:
        case Kind::large_text:
            value.type = FieldType::text;
            value.bytes = until_nul(bytes_at(child, c.kind, at));
            break;
        case Kind::binary:
        case Kind::large_binary:
            value.type = FieldType::binary;
            value.bytes = bytes_at(child, c.kind, at);
            break;
        case Kind::date:
            value.type = FieldType::date;
            value.time = day(value_at<std::int32_t>(child, at));
            break;
        case Kind::absent:
            value.null = true;
            break;
    }
}

bool ArrowRows::has_doubtful_day() const {
    for (const ArrowColumn& c : layout_->columns) {
        if (c.kind != Kind::date || size() == 0) {
            continue;
        }
        const ArrowArray& child = *array_.children[c.child];
        for (std::size_t row = 0; row < size(); ++row) {
            const std::int64_t at = place_of(array_, child, row);
            if (at >= 0 && value_at<std::int32_t>(child, at) == 0) {
                return true;
            }
        }
    }
    return false;
}

StoredGeometry ArrowRows::geometry(std::size_t row) const {
    StoredGeometry stored;
    const ArrowColumn& c = layout_->geometry;
    if (c.child < 0) {
        return stored;
    }
    const ArrowArray& child = *array_.children[c.child];
    const std::int64_t at = place_of(array_, child, row);
    if (at < 0) {
        return stored;
    }
    const std::string_view bytes = bytes_at(child, c.kind, at);
    if (!bytes.empty()) {
        stored.wkb = reinterpret_cast<const unsigned char*>(bytes.data());
        stored.wkb_size = bytes.size();
    }
    return stored;
}

std::unique_ptr<ArrowReader> ArrowReader::open(GDALDataset& dataset,
                                               OGRLayer& layer,
                                               const LayerSchema& schema,
                                               const ReadOptions& options) {
    if (!may_stream(dataset, schema, options)) {
        return nullptr;
    }
    const ErrorCollector quiet;
    std::unique_ptr<ArrowReader> reader{new ArrowReader};
    CPLStringList settings;
    settings.SetNameValue("MAX_FEATURES_IN_BATCH", std::to_string(options.batch_size).c_str());
    if (!layer.GetArrowStream(&reader->stream_, settings.List())) {
        reader->stream_ = {};
        return nullptr;
    }
    ArrowSchema stream_schema{};
    if (reader->stream_.get_schema(&reader->stream_, &stream_schema) != 0) {
        return nullptr;
    }
    reader->layout_ = layout_of(stream_schema, schema, options);
    stream_schema.release(&stream_schema);
    return reader->layout_ ? std::move(reader) : nullptr;
}

ArrowReader::~ArrowReader() {
    if (stream_.release != nullptr) {
        const ErrorCollector quiet;
        stream_.release(&stream_);
    }
}

bool ArrowReader::next(std::unique_ptr<BatchRows>& slot) {
    auto rows = std::make_unique<ArrowRows>(layout_);
    ArrowArray& array = rows->refill();
    const int code = stream_.get_next(&stream_, &array);
    if (code != 0) {
        array = {};
        code_ = code;
    }
    const bool more = code == 0 && array.release != nullptr && array.length > 0;
    slot = std::move(rows);
    return more;
}

}  // namespace linewood
