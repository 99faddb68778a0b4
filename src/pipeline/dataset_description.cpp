#include "src/pipeline/dataset_description.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <unordered_set>

#include "geo/io/feature_reader.hpp"
#include "src/job/job_error.hpp"
#include "src/pipeline/input_findings.hpp"
#include "src/pipeline/row_decoder.hpp"

namespace linewood {
namespace {

/// What a size usually is, in metres: beyond it a unit is more likely wrong than the wood odd. Girths are those that
/// the assessment doubts (5 to 120 in); the others are own choice, no source.
struct UsualRange {
    std::string_view field;
    double least;
    double most;
};
constexpr UsualRange kUsual[] = {{"length", 4.0, 60.0},
                                 {"setting_depth", 0.5, 6.0},
                                 {"recorded_circumference", 0.127, 3.048},
                                 {"original_circumference", 0.127, 3.048},
                                 {"present_circumference", 0.127, 3.048},
                                 {"original_height", -4.0, 60.0},
                                 {"height", -4.0, 60.0},
                                 {"width", 0.0, 1.0},
                                 {"depth", 0.0, 0.5},
                                 {"extent", 0.0, 10.0},
                                 {"shell_thickness", 0.0, 0.5}};

class LayerReading {
public:
    LayerReading(const InputLayerRef& ref, InputLayer layer, std::optional<Date> today)
        : ref_{ref},
          decoder_{ref.schema(),
                   layer,
                   findings_,
                   ref.written_by_us ? own_columns(layer) : std::span<const std::string_view>{},
                   ref.columns.get()} {
        decoder_.doubt_dates_after(today);
        out_.layer = layer;
        for (const ContractField& field : input_fields(layer)) {
            const Column column = decoder_.column(field.name);
            if (!column.exists()) {
                out_.missing.emplace_back(field.name);
                continue;
            }
            columns_.push_back(column);
            out_.fields.push_back({&field, source_of(column), 0, {}, {}, {}, {}, {}});
        }
    }

    /// @param known ids of the poles; filled by the poles layer itself.
    LayerDescription run(std::unordered_set<std::string>& known) {
        ReadOptions options;
        options.columns = decoder_.used();
        options.geometry = false;
        FeatureReader reader{ref_.source, ref_.layer, options};
        FeatureBatch batch;
        while (reader.next(batch)) {
            for (std::size_t row = 0; row < batch.size(); ++row) {
                decoder_.start(batch, row);
                decoder_.note_damage();
                for (std::size_t i = 0; i < columns_.size(); ++i) {
                    take(i, known);
                }
                count_findings();
            }
        }
        decoder_.note_damage(reader.layer_damage());
        count_findings();
        out_.rows = reader.rows_read();
        list_carried();
        return std::move(out_);
    }

private:
    std::string source_of(const Column& column) const {
        if (!column.slot) {
            return ref_.schema().fields[*column.index].name;
        }
        std::string all;
        for (const SourceMapping& mapping : ref_.columns->mappings()) {
            for (const FieldMapping& field : mapping.fields) {
                if (field.field == column.name) {
                    const std::string one = shown_sources(field);
                    all +=
                        all.find(one) != std::string::npos ? "" : (all.empty() ? "" : "; ") + one;
                }
            }
        }
        return all;
    }

    void take(std::size_t i, std::unordered_set<std::string>& known) {
        FieldDescription& d = out_.fields[i];
        const Column& column = columns_[i];
        if (decoder_.is_null(column)) {
            if (d.field->required) {
                doubt(d, "empty", "nothing stands there; no such row can be used", "");
            }
            return;
        }
        ++d.filled;
        if (d.field->name == "pole_id") {
            take_id(d, decoder_.text(column), known);
            return;
        }
        switch (d.field->quantity) {
            case Quantity::girth:
            case Quantity::length:
                if (const auto length = decoder_.length(
                        column,
                        d.field->unit == "in" ? RecordedUnit::inch : RecordedUnit::foot,
                        SizeRange::any)) {
                    take_size(d, length->metres());
                }
                break;
            case Quantity::number:
            case Quantity::angle:
            case Quantity::azimuth:
                if (const auto number = decoder_.number(column)) {
                    widen(d, *number);
                    if (d.field->quantity != Quantity::number &&
                        (*number < 0.0 || *number > 360.0)) {
                        doubt(
                            d, "angle_unusual", "outside 0 to 360 degrees", decoder_.text(column));
                    }
                }
                break;
            case Quantity::date:
                if (const auto day = decoder_.date(column)) {
                    const std::string text = day->to_string();
                    d.first_day = d.first_day.empty() ? text : std::min(d.first_day, text);
                    d.last_day = std::max(d.last_day, text);
                }
                break;
            case Quantity::boolean:
                decoder_.answer(column);
                break;
            case Quantity::code:
                take_code(d, column);
                break;
            case Quantity::text:
                break;
        }
    }

