#include <algorithm>
#include <cmath>
#include <cstring>

#include "geo/io/batch_rows.h"
#include "geo/io/gdal_session.h"
#include "geo/io/value_text.hpp"

// Shapes out of a stored geometry: points and lines by their bytes where they are in the common form
// (well-known binary, little-endian), everything else through OGR.

namespace linewood {
namespace {

using PointRead = Read<Point, ShapeStatus>;
using PathRead = Read<LineParts, ShapeStatus>;

bool finite(Point p) { return std::isfinite(p.x) && std::isfinite(p.y); }

PointRead checked(Point p) {
    if (finite(p)) {
        return {p, ShapeStatus::ok};
    }
    // An empty point is stored as NaN, NaN.
    const bool empty = std::isnan(p.x) && std::isnan(p.y);
    return {std::nullopt, empty ? ShapeStatus::empty : ShapeStatus::not_finite};
}

/// Parts that go on exactly where the one before ends become one: a bend there is no end.
LineParts joined(LineParts&& parts) {
    LineParts whole;
    for (auto& part : parts) {
        if (!whole.empty() && whole.back().back() == part.front()) {
            whole.back().insert(whole.back().end(), part.begin() + 1, part.end());
        } else {
            whole.push_back(std::move(part));
        }
    }
    return whole;
}

PathRead checked(LineParts parts) {
    if (parts.empty()) {
        return {std::nullopt, ShapeStatus::empty};
    }
    for (const auto& part : parts) {
        for (const Point p : part) {
            if (!finite(p)) {
                return {std::nullopt, ShapeStatus::not_finite};
            }
        }
    }
    return {parts.size() == 1 ? std::move(parts) : joined(std::move(parts)), ShapeStatus::ok};
}

PointRead point_of_object(const OGRGeometry& geometry) {
    const auto type = wkbFlatten(geometry.getGeometryType());
    if (type != wkbPoint && type != wkbMultiPoint) {
        return {std::nullopt, ShapeStatus::other_type};
    }
    if (geometry.IsEmpty() != 0) {
        return {std::nullopt, ShapeStatus::empty};
    }
    if (type == wkbPoint) {
        const OGRPoint& p = *geometry.toPoint();
        return checked(Point{p.getX(), p.getY()});
    }
    const OGRMultiPoint& many = *geometry.toMultiPoint();
    if (many.getNumGeometries() != 1) {
        return {std::nullopt, ShapeStatus::other_type};
    }
    const OGRPoint& p = *many.getGeometryRef(0);
    return checked(Point{p.getX(), p.getY()});
}

/// Calls `use` for every line with vertices, in order, of a geometry that is a line of any kind or a
/// collection of nothing else; false where there is something else in it.
template <typename Use>
bool for_each_line(const OGRGeometry& geometry, Use& use) {
    const auto type = geometry.getGeometryType();
    if (wkbFlatten(type) == wkbLineString) {
        const OGRLineString& line = *geometry.toLineString();
        if (line.getNumPoints() > 0) {
            use(line);
        }
        return true;
    }
    if (OGR_GT_IsCurve(type) != 0) {  // arcs, as chords of up to 1 degree
        const OGRGeometryUniquePtr straight{geometry.getLinearGeometry(1.0)};
        return straight && wkbFlatten(straight->getGeometryType()) == wkbLineString &&
               for_each_line(*straight, use);
    }
    if (OGR_GT_IsSubClassOf(type, wkbGeometryCollection) == 0) {
        return false;
    }
    const OGRGeometryCollection& many = *geometry.toGeometryCollection();
    bool only_lines = true;
    for (int i = 0; i < many.getNumGeometries() && only_lines; ++i) {
        only_lines = for_each_line(*many.getGeometryRef(i), use);
    }
    return only_lines;
}

PathRead path_of_object(const OGRGeometry& geometry) {
    LineParts parts;
    const auto add = [&](const OGRLineString& line) {
        std::vector<Point> part(static_cast<std::size_t>(line.getNumPoints()));
        for (int i = 0; i < line.getNumPoints(); ++i) {
            part[static_cast<std::size_t>(i)] = {line.getX(i), line.getY(i)};
        }
        parts.push_back(std::move(part));
    };
    if (!for_each_line(geometry, add)) {
        return {std::nullopt, ShapeStatus::other_type};
    }
    return checked(std::move(parts));
}

PathExtras extras_of_object(const OGRGeometry& geometry) {
    PathExtras extras;
    const bool has_z = geometry.Is3D() != 0;
    const bool has_m = geometry.IsMeasured() != 0;
    std::optional<Point> end_before;
    const auto add = [&](const OGRLineString& line) {
        const int count = line.getNumPoints();
        // As joined() does with the points.
        const bool goes_on = end_before == Point{line.getX(0), line.getY(0)};
        if (!goes_on) {
            extras.z.resize(extras.z.size() + (has_z ? 1 : 0));
            extras.m.resize(extras.m.size() + (has_m ? 1 : 0));
        }
        for (int i = goes_on ? 1 : 0; i < count; ++i) {
            if (has_z) {
                extras.z.back().push_back(line.getZ(i));
            }
            if (has_m) {
                extras.m.back().push_back(line.getM(i));
            }
        }
        end_before = Point{line.getX(count - 1), line.getY(count - 1)};
    };
    return (has_z || has_m) && for_each_line(geometry, add) ? extras : PathExtras{};
}

/// Little-endian well-known binary, read forward. Every read is checked against the end.
class WkbCursor {
public:
    WkbCursor(const unsigned char* bytes, std::size_t size) : at_{bytes}, left_{size} {}

