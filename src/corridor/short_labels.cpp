#include "src/corridor/short_labels.hpp"

#include <algorithm>

namespace linewood {
namespace {

constexpr std::string_view kEllipsis = "\u2026";

/// Where the characters of UTF-8 begin, and the end; a byte that belongs to none counts as one.
std::vector<std::size_t> character_starts(std::string_view text) {
    std::vector<std::size_t> starts;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const bool continues = (static_cast<unsigned char>(text[i]) & 0xC0U) == 0x80U;
        if (i == 0 || !continues) {
            starts.push_back(i);
        }
    }
    starts.push_back(text.size());
    return starts;
}

std::string cut(std::string_view id,
                const std::vector<std::size_t>& starts,
                std::size_t first,
                std::size_t last) {
    std::string label{id.substr(0, starts[first])};
    label += kEllipsis;
    label += id.substr(starts[starts.size() - 1 - last]);
    return label;
}

}  // namespace

ShortLabels::ShortLabels(const std::vector<std::string_view>& ids, std::size_t most) {
    struct Long {
        std::string_view id;
        std::vector<std::size_t> starts;
    };
    std::vector<Long> open;
    for (const std::string_view id : ids) {
        std::vector<std::size_t> starts = character_starts(id);
        const bool fits = starts.size() - 1 <= most;
        if (labels_.emplace(id, fits ? std::string{id} : std::string{}).second && !fits) {
            open.push_back({id, std::move(starts)});
        }
    }
    const std::vector<Long> all = open;
    for (std::size_t first = 0; first < most && !open.empty(); ++first) {
        std::unordered_map<std::string, int> count;
        for (const Long& l : all) {
            ++count[cut(l.id, l.starts, first, most - 1 - first)];
        }
        std::erase_if(open, [&](const Long& l) {
            std::string label = cut(l.id, l.starts, first, most - 1 - first);
            const bool alone = count[label] == 1;
            if (alone) {
                labels_[l.id] = std::move(label);
            }
            return alone;
        });
    }
    for (const Long& l : open) {
        labels_[l.id] = cut(l.id, l.starts, 0, most - 1);
    }
}

std::optional<std::string_view> left_out_of(std::string_view id, std::string_view label) {
    const std::size_t first = label.find(kEllipsis);
    if (label == id || first == std::string_view::npos) {
        return std::nullopt;
    }
    const std::string_view begin = label.substr(0, first);
    const std::string_view end = label.substr(first + kEllipsis.size());
    if (begin.size() + end.size() > id.size() || !id.starts_with(begin) || !id.ends_with(end)) {
        return std::nullopt;
    }
    return id.substr(first, id.size() - begin.size() - end.size());
}

}  // namespace linewood
