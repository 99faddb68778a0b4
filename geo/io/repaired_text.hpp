#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace linewood {

/// What was wrong with a text.
enum class TextFault : std::uint8_t { not_utf8, nul_bytes };

/// A text that was no valid UTF-8 or held bytes 0, and was written with U+FFFD for each bad byte.
struct RepairedText {
    TextFault fault = TextFault::not_utf8;
    std::int64_t row = -1;  ///< of the source layer, counted from 0
    std::int64_t fid = -1;
    std::string column;
    std::string
        bytes;  ///< as it stood in the source, bad bytes as `\xE4`; of a long one the beginning
};

/// Those of one layer: the first of each column, and how many there were.
class RepairedTexts {
public:
    static constexpr std::int64_t kMostOfColumn = 100;

    /// The row that is written from now on; -1 where it comes from no source.
    void start_row(std::int64_t row, std::int64_t fid) {
        row_ = row;
        fid_ = fid;
    }
    void add(const std::string& column, std::string_view text);
    /// @param shown the text with its bytes 0 made visible. The pieces of a route have it once.
    void add_nul(const std::string& column, const std::string& shown);

    const std::vector<RepairedText>& first() const { return first_; }
    using Counts = std::map<std::pair<TextFault, std::string>, std::int64_t>;
    /// By fault and column.
    const Counts& counts() const { return counts_; }

private:
    std::vector<RepairedText> first_;
    Counts counts_;
    std::int64_t row_ = -1;
    std::int64_t fid_ = -1;
};

}  // namespace linewood
