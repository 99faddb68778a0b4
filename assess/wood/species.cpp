#include "assess/wood/species.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <iterator>

#include "assess/wood/round_strength.hpp"

namespace linewood {
namespace {

// Strengths: North American Wood Pole Council, technical bulletin "Wood Utility Pole Design Values in
// the NESC", which prints the values of ANSI O5.1-2017; ANSI O5.1 from memory where the entry says
// `memory`. California GO 95 Rule 48.1 Table 5 (read) has other, older values for round poles:
// western redcedar 6000 (the same), Douglas-fir 6800, southern yellow pine 6800 psi.
constexpr const char* kBulletin =
    "NAWPC technical bulletin, Wood Utility Pole Design Values in the NESC (ANSI O5.1-2017)";
constexpr const char* kMemorySource = "ANSI O5.1 Table 1";

enum class From : std::uint8_t { memory, read, two_sources };
constexpr std::array<const char*, 3> kConfidence{"memory", "read", "two sources"};

struct Row {
    const char* code;
    const char* name;
    double psi;
    From psi_from;
    double taper_in_per_ft;  // 0: not known
    const char* taper_from;
    std::string_view aliases;  // parted by |
};

// Average tapers, inches of girth per foot: ANSI O5.1 and FPL-GTR-158, from memory; 0.25 and 0.38 agree
// with what the generating rule needs to reproduce the dimension tables. That of northern white cedar
// is the figure its generated table is made with.
constexpr const char* kNone = "";
constexpr const char* kMemory = "memory";
constexpr const char* kChecked = "memory, confirmed by the generating rule";

// Aliases are trade names, short forms and botanical names: common practice, no source. Left out
// because they may mean two woods: WC, LP, PP, RP, SC, NC, "yellow pine", "red cedar", "cedar",
// "fir", "white fir", "larch", "pine".
// clang-format off
constexpr Row kRows[] = {
    {"southern_pine", "Southern pine", 8000, From::read, 0.25, kChecked,
     "southern yellow pine|SYP|SP|southern pines|pine, southern|longleaf pine|shortleaf pine|"
     "loblolly pine|slash pine|pinus palustris|pinus echinata|pinus taeda|pinus elliottii"},
    {"douglas_fir", "Douglas-fir, coastal", 8000, From::read, 0.21, kMemory,
     "Douglas-fir, coastal|Douglas fir (coastal)|coastal Douglas fir|coast Douglas fir|"
     "Douglas fir coast|fir, Douglas|DF|doug fir|pseudotsuga menziesii"},
    {"western_redcedar", "Western redcedar", 6000, From::two_sources, 0.38, kChecked,
     "western red cedar|WRC|cedar, western red|red cedar western|red cedar, western|thuja plicata"},
    {"western_larch", "Western larch", 8400, From::read, 0.21, kMemory,
     "larch, western|WL|larix occidentalis"},
    {"lodgepole_pine", "Lodgepole pine", 6600, From::read, 0.30, kMemory,
     "lodgepole|pine, lodgepole|LPP|pinus contorta"},
    {"jack_pine", "Jack pine", 6600, From::memory, 0.30, kMemory,
     "pine, jack|JP|pinus banksiana"},
    {"red_pine", "Red (Norway) pine", 6600, From::read, 0.30, kMemory,
     "red (Norway) pine|red pine (Norway)|Norway pine|pine, red|pinus resinosa"},
    {"ponderosa_pine", "Ponderosa pine", 6000, From::memory, 0.29, kMemory,
     "ponderosa|pine, ponderosa|western yellow pine|pinus ponderosa"},
    {"northern_white_cedar", "Northern white cedar", 4000, From::memory, 0.38, kMemory,
     "northern whitecedar|eastern white cedar|cedar, northern white|NWC|thuja occidentalis"},
    {"radiata_pine", "Radiata pine", 6600, From::read, 0, kNone,
     "pine, radiata|Monterey pine|pinus radiata"},
    {"scots_pine", "Scots pine", 7800, From::read, 0, kNone,
     "Scotch pine|pine, Scots|pinus sylvestris"},
    {"western_fir", "Western fir (true firs)", 6600, From::memory, 0, kNone,
     "western fir (true firs)|western firs|true fir|true firs"},
    {"alaska_yellow_cedar", "Alaska yellow cedar", 7400, From::memory, 0, kNone,
     "Alaskan yellow cedar|Alaska cedar|AYC|Nootka cypress|callitropsis nootkatensis|"
     "cupressus nootkatensis|chamaecyparis nootkatensis"},
    {"western_hemlock", "Western hemlock", 7400, From::memory, 0, kNone,
     "hemlock, western|WH|tsuga heterophylla"},
    {"douglas_fir_interior_north", "Douglas-fir, interior north", 8000, From::memory, 0.21, kMemory,
     "Douglas-fir, interior north|Douglas fir (interior north)|interior north Douglas fir"},
};
// clang-format on

std::vector<std::string> parted(std::string_view words) {
    std::vector<std::string> all;
    while (!words.empty()) {
        const std::size_t end = std::min(words.find('|'), words.size());
        all.emplace_back(words.substr(0, end));
        words.remove_prefix(std::min(end + 1, words.size()));
    }
    return all;
}

Species species_of(const Row& row) {
    Species s;
    s.code = row.code;
    s.name = row.name;
    s.aliases = parted(row.aliases);
    s.fibre_stress_pa = row.psi * kPascalsPerPsi;
    s.source = row.psi_from == From::memory ? kMemorySource : kBulletin;
    s.confidence = kConfidence[static_cast<std::size_t>(row.psi_from)];
    if (row.taper_in_per_ft > 0.0) {
        s.average_taper = row.taper_in_per_ft / 12.0;
        s.taper_confidence = row.taper_from;
    }
    return s;
}

}  // namespace

std::vector<Species> published_species() {
    std::vector<Species> all;
    all.reserve(std::size(kRows));
    for (const Row& row : kRows) {
        all.push_back(species_of(row));
    }
    return all;
}

std::string species_key(std::string_view text) {
    constexpr std::string_view kDropped = " \t\n\r\f\v-_()[]{}<>";
    std::string key;
    key.reserve(text.size());
    for (const char c : text) {
        if (kDropped.find(c) == std::string_view::npos) {
            key.push_back(c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c);
        }
    }
    return key;
}

}  // namespace linewood
