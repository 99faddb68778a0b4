#include "sample-gis/over.hpp"

#include <algorithm>
#include <stdexcept>

#include <gdal_priv.h>
#include <ogrsf_frmts.h>

#include "sample-gis/decay.hpp"
#include "sample-gis/inspections.hpp"
#include "sample-gis/random.hpp"
#include "sample-gis/wood.hpp"

namespace linewood::sample {
namespace {

constexpr std::size_t kChunk = 1200;

GDALDatasetUniquePtr open(const Network& network) {
    GDALDatasetUniquePtr dataset{GDALDataset::Open(network.path.c_str(), GDAL_OF_VECTOR)};
    if (!dataset) {
        throw std::runtime_error("cannot read " + network.path);
    }
    return dataset;
}

OGRLayer& layer_of(GDALDataset& dataset, const std::string& name) {
    OGRLayer* layer = dataset.GetLayerByName(name.c_str());
    if (layer == nullptr) {
        throw std::runtime_error("no layer " + name + " in " + dataset.GetDescription());
    }
    return *layer;
}

int field_of(OGRLayer& layer, const std::string& name) {
    return name.empty() ? -1 : layer.GetLayerDefn()->GetFieldIndex(name.c_str());
}

std::string text_of(const OGRFeature& feature, int field) {
    return field >= 0 && feature.IsFieldSetAndNotNull(field) ? feature.GetFieldAsString(field) : "";
}

WetPlaces wet_places(OGRLayer& layer, Random& random) {
    WetPlaces wet;
    OGREnvelope box;
    if (layer.GetExtent(&box) == OGRERR_NONE) {
        wet.radius = std::max(0.04 * std::max(box.MaxX - box.MinX, box.MaxY - box.MinY), 1e-9);
        for (int i = 0; i < 2; ++i) {
            wet.centres.push_back(
                {random.between(box.MinX, box.MaxX), random.between(box.MinY, box.MaxY)});
        }
    }
    return wet;
}

Pole pole_of(const OGRFeature& feature, int id_field, int circuit_field) {
    Pole pole;
    pole.id = id_field >= 0 ? text_of(feature, id_field) : std::to_string(feature.GetFID());
    pole.circuit = text_of(feature, circuit_field);
    const OGRGeometry* shape = feature.GetGeometryRef();
    const OGRPoint* point =
        shape != nullptr && wkbFlatten(shape->getGeometryType()) == wkbPoint && !shape->IsEmpty()
            ? shape->toPoint()
            : nullptr;
    pole.has_point = point != nullptr;
    if (point != nullptr) {
        pole.at = {point->getX(), point->getY()};
    }
    return pole;
}

void inspect_poles(OGRLayer& layer, const Network& network, Random& random, Writer& writer) {
    const int id = field_of(layer, network.id);
    const int circuit = field_of(layer, "circuit");
    const WetPlaces wet = wet_places(layer, random);
    const GIntBig half = layer.GetFeatureCount() / 2;
    GIntBig row = 0;
    Area area;
    Crews crews(random, {0.0, 0.0});
    int year = line_year(random, LineKind::trunk);
    for (const auto& feature : layer) {
        Pole pole = pole_of(*feature, id, circuit);
        pole.kind = random.chance(0.5) ? LineKind::trunk : LineKind::tap;
        pole.wetness = wet.wetness(pole.at);
        record_pole(random, pole, year);
        crews.visit(pole, row++ < half, area);
        area.poles.push_back(std::move(pole));
        if (area.poles.size() >= kChunk) {
            writer.write(area);
            area = {};
            year = line_year(random, random.chance(0.5) ? LineKind::trunk : LineKind::tap);
        }
    }
    writer.write(area);
}

void add_line(Area& area, const OGRLineString& line, Span span) {
    for (const auto& point : line) {
        span.points.push_back({point.getX(), point.getY()});
    }
    area.spans.push_back(std::move(span));
}

void take_spans(OGRLayer& layer, const Network& network, Writer& writer) {
    const int from = field_of(layer, network.from);
    const int to = field_of(layer, network.to);
    const int circuit = field_of(layer, "circuit");
    Area area;
    for (const auto& feature : layer) {
        Span span;
        span.id = std::to_string(feature->GetFID());
        span.from = text_of(*feature, from);
        span.to = text_of(*feature, to);
        span.circuit = text_of(*feature, circuit);
        const OGRGeometry* shape = feature->GetGeometryRef();
        const OGRwkbGeometryType type =
            shape != nullptr ? wkbFlatten(shape->getGeometryType()) : wkbUnknown;
        if (type == wkbLineString) {
            add_line(area, *shape->toLineString(), span);
        } else if (type == wkbMultiLineString) {
            for (const auto* part : shape->toMultiLineString()) {
                add_line(area, *part, span);
            }
        }
        if (area.spans.size() >= kChunk) {
            writer.write(area);
            area = {};
        }
    }
    writer.write(area);
}

}  // namespace

std::string crs_of(const Network& network) {
    const auto dataset = open(network);
    const OGRSpatialReference* crs = layer_of(*dataset, network.poles).GetSpatialRef();
    char* wkt = nullptr;
    std::string out;
    if (crs != nullptr && crs->exportToWkt(&wkt) == OGRERR_NONE) {
        out = wkt;
    }
    CPLFree(wkt);
    return out;
}

void inspect_network(const Network& network, std::uint64_t seed, Writer& writer) {
    const auto dataset = open(network);
    Random random(seed, 0);
    inspect_poles(layer_of(*dataset, network.poles), network, random, writer);
    if (!network.spans.empty()) {
        take_spans(layer_of(*dataset, network.spans), network, writer);
    }
}

}  // namespace linewood::sample
