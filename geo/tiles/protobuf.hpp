#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

namespace linewood {

/// The little of Protocol Buffers' wire format that vector tiles need, appended to `out`.
/// (protobuf.dev, "Encoding": varints, ZigZag, wire types 0, 1, 2 and 5.)

/// 7 bits a byte, the lowest first; 1 to 10 bytes.
void put_varint(std::string& out, std::uint64_t value);
/// How many bytes put_varint() would write.
std::size_t varint_bytes(std::uint64_t value);
/// 0, -1, 1, -2, 2 ... as 0, 1, 2, 3, 4 ...
std::uint64_t zigzag(std::int64_t value);

/// A field: its number with its wire type, then its value. @pre 1 <= field <= 15
void put_varint_field(std::string& out, unsigned field, std::uint64_t value);
void put_bytes_field(std::string& out, unsigned field, std::string_view bytes);
void put_float_field(std::string& out, unsigned field, float value);
void put_double_field(std::string& out, unsigned field, double value);

/// Takes a varint off the front of `in`; 0 where it ends too early.
std::uint64_t take_varint(std::string_view& in);

}  // namespace linewood
