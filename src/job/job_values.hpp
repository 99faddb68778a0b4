#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "src/job/strict_json.hpp"

namespace linewood {

inline constexpr std::size_t kMostJobText = 2000;
inline constexpr std::size_t kMostJobItems = 10'000;

/// Text, number, true or false as text; nothing where it is null. @throws JobError
std::optional<std::string> scalar_text(const JsonNode& node);

/// The texts of a list, without blanks around them; a number stands for its digits. @throws JobError
std::vector<std::string> list_of_texts(const JsonNode& node, std::size_t most);

}  // namespace linewood
