#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

namespace linewood {

/// One text a row, few of them different (circuits, species, classes): 4 bytes a row.
class TextColumn {
public:
    void add(std::string_view text);
    std::size_t size() const { return codes_.size(); }
    /// Empty: not recorded.
    std::string_view text(std::size_t row) const { return values_[codes_[row]]; }
    /// Equal for equal texts; 0 for the empty one, then as they first came.
    std::uint32_t code(std::size_t row) const { return codes_[row]; }
    /// The different texts, by code; the first is the empty one.
    const std::vector<std::string>& values() const { return values_; }

private:
    struct Hash {
        using is_transparent = void;  // NOLINT(readability-identifier-naming)
        std::size_t operator()(std::string_view text) const {
            return std::hash<std::string_view>{}(text);
        }
    };

    std::vector<std::uint32_t> codes_;
    std::vector<std::string> values_{std::string{}};
    std::unordered_map<std::string, std::uint32_t, Hash, std::equal_to<>> code_of_{
        {std::string{}, 0}};
};

}  // namespace linewood
