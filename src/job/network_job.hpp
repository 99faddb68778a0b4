#pragma once

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>

#include "geo/io/output_dataset.hpp"
#include "geo/network/network_settings.hpp"
#include "src/pipeline/input_layers.hpp"

namespace linewood {

/// What every run needs to know that joins spans to poles and writes layers, checked.
struct NetworkJob {
    InputAddresses inputs;
    std::filesystem::path out;
    OutputFormat format = OutputFormat::geopackage;
    bool overwrite = false;
    /// `out` is the input's own dataset, and gets the tool's columns and layers.
    bool in_place = false;
    std::string crs;  ///< of what is written; empty = the input's
    NetworkSettings network;
    double plane_metres_per_unit = 1.0;  ///< for layers without a coordinate system
    bool poles_from_spans = false;       ///< there are lines only: poles are made at their ends
    /// Condition (see rows_where) that spans of the line meet; the others count as services. Empty =
    /// all are of the line.
    std::string line_where;
    std::size_t threads = 2;
    /// Findings written at most; all are counted. Nothing = all.
    std::optional<std::int64_t> max_findings;
    std::string job_file = {};  ///< name of the job file, without its folder; empty: there is none
    std::string job_name = {};
    std::string job_sha256 = {};
};

}  // namespace linewood
