#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

namespace linewood {

/// The attributes of one feature, packed: for each its key (a position in the list of keys), then the length and
/// the bytes of the value as a tile holds it. What is null is not there.
class TileProperties {
public:
    void clear();
    /// @param text UTF-8; the caller sees to that
    void add_text(std::uint32_t key, std::string_view text);
    /// By the shortest form that reads back as the same number: an integer, a float or a double. @pre finite
    void add_number(std::uint32_t key, double number);
    void add_boolean(std::uint32_t key, bool value);

    const std::string& packed() const { return packed_; }
    /// What a feature with these takes of a tile at most, apart from the names of its keys.
    std::size_t most_bytes() const;

private:
    void add(std::uint32_t key);

    std::string packed_;
    std::string value_;
    std::size_t count_ = 0;
};

/// One attribute of a packed list.
struct TileProperty {
    std::uint32_t key = 0;
    std::string_view value;  ///< a Value message of MVT
};

/// Takes the first attribute off a packed list. @pre it is not empty
TileProperty take_property(std::string_view& packed);

}  // namespace linewood
