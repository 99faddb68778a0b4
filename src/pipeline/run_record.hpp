#pragma once

#include <cstdint>
#include <filesystem>
#include <string>
#include <vector>

#include "geo/io/layer_writer.hpp"
#include "src/job/assess_job.hpp"
#include "src/pipeline/input_layers.hpp"

namespace linewood {

/// One statement about a run.
struct RunStatement {
    std::string item;
    std::string layer;  ///< empty: about the run
    std::string value;
};

/// Rows read and written, layer by layer.
struct LayerCount {
    std::string layer;
    std::int64_t count = 0;
};

/// What made this output: tool, job, criteria with hash, inputs with sizes and checksums, counts,
/// and the cautions. No clock and no path, so that the same input gives the same bytes.
std::vector<RunStatement> run_statements(const AssessJob& job,
                                         const InputLayers& inputs,
                                         const std::vector<LayerCount>& in,
                                         const std::vector<LayerCount>& out);

/// The same of a network alone: without criteria.
std::vector<RunStatement> network_statements(const NetworkJob& job,
                                             const InputLayers& inputs,
                                             const std::vector<LayerCount>& in,
                                             const std::vector<LayerCount>& out);

/// Says how many findings were counted and not written; nothing where all were.
void add_unwritten_findings(std::int64_t count, std::vector<RunStatement>& statements);

void write_statements(const std::vector<RunStatement>& statements, LayerWriter& out);

/// The last part of a dataset's name.
std::string shown_name(const Source& source);

/// `network.gpkg, 4096 bytes, sha256 ...` of a file read. @throws DataError where it cannot be read.
std::string input_file_text(const std::filesystem::path& file);

/// The datasets of a run by name, each once: `network.gpkg, visits.csv`.
std::string shown_inputs(const InputLayers& inputs);

/// The version of the program.
std::string_view tool_version();

}  // namespace linewood
