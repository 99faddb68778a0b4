#pragma once

// Private to geo/io: numbers in files of little-endian bytes.

#include <bit>
#include <cstddef>
#include <cstring>
#include <string>

namespace linewood {

static_assert(std::endian::native == std::endian::little, "files are written in native order");

template <typename Number>
void put_number(std::string& out, std::size_t at, Number value) {
    std::memcpy(out.data() + at, &value, sizeof value);
}

template <typename Number>
void append_number(std::string& out, Number value) {
    char bytes[sizeof value];
    std::memcpy(bytes, &value, sizeof value);
    out.append(bytes, sizeof value);
}

/// @pre the bytes are there.
template <typename Number>
Number number_at(const std::string& bytes, std::size_t at) {
    Number value{};
    std::memcpy(&value, bytes.data() + at, sizeof value);
    return value;
}

}  // namespace linewood
