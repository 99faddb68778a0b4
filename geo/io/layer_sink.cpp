#include <algorithm>
#include <cassert>
#include <cmath>

#include "geo/io/gdal_session.h"
#include "geo/io/row_input.h"

namespace linewood {
namespace {

OGRGeometryUniquePtr geometry_of(std::optional<Point> point) {
    if (!point) {
        return nullptr;
    }
    return OGRGeometryUniquePtr{new OGRPoint(point->x, point->y)};
}

std::unique_ptr<OGRLineString> line_of(const LineParts& parts,
                                       const PathExtras& extras,
                                       std::size_t index) {
    const std::vector<Point>& part = parts[index];
    auto line = std::make_unique<OGRLineString>();
    line->set3D(extras.z.empty() ? FALSE : TRUE);
    line->setMeasured(extras.m.empty() ? FALSE : TRUE);
    line->setNumPoints(static_cast<int>(part.size()), FALSE);
    for (std::size_t i = 0; i < part.size(); ++i) {
        const auto at = static_cast<int>(i);
        line->setPoint(at, part[i].x, part[i].y);
        if (!extras.z.empty()) {
            line->setZ(at, extras.z[index][i]);
        }
        if (!extras.m.empty()) {
            line->setM(at, extras.m[index][i]);
        }
    }
    return line;
}

OGRGeometryUniquePtr geometry_of(const LineParts& parts, const PathExtras& extras, bool multi) {
    std::vector<std::size_t> good;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        if (parts[i].size() >= 2) {
            good.push_back(i);
        }
    }
    if (good.empty()) {
        return nullptr;
    }
    if (good.size() == 1 && !multi) {
        return OGRGeometryUniquePtr{line_of(parts, extras, good.front()).release()};
    }
    auto many = std::make_unique<OGRMultiLineString>();
    for (const std::size_t i : good) {
        many->addGeometryDirectly(line_of(parts, extras, i).release());
    }
    return OGRGeometryUniquePtr{many.release()};
}

std::unique_ptr<OGRLinearRing> ring_of(const std::vector<Point>& points) {
    auto ring = std::make_unique<OGRLinearRing>();
    ring->setNumPoints(static_cast<int>(points.size()), FALSE);
    for (std::size_t i = 0; i < points.size(); ++i) {
        ring->setPoint(static_cast<int>(i), points[i].x, points[i].y);
    }
    ring->closeRings();
    return ring;
}

OGRGeometryUniquePtr geometry_of(const Polygons& area, bool multi) {
    auto many = std::make_unique<OGRMultiPolygon>();
    for (const PolygonRings& rings : area) {
        auto polygon = std::make_unique<OGRPolygon>();
        for (const auto& points : rings) {
            if (points.size() >= 3) {
                polygon->addRingDirectly(ring_of(points).release());
            }
        }
        if (polygon->IsEmpty() == 0) {
            many->addGeometryDirectly(polygon.release());
        }
    }
    if (many->IsEmpty() != 0) {
        return nullptr;
    }
    if (!multi && many->getNumGeometries() == 1) {
        return OGRGeometryUniquePtr{many->getGeometryRef(0)->clone()};
    }
    return OGRGeometryUniquePtr{many.release()};
}

bool is_finite(const OGRGeometry& geometry) {
    if (wkbFlatten(geometry.getGeometryType()) == wkbLineString) {
        // An envelope passes over NaN.
        const OGRLineString& line = *geometry.toLineString();
        for (int i = 0; i < line.getNumPoints(); ++i) {
            if (!std::isfinite(line.getX(i)) || !std::isfinite(line.getY(i))) {
                return false;
            }
        }
        return true;
    }
    if (OGR_GT_IsSubClassOf(geometry.getGeometryType(), wkbMultiLineString) != 0) {
        const OGRMultiLineString& lines = *geometry.toMultiLineString();
        return std::all_of(lines.begin(), lines.end(), [](const OGRLineString* line) {
            return line->IsEmpty() != 0 || is_finite(*line);
        });
    }
    if (wkbFlatten(geometry.getGeometryType()) == wkbPoint) {
        const OGRPoint& p = *geometry.toPoint();
        return std::isfinite(p.getX()) && std::isfinite(p.getY());
    }
    OGREnvelope box;
    geometry.getEnvelope(&box);
    return std::isfinite(box.MinX) && std::isfinite(box.MaxX) && std::isfinite(box.MinY) &&
           std::isfinite(box.MaxY);
}

bool is_empty_point(const OGRGeometry& geometry) {
    return wkbFlatten(geometry.getGeometryType()) == wkbPoint && geometry.IsEmpty() != 0;
}

/// @return false where the geometry has no place in the other system.
bool is_brought_over(OGRGeometry& geometry, OGRCoordinateTransformation& to) {
    const ErrorCollector quiet;
    return geometry.transform(&to) == OGRERR_NONE &&
           (geometry.IsEmpty() != 0 || is_finite(geometry));
}

}  // namespace

