#include "geo/io/fgb_file.h"

#include <algorithm>
#include <array>
#include <iterator>
#include <system_error>
#include <utility>

#include <fcntl.h>
#include <unistd.h>

#include "assess/record/release.hpp"
#include "geo/io/bytes.h"
#include "geo/io/data_error.hpp"
#include "geo/io/fgb_index.h"

namespace linewood {
namespace {

constexpr std::size_t kFlushAt = std::size_t{1} << 18U;

std::string bytes_of(const std::filesystem::path& path) {
    std::ifstream in{path, std::ios::binary};
    return {std::istreambuf_iterator<char>{in}, std::istreambuf_iterator<char>{}};
}

/// Zeros up to a multiple of `step` from `begin`, plus `rest`.
void pad(std::string& out, std::size_t begin, std::size_t step, std::size_t rest = 0) {
    while ((out.size() - begin) % step != rest) {
        out += '\0';
    }
}

/// The lines of a geometry in the order its vertices are written; for one that is no collection, itself.
template <typename Use>
void each_part(const OGRGeometry& geometry, Use use) {
    if (wkbFlatten(geometry.getGeometryType()) == wkbMultiLineString) {
        for (const OGRLineString* line : *geometry.toMultiLineString()) {
            use(*line);
        }
    } else if (wkbFlatten(geometry.getGeometryType()) == wkbLineString) {
        use(*geometry.toLineString());
    }
}

/// Calls `use(x, y, z, m)` for every vertex.
template <typename Use>
void each_vertex(const OGRGeometry& geometry, Use use) {
    const auto point = [&](const OGRPoint& p) { use(p.getX(), p.getY(), p.getZ(), p.getM()); };
    const auto type = wkbFlatten(geometry.getGeometryType());
    if (type == wkbPoint) {
        point(*geometry.toPoint());
    } else if (type == wkbMultiPoint) {
        for (const OGRPoint* p : *geometry.toMultiPoint()) {
            point(*p);
        }
    } else {
        each_part(geometry, [&](const OGRLineString& line) {
            for (int i = 0; i < line.getNumPoints(); ++i) {
                use(line.getX(i), line.getY(i), line.getZ(i), line.getM(i));
            }
        });
    }
}

/// Reads parts of a file in any order.
class Parts {
public:
    explicit Parts(const std::filesystem::path& path)
        // NOLINTNEXTLINE(cppcoreguidelines-pro-type-vararg)
        : fd_{::open(path.c_str(), O_RDONLY | O_CLOEXEC)} {}
    ~Parts() {
        if (fd_ >= 0) {
            ::close(fd_);
        }
    }
    Parts(const Parts&) = delete;
    Parts& operator=(const Parts&) = delete;
    Parts(Parts&&) = delete;
    Parts& operator=(Parts&&) = delete;

