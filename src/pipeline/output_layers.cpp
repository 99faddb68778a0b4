#include "src/pipeline/output_layers.hpp"

#include <filesystem>

#include "geo/io/short_names.hpp"
#include "src/job/job_error.hpp"
#include "src/job/place_clash.hpp"
#include "src/pipeline/contract_columns.hpp"
#include "src/pipeline/input_findings.hpp"
#include "src/pipeline/output_fields.hpp"

namespace linewood {
namespace {

constexpr GeometryType kPoint{GeometryKind::point, false, false, false};
constexpr GeometryType kLine{GeometryKind::line, false, false, false};

LayerPlan plan_for(GeometryType geometry, std::string crs_wkt, std::string description) {
    LayerPlan plan;
    plan.geometry = geometry;
    plan.crs_wkt = std::move(crs_wkt);
    plan.description = std::move(description);
    return plan;
}

/// Layers that are looked up by their pole, not by place: without an index a FlatGeobuf keeps them in
/// order, and takes a third of the time to write.
LayerPlan by_pole(LayerPlan plan, OutputFormat format) {
    plan.spatial_index = format != OutputFormat::flatgeobuf;
    return plan;
}

class Layout {
public:
    Layout(OutputDataset& dataset, const InputLayers& inputs, Findings& findings)
        : dataset_{dataset}, inputs_{inputs}, findings_{findings} {}

    /// A layer of the input with the tool's columns behind its own.
    LayerWriter& carried(InputLayer layer, std::vector<Field> added, LayerPlan plan) {
        plan.name = name_of(layer);
        const auto& ref = inputs_[layer];
        if (ref) {
            plan.source = ref->schema();
            describe_contract_columns(layer, plan.source.fields);
            plan.expected_rows = plan.source.feature_count;
            plan.geometry = geometry_for(layer, plan);
            plan.crs_wkt = plan.source.crs_wkt.empty() ? plan.crs_wkt : plan.source.crs_wkt;
            plan.keep_fids = ref->source.driver() == "GPKG";
            plan.carried = columns(*ref, layer, added);
        } else if (layer == InputLayer::inspections) {
            added = {Field{.name = "pole_id"}};
        } else if (layer == InputLayer::poles) {
            added.insert(added.begin(), pole_id_field());
        }
        plan.added = std::move(added);
        return dataset_.add_layer(plan);
    }

    LayerWriter& own(std::string name, std::vector<Field> fields, LayerPlan plan) {
        // A section a pole is the most common case.
        plan.expected_rows = name == "sections" ? pole_layer().feature_count : -1;
        plan.name = std::move(name);
        plan.added = std::move(fields);
        return dataset_.add_layer(plan);
    }

    /// Where the poles are: the coordinate system of what the tool adds.
    std::string pole_crs() const { return pole_layer().crs_wkt; }

    LayerWriter& spans(std::vector<Field> fields) {
        return carried(InputLayer::spans,
                       std::move(fields),
                       plan_for(kLine, pole_crs(), "Spans from pole to pole"));
    }

    LayerWriter& findings(OutputFormat format) {
        return own("findings",
                   finding_fields(),
                   by_pole(plan_for(kPoint, pole_crs(), "What is doubtful in the input"), format));
    }

    LayerWriter& run() {
        return own("run", run_fields(), plan_for({}, "", "What made this dataset, and cautions"));
    }

private:
    /// The poles, or the lines they were made from.
    const LayerSchema& pole_layer() const {
        const auto& poles = inputs_[InputLayer::poles];
        return poles ? poles->schema() : inputs_[InputLayer::spans]->schema();
    }

    /// The input's own kind; a defects layer takes points as well.
    static GeometryType geometry_for(InputLayer layer, const LayerPlan& plan) {
        const GeometryType own = plan.source.geometry;
        if (layer != InputLayer::defects || own.kind == GeometryKind::point) {
            return own;
        }
        if (own.kind == GeometryKind::none) {
            return kPoint;
        }
        return {GeometryKind::mixed, false, own.has_z, own.has_m};
    }

