#include "geo/tiles/protobuf.hpp"

#include <bit>

namespace linewood {
namespace {

enum WireType : unsigned { varint = 0, eight_bytes = 1, bytes = 2, four_bytes = 5 };

void put_tag(std::string& out, unsigned field, WireType type) {
    out.push_back(static_cast<char>((field << 3U) | type));
}

/// The lowest byte first, whatever the machine's own order.
template <typename Bits>
void put_fixed(std::string& out, Bits value) {
    for (std::size_t i = 0; i < sizeof(Bits); ++i) {
        out.push_back(static_cast<char>((value >> (8U * i)) & 0xFFU));
    }
}

}  // namespace

void put_varint(std::string& out, std::uint64_t value) {
    while (value >= 0x80U) {
        out.push_back(static_cast<char>((value & 0x7FU) | 0x80U));
        value >>= 7U;
    }
    out.push_back(static_cast<char>(value));
}

std::size_t varint_bytes(std::uint64_t value) {
    std::size_t bytes_needed = 1;
    while (value >= 0x80U) {
        value >>= 7U;
        ++bytes_needed;
    }
    return bytes_needed;
}

std::uint64_t zigzag(std::int64_t value) {
    const auto bits = static_cast<std::uint64_t>(value);
    return value < 0 ? ~(bits << 1U) : bits << 1U;
}

void put_varint_field(std::string& out, unsigned field, std::uint64_t value) {
    put_tag(out, field, varint);
    put_varint(out, value);
}

void put_bytes_field(std::string& out, unsigned field, std::string_view value) {
    put_tag(out, field, bytes);
    put_varint(out, value.size());
    out.append(value);
}

void put_float_field(std::string& out, unsigned field, float value) {
    put_tag(out, field, four_bytes);
    put_fixed(out, std::bit_cast<std::uint32_t>(value));
}

void put_double_field(std::string& out, unsigned field, double value) {
    put_tag(out, field, eight_bytes);
    put_fixed(out, std::bit_cast<std::uint64_t>(value));
}

std::uint64_t take_varint(std::string_view& in) {
    std::uint64_t value = 0;
    for (unsigned shift = 0; shift < 64 && !in.empty(); shift += 7) {
        const auto byte = static_cast<unsigned char>(in.front());
        in.remove_prefix(1);
        value |= std::uint64_t{byte & 0x7FU} << shift;
        if (byte < 0x80U) {
            return value;
        }
    }
    in = {};
    return 0;
}

}  // namespace linewood
