#include "src/pipeline/earlier_run.hpp"

#include "geo/io/feature_reader.hpp"

namespace linewood {

std::optional<EarlierCriteria> earlier_criteria(const InputLayers& inputs) {
    const auto& poles = inputs[InputLayer::poles];
    if (!poles || !poles->written_by_us) {
        return std::nullopt;
    }
    const LayerSchema& schema = poles->source.schema("run");
    const auto item = schema.field_index("item");
    const auto value = schema.field_index("value");
    if (!item || !value) {
        return std::nullopt;
    }
    ReadOptions options;
    options.geometry = false;
    FeatureReader reader{poles->source, schema.name, options};
    EarlierCriteria found;
    FeatureBatch batch;
    while (reader.next(batch)) {
        for (std::size_t row = 0; row < batch.size(); ++row) {
            const std::string what = batch.text(row, *item);
            if (what == "criteria_name") {
                found.name = batch.text(row, *value);
            } else if (what == "criteria_sha256") {
                found.sha256 = batch.text(row, *value);
            }
        }
    }
    return found.sha256.empty() ? std::nullopt : std::optional{found};
}

}  // namespace linewood
