#include "geo/tiles/protobuf.hpp"

#include <cstdint>
#include <limits>
#include <string>

#include <gtest/gtest.h>

#include "geo/tiles/tile_properties.hpp"
#include "tests/geo/tiles/tile_reader.hpp"

namespace linewood {
namespace {

using testing::read_value;
using testing::unzigzag;
using testing::WireReader;

constexpr std::uint64_t kMost = std::numeric_limits<std::uint64_t>::max();

std::string varint(std::uint64_t value) {
    std::string out;
    put_varint(out, value);
    return out;
}

TEST(Protobuf, VarintsAsTheEncodingHasThem) {
    EXPECT_EQ(varint(0), std::string(1, '\0'));
    EXPECT_EQ(varint(1), "\x01");
    EXPECT_EQ(varint(127), "\x7F");
    EXPECT_EQ(varint(128), std::string("\x80\x01"));
    EXPECT_EQ(varint(150), "\x96\x01");  // the example of protobuf.dev
    EXPECT_EQ(varint(kMost), "\xFF\xFF\xFF\xFF\xFF\xFF\xFF\xFF\xFF\x01");
}

TEST(Protobuf, VarintsComeBackAtEveryNumberOfBits) {
    for (unsigned bits = 0; bits < 64; ++bits) {
        for (const std::uint64_t value :
             {(std::uint64_t{1} << bits) - 1, std::uint64_t{1} << bits, kMost >> bits}) {
            const std::string bytes = varint(value);
            EXPECT_EQ(varint_bytes(value), bytes.size());
            EXPECT_EQ(WireReader{bytes}.varint(), value);
            std::string_view in{bytes};
            EXPECT_EQ(take_varint(in), value);
            EXPECT_TRUE(in.empty());
        }
    }
}

TEST(Protobuf, AVarintThatEndsTooEarlyIsNothing) {
    for (const std::string_view bytes : {"", "\x80", "\xFF\xFF\xFF"}) {
        std::string_view in = bytes;
        EXPECT_EQ(take_varint(in), 0U);
        EXPECT_TRUE(in.empty());
    }
}

TEST(Protobuf, ZigzagCountsAwayFromNought) {
    EXPECT_EQ(zigzag(0), 0U);
    EXPECT_EQ(zigzag(-1), 1U);
    EXPECT_EQ(zigzag(1), 2U);
    EXPECT_EQ(zigzag(-2), 3U);
    EXPECT_EQ(zigzag(2147483647), 4294967294U);
    EXPECT_EQ(zigzag(-2147483648LL), 4294967295U);
    EXPECT_EQ(zigzag(std::numeric_limits<std::int64_t>::max()), kMost - 1);
    EXPECT_EQ(zigzag(std::numeric_limits<std::int64_t>::min()), kMost);
    for (std::int64_t value = -5000; value <= 5000; ++value) {
        EXPECT_EQ(unzigzag(zigzag(value)), value);
    }
}

/// A number as a tile would hold it, and its bytes.
std::pair<double, std::size_t> through_a_value(double number) {
    TileProperties properties;
    properties.add_number(3, number);
    std::string_view packed{properties.packed()};
    const TileProperty property = take_property(packed);
    EXPECT_EQ(property.key, 3U);
    EXPECT_TRUE(packed.empty());
    EXPECT_GE(properties.most_bytes(), property.value.size());
    return {std::get<double>(read_value(property.value)), property.value.size()};
}

TEST(TileProperties, NumbersComeBackExactlyInTheShortestForm) {
    for (const auto& [number, bytes] : {std::pair{0.0, 2U},
                                        std::pair{127.0, 2U},
                                        std::pair{128.0, 3U},
                                        std::pair{-1.0, 2U},
                                        std::pair{-64.0, 2U},
                                        std::pair{-65.0, 3U},
                                        std::pair{0.5, 5U},
                                        std::pair{0.1, 9U},
                                        std::pair{-12.3, 9U},
                                        std::pair{9007199254740991.0, 9U},
                                        std::pair{-9007199254740991.0, 9U},
                                        std::pair{1e300, 9U},
                                        std::pair{5e-324, 9U},
                                        std::pair{std::numeric_limits<double>::max(), 9U}}) {
        EXPECT_EQ(through_a_value(number), (std::pair{number, std::size_t{bytes}})) << number;
    }
}

TEST(TileProperties, TextsAndTruthsComeBack) {
    TileProperties properties;
    properties.add_text(0, "");
    properties.add_text(200, std::string(300, 'x') + "\xE6\x9C\xA8");
    properties.add_boolean(1, true);
    properties.add_boolean(2, false);
    std::string_view packed{properties.packed()};
    EXPECT_EQ(std::get<std::string>(read_value(take_property(packed).value)), "");
    const TileProperty text = take_property(packed);
    EXPECT_EQ(text.key, 200U);
    EXPECT_EQ(std::get<std::string>(read_value(text.value)),
              std::string(300, 'x') + "\xE6\x9C\xA8");
    EXPECT_TRUE(std::get<bool>(read_value(take_property(packed).value)));
    EXPECT_FALSE(std::get<bool>(read_value(take_property(packed).value)));
    EXPECT_TRUE(packed.empty());
}

}  // namespace
}  // namespace linewood
