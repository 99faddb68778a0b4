#include "src/job/nearest_word.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <utility>

#include <fmt/core.h>

namespace linewood {
namespace {

constexpr std::size_t kLongest = 64;
using Row = std::array<std::size_t, kLongest + 1>;

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }
bool same(char a, char b) { return lower(a) == lower(b); }

/// Edit distance with swaps of neighbours (optimal string alignment).
std::size_t distance(std::string_view a, std::string_view b) {
    Row before{};
    Row last{};
    Row now{};
    for (std::size_t j = 0; j <= b.size(); ++j) {
        last[j] = j;
    }
    for (std::size_t i = 1; i <= a.size(); ++i) {
        now[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t change = last[j - 1] + (same(a[i - 1], b[j - 1]) ? 0 : 1);
            now[j] = std::min({last[j] + 1, now[j - 1] + 1, change});
            if (i > 1 && j > 1 && same(a[i - 1], b[j - 2]) && same(a[i - 2], b[j - 1])) {
                now[j] = std::min(now[j], before[j - 2] + 1);
            }
        }
        before = last;
        last = now;
    }
    return last[b.size()];
}

}  // namespace

std::optional<std::string_view> nearest_word(std::string_view word,
                                             std::span<const std::string_view> words) {
    std::optional<std::string_view> best;
    std::size_t best_distance = kLongest;
    for (const std::string_view candidate : words) {
        if (word.size() > kLongest || candidate.size() > kLongest) {
            continue;
        }
        const std::size_t d = distance(word, candidate);
        if (d < best_distance && 2 * d <= candidate.size()) {
            best = candidate;
            best_distance = d;
        }
    }
    return best;
}

std::vector<std::string_view> nearest_words(std::string_view word,
                                            std::span<const std::string_view> words,
                                            std::size_t most) {
    std::vector<std::pair<std::size_t, std::string_view>> near;
    for (const std::string_view candidate : words) {
        if (word.size() > kLongest || candidate.size() > kLongest) {
            continue;
        }
        const std::size_t d = distance(word, candidate);
        if (2 * d > candidate.size() || (near.size() == most && d >= near.back().first)) {
            continue;
        }
        const auto after = std::find_if(
            near.begin(), near.end(), [d](const auto& other) { return other.first > d; });
        near.insert(after, {d, candidate});
        near.resize(std::min(near.size(), most));
    }
    std::vector<std::string_view> words_only;
    words_only.reserve(near.size());
    for (const auto& [d, candidate] : near) {
        words_only.push_back(candidate);
    }
    return words_only;
}

std::optional<std::string_view> word_one_letter_off(std::string_view word,
                                                    std::span<const std::string_view> words) {
    const auto nearest = nearest_word(word, words);
    return nearest && distance(word, *nearest) == 1 ? nearest : std::nullopt;
}

std::optional<std::size_t> single_letter_changes(std::string_view a, std::string_view b) {
    if (a.size() > kLongest || b.size() > kLongest) {
        return std::nullopt;
    }
    return distance(a, b);
}

std::string did_you_mean(std::string_view word, std::span<const std::string_view> words) {
    const auto nearest = nearest_word(word, words);
    return nearest ? fmt::format(" (did you mean \"{}\"?)", *nearest) : std::string{};
}

}  // namespace linewood
