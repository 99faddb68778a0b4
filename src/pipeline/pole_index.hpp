#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace linewood {

/// The ids of all poles, in one block of memory, and the way from an id to its pole. About 20 bytes
/// a pole more than the ids themselves. The first pole of an id is the one that is found.
class PoleIndex {
public:
    static constexpr std::uint32_t kNotFound = 0xFFFFFFFF;

    /// Appends the next pole; an empty id can be appended but not found.
    /// @throws std::length_error past 4 GiB of ids.
    /// @return the pole that has the id already, or kNotFound.
    std::uint32_t add(std::string_view id);

    std::uint32_t find(std::string_view id) const;
    std::string_view id(std::uint32_t pole) const;
    std::uint32_t size() const { return static_cast<std::uint32_t>(begins_.size() - 1); }

    /// Gives back the memory of the look-up, once nothing is looked up any more; ids stay.
    void drop_lookup();

private:
    std::size_t slot_of(std::string_view id) const;
    void grow();

    std::string text_;
    std::vector<std::uint32_t> begins_{0};
    std::vector<std::uint32_t> slots_;  ///< open addressing, a power of two, at most half full
    std::uint32_t used_ = 0;
};

}  // namespace linewood
