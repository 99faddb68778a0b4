#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "assess/record/finding.hpp"
#include "geo/io/cell.hpp"
#include "geo/io/layer_schema.hpp"
#include "src/job/layer_mapping.hpp"
#include "src/pipeline/unknown_codes.hpp"

namespace linewood {

/// A column by which a contract field is read, with the rule for it.
struct ColumnSource {
    const FieldSource* rule = nullptr;
    std::size_t column = 0;  ///< in the layer's schema, where the rule takes a column
    bool plain =
        false;  ///< the stored value itself: no codes, null markers, pattern, decimal comma
};

/// How a job file maps one layer, resolved against its columns. Without a job file there is none.
class LayerColumns {
public:
    /// @param sources one for each part of the layer, in order.
    /// @param parts their own schemas.
    /// @param schema of the layer as it is read.
    /// @throws JobError naming the path of a column that is not there, and the nearest that is.
    LayerColumns(InputLayer layer,
                 std::vector<SourceMapping> sources,
                 std::span<const LayerSchema* const> parts,
                 const LayerSchema& schema);

    /// Where a contract field is in sources(); nothing where no part maps it.
    std::optional<std::size_t> slot(std::string_view field) const;
    /// The alternatives for a field in the rows of a part, in order.
    std::span<const ColumnSource> sources(std::size_t part, std::size_t slot) const {
        return parts_[part].fields[slot];
    }
    /// All columns of the layer by which a field may be read.
    std::vector<std::size_t> columns(std::size_t slot) const;
    /// A value that means nothing refuses the run: its field is named in the job file.
    bool strict(std::size_t part) const { return !mappings_[part].by_own_names; }
    const std::vector<SourceMapping>& mappings() const { return mappings_; }
    UnknownCodes& unknown_codes() const { return *unknown_codes_; }

    /// Gives the columns their unit as stated and their meaning, where the file states none of its own.
    void describe(std::vector<Field>& fields) const;
    /// Columns called like contract fields that are not read, of the parts that list their fields.
    std::vector<std::string> unread_names(std::span<const LayerSchema* const> parts) const;

private:
    struct Part {
        std::vector<std::vector<ColumnSource>> fields;  ///< by slot
    };
    void resolve(const FieldMapping& mapping,
                 const SourceMapping& source,
                 const LayerSchema& part,
                 const LayerSchema& schema,
                 Part& to) const;

    InputLayer layer_;
    std::vector<SourceMapping> mappings_;
    std::vector<Part> parts_;
    std::shared_ptr<UnknownCodes> unknown_codes_ = std::make_shared<UnknownCodes>();
};

/// The column of a contract field under its own name, its short name in a Shapefile, or cut to ten letters.
std::optional<std::size_t> contract_column(const LayerSchema& schema, std::string_view name);

}  // namespace linewood
