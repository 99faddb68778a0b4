#include "src/pipeline/layer_doubt.hpp"

#include <array>
#include <optional>

#include "src/pipeline/input_findings.hpp"

namespace linewood {

std::vector<LayerDoubt> doubts_of_layer(const Findings& findings, const std::string& layer) {
    std::vector<LayerDoubt> doubts;
    for (const Finding& f : findings) {
        if (f.layer == InputLayer::spans) {
            doubts.push_back({layer, f});
        } else if (f.code == finding::kCrsAssumed.code) {
            doubts.push_back({std::string{name_of(f.layer)}, f});
        }
    }
    return doubts;
}

void write_doubts(const std::vector<LayerDoubt>& doubts, LayerWriter& findings) {
    const auto cell = [](const std::string& text) { return text.empty() ? Cell{} : Cell{text}; };
    for (const auto& [layer, f] : doubts) {
        const std::array<Cell, 7> cells{std::string{name_of(f.severity)},
                                        std::string{f.code},
                                        layer,
                                        cell(f.feature),
                                        cell(f.field),
                                        cell(f.value),
                                        f.message};
        findings.append(cells, std::nullopt);
    }
}

std::vector<std::string> layer_warnings(const std::vector<LayerDoubt>& doubts) {
    std::vector<std::string> lines;
    for (const LayerDoubt& d : doubts) {
        if (d.finding.feature.empty()) {
            lines.push_back("layer " + d.layer + ": " + d.finding.message +
                            (d.finding.value.empty() ? "" : " (" + d.finding.value + ")"));
        }
    }
    return lines;
}

}  // namespace linewood
