#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

namespace linewood {

/// So many bytes of a file.
struct ByteRange {
    std::uint64_t begin = 0;
    std::uint64_t length = 0;

    friend bool operator==(const ByteRange&, const ByteRange&) = default;
};

/// What a Range header asks of a file.
struct AskedRanges {
    enum class Kind : std::uint8_t {
        whole,  ///< the file: the header is none of bytes, is not understood, or asks for more than is served
        parts,         ///< `ranges`
        unsatisfiable  ///< of bytes, none of which the file has
    };
    Kind kind = Kind::whole;
    std::vector<ByteRange>
        ranges;  ///< in the order asked for; none is empty, none reaches beyond the file
};

/// As RFC 9110, 14.2 has it: `bytes=0-99`, `bytes=100-`, `bytes=-100`, several with commas. More than 8, or
/// any that overlap, are answered with the whole file (14.2 allows it): small requests shall not ask for much.
AskedRanges read_ranges(std::string_view header, std::uint64_t file_bytes);

}  // namespace linewood
