#include "src/pipeline/output_layers.hpp"

#include <filesystem>

#include "geo/io/data_error.hpp"
#include "geo/io/short_names.hpp"
#include "src/job/job_error.hpp"
#include "src/job/place_clash.hpp"
#include "src/pipeline/contract_columns.hpp"
#include "src/pipeline/earlier_run.hpp"
#include "src/pipeline/input_findings.hpp"
#include "src/pipeline/output_fields.hpp"
#include "src/style/stored_styles.hpp"

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
    Layout(OutputDataset& dataset,
           const NetworkJob& job,
           const InputLayers& inputs,
           Findings& findings)
        : dataset_{dataset}, job_{job}, inputs_{inputs}, findings_{findings} {}

    /// A layer of the input with the tool's columns behind its own.
    LayerWriter& carried(InputLayer layer, std::vector<Field> added, LayerPlan plan) {
        plan.name = name_of(layer);
        const auto& ref = inputs_[layer];
        if (ref) {
            plan.source = ref->schema();
            if (ref->columns) {
                ref->columns->describe(plan.source.fields);
            } else {
                describe_contract_columns(layer, plan.source.fields);
            }
            plan.expected_rows = plan.source.feature_count;
            plan.geometry = geometry_for(layer, plan);
            plan.crs_wkt = plan.source.crs_wkt.empty() ? plan.crs_wkt : plan.source.crs_wkt;
            plan.keep_fids = ref->source.driver() == "GPKG";
            plan.carried = columns(*ref, layer, added);
            if (job_.in_place) {
                stay_in_place(layer, *ref, plan);
            }
        } else if (job_.in_place) {
            plan.untouched = true;
        } else if (layer == InputLayer::inspections) {
            // Two columns, since no CSV of one is read again.
            added = {Field{.name = "pole_id"},
                     Field{.name = "inspected_on", .type = FieldType::date}};
        } else if (layer == InputLayer::poles) {
            added.insert(added.begin(), pole_id_field());
        }
        plan.added = std::move(added);
        plan.indexed = ids_of(plan);
        plan.styles = stored_styles(name_of(layer), plan);
        relate(plan);
        return dataset_.add_layer(plan);
    }

    LayerWriter& own(std::string name, std::vector<Field> fields, LayerPlan plan) {
        // A section a pole is the most common case.
        plan.expected_rows = name == "sections" ? pole_layer().feature_count : -1;
        plan.name = std::move(name);
        plan.added = std::move(fields);
        plan.indexed = ids_of(plan);
        plan.styles = stored_styles(plan.name, plan);
        relate(plan);
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

    /// In a dataset changed in place: poles and defects get columns, the spans stay as they are and the pieces
    /// from pole to pole are a layer of their own.
    static void stay_in_place(InputLayer layer, const InputLayerRef& ref, LayerPlan& plan) {
        switch (layer) {
            case InputLayer::poles:
            case InputLayer::defects:
                plan.in_place = true;
                plan.name = ref.layer;
                plan.geometry = {};
                break;
            case InputLayer::spans:
                plan.name = "line_spans";
                break;
            case InputLayer::inspections:
                plan.untouched = true;
                break;
        }
    }

    /// The column that names the pole of a row, under the name it has in the output; empty where there is none.
    static std::string id_column(const LayerPlan& plan) {
        const auto is_id = [](const std::string& name) {
            return name.size() == kPoleId.size() && same_name(name, kPoleId);
        };
        for (const CarriedColumn& carried : plan.carried) {
            if (is_id(carried.name)) {
                return carried.name;
            }
        }
        for (const Field& field : plan.added) {
            if (is_id(field.name)) {
                return field.name;
            }
        }
        return {};
    }

    /// Of what is on the map and related: an index of the inspections would cost as much as the two of poles and
    /// sections together.
    static std::vector<std::string> ids_of(const LayerPlan& plan) {
        const std::string id =
            plan.geometry.kind == GeometryKind::none && !plan.in_place ? "" : id_column(plan);
        return id.empty() ? std::vector<std::string>{} : std::vector{id};
    }

    /// Poles are known first; sections and defects belong to them.
    void relate(const LayerPlan& plan) {
        const std::string id = id_column(plan);
        if (pole_table_.empty()) {
            pole_table_ = plan.name;
            pole_id_ = id;
        } else if (!pole_id_.empty() && !id.empty() && !plan.untouched &&
                   (plan.geometry.kind != GeometryKind::none || plan.in_place)) {
            dataset_.relate({pole_table_, pole_id_, plan.name, id});
        }
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
        // Where nothing moves, only the added columns can meet another's name.
        const std::vector<std::string> reserved = job_.in_place && layer != InputLayer::spans
                                                      ? std::vector<std::string>{}
                                                      : std::vector<std::string>{"fid", "geom"};
        ColumnPlan plan = plan_columns(ref.schema().fields, names, reserved, drop);
        for (const std::string& note : plan.notes) {
            Finding f = make_finding(finding::kOutputChanged, layer, -1, "", "");
            f.message = note;
            findings_.push_back(std::move(f));
        }
        return std::move(plan.carried);
    }

    static constexpr std::string_view kPoleId = "pole_id";

    OutputDataset& dataset_;
    const NetworkJob& job_;
    const InputLayers& inputs_;
    Findings& findings_;
    std::string pole_table_;
    std::string pole_id_;
};

