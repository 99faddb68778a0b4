#include "src/assessed/text_column.hpp"

namespace linewood {

void TextColumn::add(std::string_view text) {
    const auto known = code_of_.find(text);
    if (known != code_of_.end()) {
        codes_.push_back(known->second);
        return;
    }
    const auto code = static_cast<std::uint32_t>(values_.size());
    values_.emplace_back(text);
    code_of_.emplace(values_.back(), code);
    codes_.push_back(code);
}

}  // namespace linewood
