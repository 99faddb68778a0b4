#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace linewood {

/// A text that was no valid UTF-8 and was written with U+FFFD for each bad byte.
struct RepairedText {
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

    const std::vector<RepairedText>& first() const { return first_; }
    /// By column.
    const std::map<std::string, std::int64_t>& counts() const { return counts_; }

private:
    std::vector<RepairedText> first_;
    std::map<std::string, std::int64_t> counts_;
    std::int64_t row_ = -1;
    std::int64_t fid_ = -1;
};

}  // namespace linewood
