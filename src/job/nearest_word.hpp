#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace linewood {

/// The word of `words` that takes the fewest single-letter changes (insert, delete, replace, swap of
/// neighbours) to write, case aside; the first of equals. Nothing where even that one differs in more
/// than half of its letters. Cost: product of the two lengths for each word; words over 64 letters are
/// passed over.
std::optional<std::string_view> nearest_word(std::string_view word,
                                             std::span<const std::string_view> words);

/// The nearest `most` words, nearest first; fewer, or none, where others differ in more than half of their
/// letters.
std::vector<std::string_view> nearest_words(std::string_view word,
                                            std::span<const std::string_view> words,
                                            std::size_t most);

/// The word that `word` becomes by one single-letter change, case aside; nothing where it is one of them itself.
std::optional<std::string_view> word_one_letter_off(std::string_view word,
                                                    std::span<const std::string_view> words);

/// Single-letter changes (insert, delete, replace, swap of neighbours) from one to the other, case aside; nothing
/// where either is over 64 letters.
std::optional<std::size_t> single_letter_changes(std::string_view a, std::string_view b);

/// ` (did you mean "…"?)`, or nothing.
std::string did_you_mean(std::string_view word, std::span<const std::string_view> words);

}  // namespace linewood
