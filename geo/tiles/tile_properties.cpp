#include "geo/tiles/tile_properties.hpp"

#include <cassert>
#include <cmath>

#include "geo/tiles/protobuf.hpp"

namespace linewood {
namespace {

/// The fields of a Value (Mapbox Vector Tile Specification 2.1, 4.4 and its vector_tile.proto).
enum ValueField : unsigned {
    text = 1,
    real4 = 2,
    real8 = 3,
    unsigned_number = 5,
    zigzag_number = 6,
    truth = 7
};

/// Of the feature itself: head, id, geometry, lengths (computed: 1+3, 1+10, 2, 1+1+7, 1+3, rounded up).
constexpr std::size_t kFeatureBytes = 32;
/// Of one attribute in a feature: the numbers of its key and of its value (up to 2 million of them).
constexpr std::size_t kTagBytes = 5;
/// Integers below this are exact in a double and in JavaScript.
constexpr double kExactIntegers = 9007199254740992.0;  // 2^53

}  // namespace

void TileProperties::clear() {
    packed_.clear();
    count_ = 0;
}

void TileProperties::add(std::uint32_t key) {
    put_varint(packed_, key);
    put_varint(packed_, value_.size());
    packed_ += value_;
    ++count_;
}

void TileProperties::add_text(std::uint32_t key, std::string_view value) {
    value_.clear();
    put_bytes_field(value_, text, value);
    add(key);
}

void TileProperties::add_number(std::uint32_t key, double number) {
    assert(std::isfinite(number));
    value_.clear();
    const auto short_form = static_cast<float>(number);
    if (number == std::floor(number) && std::abs(number) < kExactIntegers) {
        const auto whole = static_cast<std::int64_t>(number);
        if (whole >= 0) {
            put_varint_field(value_, unsigned_number, static_cast<std::uint64_t>(whole));
        } else {
            put_varint_field(value_, zigzag_number, zigzag(whole));
        }
    } else if (static_cast<double>(short_form) == number) {
        put_float_field(value_, real4, short_form);
    } else {
        put_double_field(value_, real8, number);
    }
    add(key);
}

void TileProperties::add_boolean(std::uint32_t key, bool value) {
    value_.clear();
    put_varint_field(value_, truth, value ? 1 : 0);
    add(key);
}

std::size_t TileProperties::most_bytes() const {
    return kFeatureBytes + packed_.size() + kTagBytes * count_;
}

TileProperty take_property(std::string_view& packed) {
    TileProperty property;
    property.key = static_cast<std::uint32_t>(take_varint(packed));
    const std::size_t length = take_varint(packed);
    property.value = packed.substr(0, length);
    packed.remove_prefix(property.value.size());
    return property;
}

}  // namespace linewood
