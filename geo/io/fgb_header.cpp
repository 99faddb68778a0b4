#include "geo/io/fgb_header.h"

#include "geo/io/bytes.h"
#include "geo/io/fgb_navigator.h"

namespace linewood {
namespace {

// Positions of the fields in header.fbs.
enum HeaderField : std::size_t {
    kName,
    kEnvelope,
    kGeometryType,
    kHasZ,
    kHasM,
    kHasT,
    kHasTm,
    kColumns,
    kFeaturesCount,
    kIndexNodeSize,
    kCrs,
    kHeaderFields
};
constexpr std::size_t kColumnType = 1;
constexpr std::size_t kMagicBytes = 8;

}  // namespace

bool FgbHeader::read(std::string file) {
    if (file.size() < kMagicBytes + 8 || file.compare(0, 3, "fgb") != 0) {
        return false;
    }
    magic_ = file.substr(0, kMagicBytes);
    const std::size_t size = number_at<std::uint32_t>(file, kMagicBytes) + std::size_t{4};
    table_ = file.substr(kMagicBytes, size);
    if (table_.size() != size) {
        return false;
    }
    const FgbNavigator at{table_};
    const std::size_t root = at.follow(4);
    name_ = at.follow(at.field(root, kName));
    columns_ = at.follow(at.field(root, kColumns));
    crs_ = at.follow(at.field(root, kCrs));
    const auto flag = [&](HeaderField field) {
        const std::size_t place = at.field(root, field);
        return place == 0 ? '\0' : at.number<char>(place);
    };
    geometry_type_ = flag(kGeometryType);
    has_z_ = flag(kHasZ);
    has_m_ = flag(kHasM);
    types_.clear();
    const std::size_t count = columns_ == 0 ? 0 : at.number<std::uint32_t>(columns_);
    for (std::size_t i = 0; i < count; ++i) {
        const std::size_t column = at.follow(columns_ + 4 + 4 * i);
        const std::size_t type = at.field(column, kColumnType);
        types_.push_back(static_cast<FgbType>(type == 0 ? 0 : at.number<std::uint8_t>(type)));
    }
    return root != 0 && name_ != 0;
}

std::string FgbHeader::with(std::uint64_t features,
                            const OGREnvelope& box,
                            std::uint16_t node_size) const {
    // A new root in front of the old buffer: offsets lead forward only, so that it can lend the old one's
    // name, columns and coordinate system.
    constexpr std::size_t kVtable = 8;
    constexpr std::size_t kVtableBytes = 4 + 2 * kHeaderFields;
    constexpr std::size_t kTable = 36;
    constexpr std::size_t kTableBytes = 34;
    constexpr std::size_t kBox = 76;
    constexpr std::size_t kOld = 112;
    static_assert(kVtable + kVtableBytes <= kTable && kTable + kTableBytes <= kBox);
    std::string out(kOld, '\0');
    const auto size = static_cast<std::uint32_t>(kOld + table_.size() - 4);
    put_number(out, 0, size);
    put_number(out, 4, static_cast<std::uint32_t>(kTable - 4));
    put_number(out, kVtable, static_cast<std::uint16_t>(kVtableBytes));
    put_number(out, kVtable + 2, static_cast<std::uint16_t>(kTableBytes));
    put_number(out, kTable, static_cast<std::int32_t>(kTable - kVtable));
    const auto place = [&](HeaderField field, std::size_t offset) {
        put_number(out, kVtable + 4 + 2 * field, static_cast<std::uint16_t>(offset));
        return kTable + offset;
    };
    const auto refer = [&](HeaderField field, std::size_t offset, std::size_t to) {
        if (to != 0) {
            const std::size_t at = place(field, offset);
            put_number(out, at, static_cast<std::uint32_t>(to - at));
        }
    };
    const auto in_old = [](std::size_t at) { return at == 0 ? 0 : kOld + at; };
    put_number(out, place(kFeaturesCount, 4), features);
    refer(kName, 12, in_old(name_));
    refer(kEnvelope, 16, kBox);
    refer(kColumns, 20, in_old(columns_));
    refer(kCrs, 24, in_old(crs_));
    out[place(kGeometryType, 28)] = geometry_type_;
    out[place(kHasZ, 29)] = has_z_;
    out[place(kHasM, 30)] = has_m_;
    put_number(out, place(kIndexNodeSize, 32), node_size);
    put_number(out, kBox, std::uint32_t{4});
    put_number(out, kBox + 4, box.MinX);
    put_number(out, kBox + 12, box.MinY);
    put_number(out, kBox + 20, box.MaxX);
    put_number(out, kBox + 28, box.MaxY);
    return magic_ + out + table_;
}

}  // namespace linewood
