#include "src/command/network_options.hpp"

#include <algorithm>
#include <array>
#include <thread>
#include <utility>

#include "geo/io/data_error.hpp"
#include "src/command/shared_options.hpp"
#include "src/job/job_error.hpp"

#include <CLI/CLI.hpp>

namespace linewood {
namespace {

constexpr std::array<std::pair<std::string_view, double>, 3> kPlaneUnits{
    {{"m", 1.0}, {"ft", 0.3048}, {"us-ft", 1200.0 / 3937.0}}};

std::string folder_formats() {
    return "flatgeobuf, geojson, geojsonl, shapefile, csv, gml, kml, xlsx or ods";
}

}  // namespace

std::optional<std::string> if_given(const std::string& text) {
    return text.empty() ? std::nullopt : std::optional<std::string>{text};
}

void NetworkOptions::add_to(CLI::App& command, const std::string& layers) {
    add_layers_to(command, layers);
    add_output_to(command, false);
    add_place_to(command);
    add_settings_to(command);
}

void NetworkOptions::add_layers_to(CLI::App& command, const std::string& layers) {
    command.add_option("input", input, "Dataset with the layers " + layers)->type_name("IN");
    const auto layer = [&](const char* option, std::string& to, const char* what) {
        command.add_option(option, to, what)->type_name("DATASET[:LAYER]")->group("Layers");
    };
    layer("--poles", poles, "Poles, instead of IN's");
    layer("--spans", spans, "Spans, instead of IN's");
    command
        .add_flag("--poles-from-spans",
                  poles_from_spans,
                  "There are lines only: make poles where they end, E1, E2 ...")
        ->group("Layers");
    command
        .add_option("--line-where",
                    line_where,
                    "Which spans are of the line, as SQL (\"kv > 1\"); others count as services")
        ->type_name("CONDITION")
        ->group("Layers");
}

void NetworkOptions::add_output_to(CLI::App& command, bool required) {
    command
        .add_option("--out",
                    out,
                    "Where to write: a .gpkg file, a folder with --format, or a database (PG:...)")
        ->type_name("OUT")
        ->required(required);
    command.add_option("--format", format, "Of a folder: " + folder_formats())->type_name("FORMAT");
    command.add_flag("--overwrite", overwrite, "Replace OUT where it exists");
}

void NetworkOptions::add_place_to(CLI::App& command) {
    command_ = command.get_name();
    command.add_option("--crs", crs, "Coordinate system of what is written (default: the input's)")
        ->type_name("CRS");
    command.add_flag("--in-place",
                     in_place,
                     "Put columns and layers into IN itself, a GeoPackage or a database");
}

void NetworkOptions::add_settings_to(CLI::App& command) {
    const auto metres = [&](const char* option, double& to, const char* what) {
        allow_range(*command.add_option(option, to, what)->type_name("M"), 0.0, 1000.0);
    };
    metres("--snap", snap_m, "How far a span end may be from its pole, m (default 2)");
    metres(
        "--id-distance",
        id_distance_m,
        "Named poles further than this from the drawn end give way to one there, m (default off)");
    metres("--nearest-line",
           nearest_line_m,
           "Poles on no span take the direction of a line this near, m (default 0: off)");
    command
        .add_option("--plane-unit",
                    plane_unit,
                    "Unit of layers without a coordinate system: m, ft or us-ft")
        ->check(CLI::IsMember({"m", "ft", "us-ft"}))
        ->capture_default_str();
    CLI::Option* count =
        command.add_option("--threads", threads, "Threads to use (default: all cores)");
    allow_range(*count->type_name("N"), 1.0, 256.0);
}

OutputFormat NetworkOptions::checked_format() const {
    if (out.find_first_not_of(' ') == std::string::npos) {
        throw JobError{"--out is empty; name a .gpkg file, or a folder with --format"};
    }
    const auto by_path = output_format_of_path(out);
    if (format.empty()) {
        if (!by_path) {
            throw JobError{"--out " + out + " is a folder: say with --format what goes into it (" +
                           folder_formats() + "), or name a .gpkg file"};
        }
        return *by_path;
    }
    const auto named = output_format_named(format);
    if (!named) {
        throw JobError{"--format " + format + ": not one of geopackage, " + folder_formats()};
    }
    if (by_path && by_path != named) {
        throw JobError{
            "--out " + shown_dataset(out) +
            (by_path == OutputFormat::geopackage ? " is a GeoPackage file" : " is a database") +
            "; leave --format away, or name a folder"};
    }
    if (!by_path && *named == OutputFormat::geopackage) {
        throw JobError{"--format geopackage is one file: let --out end in .gpkg"};
    }
    if (!by_path && *named == OutputFormat::postgis) {
        throw JobError{"--format postgis is a database: let --out be PG:dbname=NAME ..."};
    }
    return *named;
}

void NetworkOptions::fill(NetworkJob& job) const {
    if (out.empty() && !in_place) {
        throw JobError{"--out is required, or --in-place (see linewood " + command_ + " --help)"};
    }
    fill_inputs(job);
    fill_output(job);
}

void NetworkOptions::refuse_beside_in_place() const {
    for (const auto& [option, given] : {std::pair{"--out", !out.empty()},
                                        {"--format", !format.empty()},
                                        {"--crs", !crs.empty()},
                                        {"--overwrite", overwrite},
                                        {"--poles-from-spans", poles_from_spans}}) {
        if (given) {
            throw JobError{std::string{"--in-place: "} + option +
                           " makes no sense beside it; leave one of them away"};
        }
    }
}

void NetworkOptions::fill_output(NetworkJob& job) const {
    job.in_place = in_place;
    if (in_place) {
        refuse_beside_in_place();
        job.out = input.empty() ? poles : input;
        return;
    }
    job.out = out;
    job.format = checked_format();
    job.overwrite = overwrite;
    job.crs = crs;
    if (crs.empty()) {
        return;
    }
    if (!is_known_crs(crs)) {
        throw JobError{
            "--crs " + crs +
            ": no coordinate system of this name is known that a map can be in; give one "
            "such as EPSG:32610"};
    }
    if (job.format == OutputFormat::geojsonl || job.format == OutputFormat::kml) {
        throw JobError{
            std::string{"--crs: "} + name_of(job.format) +
            " is always in longitude and latitude on WGS 84; leave --crs away, or choose "
            "another --format"};
    }
}

void NetworkOptions::fill_inputs(NetworkJob& job) const {
    job.inputs.dataset = if_given(input);
    job.inputs.layers[0] = if_given(poles);
    job.inputs.layers[1] = if_given(spans);
    job.inputs.wanted[0] = !poles_from_spans;
    job.poles_from_spans = poles_from_spans;
    if (!job.inputs.dataset && !job.inputs.layers[0] && !has_mapped_poles && !poles_from_spans) {
        throw JobError{"no poles: name a dataset, or a layer with --poles DATASET[:LAYER]"};
    }
    if (snap_m >= 0.0) {
        job.network.snap_tolerance = Length::metres(snap_m);
    }
    if (id_distance_m >= 0.0) {
        job.network.id_distance_limit = Length::metres(id_distance_m);
    }
    job.line_where = line_where;
    if (nearest_line_m >= 0.0) {
        job.network.nearest_line =
            nearest_line_m > 0.0 ? Maybe<Length>{Length::metres(nearest_line_m)} : Maybe<Length>{};
    }
    for (const auto& [name, metres] : kPlaneUnits) {
        if (name == plane_unit) {
            job.plane_metres_per_unit = metres;
        }
    }
    job.threads = threads != 0 ? threads : std::max(1U, std::thread::hardware_concurrency());
}

}  // namespace linewood