    template <typename T>
    bool read(T& out) {
        if (left_ < sizeof(T)) {
            return false;
        }
        std::memcpy(&out, at_, sizeof(T));
        at_ += sizeof(T);
        left_ -= sizeof(T);
        return true;
    }
    bool skip(std::size_t bytes) {
        if (left_ < bytes) {
            return false;
        }
        at_ += bytes;
        left_ -= bytes;
        return true;
    }
    std::size_t left() const { return left_; }

private:
    const unsigned char* at_;
    std::size_t left_;
};

struct WkbHead {
    std::uint32_t type = 0;      ///< 1 point, 2 line, 5 multi-line ...
    std::size_t extra_dims = 0;  ///< Z, M
};

/// Byte order, type and dimensions; false where the fast way does not apply.
bool read_head(WkbCursor& cursor, WkbHead& head) {
    unsigned char order = 0;
    std::uint32_t code = 0;
    if (!cursor.read(order) || order != 1 || !cursor.read(code)) {
        return false;
    }
    // ISO adds 1000 for Z, 2000 for M, 3000 for both; the older form sets high bits.
    if (code >= 4000U) {
        return false;
    }
    head.type = code % 1000U;
    const std::uint32_t dims = code / 1000U;
    head.extra_dims = dims == 3U ? 2U : (dims == 0U ? 0U : 1U);
    return true;
}

bool read_point(WkbCursor& cursor, const WkbHead& head, Point& p) {
    return cursor.read(p.x) && cursor.read(p.y) && cursor.skip(head.extra_dims * sizeof(double));
}

bool read_line(WkbCursor& cursor, const WkbHead& head, LineParts& parts) {
    std::uint32_t count = 0;
    const std::size_t stride = (2 + head.extra_dims) * sizeof(double);
    if (!cursor.read(count) || cursor.left() / stride < count) {
        return false;
    }
    if (count == 0) {
        return true;
    }
    std::vector<Point> part(count);
    for (Point& p : part) {
        if (!read_point(cursor, head, p)) {
            return false;
        }
    }
    parts.push_back(std::move(part));
    return true;
}

bool read_lines(WkbCursor& cursor, LineParts& parts) {
    std::uint32_t count = 0;
    if (!cursor.read(count)) {
        return false;
    }
    for (std::uint32_t i = 0; i < count; ++i) {
        WkbHead head;
        if (!read_head(cursor, head) || head.type != 2U || !read_line(cursor, head, parts)) {
            return false;
        }
    }
    return true;
}

}  // namespace

OGRGeometryUniquePtr shape_of_text(const std::string& wkt) {
    const ErrorCollector quiet;
    OGRGeometry* made = nullptr;
    OGRGeometryFactory::createFromWkt(wkt.c_str(), nullptr, &made);
    return OGRGeometryUniquePtr{made};
}

OGRGeometryUniquePtr make_geometry(const StoredGeometry& stored) {
    if (stored.object != nullptr) {
        return OGRGeometryUniquePtr{stored.object->clone()};
    }
    OGRGeometry* geometry = nullptr;
    if (stored.wkb != nullptr) {
        OGRGeometryFactory::createFromWkb(stored.wkb, nullptr, &geometry, stored.wkb_size);
    }
    return OGRGeometryUniquePtr{geometry};
}

Read<Point, ShapeStatus> point_of(const StoredGeometry& stored) {
    if (stored.object != nullptr) {
        return point_of_object(*stored.object);
    }
    if (stored.wkb == nullptr) {
        return {};
    }
    WkbCursor cursor{stored.wkb, stored.wkb_size};
    WkbHead head;
    Point p;
    if (read_head(cursor, head) && head.type == 1U && read_point(cursor, head, p)) {
        return checked(p);
    }
    const OGRGeometryUniquePtr geometry = make_geometry(stored);
    return geometry ? point_of_object(*geometry) : PointRead{std::nullopt, ShapeStatus::unreadable};
}

Read<LineParts, ShapeStatus> path_of(const StoredGeometry& stored) {
    if (stored.object != nullptr) {
        return path_of_object(*stored.object);
    }
    if (stored.wkb == nullptr) {
        return {};
    }
    WkbCursor cursor{stored.wkb, stored.wkb_size};
    WkbHead head;
    LineParts parts;
    if (read_head(cursor, head)) {
        if (head.type == 2U && read_line(cursor, head, parts)) {
            return checked(std::move(parts));
        }
        parts.clear();
        if (head.type == 5U && read_lines(cursor, parts)) {
            return checked(std::move(parts));
        }
    }
    const OGRGeometryUniquePtr geometry = make_geometry(stored);
    return geometry ? path_of_object(*geometry) : PathRead{std::nullopt, ShapeStatus::unreadable};
}

std::string shape_text(const StoredGeometry& stored) {
    if (!stored.present()) {
        return {};
    }
    const OGRGeometryUniquePtr made = stored.object == nullptr ? make_geometry(stored) : nullptr;
    const OGRGeometry* geometry = stored.object == nullptr ? made.get() : stored.object;
    if (geometry != nullptr) {
        return geometry->exportToWkt();
    }
    constexpr std::size_t kShownBytes = 40;
    return hex_text({reinterpret_cast<const char*>(stored.wkb),  // NOLINT: OGR's bytes
                     std::min(stored.wkb_size, kShownBytes)});
}

std::optional<Point> first_vertex_of(const StoredGeometry& stored) {
    class First : public OGRDefaultConstGeometryVisitor {
    public:
        using OGRDefaultConstGeometryVisitor::visit;
        void visit(const OGRPoint* point) override {
            const Point p{point->getX(), point->getY()};
            if (!vertex && point->IsEmpty() == 0 && finite(p)) {
                vertex = p;
            }
        }
        std::optional<Point> vertex;
    };
    const OGRGeometryUniquePtr made = stored.object == nullptr ? make_geometry(stored) : nullptr;
    const OGRGeometry* geometry = stored.object == nullptr ? made.get() : stored.object;
    First first;
    if (geometry != nullptr) {
        geometry->accept(&first);
    }
    return first.vertex;
}

PathExtras extras_of(const StoredGeometry& stored) {
    if (stored.object != nullptr) {
        return extras_of_object(*stored.object);
    }
    const OGRGeometryUniquePtr geometry = make_geometry(stored);
    return geometry ? extras_of_object(*geometry) : PathExtras{};
}

}  // namespace linewood
