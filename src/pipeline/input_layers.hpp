#pragma once

#include <array>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "assess/record/finding.hpp"
#include "geo/io/source.hpp"
#include "src/job/layer_mapping.hpp"
#include "src/pipeline/layer_columns.hpp"

namespace linewood {

/// One input layer: where it is, and how it presents itself.
struct InputLayerRef {
    Source source;
    std::string layer;
    /// The dataset was written by this tool: its own columns there are results, not input.
    bool written_by_us = false;
    /// How a job file maps it; null: the columns have the contract's names.
    std::shared_ptr<const LayerColumns> columns = {};

    const LayerSchema& schema() const { return source.schema(layer); }
};

/// `DATASET` or `DATASET:LAYER` as typed; without a layer the contract's name, or the only layer.
struct LayerAddress {
    std::string dataset;
    std::string layer;
};

/// What the command line names.
struct InputAddresses {
    std::optional<std::string> dataset;                ///< one for all
    std::array<std::optional<std::string>, 4> layers;  ///< by InputLayer; wins over `dataset`
    /// By InputLayer: the sources that a job file names for it. `layers` wins over it.
    std::array<std::vector<SourceMapping>, 4> mapped;
    std::array<bool, 4> wanted{true, true, true, true};  ///< others are not looked for
};

/// The four layers of a run; all but poles may be absent.
struct InputLayers {
    std::array<std::optional<InputLayerRef>, 4> layers;

    const std::optional<InputLayerRef>& operator[](InputLayer l) const {
        return layers[static_cast<std::size_t>(l)];
    }
};

/// Opens what is named. A layer that was not named and is not in the dataset is absent, with a
/// finding; one that was named and is not there is an error. Where no poles are wanted, the only layer of
/// a dataset is its spans.
/// @throws DataError; JobError where a job file does not fit its layers, where nothing names the poles, or where there are some and none are wanted.
InputLayers open_inputs(const InputAddresses& addresses, Findings& findings);

/// Ends the run where coded columns hold values that the job file gives no meaning to.
/// @pre the layers were read. @throws JobError listing them all with their counts.
void refuse_unknown_codes(const InputLayers& inputs);

/// The columns this tool adds to a layer, for datasets it wrote before.
std::span<const std::string_view> own_columns(InputLayer layer);

}  // namespace linewood
