#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

namespace linewood {

/// How ids are written where there is room for some characters only: whole where they fit; else the end of them
/// after an ellipsis, or, where that is the end of others as well, a beginning and an end that are not. Ids that no
/// such cut tells apart keep their end. Neither the order of the ids nor one that is there twice changes anything.
class ShortLabels {
public:
    /// @param most characters (code points), the ellipsis among them; at least 2.
    ShortLabels(const std::vector<std::string_view>& ids, std::size_t most);

    /// @pre id was among those given
    const std::string& of(std::string_view id) const { return labels_.at(id); }

private:
    std::unordered_map<std::string_view, std::string> labels_;
};

/// What the ellipsis of a label stands for; nothing where the label is the id, or does not tell.
std::optional<std::string_view> left_out_of(std::string_view id, std::string_view label);

}  // namespace linewood
