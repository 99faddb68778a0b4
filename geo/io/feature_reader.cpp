#include "geo/io/feature_reader.hpp"

#include <algorithm>

#include "geo/io/composition.h"
#include "geo/io/joined_rows.h"
#include "geo/io/part_reader.h"

namespace linewood {

namespace {

/// Reads a layer of a dataset, with the other files that hold rows of it.
class DatasetReader {
public:
    DatasetReader(const Source& source, std::string_view layer, ReadOptions options)
        : pool_{source.pool()},
          index_{pool_->find(layer)},
          schema_{pool_->schema(index_)},
          options_{std::move(options)},
          part_{std::make_unique<PartReader>(pool_, index_, options_)},
          rows_stated_{std::max<std::int64_t>(schema_.feature_count, 0)} {
        if (pool_->is_own_folder() && is_csv(pool_->entry(index_).file)) {
            columns_ = std::make_shared<const JoinedColumns>(schema_, schema_, true);
            base_fid_ = 1;  // as its rows count themselves
        }
    }

    bool next(FeatureBatch& batch) {
        std::unique_ptr<BatchRows>& slot = batch.rows_slot();
        while (part_) {
            if (columns_) {
                std::unique_ptr<BatchRows> rows;
                if (part_->next(rows)) {
                    slot = std::make_unique<JoinedRows>(std::move(rows), columns_, base_fid_);
                    return take(*slot);
                }
            } else if (part_->next(slot)) {
                return take(*slot);
            }
            go_on_with_next_part();
        }
        slot.reset();
        return false;
    }

    const LayerSchema& schema() const { return schema_; }
    std::int64_t rows_read() const { return rows_read_; }
    const std::vector<RowDamage>& layer_damage() const { return layer_damage_; }

private:
    static bool is_csv(const std::string& file) {
        return file.size() > 4 && same_name(file.substr(file.size() - 4), ".csv");
    }

    bool take(BatchRows& rows) {
        rows.first_row = rows_read_;
        rows_read_ += static_cast<std::int64_t>(rows.size());
        return true;
    }

    void go_on_with_next_part() {
        auto& damage = part_->layer_damage();
        layer_damage_.insert(layer_damage_.end(), damage.begin(), damage.end());
        part_.reset();
        base_fid_ = options_.where.empty() ? rows_read_ : base_fid_ + rows_stated_;
        const auto& parts = pool_->entry(index_).parts;
        if (next_part_ == parts.size()) {
            return;
        }
        const std::size_t entry = parts[next_part_++];
        rows_stated_ = std::max<std::int64_t>(pool_->schema(entry).feature_count, 0);
        columns_ = std::make_shared<const JoinedColumns>(
            schema_, pool_->schema(entry), is_csv(pool_->entry(entry).file));
        ReadOptions options = options_;
        options.columns.reset();
        // A column that happens to be called x is no place of a row without one.
        constexpr std::string_view kWithout = "_nogeom";
        const std::string& name = pool_->entry(entry).name;
        const bool without =
            name.size() > kWithout.size() &&
            name.compare(name.size() - kWithout.size(), kWithout.size(), kWithout) == 0;
        options.geometry = options.geometry && !without;
        part_ = std::make_unique<PartReader>(pool_, entry, std::move(options));
    }

    std::shared_ptr<SourcePool> pool_;
    std::size_t index_;
    const LayerSchema& schema_;
    ReadOptions options_;
    std::unique_ptr<PartReader> part_;
    std::shared_ptr<const JoinedColumns> columns_;  // null: rows as they are
    std::size_t next_part_ = 0;
    std::vector<RowDamage> layer_damage_;
    std::int64_t rows_read_ = 0;
    std::int64_t rows_stated_ = 0;  // in the present part
    std::int64_t base_fid_ = 0;     // of the present part
};

}  // namespace

/// One of the two ways to read.
class FeatureReader::Impl {
public:
    Impl(const Source& source, std::string_view layer, ReadOptions options) {
        if (source.pool()->composition() != nullptr) {
            composed_.emplace(source.pool(), std::move(options));
        } else {
            dataset_.emplace(source, layer, std::move(options));
        }
    }

    bool next(FeatureBatch& batch) {
        return composed_ ? composed_->next(batch) : dataset_->next(batch);
    }
    const LayerSchema& schema() const {
        return composed_ ? composed_->schema() : dataset_->schema();
    }
    std::int64_t rows_read() const {
        return composed_ ? composed_->rows_read() : dataset_->rows_read();
    }
    const std::vector<RowDamage>& layer_damage() const {
        return composed_ ? composed_->layer_damage() : dataset_->layer_damage();
    }

private:
    std::optional<DatasetReader> dataset_;
    std::optional<ComposedReader> composed_;
};

FeatureReader::FeatureReader(const Source& source, std::string_view layer, ReadOptions options)
    : impl_{std::make_unique<Impl>(source, layer, std::move(options))} {}
FeatureReader::~FeatureReader() = default;
FeatureReader::FeatureReader(FeatureReader&&) noexcept = default;
FeatureReader& FeatureReader::operator=(FeatureReader&&) noexcept = default;

bool FeatureReader::next(FeatureBatch& batch) { return impl_->next(batch); }
const LayerSchema& FeatureReader::schema() const { return impl_->schema(); }
std::int64_t FeatureReader::rows_read() const { return impl_->rows_read(); }
const std::vector<RowDamage>& FeatureReader::layer_damage() const { return impl_->layer_damage(); }

}  // namespace linewood