    std::vector<CarriedColumn> columns(const InputLayerRef& ref,
                                       InputLayer layer,
                                       const std::vector<Field>& added) {
        std::vector<std::string> names;
        for (const Field& f : added) {
            names.push_back(f.name);
        }
        std::vector<std::string> drop;
        if (ref.written_by_us) {
            for (const std::string_view own : own_columns(layer)) {
                drop.emplace_back(own);
                if (!own_short_name(own).empty()) {
                    drop.emplace_back(own_short_name(own));  // as a Shapefile has it
                }
            }
        }
        ColumnPlan plan = plan_columns(ref.schema().fields, names, {"fid", "geom"}, drop);
        for (const std::string& note : plan.notes) {
            Finding f = make_finding(finding::kOutputChanged, layer, -1, "", "");
            f.message = note;
            findings_.push_back(std::move(f));
        }
        return std::move(plan.carried);
    }

    OutputDataset& dataset_;
    const InputLayers& inputs_;
    Findings& findings_;
};

}  // namespace

void refuse_place_of_input(const NetworkJob& job, const InputLayers& inputs) {
    for (const auto& layer : inputs.layers) {
        if (!layer) {
            continue;
        }
        for (const std::filesystem::path& file : layer->source.files()) {
            if (replaces(job.out, file)) {
                throw JobError{
                    "--out " + job.out.string() +
                    " is where the input is, which is never changed; name another place"};
            }
        }
    }
}

OutputDataset create_output(const NetworkJob& job, const InputLayers& inputs) {
    refuse_place_of_input(job, inputs);
    return OutputDataset::create(job.out, job.format, OutputOptions{.overwrite = job.overwrite});
}

OutputLayers lay_out(OutputDataset& dataset,
                     const AssessJob& job,
                     const InputLayers& inputs,
                     Findings& findings) {
    Layout layout{dataset, inputs, findings};
    const std::string crs = layout.pole_crs();
    const UnitSystem units = job.units;
    // One after the other: the order of the layers in the file.
    LayerWriter& poles = layout.carried(
        InputLayer::poles,
        pole_fields(units),
        plan_for(kPoint, crs, "Poles with line direction, remaining strength and verdict"));
    LayerWriter& spans = layout.spans(span_fields());
    LayerWriter& inspections =
        layout.carried(InputLayer::inspections, {}, plan_for({}, "", "Inspections as read"));
    LayerWriter& defects = layout.carried(
        InputLayer::defects,
        defect_fields(units),
        by_pole(plan_for(kPoint, crs, "Defects with direction and effective shell"), job.format));
    LayerWriter& sections = layout.own(
        "sections",
        section_fields(units),
        by_pole(plan_for(kPoint, crs, "Sections assessed, with strengths and limits"), job.format));
    LayerWriter& found = layout.findings(job.format);
    LayerWriter& run = layout.run();
    return {poles, spans, inspections, defects, sections, found, run};
}

NetworkLayers lay_out_network(OutputDataset& dataset,
                              const NetworkJob& job,
                              const InputLayers& inputs,
                              Findings& findings) {
    Layout layout{dataset, inputs, findings};
    LayerWriter& poles =
        layout.carried(InputLayer::poles,
                       line_fields(),
                       plan_for(kPoint, layout.pole_crs(), "Poles with line direction"));
    LayerWriter& spans = layout.spans(joined_span_fields());
    LayerWriter& found = layout.findings(job.format);
    return {poles, spans, found, layout.run()};
}

bool defects_go_to_poles(const InputLayers& inputs) {
    const auto& defects = inputs[InputLayer::defects];
    if (!defects || defects->schema().crs_wkt.empty()) {
        return true;
    }
    const auto& poles =
        inputs[InputLayer::poles] ? inputs[InputLayer::poles] : inputs[InputLayer::spans];
    return defects->schema().crs_wkt == poles->schema().crs_wkt;
}

}  // namespace linewood