/// Layers of an earlier run in place.
const std::vector<std::string> kInPlaceLayers{"line_spans", "sections", "findings", "run"};

/// All there are, in a dataset of their own.
const std::vector<std::string> kLayers{
    "poles", "spans", "inspections", "defects", "sections", "findings", "run"};

/// Layers called like those that are put beside the input's, in a dataset that the tool never changed, are its
/// owner's. @throws DataError
void refuse_layers_of_the_owner(const Source& source) {
    for (const std::string& layer : kInPlaceLayers) {
        if (source.has_layer(layer)) {
            throw DataError{
                shown_dataset(source.dataset()),
                layer,
                "a layer of this name is there already and is not this tool's, which would have "
                "to replace it; rename it, or use --out"};
        }
    }
}

/// The dataset of the poles, changed in place. @throws JobError or DataError where it cannot be.
OutputDataset change_in_place(const InputLayers& inputs) {
    const auto& poles = inputs[InputLayer::poles];
    if (!poles) {
        throw JobError{"--in-place: there is no layer of poles to put columns into; use --out"};
    }
    const Source& source = poles->source;
    const bool database = source.driver() == "PostgreSQL";
    if (!database && source.driver() != "GPKG") {
        throw JobError{
            "--in-place: only a GeoPackage or a PostgreSQL database can be changed in "
            "place, and " +
            shown_dataset(source.dataset()) + " is neither; use --out"};
    }
    const auto& defects = inputs[InputLayer::defects];
    if (defects && defects->source.dataset() != source.dataset()) {
        throw JobError{
            "--in-place: the defects are in another dataset than the poles, which would "
            "be changed too; use --out"};
    }
    OutputOptions options;
    options.in_place = true;
    if (has_own_run(source)) {
        options.own_layers = kInPlaceLayers;
    } else {
        refuse_layers_of_the_owner(source);
    }
    return OutputDataset::create(source.dataset(),
                                 database ? OutputFormat::postgis : OutputFormat::geopackage,
                                 std::move(options));
}

}  // namespace

void refuse_place_of_input(const NetworkJob& job, const InputLayers& inputs) {
    for (const auto& layer : inputs.layers) {
        if (!layer) {
            continue;
        }
        if (job.format == OutputFormat::postgis && layer->source.dataset() == job.out.string() &&
            job.overwrite) {
            throw JobError{
                "--out is the database of the input, whose tables are never replaced; name another "
                "schema with active_schema=NAME, or use --in-place"};
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
    if (job.in_place) {
        return change_in_place(inputs);
    }
    refuse_place_of_input(job, inputs);
    OutputOptions options;
    options.overwrite = job.overwrite;
    options.crs = job.crs;
    if (job.format == OutputFormat::postgis) {
        options.own_layers = kLayers;
    }
    return OutputDataset::create(job.out, job.format, std::move(options));
}

OutputLayers lay_out(OutputDataset& dataset,
                     const AssessJob& job,
                     const InputLayers& inputs,
                     Findings& findings) {
    Layout layout{dataset, job, inputs, findings};
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
    Layout layout{dataset, job, inputs, findings};
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
