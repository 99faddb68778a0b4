#include "src/pipeline/findings_by_pole.hpp"

#include <unordered_map>

namespace linewood {
namespace {

/// A layer and a feature of it, as findings name it.
std::string key_of(InputLayer layer, std::string_view feature) {
    std::string key{name_of(layer)};
    key += ' ';
    key += feature;
    return key;
}

}  // namespace

FindingsByPole::FindingsByPole(const Findings& findings,
                               const RunData& data,
                               std::span<const std::uint32_t> poles) {
    std::unordered_map<std::string, std::uint32_t> pole_of;
    for (const std::uint32_t pole : poles) {
        pole_of.emplace(key_of(InputLayer::poles, data.poles.ids.id(pole)), pole);
        for (const Inspection& i : data.inspections.of(pole)) {
            pole_of.emplace(key_of(InputLayer::inspections, std::to_string(i.fid)), pole);
        }
        for (const Defect& d : data.defects.of(pole)) {
            pole_of.emplace(key_of(InputLayer::defects, std::to_string(d.fid)), pole);
        }
    }
    for (const Finding& f : findings) {
        if (f.feature.empty()) {
            of_layers_.push_back(f);
        } else if (const auto at = pole_of.find(key_of(f.layer, f.feature)); at != pole_of.end()) {
            of_poles_[at->second].push_back(f);
        }
    }
}

Findings FindingsByPole::of(std::uint32_t pole) const {
    Findings all = of_layers_;
    if (const auto own = of_poles_.find(pole); own != of_poles_.end()) {
        all.insert(all.end(), own->second.begin(), own->second.end());
    }
    return all;
}

}  // namespace linewood
