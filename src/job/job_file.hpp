#pragma once

#include <array>
#include <cstddef>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "src/job/layer_mapping.hpp"

namespace linewood {

/// Settings of a run as a job file gives them; the command line wins. Paths are resolved.
struct JobSettings {
    std::optional<double> snap_m;
    std::optional<double> id_distance_m;
    std::optional<double> nearest_line_m;
    std::optional<double> declination_deg;
    std::optional<std::string> plane_unit;
    std::optional<std::string> line_where;
    std::optional<bool> poles_from_spans;
    std::optional<std::string> criteria;  ///< a shipped profile, or a file
    std::optional<std::string> wood_tables;
    std::optional<std::string> units;
    std::optional<std::string> today;
    std::optional<std::size_t> threads;
};

/// A job file: what a run reads, how other people's layers stand for those of the contract, and its settings.
struct JobFile {
    std::string name;
    JobSettings settings;
    std::array<std::vector<SourceMapping>, 4> layers;  ///< by InputLayer; several feed one layer
};

/// A job file from JSON, in which comments are allowed. The schema is src/job/schema/job.schema.json
/// (`linewood job schema`).
///
///     {
///       // Everything but "layers" may be left out.
///       "name": "north district",
///       "settings": {"criteria": "two-thirds", "snap_m": 3, "units": "si"},
///       "layers": {
///         "poles": {
///           "source": "assets.gpkg", "layer": "SUPPORTS", "where": "STATE <> 'gone'",
///           "nulls": ["-", "n/a"],
///           "fields": {
///             "pole_id": "NUM",
///             "length": {"field": "LEN", "unit": "m"},
///             "recorded_circumference": {"field": "DIA", "unit": "mm", "measure": "diameter"},
///             "material": {"field": "MAT", "codes": {"W": "wood", "S": "steel"}, "others": null},
///             "species": {"constant": "southern_pine"}
///           }
///         },
///         "inspections": {"source": "visits.csv", "fields": {
///           "pole_id": "POLE",
///           "inspected_on": {"field": "WHEN", "date": "DD.MM.YYYY"},
///           "present_circumference": {"first_of": ["GIRTH", {"field": "DIA", "measure": "diameter"}], "unit": "cm"}}},
///         "defects": {
///           "source": "visits.csv", "repeat": {"from": 1, "to": 4},
///           "fields": {"pole_id": "POLE", "kind": {"constant": "external_pocket"},
///                      "width": {"field": "pocket_{n}_width", "unit": "mm"},
///                      "depth": {"field": "pocket_{n}_depth", "unit": "mm"}}
///         }
///       }
///     }
///
/// - A layer is one source or a list of them. Without `source` it is the dataset of the command line. Without
///   `fields` the columns are those of the contract, by their own names, in its units where `units` says nothing.
/// - With `fields` only what is listed is read. Every size and angle needs a unit, its own or one from the
///   source's `units` (a word for all sizes, or by field).
/// - With `repeat` each row becomes one for every group in which a column with `{n}` holds something. The wide
///   rows themselves must be in the output: their source has to feed another layer too.
/// @param folder of the file, that paths are relative to.
/// @throws JobError naming the JSON path, the value and the nearest valid word.
JobFile read_job(std::string_view json_text, const std::filesystem::path& folder);

/// The text of a dataset as a job file names it: a path relative to `folder`, or what OGR opens
/// (`PG:...`, `/vsizip/...`), as it stands.
std::string dataset_beside(const std::filesystem::path& folder, const std::string& dataset);

}  // namespace linewood
