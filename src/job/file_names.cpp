#include "src/job/file_names.hpp"

#include <algorithm>
#include <array>

#include "src/job/checksum.hpp"

namespace linewood {
namespace {

constexpr std::size_t kLongest = 80;
constexpr std::size_t kMark = 10;

bool is_safe(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '.' ||
           c == '_' || c == '-';
}

std::string lower_case(std::string text) {
    for (char& c : text) {
        c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    }
    return text;
}

/// Names that some system keeps for a device, whatever their ending, and those of the pages around.
bool is_reserved(const std::string& name) {
    constexpr std::array<std::string_view, 6> kWords{"con", "prn", "aux", "nul", "index", "clock$"};
    const std::string stem = lower_case(name.substr(0, name.find('.')));
    const bool numbered = stem.size() == 4 && stem[3] >= '0' && stem[3] <= '9' &&
                          (stem.rfind("com", 0) == 0 || stem.rfind("lpt", 0) == 0);
    return numbered || std::find(kWords.begin(), kWords.end(), stem) != kWords.end();
}

/// What is safe of an id; a run of anything else becomes one hyphen.
std::string safe_part(std::string_view id) {
    std::string name;
    for (const char c : id) {
        if (is_safe(c)) {
            name += c;
        } else if (!name.empty() && name.back() != '-') {
            name += '-';
        }
    }
    name.resize(std::min(name.size(), kLongest));
    const auto ends_badly = [](char c) { return c == '.' || c == '-'; };
    while (!name.empty() && ends_badly(name.back())) {
        name.pop_back();
    }
    const auto begin = std::find_if_not(name.begin(), name.end(), ends_badly);
    name.erase(name.begin(), begin);
    return name;
}

}  // namespace

bool FileNames::take(const std::string& name) { return taken_.insert(lower_case(name)).second; }

std::string FileNames::name_for(std::string_view id) {
    std::string name = safe_part(id);
    if (name == id && !name.empty() && !is_reserved(name) && take(name)) {
        return name;
    }
    name += (name.empty() ? "pole-" : "-") + sha256_of(id).substr(0, kMark);
    if (is_reserved(name)) {
        name.insert(0, "pole-");
    }
    std::string numbered = name;
    for (int n = 2; !take(numbered); ++n) {
        numbered = name + "-" + std::to_string(n);
    }
    return numbered;
}

}  // namespace linewood