    bool read(std::uint64_t at, char* to, std::size_t size) const {
        while (size > 0) {
            const auto got = ::pread(fd_, to, size, static_cast<off_t>(at));
            if (got <= 0) {
                return false;
            }
            at += static_cast<std::uint64_t>(got);
            to += got;
            size -= static_cast<std::size_t>(got);
        }
        return true;
    }

private:
    int fd_;
};

}  // namespace

bool FgbFile::suits(const GeometryType& geometry, const std::vector<OutColumn>& columns) {
    return (geometry.kind == GeometryKind::point || geometry.kind == GeometryKind::line) &&
           columns.size() < 0xFFFF &&
           std::none_of(columns.begin(), columns.end(), [](const OutColumn& c) {
               return c.storage == Storage::datetime || c.storage == Storage::date ||
                      c.field.narrow;
           });
}

FgbFile::FgbFile(std::filesystem::path empty,
                 std::string shown,
                 std::vector<OutColumn>& columns,
                 bool index)
    : path_{std::move(empty)},
      rows_path_{path_.string() + ".rows"},
      shown_{std::move(shown)},
      columns_{columns},
      indexed_{index} {
    if (!header_.read(bytes_of(path_)) || header_.types().size() != columns_.size()) {
        throw DataError{
            shown_,
            "",
            "the head of the FlatGeobuf file could not be made; the disk may be full: free "
            "some space or choose another place"};
    }
}

void FgbFile::fail() const {
    throw DataError{shown_,
                    "",
                    "writing failed; the disk may be full: free some space or choose another "
                    "place"};
}

void FgbFile::put_value(std::size_t column, const RawValue& value) {
    OutColumn& c = columns_[column];
    if (value.null || !fits(c, value)) {
        c.refused += value.null ? 0 : 1;
        return;
    }
    append_number(buffer_, static_cast<std::uint16_t>(column));
    const auto bytes = [&](std::string_view v) {
        append_number(buffer_, static_cast<std::uint32_t>(v.size()));
        buffer_ += v;
    };
    std::string printed;
    std::string repaired;
    switch (c.storage) {
        case Storage::text:
        case Storage::date:
        case Storage::datetime:
            bytes(stored_text(c, text_of(value, printed), repaired));
            return;
        case Storage::binary:
            bytes(value.bytes);
            return;
        case Storage::boolean:
            buffer_ += value.integer != 0 ? '\1' : '\0';
            return;
        case Storage::integer:
            append_number(buffer_, static_cast<std::int32_t>(whole_of(value)));
            return;
        case Storage::integer64:
            append_number(buffer_, whole_of(value));
            return;
        case Storage::real:
            append_number(buffer_,
                          is_whole(value) ? static_cast<double>(value.integer) : value.real);
            return;
    }
}

// A feature is a FlatBuffers buffer with its size in front: vtables and tables at fixed places, then the
// vectors. Positions count from the size; numbers lie at multiples of their size.

void FgbFile::put_shape(const OGRGeometry& geometry) {
    constexpr std::size_t kTable = 40;  // of the geometry; in its vtable at 28: ends, xy, z, m
    const std::size_t begin = buffer_.size() - 60;
    const auto vector_at = [&](std::size_t field, std::size_t count) {
        const std::size_t offset = 4 + 4 * field;
        put_number(buffer_, begin + 32 + 2 * field, static_cast<std::uint16_t>(offset));
        const std::size_t at = kTable + offset;
        put_number(buffer_, begin + at, static_cast<std::uint32_t>(buffer_.size() - begin - at));
        append_number(buffer_, static_cast<std::uint32_t>(count));
    };
    if (wkbFlatten(geometry.getGeometryType()) == wkbMultiLineString) {
        vector_at(0, static_cast<std::size_t>(geometry.toMultiLineString()->getNumGeometries()));
        std::uint32_t end = 0;
        each_part(geometry, [&](const OGRLineString& line) {
            append_number(buffer_, end += static_cast<std::uint32_t>(line.getNumPoints()));
        });
    }
    std::size_t vertices = 0;
    each_vertex(geometry, [&](double, double, double, double) { ++vertices; });
    pad(buffer_, begin, 8, 4);
    vector_at(1, 2 * vertices);
    each_vertex(geometry, [&](double x, double y, double, double) {
        append_number(buffer_, x);
        append_number(buffer_, y);
    });
    if (geometry.Is3D() != 0) {
        pad(buffer_, begin, 8, 4);
        vector_at(2, vertices);
        each_vertex(geometry, [&](double, double, double z, double) { append_number(buffer_, z); });
    }
    if (geometry.IsMeasured() != 0) {
        pad(buffer_, begin, 8, 4);
        vector_at(3, vertices);
        each_vertex(geometry, [&](double, double, double, double m) { append_number(buffer_, m); });
    }
}

void FgbFile::write(const LayerPlan& plan, const RowInput& input, const OGRGeometry& geometry) {
    if (rows_ == 0) {
        out_.open(indexed_ ? rows_path_ : path_, std::ios::binary | std::ios::trunc);
        if (!indexed_) {
            out_ << header_.with(0, {}, 0);  // made good at the end
        }
    }
    // Size, root, the feature's vtable (geometry, properties) and table, the geometry's vtable and table.
    constexpr std::array<std::uint16_t, 4> kFeatureFields{8, 12, 4, 8};
    constexpr std::array<std::uint16_t, 6> kShapeFields{12, 20, 0, 0, 0, 0};
    const std::size_t begin = buffer_.size();
    append_number(buffer_, std::uint32_t{0});
    append_number(buffer_, std::uint32_t{12});
    for (const std::uint16_t v : kFeatureFields) {
        append_number(buffer_, v);
    }
    append_number(buffer_, std::int32_t{8});
    append_number(buffer_, std::uint32_t{40 - 20});
    append_number(buffer_, std::uint32_t{0});
    for (const std::uint16_t v : kShapeFields) {
        append_number(buffer_, v);
    }
    append_number(buffer_, std::int32_t{12});
    buffer_.append(16, '\0');
    put_shape(geometry);

    pad(buffer_, begin, 4);
    const std::size_t values = buffer_.size();
    put_number(buffer_, begin + 24, static_cast<std::uint32_t>(values - begin - 24));
    append_number(buffer_, std::uint32_t{0});
    for_each_value(
        plan, input, value_, [&](std::size_t i, const RawValue& value) { put_value(i, value); });
    put_number(buffer_, values, static_cast<std::uint32_t>(buffer_.size() - values - 4));
    pad(buffer_, begin, 8);
    put_number(buffer_, begin, static_cast<std::uint32_t>(buffer_.size() - begin - 4));

    OGREnvelope box;
    geometry.getEnvelope(&box);
    box_.Merge(box);
    if (indexed_) {
        index_.add(box, bytes_);
    }
    bytes_ += buffer_.size() - begin;
    ++rows_;
    if (buffer_.size() >= kFlushAt) {
        flush();
    }
}

void FgbFile::flush() {
    out_.write(buffer_.data(), static_cast<std::streamsize>(buffer_.size()));
    if (!out_) {
        fail();
    }
    buffer_.clear();
}

void FgbFile::finish() {
    if (rows_ == 0) {
        return;
    }
    flush();
    const std::string head =
        header_.with(static_cast<std::uint64_t>(rows_), box_, indexed_ ? FgbIndex::kNodeSize : 0);
    if (!indexed_) {
        out_.seekp(0);
        out_ << head;
        out_.close();
        check_bytes(head.size() + bytes_);
        return;
    }
    out_.close();
    if (!out_) {
        fail();
    }
    out_.open(path_, std::ios::binary | std::ios::trunc);
    out_ << head;
    put_in_order();
    std::filesystem::remove(rows_path_);
}

void FgbFile::put_in_order() {
    const std::vector<std::uint32_t> order = index_.order(box_);
    index_.write(order, bytes_, [&](const std::string& piece) {
        out_.write(piece.data(), static_cast<std::streamsize>(piece.size()));
    });
    const auto head = static_cast<std::uint64_t>(out_.tellp());
    const Parts rows{rows_path_};
    // Some at a time: read in the order in which they lie, put down in the order in which they go.
    constexpr std::size_t kSome = 4096;
    std::vector<std::pair<std::uint32_t, std::size_t>> places;  // feature, where it goes
    for (std::size_t first = 0; first < order.size(); first += kSome) {
        const std::size_t last = std::min(first + kSome, order.size());
        std::size_t size = 0;
        places.clear();
        for (std::size_t i = first; i < last; ++i) {
            places.emplace_back(order[i], size);
            size += index_.length(order[i], bytes_);
        }
        std::sort(places.begin(), places.end());
        buffer_.resize(size);
        for (const auto& [feature, to] : places) {
            if (!rows.read(
                    index_.begin(feature), buffer_.data() + to, index_.length(feature, bytes_))) {
                fail();
            }
        }
        flush();
    }
    out_.close();
    check_bytes(head + bytes_);
    index_ = {};
    release(buffer_);
}

void FgbFile::check_bytes(std::uint64_t bytes) const {
    std::error_code error;
    if (!out_ || std::filesystem::file_size(path_, error) != bytes || error) {
        fail();
    }
}

}  // namespace linewood
