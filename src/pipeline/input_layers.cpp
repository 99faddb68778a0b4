#include "src/pipeline/input_layers.hpp"

#include <filesystem>

#include "geo/io/data_error.hpp"
#include "src/job/job_error.hpp"
#include "src/pipeline/earlier_run.hpp"
#include "src/pipeline/input_findings.hpp"
#include "src/pipeline/mapped_layer.hpp"
#include "src/pipeline/near_names.hpp"
#include "src/pipeline/open_layer.hpp"
#include "src/pipeline/row_decoder.hpp"

namespace linewood {
namespace {

constexpr std::string_view kWithoutSpans =
    ": which way the line runs at a pole is not known, save where its given_azimuth says so; "
    "nothing "
    "can be told to be in line or out of line, and the weakest direction governs";

bool exists(const std::string& path) {
    std::error_code ignored;
    return std::filesystem::exists(path, ignored);
}

/// Splits at the last colon, unless the whole is a file, or what follows cannot be a layer name.
LayerAddress split_address(const std::string& typed) {
    const auto colon = typed.rfind(':');
    if (colon == std::string::npos || colon == 0 || exists(typed) || colon + 1 == typed.size() ||
        typed.find('/', colon) != std::string::npos || !exists(typed.substr(0, colon))) {
        return {typed, {}};
    }
    return {typed.substr(0, colon), typed.substr(colon + 1)};
}

/// Whether the tool's own columns may be in a layer. Of a dataset that was changed in place the spans are the
/// owner's still: what the tool made of them is in line_spans.
bool is_written_by_us(const Source& source, std::string_view layer) {
    return has_own_run(source) &&
           (layer != name_of(InputLayer::spans) || !source.has_layer("line_spans"));
}

/// Where poles are to be made there must be none.
void refuse_unwanted_poles(InputLayer layer,
                           const InputAddresses& addresses,
                           const std::optional<Source>& shared) {
    if (layer != InputLayer::poles) {
        return;
    }
    if (addresses.layers[0] || !addresses.mapped[0].empty() ||
        (shared && shared->has_layer(name_of(layer)))) {
        throw JobError{
            "--poles-from-spans: there are poles already; leave it away, or name the spans alone "
            "with --spans DATASET[:LAYER]"};
    }
}

/// The spans of a dataset of lines only, whatever its layer is called.
InputLayerRef only_spans(const InputAddresses& addresses, const std::optional<Source>& shared) {
    if (!shared) {
        throw JobError{
            "--poles-from-spans: no spans: name a dataset, or a layer with --spans "
            "DATASET[:LAYER]"};
    }
    return open_layer(*addresses.dataset, name_of(InputLayer::spans));
}

}  // namespace

InputLayerRef open_layer(const std::string& typed, std::string_view usual_name) {
    const LayerAddress address = split_address(typed);
    InputLayerRef ref{Source::open(address.dataset), address.layer, false};
    const auto& names = ref.source.layer_names();
    if (ref.layer.empty()) {
        ref.layer = ref.source.has_layer(usual_name) || names.size() != 1 ? std::string{usual_name}
                                                                          : names.front();
    }
    ref.written_by_us = is_written_by_us(ref.source, usual_name);
    ref.layer = ref.source.schema(ref.layer).name;  // throws, naming the layers there are
    return ref;
}

InputLayers open_inputs(const InputAddresses& addresses, Findings& findings) {
    InputLayers inputs;
    std::optional<Source> shared;
    if (addresses.dataset) {
        shared = Source::open(*addresses.dataset);
    }
    for (std::size_t i = 0; i < inputs.layers.size(); ++i) {
        const auto layer = static_cast<InputLayer>(i);
        if (!addresses.wanted[i]) {
            refuse_unwanted_poles(layer, addresses, shared);
            continue;
        }
        const std::string_view name = name_of(layer);
        if (addresses.layers[i]) {
            inputs.layers[i] = open_layer(*addresses.layers[i], name);
        } else if (!addresses.mapped[i].empty()) {
            inputs.layers[i] = open_mapped(addresses.mapped[i], layer, shared, findings);
        } else if (shared && (shared->has_layer(name) || layer == InputLayer::poles)) {
            inputs.layers[i] =
                InputLayerRef{*shared, shared->schema(name).name, is_written_by_us(*shared, name)};
        } else if (layer == InputLayer::spans && !addresses.wanted[0]) {
            inputs.layers[i] = only_spans(addresses, shared);
        } else if (layer == InputLayer::poles) {
            throw JobError{"no poles: name a dataset, or a layer with --poles DATASET[:LAYER]"};
        } else {
            findings.push_back(make_finding(finding::kLayerMissing, layer, -1, "", ""));
            if (layer == InputLayer::spans) {
                findings.back().message += kWithoutSpans;
            }
        }
        if (const auto& ref = inputs.layers[i]; ref && !ref->columns) {
            note_doubtful_names(
                ref->schema(),
                layer,
                ref->written_by_us ? own_columns(layer) : std::span<const std::string_view>{},
                findings);
        }
    }
    return inputs;
}

void refuse_unknown_codes(const InputLayers& inputs) {
    std::string told;
    for (const auto& layer : inputs.layers) {
        if (layer && layer->columns && !layer->columns->unknown_codes().empty()) {
            told += (told.empty() ? "" : "\n") + layer->columns->unknown_codes().told();
        }
    }
    if (!told.empty()) {
        throw JobError{told};
    }
}

std::span<const std::string_view> own_columns(InputLayer layer) {
    static constexpr std::array<std::string_view, 20> kPoles{"line_azimuth",
                                                             "line_role",
                                                             "line_deflection",
                                                             "line_source",
                                                             "line_quality",
                                                             "line_quality_reason",
                                                             "original_circumference",
                                                             "original_source",
                                                             "remaining_pct",
                                                             "transverse_pct",
                                                             "longitudinal_pct",
                                                             "weakest_pct",
                                                             "weakest_azimuth",
                                                             "section_height",
                                                             "shell_min",
                                                             "sections",
                                                             "verdict",
                                                             "urgency",
                                                             "reasons",
                                                             "inspected_on"};
    static constexpr std::array<std::string_view, 5> kSpans{
        "from_pole", "to_pole", "span_azimuth", "span_length_m", "worst_verdict"};
    static constexpr std::array<std::string_view, 3> kDefects{
        "azimuth_true", "position_derived", "shell_effective"};
    switch (layer) {
        case InputLayer::poles:
            return kPoles;
        case InputLayer::spans:
            return kSpans;
        case InputLayer::inspections:
            return {};
        case InputLayer::defects:
            return kDefects;
    }
    return {};
}

}  // namespace linewood
