#pragma once

#include "geo/io/output_dataset.hpp"
#include "src/job/assess_job.hpp"
#include "src/pipeline/input_layers.hpp"

namespace linewood {

/// The writers of an assessment's output, in the order of its layers.
struct OutputLayers {
    LayerWriter& poles;
    LayerWriter& spans;
    LayerWriter& inspections;
    LayerWriter& defects;
    LayerWriter& sections;
    LayerWriter& findings;
    LayerWriter& run;
};

/// The writers of a network's output, in the order of its layers.
struct NetworkLayers {
    LayerWriter& poles;
    LayerWriter& spans;
    LayerWriter& findings;
    LayerWriter& run;
};

/// @throws JobError where the output would take the place of an input, or of a folder that holds one.
void refuse_place_of_input(const NetworkJob& job, const InputLayers& inputs);

/// Creates the output. @throws JobError where it would take the place of an input, or of a folder that
/// holds one: with --overwrite too, the input is never changed. DataError as OutputDataset::create.
OutputDataset create_output(const NetworkJob& job, const InputLayers& inputs);

/// Lays out the output of a network alone, as lay_out() does.
NetworkLayers lay_out_network(OutputDataset& dataset,
                              const NetworkJob& job,
                              const InputLayers& inputs,
                              Findings& findings);

/// Lays out the output: every input column of every layer, the tool's own behind them. A layer that
/// was not given is there, and empty. What had to be renamed goes to `findings`.
OutputLayers lay_out(OutputDataset& dataset,
                     const AssessJob& job,
                     const InputLayers& inputs,
                     Findings& findings);

/// Whether defects without a geometry can be put at their poles: both layers have one coordinate
/// system, or the defects none of their own.
bool defects_go_to_poles(const InputLayers& inputs);

}  // namespace linewood
