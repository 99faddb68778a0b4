#include "geo/io/repaired_text.hpp"

#include "geo/io/value_text.hpp"

namespace linewood {

void RepairedTexts::add(const std::string& column, std::string_view text) {
    constexpr std::size_t kShown = 200;
    if (row_ < 0 || ++counts_[{TextFault::not_utf8, column}] > kMostOfColumn) {
        return;
    }
    first_.push_back(
        {TextFault::not_utf8, row_, fid_, column, escaped_utf8(text.substr(0, kShown))});
}

void RepairedTexts::add_nul(const std::string& column, const std::string& shown) {
    const bool again = !first_.empty() && first_.back().row == row_ &&
                       first_.back().column == column &&
                       first_.back().fault == TextFault::nul_bytes;
    if (row_ < 0 || again || ++counts_[{TextFault::nul_bytes, column}] > kMostOfColumn) {
        return;
    }
    first_.push_back({TextFault::nul_bytes, row_, fid_, column, shown});
}

}  // namespace linewood
