#pragma once

// Private to geo/io: FlatBuffers, which FlatGeobuf is made of.

#include <cstddef>
#include <cstdint>
#include <string>

#include "geo/io/bytes.h"

namespace linewood {

/// Finds its way in a FlatBuffers buffer; positions beyond its end are 0 = nowhere.
class FgbNavigator {
public:
    explicit FgbNavigator(const std::string& bytes) : bytes_{bytes} {}

    template <typename Number>
    Number number(std::size_t at) const {
        return at + sizeof(Number) <= bytes_.size() ? number_at<Number>(bytes_, at) : Number{};
    }
    /// Where the offset at a position leads.
    std::size_t follow(std::size_t at) const {
        const std::size_t to = at == 0 ? 0 : at + number<std::uint32_t>(at);
        return to < bytes_.size() ? to : 0;
    }
    /// The root table of a buffer that begins with the offset to it.
    std::size_t follow_from_start() const {
        const std::size_t to = number<std::uint32_t>(0);
        return to < bytes_.size() ? to : 0;
    }
    /// The place of a table's field; 0 where it is not set.
    std::size_t field(std::size_t table, std::size_t index) const {
        const std::int64_t vtable = static_cast<std::int64_t>(table) - number<std::int32_t>(table);
        if (vtable <= 0 || static_cast<std::size_t>(vtable) >= bytes_.size()) {
            return 0;
        }
        const std::size_t entry = 4 + 2 * index;
        const auto start = static_cast<std::size_t>(vtable);
        const std::size_t offset =
            entry + 2 <= number<std::uint16_t>(start) ? number<std::uint16_t>(start + entry) : 0;
        return offset == 0 || table + offset >= bytes_.size() ? 0 : table + offset;
    }

private:
    const std::string& bytes_;
};

}  // namespace linewood
