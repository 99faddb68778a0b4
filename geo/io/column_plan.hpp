#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "geo/io/cell.hpp"

namespace linewood {

/// An input column that is carried to the output, and the name it has there.
struct CarriedColumn {
    std::size_t source = 0;  ///< position in the input layer's fields
    std::string name;

    friend bool operator==(const CarriedColumn&, const CarriedColumn&) = default;
};

struct ColumnPlan {
    std::vector<CarriedColumn> carried;
    /// One sentence for each column that could not keep its name.
    std::vector<std::string> notes;
};

/// The names of the output's columns, all different without case (ASCII).
///
/// An input field named like one of `added` or `reserved` (without case) is kept as `in_` + its name,
/// `in_in_` + its name where that is another field, and so on. Two input fields that differ only by
/// case (GeoJSON, FlatGeobuf) are both kept, the later one with `_2`, `_3`, ... A field without a name
/// is called `field_` and its place, from 1.
///
/// @param added the columns the tool adds.
/// @param reserved the FID's and the geometry's column name (`fid`, `geom`).
/// @param drop input fields (without case) that are not carried: the tool's own columns in a dataset
///        it wrote before.
ColumnPlan plan_columns(const std::vector<Field>& source,
                        const std::vector<std::string>& added,
                        const std::vector<std::string>& reserved = {"fid", "geom"},
                        const std::vector<std::string>& drop = {});

}  // namespace linewood
