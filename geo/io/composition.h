#pragma once

// Private to geo/io: a layer made of others.

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "geo/io/batch_rows.h"
#include "geo/io/composed_layer.hpp"
#include "geo/io/feature_reader.hpp"

namespace linewood {

/// Where the columns of a composed layer are in one of its parts.
struct PartLayout {
    static constexpr std::size_t kAbsent = static_cast<std::size_t>(-1);
    static constexpr std::size_t kGroup = static_cast<std::size_t>(-2);
    static constexpr std::size_t kWideFid = static_cast<std::size_t>(-3);
    static constexpr std::size_t kFirstSpecial = kWideFid;

    /// [group][column of the layer]; of rows as they are there is one "group".
    std::vector<std::vector<std::size_t>> positions;
    /// By column of the layer: whether its values are turned to the layer's type.
    std::vector<bool> converted;
    std::vector<FieldType> types;  ///< of the layer's columns
    std::vector<std::string> groups;
    /// [group]: the columns of the part that tell whether it holds anything, with what counts as nothing.
    struct Telling {
        std::size_t column = 0;
        std::vector<std::string> nulls;
    };
    std::vector<std::vector<Telling>> telling;
};

class Composition {
public:
    /// @throws DataError where the parts have several coordinate systems, or a layer is not there;
    /// ConditionError where a condition cannot be used.
    Composition(std::string name, std::vector<LayerPart> parts);

    const std::vector<LayerPart>& parts() const { return parts_; }
    const LayerSchema& schema() const { return schema_; }
    const std::shared_ptr<const PartLayout>& layout(std::size_t part) const {
        return layouts_[part];
    }
    /// By row of a part, whether it is in; empty where all are.
    const std::vector<bool>& rows_in(std::size_t part) const { return rows_in_[part]; }
    /// Rows keep the FIDs of their file.
    bool keeps_fids() const { return parts_.size() == 1 && parts_.front().groups.empty(); }
    /// As the function of that name, of the composed layer. @throws ConditionError
    std::vector<bool> rows_where(const std::string& condition) const;
    /// Of a part, without a look at its own condition.
    std::vector<bool> rows_where(std::size_t part, const std::string& condition) const;

private:
    void add_fields();
    void add_field(const Field& field);
    void take_geometry(const LayerSchema& schema, std::size_t part);
    void lay_out(std::size_t part);
    void lay_out_groups(std::size_t part, PartLayout& layout) const;

    std::vector<LayerPart> parts_;
    LayerSchema schema_;
    std::vector<std::shared_ptr<const PartLayout>> layouts_;
    std::vector<std::vector<bool>> rows_in_;
};

/// Reads the parts one after the other.
class ComposedReader {
public:
    ComposedReader(std::shared_ptr<SourcePool> pool, ReadOptions options);

    bool next(FeatureBatch& batch);
    const LayerSchema& schema() const { return composition_.schema(); }
    std::int64_t rows_read() const { return rows_read_; }
    const std::vector<RowDamage>& layer_damage() const { return damage_; }

private:
    void open_part();
    ReadOptions options_of_part() const;
    std::unique_ptr<BatchRows> rows_of(std::unique_ptr<BatchRows> rows) const;

    std::shared_ptr<SourcePool> pool_;
    const Composition& composition_;
    ReadOptions options_;
    std::size_t part_ = 0;
    std::vector<bool> asked_;  ///< rows of the part that options_.where holds of
    std::optional<FeatureReader> reader_;
    std::vector<RowDamage> damage_;
    std::int64_t rows_read_ = 0;
};

}  // namespace linewood
