#pragma once

#include <cstddef>
#include <memory>
#include <span>
#include <string_view>
#include <vector>

#include "geo/io/feature_batch.hpp"
#include "geo/io/source.hpp"
#include "src/assessed/assessed_run.hpp"
#include "src/pipeline/layer_columns.hpp"

namespace linewood {

/// Columns of an assessed layer that are read as a job file had them read, as the `run` layer states.
class StatedColumns {
public:
    /// @param layer whose fields these are.
    /// @param schema of the layer in the assessed dataset.
    /// @param fields those that are wanted.
    /// @throws JobError where the dataset was assessed by a job file and does not say, or does not hold, what a
    /// field was read from: the message says what to do.
    StatedColumns(const Source& source,
                  const AssessedRun& run,
                  InputLayer layer,
                  const LayerSchema& schema,
                  std::span<const std::string_view> fields);

    /// Null: no job file mapped the layer, the columns have the contract's names.
    const LayerColumns* get() const { return columns_.get(); }

    /// Which of several sources a row came from is not told. @throws JobError where a field was read from
    /// another column in another source, and the row holds something in more than one of these.
    void refuse_ambiguous(const FeatureBatch& batch, std::size_t row) const;

private:
    struct EitherOr {
        std::string_view field;
        std::vector<std::size_t> columns;
    };

    std::string dataset_;
    std::string layer_;
    std::unique_ptr<const LayerColumns> columns_;
    std::vector<EitherOr> either_or_;
};

}  // namespace linewood
