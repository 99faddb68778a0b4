#include "geo/io/short_names.hpp"

#include <algorithm>
#include <cstdint>
#include <unordered_set>
#include <utility>

#include "geo/io/layer_schema.hpp"

namespace linewood {
namespace {

constexpr std::size_t kLongest = 10;

/// The tool's own fields, and those of its input layers, that are longer than ten letters.
constexpr std::pair<std::string_view, std::string_view> kOwn[] = {
    {"line_azimuth", "line_azim"},
    {"line_deflection", "line_defl"},
    {"line_source", "line_src"},
    {"line_quality", "line_qual"},
    {"line_quality_reason", "line_qualr"},
    {"original_circumference", "orig_circ"},
    {"original_source", "orig_src"},
    {"remaining_pct", "remain_pct"},
    {"transverse_pct", "transv_pct"},
    {"longitudinal_pct", "longit_pct"},
    {"weakest_pct", "weak_pct"},
    {"weakest_azimuth", "weak_azim"},
    {"section_height", "sect_hgt"},
    {"inspected_on", "insp_on"},
    {"span_azimuth", "span_azim"},
    {"span_length_m", "span_len_m"},
    {"worst_verdict", "worst_verd"},
    {"azimuth_true", "azim_true"},
    {"position_derived", "pos_derivd"},
    {"shell_effective", "shell_eff"},
    {"present_circumference", "pres_circ"},
    {"governing_pct", "govern_pct"},
    {"setting_depth", "set_depth"},
    {"install_year", "inst_year"},
    {"recorded_circumference", "rec_circ"},
    {"given_azimuth", "given_azim"},
    {"original_height", "orig_hgt"},
    {"aboveground_damage", "abovegr_dm"},
    {"decay_below_excavation", "decay_blw"},
    {"azimuth_ref", "azim_ref"},
    {"out_of_line", "out_ofline"},
    {"shell_thickness", "shell_thk"},
};

bool is_plain(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_';
}

bool is_vowel(char c) { return std::string_view{"aeiouAEIOU"}.find(c) != std::string_view::npos; }

/// Each run of other characters becomes one `_`.
std::string cleaned(std::string_view name) {
    std::string out;
    bool in_run = false;
    for (const char c : name) {
        if (is_plain(c)) {
            out += c;
        } else if (!in_run) {
            out += '_';
        }
        in_run = !is_plain(c);
    }
    return out.empty() ? "field" : out;
}

std::string shortened(std::string name) {
    for (std::size_t i = name.size(); i-- > 1 && name.size() > kLongest;) {
        if (is_vowel(name[i]) && name[i - 1] != '_') {
            name.erase(i, 1);
        }
    }
    for (std::size_t i = name.size(); i-- > 1 && name.size() > kLongest;) {
        if (name[i] == '_') {
            name.erase(i, 1);
        }
    }
    if (name.size() > kLongest) {
        name.erase(6, name.size() - kLongest);
    }
    return name;
}

std::string folded(std::string_view name) {
    std::string out{name};
    std::transform(out.begin(), out.end(), out.begin(), [](char c) {
        return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    });
    return out;
}

/// Two letters made of the full name (FNV-1a); another two for each `turn`.
std::string two_letters(std::string_view name, std::uint32_t turn) {
    std::uint32_t hash = 2166136261U + turn;
    for (const char c : name) {
        hash = (hash ^ static_cast<unsigned char>(c)) * 16777619U;
    }
    hash ^= hash >> 15U;
    return {static_cast<char>('a' + hash % 26U), static_cast<char>('a' + hash / 26U % 26U)};
}

}  // namespace

std::string_view own_short_name(std::string_view name) {
    for (const auto& [full, brief] : kOwn) {
        if (same_name(full, name)) {
            return brief;
        }
    }
    return {};
}

std::vector<std::string> short_names(const std::vector<std::string>& names) {
    std::vector<std::string> out(names.size());
    std::unordered_set<std::string> taken;
    const auto offer = [&](std::size_t i, std::string_view candidate) {
        if (out[i].empty() && taken.insert(folded(candidate)).second) {
            out[i] = candidate;
        }
    };
    // Fixed names first, then those that can stay, then those that must be made.
    for (std::size_t i = 0; i < names.size(); ++i) {
        const std::string_view own = own_short_name(names[i]);
        if (!own.empty()) {
            offer(i, own);
        }
    }
    for (std::size_t i = 0; i < names.size(); ++i) {
        if (names[i].size() <= kLongest && !names[i].empty() &&
            std::all_of(names[i].begin(), names[i].end(), is_plain)) {
            offer(i, names[i]);
        }
    }
    for (std::size_t i = 0; i < names.size(); ++i) {
        const std::string base = shortened(cleaned(names[i]));
        offer(i, base);
        for (std::uint32_t turn = 0; out[i].empty(); ++turn) {
            offer(i, base.substr(0, kLongest - 2) + two_letters(names[i], turn));
        }
    }
    return out;
}

}  // namespace linewood
