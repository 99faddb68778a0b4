#include "src/pipeline/earlier_run.hpp"

#include "geo/io/feature_reader.hpp"

namespace linewood {

namespace {

/// Calls `use(item, value)` for every statement of a `run` layer; not once where the layer is none of the tool's.
template <typename Use>
void for_each_statement(const Source& source, Use use) {
    const LayerSchema& schema = source.schema("run");
    const auto item = schema.field_index("item");
    const auto value = schema.field_index("value");
    if (!item || !value || !schema.field_index("layer")) {
        return;
    }
    ReadOptions options;
    options.geometry = false;
    FeatureReader reader{source, schema.name, options};
    FeatureBatch batch;
    while (reader.next(batch)) {
        for (std::size_t row = 0; row < batch.size(); ++row) {
            use(batch.text(row, *item), batch.text(row, *value));
        }
    }
}

}  // namespace

bool has_own_run(const Source& source) {
    bool own = false;
    if (source.has_layer("run")) {
        for_each_statement(source, [&](const std::string& item, const std::string& value) {
            own = own || (item == "tool" && value.rfind("linewood ", 0) == 0);
        });
    }
    return own;
}

std::optional<EarlierCriteria> earlier_criteria(const InputLayers& inputs) {
    const auto& poles = inputs[InputLayer::poles];
    if (!poles || !poles->written_by_us) {
        return std::nullopt;
    }
    EarlierCriteria found;
    for_each_statement(poles->source, [&](const std::string& item, const std::string& value) {
        if (item == "criteria_name") {
            found.name = value;
        } else if (item == "criteria_sha256") {
            found.sha256 = value;
        }
    });
    return found.sha256.empty() ? std::nullopt : std::optional{found};
}

}  // namespace linewood
