#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "geo/io/source.hpp"

namespace linewood {

/// Stands in the name of a repeated column for what tells one group from the next: `pocket_{n}_width`.
inline constexpr std::string_view kGroupMark = "{n}";
/// Columns of a layer with repeated groups that no file has: what stood for the mark, and the FID of the
/// wide row.
inline constexpr std::string_view kGroupColumn = "source_group";
inline constexpr std::string_view kWideRowColumn = "source_fid";

/// A column of a part whose rows are made from repeated groups.
struct PartColumn {
    std::string name;  ///< with or without the mark
    /// Texts that are nothing: a group whose marked columns hold nothing else makes no row.
    std::vector<std::string> nulls = {};
};

/// One source of a composed layer.
struct LayerPart {
    Source source;
    std::string layer;
    std::string where = {};  ///< condition as of rows_where(); empty = all rows
    /// Wide to long: each row gives a row for every group in which it holds something, with the columns
    /// that are listed. Empty = rows as they are, with all columns.
    std::vector<std::string> groups = {};
    std::vector<PartColumn> columns =
        {};  ///< with `groups` only; those that are not there are null
};

/// The name a column has in the composed layer: that of the source, and without the mark and a `_` beside it
/// (`pocket_{n}_width` is `pocket_width`); `source_group` for the mark alone.
std::string composed_name(std::string_view column);

/// The column's name in a group.
std::string group_column(std::string_view column, std::string_view group);

}  // namespace linewood
