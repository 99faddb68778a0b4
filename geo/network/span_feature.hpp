#pragma once

#include <cstdint>
#include <limits>
#include <span>
#include <string_view>

#include "geo/crs/point.hpp"

namespace linewood {

/// "No pole", "no circuit": an index that no table reaches.
inline constexpr std::uint32_t kNone = 0xFFFFFFFF;

enum class SpanKind : std::uint8_t { line, service, guy };

/// A place on a drawn path: on vertex `vertex`, or `fraction` of the way on to the next one
/// (measured in layer coordinates, in [0, 1); 0 = on the vertex).
struct PathPlace {
    std::uint32_t vertex = 0;
    double fraction = 0.0;

    friend bool operator==(PathPlace, PathPlace) = default;
};

/// What a span feature says of the pole at one of its ends.
struct NamedPole {
    std::uint32_t index = kNone;  ///< its place among the poles; kNone where none is named or known
    /// A pole is named that is not among the poles (index is kNone): geometry decides, with a finding.
    bool unknown = false;
    std::string_view text;  ///< the id as written, for findings only
};

/// One feature of the spans layer as read: one span, or a route through many poles. Everything it
/// views is needed during `NetworkBuilder::add` only.
struct SpanFeature {
    /// The drawn paths, in the coordinates of the Ground. No parts, or parts without points: no
    /// geometry. Each part is a path of its own.
    std::span<const std::span<const Point>> parts;
    /// Where the points of each part were drawn (see LayerPaths): those between two vertices carry the
    /// line only. Empty, here or for a part: every point is a vertex.
    std::span<const std::span<const PathPlace>> places;
    /// The caller has said already that what is drawn cannot be used: no finding that nothing is drawn.
    bool drawing_told = false;
    NamedPole from;
    NamedPole to;
    std::uint32_t circuit = kNone;  ///< interned by the caller
    float voltage_kv = std::numeric_limits<float>::quiet_NaN();
    SpanKind kind = SpanKind::line;
    std::uint32_t row = 0;  ///< position in the layer
};

}  // namespace linewood
