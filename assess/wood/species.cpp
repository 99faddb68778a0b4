#include "assess/wood/species.hpp"

#include <utility>

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

// Average tapers, inches of girth per foot: ANSI O5.1 and FPL-GTR-158, from memory; 0.25 and 0.38 agree
// with what the generating rule needs to reproduce the dimension tables.
constexpr const char* kTaperMemory = "memory";
constexpr const char* kTaperChecked = "memory, confirmed by the generating rule";

using Words = std::vector<std::string>;

Species make(std::string code, std::string name, double psi, bool read, Words aliases) {
    Species s;
    s.code = std::move(code);
    s.name = std::move(name);
    s.aliases = std::move(aliases);
    s.fibre_stress_pa = psi * kPascalsPerPsi;
    s.source = read ? kBulletin : kMemorySource;
    s.confidence = read ? "read" : "memory";
    return s;
}

Species with_taper(Species s, double inches_per_foot, const char* confidence = kTaperMemory) {
    s.average_taper = inches_per_foot / 12.0;
    s.taper_confidence = confidence;
    return s;
}

}  // namespace

// Aliases are trade names, short forms and botanical names: common practice, no source. Left out
// because they may mean two woods: WC, LP, PP, RP, SC, NC, "yellow pine", "red cedar", "cedar",
// "fir", "white fir", "larch", "pine".
std::vector<Species> published_species() {
    std::vector<Species> all;
    all.push_back(with_taper(make("southern_pine",
                                  "Southern pine",
                                  8000,
                                  true,
                                  {"southern yellow pine",
                                   "SYP",
                                   "SP",
                                   "southern pines",
                                   "pine southern",
                                   "pine, southern",
                                   "longleaf pine",
                                   "shortleaf pine",
                                   "loblolly pine",
                                   "slash pine",
                                   "pinus palustris",
                                   "pinus echinata",
                                   "pinus taeda",
                                   "pinus elliottii"}),
                             0.25,
                             kTaperChecked));
    all.push_back(with_taper(make("douglas_fir",
                                  "Douglas-fir, coastal",
                                  8000,
                                  true,
                                  {"Douglas-fir, coastal",
                                   "Douglas fir (coastal)",
                                   "coastal Douglas fir",
                                   "coast Douglas fir",
                                   "Douglas fir coast",
                                   "fir, Douglas",
                                   "DF",
                                   "doug fir",
                                   "pseudotsuga menziesii"}),
                             0.21));
    all.push_back(with_taper(make("western_redcedar",
                                  "Western redcedar",
                                  6000,
                                  true,
                                  {"western red cedar",
                                   "WRC",
                                   "cedar, western red",
                                   "red cedar western",
                                   "red cedar, western",
                                   "thuja plicata"}),
                             0.38,
                             kTaperChecked));
    all.back().confidence = "two sources";
    all.push_back(with_taper(make("western_larch",
                                  "Western larch",
                                  8400,
                                  true,
                                  {"larch, western", "WL", "larix occidentalis"}),
                             0.21));
    all.push_back(with_taper(make("lodgepole_pine",
                                  "Lodgepole pine",
                                  6600,
                                  true,
                                  {"lodgepole", "pine, lodgepole", "LPP", "pinus contorta"}),
                             0.30));
    all.push_back(with_taper(
        make("jack_pine", "Jack pine", 6600, false, {"pine, jack", "JP", "pinus banksiana"}),
        0.30));
    all.push_back(with_taper(make("red_pine",
                                  "Red (Norway) pine",
                                  6600,
                                  true,
                                  {"red (Norway) pine",
                                   "Norway pine",
                                   "red pine (Norway)",
                                   "pine, red",
                                   "pinus resinosa"}),
                             0.30));
    all.push_back(
        with_taper(make("ponderosa_pine",
                        "Ponderosa pine",
                        6000,
                        false,
                        {"ponderosa", "pine, ponderosa", "western yellow pine", "pinus ponderosa"}),
                   0.29));
    // Taper of northern white cedar: the figure its generated table is made with.
    all.push_back(with_taper(make("northern_white_cedar",
                                  "Northern white cedar",
                                  4000,
                                  false,
                                  {"northern whitecedar",
                                   "eastern white cedar",
                                   "cedar, northern white",
                                   "NWC",
                                   "thuja occidentalis"}),
                             0.38));
    all.push_back(make("radiata_pine",
                       "Radiata pine",
                       6600,
                       true,
                       {"pine, radiata", "Monterey pine", "pinus radiata"}));
    all.push_back(make("scots_pine",
                       "Scots pine",
                       7800,
                       true,
                       {"Scotch pine", "pine, Scots", "pinus sylvestris"}));
    all.push_back(make("western_fir",
                       "Western fir (true firs)",
                       6600,
                       false,
                       {"western fir (true firs)", "western firs", "true fir", "true firs"}));
    all.push_back(make("alaska_yellow_cedar",
                       "Alaska yellow cedar",
                       7400,
                       false,
                       {"Alaskan yellow cedar",
                        "Alaska cedar",
                        "AYC",
                        "Nootka cypress",
                        "callitropsis nootkatensis",
                        "cupressus nootkatensis",
                        "chamaecyparis nootkatensis"}));
    all.push_back(make("western_hemlock",
                       "Western hemlock",
                       7400,
                       false,
                       {"hemlock, western", "WH", "tsuga heterophylla"}));
    all.push_back(with_taper(make("douglas_fir_interior_north",
                                  "Douglas-fir, interior north",
                                  8000,
                                  false,
                                  {"Douglas-fir, interior north",
                                   "Douglas fir (interior north)",
                                   "interior north Douglas fir"}),
                             0.21));
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
