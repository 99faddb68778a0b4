#include "src/pipeline/run_record.hpp"

#include <algorithm>
#include <array>
#include <filesystem>
#include <set>

#include <fmt/format.h>

#include "assess/condition/condition_findings.hpp"
#include "src/job/cautions.hpp"
#include "src/job/checksum.hpp"
#include "src/job/layer_mapping.hpp"
#include "src/job/stated_mapping.hpp"
#include "src/pipeline/pole_rows.hpp"

namespace linewood {
namespace {

/// The name of a dataset without its folder, and never a password of a connection string.

/// The layers of the datasets: those that a job file names, else the layer itself.
std::string shown_layers(const InputLayerRef& ref) {
    std::vector<std::string> names;
    if (ref.columns) {
        for (const SourceMapping& mapping : ref.columns->mappings()) {
            const std::string& name = mapping.layer.empty() ? ref.layer : mapping.layer;
            if (std::find(names.begin(), names.end(), name) == names.end()) {
                names.push_back(name);
            }
        }
    }
    return names.empty() ? ref.layer : fmt::format("{}", fmt::join(names, ", "));
}

/// How a job file has a layer read, one statement a field.
void add_mapping(const InputLayerRef& ref,
                 const std::string& layer,
                 std::vector<RunStatement>& out) {
    for (const SourceMapping& mapping : ref.columns->mappings()) {
        if (!mapping.where.empty()) {
            out.push_back({"input_where", layer, mapping.where});
        }
        for (const FieldMapping& field : mapping.fields) {
            if (mapping.by_own_names && !ref.columns->slot(field.field)) {
                continue;
            }
            out.push_back({"input_field", layer, field.field + " from " + shown_sources(field)});
        }
        // The same for programs: so that those who read the output find what was mapped.
        const auto is_read = [&](const std::string& field) {
            return !mapping.by_own_names || ref.columns->slot(field);
        };
        out.push_back({"input_mapping", layer, stated_mapping(mapping, is_read)});
    }
    if (ref.source.driver() == "GPKG") {
        out.push_back({"input_fids", layer, "kept"});
    }
}

void add_inputs(const InputLayers& inputs, const NetworkJob& job, std::vector<RunStatement>& out) {
    std::set<std::filesystem::path> done;
    for (std::size_t i = 0; i < inputs.layers.size(); ++i) {
        if (!job.inputs.wanted[i]) {
            continue;
        }
        const auto& ref = inputs.layers[i];
        const std::string layer{name_of(static_cast<InputLayer>(i))};
        if (!ref) {
            out.push_back({"input", layer, "none"});
            continue;
        }
        out.push_back({"input", layer, shown_name(ref->source) + ", layer " + shown_layers(*ref)});
        if (ref->columns) {
            add_mapping(*ref, layer, out);
        }
        for (const auto& file : ref->source.files(ref->layer)) {
            if (!done.insert(file).second) {
                continue;
            }
            out.push_back({"input_file", layer, input_file_text(file)});
        }
    }
}

std::string metres(Length l) { return plain_number(l.metres()) + " m"; }
std::string degrees(Angle a) { return plain_number(a.degrees()) + " deg"; }

void add_tool(std::vector<RunStatement>& out) {
    out.push_back({"tool", "", "linewood " + std::string{tool_version()}});
}

void add_network_job(const NetworkJob& job, std::vector<RunStatement>& out) {
    if (!job.job_file.empty()) {
        out.push_back({"job_file",
                       "",
                       job.job_file + (job.job_name.empty() ? "" : " (" + job.job_name + ")") +
                           ", sha256 " + job.job_sha256});
    }
    out.push_back({"job_snap_tolerance", "spans", metres(job.network.snap_tolerance)});
    out.push_back({"job_interior_cut", "spans", metres(job.network.interior_cut)});
    out.push_back({"job_tangent_limit", "spans", degrees(job.network.tangent_limit)});
    out.push_back({"job_junction_pair_limit", "spans", degrees(job.network.junction_pair_limit)});
    out.push_back({"job_given_azimuth_limit", "poles", degrees(job.network.given_axis_limit)});
    out.push_back({"job_id_distance",
                   "spans",
                   job.network.id_distance_limit ? metres(*job.network.id_distance_limit) : "off"});
    out.push_back({"job_nearest_line",
                   "spans",
                   job.network.nearest_line ? metres(*job.network.nearest_line) : "off"});
    if (!job.line_where.empty()) {
        out.push_back({"job_line_where", "spans", job.line_where});
    }
    if (job.poles_from_spans) {
        out.push_back({"job_poles_from_spans", "poles", "made at the ends of the spans"});
    }
}

void add_counts(const std::vector<LayerCount>& in,
                const std::vector<LayerCount>& written,
                std::vector<RunStatement>& out) {
    for (const LayerCount& c : in) {
        out.push_back({"count_in", c.layer, std::to_string(c.count)});
    }
    for (const LayerCount& c : written) {
        out.push_back({"count_out", c.layer, std::to_string(c.count)});
    }
}

}  // namespace

std::string shown_name(const Source& source) {
    std::string names;
    for (const Source& one : source.datasets()) {
        std::filesystem::path name{one.dataset()};
        if (!name.has_filename()) {
            name = name.parent_path();
        }
        names += (names.empty() ? "" : ", ") +
                 (one.files().empty() ? one.driver() + " database" : name.filename().string());
    }
    return names;
}

std::string input_file_text(const std::filesystem::path& file) {
    std::error_code ignored;
    const auto size = std::filesystem::file_size(file, ignored);
    return file.filename().string() + ", " + std::to_string(size) + " bytes, sha256 " +
           sha256_of_file(file);
}

std::string shown_inputs(const InputLayers& inputs) {
    std::vector<std::string> names;
    for (const auto& ref : inputs.layers) {
        if (ref) {
            std::string name = shown_name(ref->source);
            if (std::find(names.begin(), names.end(), name) == names.end()) {
                names.push_back(std::move(name));
            }
        }
    }
    std::string all;
    for (const std::string& name : names) {
        all += (all.empty() ? "" : ", ") + name;
    }
    return all;
}

std::string_view tool_version() { return LINEWOOD_VERSION; }

std::vector<RunStatement> run_statements(const AssessJob& job,
                                         const InputLayers& inputs,
                                         const std::vector<LayerCount>& in,
                                         const std::vector<LayerCount>& out) {
    std::vector<RunStatement> s;
    add_tool(s);
    s.push_back({"job_units", "", std::string{name_of(job.units)}});
    add_network_job(job, s);
    s.push_back({"job_declination",
                 "defects",
                 job.declination ? degrees(*job.declination) : "World Magnetic Model 2025"});
    if (job.today) {
        s.push_back({"job_today", "", job.today->to_string()});
    }
    s.push_back({"job_wood_tables", "", job.tables_name});
    s.push_back({"criteria_name", "", job.criteria.name});
    s.push_back({"criteria_sha256", "", sha256_of(job.criteria_json)});
    s.push_back({"criteria_profile", "", job.criteria_json});
    add_inputs(inputs, job, s);
    add_counts(in, out, s);
    for (const std::string_view caution : kCautions) {
        s.push_back({"caution", "", std::string{caution}});
    }
    return s;
}

std::vector<RunStatement> network_statements(const NetworkJob& job,
                                             const InputLayers& inputs,
                                             const std::vector<LayerCount>& in,
                                             const std::vector<LayerCount>& out) {
    std::vector<RunStatement> s;
    add_tool(s);
    add_network_job(job, s);
    add_inputs(inputs, job, s);
    add_counts(in, out, s);
    return s;
}

void add_unwritten_findings(std::int64_t count, std::vector<RunStatement>& statements) {
    if (count > 0) {
        statements.push_back({"findings_not_written", "findings", std::to_string(count)});
    }
}

void write_statements(const std::vector<RunStatement>& statements, LayerWriter& out) {
    for (const RunStatement& s : statements) {
        const std::array<Cell, 3> cells{text_cell(s.item), text_cell(s.layer), text_cell(s.value)};
        out.append(cells, std::nullopt);
    }
}

}  // namespace linewood
