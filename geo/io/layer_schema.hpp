#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "geo/io/cell.hpp"

namespace linewood {

/// `mixed` is any other or unstated geometry type, curves and collections included.
enum class GeometryKind : std::uint8_t { none, point, line, polygon, mixed };

/// The declared geometry of a layer. Formats do not enforce it: single features may differ.
struct GeometryType {
    GeometryKind kind = GeometryKind::none;
    bool multi = false;
    bool has_z = false;
    bool has_m = false;

    friend bool operator==(const GeometryType&, const GeometryType&) = default;
};

/// A layer as its file declares it.
struct LayerSchema {
    std::string name;
    std::vector<Field>
        fields;  ///< attributes in file order; the fid and the geometry are not among them
    GeometryType geometry;
    std::string crs_wkt;              ///< WKT 2; empty = none stated
    std::int64_t feature_count = -1;  ///< as the file states it; -1 where only reading would tell
    std::string fid_name;             ///< name of the FID column; empty where the format has none
    std::string geometry_name;        ///< name of the geometry column; empty where it has none

    bool has_geometry() const { return geometry.kind != GeometryKind::none; }
    /// Position in `fields`; an exact match before one without case (ASCII).
    std::optional<std::size_t> field_index(std::string_view field) const;
};

/// ASCII letters compared without case, as SQL names are.
bool same_name(std::string_view a, std::string_view b);

}  // namespace linewood
