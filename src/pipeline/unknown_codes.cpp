#include "src/pipeline/unknown_codes.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "geo/io/value_text.hpp"
#include "src/job/nearest_word.hpp"

namespace linewood {
namespace {

constexpr std::size_t kMostShown = 20;
constexpr std::size_t kShownBytes = 60;

std::string shown(std::string_view value) {
    std::string text = is_utf8(value) ? std::string{utf8_prefix(value, kShownBytes)}
                                      : escaped_utf8(value.substr(0, kShownBytes));
    for (char& c : text) {
        c = static_cast<unsigned char>(c) < 0x20U || c == 0x7F ? ' ' : c;
    }
    return text;
}

}  // namespace

void UnknownCodes::add(const std::string& path,
                       std::string_view column,
                       std::string_view value,
                       std::int64_t row,
                       std::span<const std::string_view> words) {
    Mapping& mapping = mappings_[path];
    if (mapping.column.empty()) {
        mapping.column = column;
        mapping.words.assign(words.begin(), words.end());
    }
    auto found = mapping.values.find(value);
    if (found == mapping.values.end()) {
        if (mapping.values.size() >= kMostValues) {
            return;
        }
        found = mapping.values.emplace(std::string{value}, Seen{}).first;
    }
    if (found->second.last_row != row) {
        found->second.last_row = row;
        ++found->second.count;
    }
}

std::string UnknownCodes::told() const {
    std::string text;
    for (const auto& [path, mapping] : mappings_) {
        std::vector<std::pair<std::int64_t, std::string>> values;
        for (const auto& [value, seen] : mapping.values) {
            values.emplace_back(seen.count, value);
        }
        std::stable_sort(values.begin(), values.end(), [](const auto& a, const auto& b) {
            return a.first > b.first;
        });
        const std::vector<std::string_view> words(mapping.words.begin(), mapping.words.end());
        text += fmt::format("{}{}: column \"{}\" holds {} that {} no meaning: ",
                            text.empty() ? "" : "\n",
                            path,
                            mapping.column,
                            values.size() == 1 ? "a value" : "values",
                            values.size() == 1 ? "has" : "have");
        for (std::size_t i = 0; i < std::min(values.size(), kMostShown); ++i) {
            text += fmt::format("{}\"{}\" in {} {}{}",
                                i == 0 ? "" : ", ",
                                shown(values[i].second),
                                values[i].first,
                                values[i].first == 1 ? "row" : "rows",
                                did_you_mean(values[i].second, words));
        }
        if (values.size() > kMostShown) {
            text += fmt::format(" and {} more", values.size() - kMostShown);
        }
        text +=
            "; put them into \"codes\", or say with \"others\" what they mean (null = not "
            "recorded)";
        if (!words.empty()) {
            text += fmt::format("; known here are \"{}\"", fmt::join(words, "\", \""));
        }
    }
    return text;
}

}  // namespace linewood
