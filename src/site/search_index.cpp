#include "src/site/search_index.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "geo/io/value_text.hpp"
#include "src/pipeline/row_decoder.hpp"
#include "src/site/site_script.hpp"

namespace linewood {
namespace {

/// So many poles a file: some hundred kilobytes (own choice).
constexpr std::size_t kPolesAFile = 4000;

char small(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

std::string small_letters(std::string text) {
    std::transform(text.begin(), text.end(), text.begin(), small);
    return text;
}

/// By bytes: the order of the characters' numbers in Unicode.
int compare(const std::string& a, const std::string& b) {
    const std::size_t both = std::min(a.size(), b.size());
    for (std::size_t i = 0; i < both; ++i) {
        const auto x = static_cast<unsigned char>(small(a[i]));
        const auto y = static_cast<unsigned char>(small(b[i]));
        if (x != y) {
            return x < y ? -1 : 1;
        }
    }
    return a.size() == b.size() ? 0 : a.size() < b.size() ? -1 : 1;
}

}  // namespace

void SearchIndex::add(std::size_t row,
                      std::string_view pole_id,
                      const std::string& verdict,
                      Point wgs84) {
    const std::string_view id = trimmed(pole_id);
    if (id.empty()) {
        return;
    }
    auto known = std::find(verdicts_.begin(), verdicts_.end(), verdict);
    if (known == verdicts_.end()) {
        known = verdicts_.insert(known, verdict);
    }
    entries_.push_back({is_utf8(id) ? std::string{id} : repaired_utf8(id),
                        wgs84,
                        static_cast<std::uint32_t>(row),
                        static_cast<std::uint32_t>(known - verdicts_.begin())});
}

std::vector<std::string> SearchIndex::write(const SiteFolder& site) {
    std::sort(entries_.begin(), entries_.end(), [](const Entry& a, const Entry& b) {
        const int order = compare(a.id, b.id);
        return order != 0 ? order < 0 : a.row < b.row;
    });
    std::vector<std::string> first;
    for (std::size_t begin = 0; begin < entries_.size(); begin += kPolesAFile) {
        const std::size_t end = std::min(begin + kPolesAFile, entries_.size());
        std::string text = "[";
        for (std::size_t i = begin; i < end; ++i) {
            const Entry& e = entries_[i];
            text += (i == begin ? "[" : ",\n[") + script_string(e.id) + "," +
                    std::to_string(e.row) + "," + script_degrees(e.place.x) + "," +
                    script_degrees(e.place.y) + "," + script_string(verdicts_[e.verdict]) + "]";
        }
        site.write(fmt::format("data/search/{:03}.json", first.size()), text + "]\n");
        first.push_back(small_letters(entries_[begin].id));
    }
    return first;
}

}  // namespace linewood
