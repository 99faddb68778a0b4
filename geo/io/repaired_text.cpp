#include "geo/io/repaired_text.hpp"

#include "geo/io/value_text.hpp"

namespace linewood {

void RepairedTexts::add(const std::string& column, std::string_view text) {
    constexpr std::size_t kShown = 200;
    if (row_ < 0 || ++counts_[column] > kMostOfColumn) {
        return;
    }
    first_.push_back({row_, fid_, column, escaped_utf8(text.substr(0, kShown))});
}

}  // namespace linewood
