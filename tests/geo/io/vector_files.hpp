#pragma once

#include <cstdint>
#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "geo/io/feature_batch.hpp"
#include "geo/io/output_dataset.hpp"
#include "geo/io/source.hpp"

namespace linewood::testing {

/// Makes a dataset by GDAL's own program, independent of the code under test: `ogr2ogr` from an OGR VRT or
/// GeoJSON text, with more arguments. @return the path.
std::filesystem::path make_dataset(const std::filesystem::path& path,
                                   const std::string& geojson,
                                   const std::vector<std::string>& arguments = {});

/// Runs SQL on a database by Python's sqlite3 (no GDAL): the rows, cells joined by `|`.
/// Functions of GeoPackage triggers are not known there.
std::vector<std::string> sql_rows(const std::filesystem::path& database, const std::string& sql);

/// Runs a shell command; its output, standard error included. `status` gets the exit code.
std::string run(const std::string& command, int* status = nullptr);

/// A layer as text, one line a feature: `fid;a=1;b=;POINT (1 2)`, read by OGR itself.
std::vector<std::string> ogr_lines(const std::filesystem::path& path,
                                   const std::string& layer = "",
                                   bool with_fid = false);

/// A layer as text, read by the code under test: all cells by text(), null as `null`.
std::vector<std::string> read_lines(const Source& source,
                                    const std::string& layer,
                                    bool columnar = true,
                                    std::size_t batch_size = 4096);

/// A plan that copies a layer as it is.
LayerPlan copy_plan(const LayerSchema& schema);

/// Copies all layers (or one) of `from` to `to` by the code under test.
OutputSummary copy_dataset(const Source& from,
                           const std::filesystem::path& to,
                           OutputFormat format,
                           OutputOptions options = {},
                           const std::function<void(LayerPlan&)>& change = {});

/// What `action` throws as a DataError; empty where it throws nothing.
std::string error_of(const std::function<void()>& action);

/// Three poles in WGS 84 with an integer, a real, a text, and a null.
extern const char* const kPoles;

}  // namespace linewood::testing