void LayerSink::append(const FeatureBatch& batch, std::size_t row, std::span<const Cell> added) {
    assert(row < batch.size());
    const BatchRows* rows = batch.rows();
    OGRGeometryUniquePtr geometry;
    if (plan_.geometry.kind != GeometryKind::none) {
        geometry = make_geometry(rows->geometry(row));
    }
    accept({rows, row, added}, std::move(geometry));
}

void LayerSink::append_at(const FeatureBatch& batch,
                          std::size_t row,
                          std::span<const Cell> added,
                          std::optional<Point> point) {
    assert(row < batch.size());
    accept({batch.rows(), row, added}, geometry_of(point));
}

void LayerSink::append_along(const FeatureBatch& batch,
                             std::size_t row,
                             std::span<const Cell> added,
                             const LineParts& parts,
                             const PathExtras& extras) {
    assert(row < batch.size());
    accept({batch.rows(), row, added}, geometry_of(parts, extras, plan_.geometry.multi));
}

void LayerSink::append(std::span<const Cell> added, std::optional<Point> point) {
    accept({nullptr, 0, added}, geometry_of(point));
}

void LayerSink::start_source_row(const BatchRows& rows, std::size_t row) {
    plan_.repaired->start_row(rows.first_row + static_cast<std::int64_t>(row), rows.fid(row));
    for (const PlacedDamage& placed : rows.damage) {
        if (placed.row == static_cast<std::int64_t>(row) &&
            placed.damage.kind == DamageKind::nul_in_database) {
            plan_.repaired->add_nul(placed.damage.field, placed.damage.value);
        }
    }
}

void LayerSink::append_area(std::span<const Cell> added, const Polygons& area) {
    accept({nullptr, 0, added}, geometry_of(area, plan_.geometry.multi));
}

void LayerSink::append_line(std::span<const Cell> added, const LineParts& parts) {
    accept({nullptr, 0, added}, geometry_of(parts, {}, plan_.geometry.multi));
}

void LayerSink::accept(const RowInput& input, OGRGeometryUniquePtr geometry) {
    assert(input.added.size() == plan_.added.size());
    if (plan_.geometry.kind == GeometryKind::none) {
        geometry.reset();
    }
    if (geometry && is_empty_point(*geometry)) {
        ++empty_points_;
        geometry.reset();
    }
    if (geometry && geometry->IsEmpty() == 0 && !is_finite(*geometry)) {
        ++spoilt_geometry_;
        geometry.reset();
    }
    if (geometry && transformation_ && !is_brought_over(*geometry, *transformation_)) {
        ++placeless_;
        geometry.reset();
    }
    if (!geometry) {
        ++without_geometry_;
    }
    if (input.rows != nullptr) {
        start_source_row(*input.rows, input.row);
    }
    write(input, std::move(geometry));
    ++count_;
}

std::int64_t LayerSink::fid_for(const RowInput& input) {
    if (!plan_.keep_fids || input.rows == nullptr) {
        return OGRNullFID;
    }
    const std::int64_t fid = input.rows->fid(input.row);
    if (fid == last_source_fid_ && next_piece_fid_ != OGRNullFID) {
        return next_piece_fid_++;
    }
    last_source_fid_ = fid;
    return fid;
}

LayerSummary LayerSink::summary() const {
    LayerSummary out;
    out.name = plan_.name;
    out.rows = count_;
    out.rows_without_geometry = without_geometry_;
    return out;
}

void LayerSink::add_notes(std::vector<OutputNote>& notes) const {
    if (spoilt_geometry_ > 0) {
        notes.push_back({plan_.name,
                         "",
                         std::to_string(spoilt_geometry_) +
                             " geometries have coordinates that are not finite numbers and "
                             "are written as null"});
    }
    if (empty_points_ > 0) {
        notes.push_back(
            {plan_.name,
             "",
             std::to_string(empty_points_) + " empty points (POINT EMPTY) are written as null"});
    }
    add_placeless_note(notes);
    add_loss_notes(plan_.name, columns(), notes);
}

void LayerSink::add_placeless_note(std::vector<OutputNote>& notes) const {
    if (placeless_ > 0) {
        notes.push_back(
            {plan_.name,
             "",
             std::to_string(placeless_) +
                 " geometries have no place in the coordinate system asked for and were "
                 "left out"});
    }
}

std::vector<OutputNote> LayerSink::losses() const {
    std::vector<OutputNote> notes;
    std::vector<OutColumn> columns_so_far = columns();
    std::size_t shortened = 0;
    for (OutColumn& column : columns_so_far) {
        column.repaired = 0;  // told text by text: see repaired_texts()
        shortened += column.full_name == column.field.name ? 0U : 1U;
    }
    if (shortened > 0) {
        notes.push_back({plan_.name,
                         "",
                         std::to_string(shortened) +
                             " column names are not what this format can hold and were changed; "
                             "fields.csv has both"});
    }
    add_placeless_note(notes);
    add_loss_notes(plan_.name, columns_so_far, notes);
    return notes;
}

}  // namespace linewood
