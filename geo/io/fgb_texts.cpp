#include <algorithm>
#include <fstream>
#include <limits>

#include "geo/io/bytes.h"
#include "geo/io/cut_text.h"
#include "geo/io/fgb_navigator.h"

namespace linewood {
namespace {

constexpr std::size_t kMagicBytes = 8;
constexpr std::uint32_t kMostBytes = 1U << 30U;  // of one feature
constexpr std::size_t kShown = 400;

// Fields of header.fbs and feature.fbs, types of a column.
constexpr std::size_t kHeaderColumns = 7;
constexpr std::size_t kHeaderFeatures = 8;
constexpr std::size_t kHeaderNodeSize = 9;
constexpr std::size_t kColumnName = 0;
constexpr std::size_t kColumnType = 1;
constexpr std::size_t kFeatureProperties = 1;
constexpr std::size_t kFeatureColumns = 2;

/// Bytes that a value of a type takes; 0: it begins with its length.
std::size_t width_of(std::uint8_t type) {
    constexpr std::size_t kWidths[] = {1, 1, 1, 2, 2, 4, 4, 8, 8, 4, 8};
    return type < std::size(kWidths) ? kWidths[type] : 0;
}

constexpr std::uint8_t kText = 11;

class FgbTexts {
public:
    explicit FgbTexts(const std::string& file) : in_{file, std::ios::binary} {}

    std::vector<CutText> find() {
        if (read_head()) {
            for (std::int64_t row = 0; read_sized(); ++row) {
                look_at(row);
            }
        }
        return std::move(found_);
    }

private:
    struct Column {
        std::string name;
        std::uint8_t type = 0;
    };

    /// What follows its own size. @return false at the end, or where it makes no sense.
    bool read_sized() {
        std::string size(4, '\0');
        in_.read(size.data(), 4);
        const auto bytes = in_ ? number_at<std::uint32_t>(size, 0) : 0;
        if (bytes == 0 || bytes > kMostBytes) {
            return false;
        }
        bytes_.resize(bytes);
        in_.read(bytes_.data(), static_cast<std::streamsize>(bytes));
        return static_cast<bool>(in_);
    }

    bool read_head() {
        in_.seekg(kMagicBytes);
        if (!read_sized()) {
            return false;
        }
        const FgbNavigator at{bytes_};
        const std::size_t root = at.follow_from_start();
        const std::size_t columns = at.follow(at.field(root, kHeaderColumns));
        const std::size_t count = columns == 0 ? 0 : at.number<std::uint32_t>(columns);
        for (std::size_t i = 0; i < count && columns + 4 + 4 * i < bytes_.size(); ++i) {
            const std::size_t column = at.follow(columns + 4 + 4 * i);
            const std::size_t name = at.follow(at.field(column, kColumnName));
            const std::size_t type = at.field(column, kColumnType);
            const std::size_t length = name == 0 ? 0 : at.number<std::uint32_t>(name);
            columns_.push_back({name == 0 ? std::string{} : bytes_.substr(name + 4, length),
                                type == 0 ? std::uint8_t{0} : at.number<std::uint8_t>(type)});
        }
        const std::size_t features = at.field(root, kHeaderFeatures);
        const std::size_t node = at.field(root, kHeaderNodeSize);
        skip_index(features == 0 ? 0 : at.number<std::uint64_t>(features),
                   node == 0 ? std::uint16_t{16} : at.number<std::uint16_t>(node));
        return std::any_of(
            columns_.begin(), columns_.end(), [](const Column& c) { return c.type == kText; });
    }

    void skip_index(std::uint64_t features, std::uint64_t node_size) {
        if (features == 0 || node_size < 2 ||
            features > std::numeric_limits<std::uint64_t>::max() / 128) {
            return;
        }
        std::uint64_t nodes = features;
        for (std::uint64_t level = features; level > 1;) {
            level = (level + node_size - 1) / node_size;
            nodes += level;
        }
        nodes += features == 1 ? 1 : 0;  // a root of its own
        constexpr std::uint64_t kNodeBytes = 40;
        in_.seekg(static_cast<std::streamoff>(nodes * kNodeBytes), std::ios::cur);
    }

    void look_at(std::int64_t row) {
        const FgbNavigator at{bytes_};
        const std::size_t root = at.follow_from_start();
        if (at.field(root, kFeatureColumns) != 0) {
            return;  // with columns of its own, which GDAL does not write
        }
        const std::size_t properties = at.follow(at.field(root, kFeatureProperties));
        if (properties == 0) {
            return;
        }
        const std::size_t end =
            std::min(bytes_.size(), properties + 4 + at.number<std::uint32_t>(properties));
        for (std::size_t place = properties + 4; place + 2 <= end;) {
            const std::size_t index = at.number<std::uint16_t>(place);
            place += 2;
            if (index >= columns_.size()) {
                return;
            }
            const Column& column = columns_[index];
            std::size_t width = width_of(column.type);
            if (width == 0) {
                width = at.number<std::uint32_t>(place);
                place += 4;
                if (place > end || width > end - place) {
                    return;
                }
                const std::string_view text = std::string_view{bytes_}.substr(place, width);
                if (column.type == kText && text.find('\0') != std::string_view::npos) {
                    found_.push_back({row, column.name, std::string{text.substr(0, kShown)}});
                }
            }
            place += width;
        }
    }

    std::ifstream in_;
    std::string bytes_;
    std::vector<Column> columns_;
    std::vector<CutText> found_;
};

}  // namespace

std::vector<CutText> cut_texts_of_fgb(const std::string& file) { return FgbTexts{file}.find(); }

}  // namespace linewood
