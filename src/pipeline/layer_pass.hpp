#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <utility>

#include "geo/io/feature_reader.hpp"
#include "src/pipeline/input_layers.hpp"
#include "src/pipeline/ordered_pipeline.hpp"

namespace linewood {

/// Reads a layer from its first to its last feature: batches are read in one thread, worked on in
/// others, and written in this one, in order.
template <typename Result>
void pass_over(const InputLayerRef& layer,
               std::size_t threads,
               const std::function<Result(FeatureBatch)>& work,
               const std::function<void(Result)>& write) {
    // Several batches are alive at once, each with its results: small ones keep memory low.
    ReadOptions options;
    options.batch_size = 512;
    FeatureReader reader{layer.source, layer.layer, options};
    run_in_order<FeatureBatch, Result>(
        [&]() -> std::optional<FeatureBatch> {
            FeatureBatch batch;
            if (!reader.next(batch)) {
                return std::nullopt;
            }
            return batch;
        },
        work,
        write,
        threads);
}

}  // namespace linewood