    void take_id(FieldDescription& d, std::string id, std::unordered_set<std::string>& known) {
        if (out_.layer == InputLayer::poles) {
            if (!known.insert(id).second) {
                doubt(d, "pole_id_duplicate", "an id that another pole has too", id);
            }
        } else if (known.count(id) == 0) {
            doubt(d, "pole_unknown", "names no pole of the poles layer", id);
        }
    }

    void take_size(FieldDescription& d, double metres) {
        widen(d, metres);
        for (const UsualRange& usual : kUsual) {
            if (usual.field == d.field->name && (metres < usual.least || metres > usual.most)) {
                doubt(d,
                      "size_unusual",
                      "far from what is usual; is the unit right?",
                      decoder_.text(columns_[static_cast<std::size_t>(&d - out_.fields.data())]));
            }
        }
    }

    void take_code(FieldDescription& d, const Column& column) {
        if (d.field->open) {
            return;
        }
        const std::string form = code_form(decoder_.text(column));
        const auto& words = d.field->words;
        if (std::find(words.begin(), words.end(), form) == words.end()) {
            doubt(d, "code_unknown", "not one of the words of this field", decoder_.text(column));
        }
    }

    static void widen(FieldDescription& d, double value) {
        d.least = std::min(d.least.value_or(value), value);
        d.most = std::max(d.most.value_or(value), value);
    }

    static void add(std::vector<FieldDoubt>& doubts,
                    std::string_view code,
                    std::string_view message,
                    const std::string& value) {
        for (FieldDoubt& known : doubts) {
            if (known.code == code) {
                ++known.count;
                return;
            }
        }
        doubts.push_back({std::string{code}, std::string{message}, value, 1});
    }

    static void doubt(FieldDescription& d,
                      std::string_view code,
                      std::string_view message,
                      const std::string& value) {
        add(d.doubts, code, message, value);
    }

    void count_findings() {
        for (const Finding& f : findings_) {
            const auto field = std::find_if(
                out_.fields.begin(), out_.fields.end(), [&](const FieldDescription& d) {
                    return d.field->name == f.field;
                });
            add(field == out_.fields.end() ? out_.doubts : field->doubts,
                f.code,
                f.message,
                f.value);
        }
        findings_.clear();
    }

    void list_carried() {
        const auto& used = decoder_.used();
        const auto& fields = ref_.schema().fields;
        for (std::size_t i = 0; i < fields.size(); ++i) {
            if (std::find(used.begin(), used.end(), i) == used.end()) {
                out_.carried.push_back(fields[i].name);
            }
        }
    }

    const InputLayerRef& ref_;
    Findings findings_;
    RowDecoder decoder_;
    std::vector<Column> columns_;
    LayerDescription out_;
};

/// All layers of every dataset that is named, each once.
void profile_all(const InputAddresses& addresses,
                 const InputLayers& inputs,
                 std::vector<LayerProfile>& out) {
    std::vector<Source> sources;
    const auto add = [&](const Source& source) {
        for (const Source& one : source.datasets()) {
            if (std::none_of(sources.begin(), sources.end(), [&](const Source& other) {
                    return other.dataset() == one.dataset();
                })) {
                sources.push_back(one);
            }
        }
    };
    if (addresses.dataset) {
        add(Source::open(*addresses.dataset));
    }
    for (const auto& layer : inputs.layers) {
        if (layer) {
            add(layer->source);
        }
    }
    for (const Source& source : sources) {
        for (const std::string& layer : source.layer_names()) {
            out.push_back(profile_layer(source, layer));
        }
    }
}

}  // namespace

DatasetDescription describe_inputs(const InputAddresses& addresses, std::optional<Date> today) {
    DatasetDescription out;
    Findings findings;
    InputAddresses wanted = addresses;
    // A dataset without the four layers is described all the same.
    const bool has_poles =
        addresses.layers[0] || !addresses.mapped[0].empty() ||
        (addresses.dataset && Source::open(*addresses.dataset).has_layer("poles"));
    wanted.wanted[0] = has_poles;
    InputLayers inputs;
    if (has_poles) {
        inputs = open_inputs(wanted, findings);
    }
    profile_all(addresses, inputs, out.layers);
    std::unordered_set<std::string> ids;
    for (std::size_t i = 0; i < inputs.layers.size(); ++i) {
        const auto layer = static_cast<InputLayer>(i);
        if (inputs.layers[i]) {
            out.read.push_back(LayerReading{*inputs.layers[i], layer, today}.run(ids));
        } else {
            out.absent.emplace_back(name_of(layer));
        }
    }
    if (!has_poles) {
        out.absent = {"poles", "spans", "inspections", "defects"};
    }
    return out;
}

}  // namespace linewood
