#include "geo/io/source_pool.h"

namespace linewood {
namespace {

FieldType field_type(const OGRFieldDefn& field) {
    switch (field.GetType()) {
        case OFTInteger:
            return field.GetSubType() == OFSTBoolean ? FieldType::boolean : FieldType::integer;
        case OFTInteger64:
            return FieldType::integer64;
        case OFTReal:
            return FieldType::real;
        case OFTDate:
            return FieldType::date;
        case OFTDateTime:
            return FieldType::datetime;
        case OFTTime:
            return FieldType::time;
        case OFTBinary:
            return FieldType::binary;
        case OFTIntegerList:
        case OFTInteger64List:
        case OFTRealList:
        case OFTStringList:
            return FieldType::list;
        default:
            return FieldType::text;
    }
}

}  // namespace

std::string crs_wkt_of(const OGRSpatialReference* srs) {
    if (srs == nullptr) {
        return {};
    }
    // GeoPackage's two ways to say that there is none.
    const char* name = srs->GetName();
    if (name != nullptr && std::string_view{name}.rfind("Undefined ", 0) == 0) {
        return {};
    }
    char* wkt = nullptr;
    const char* const wkt2[] = {"FORMAT=WKT2_2019", nullptr};
    if (srs->exportToWkt(&wkt, wkt2) != OGRERR_NONE || wkt == nullptr || *wkt == '\0') {
        CPLFree(wkt);
        wkt = nullptr;
        srs->exportToWkt(&wkt);
    }
    std::string text = wkt == nullptr ? "" : wkt;
    CPLFree(wkt);
    return text;
}

GeometryType geometry_type(OGRwkbGeometryType type) {
    GeometryType out;
    out.has_z = OGR_GT_HasZ(type) != 0;
    out.has_m = OGR_GT_HasM(type) != 0;
    switch (wkbFlatten(type)) {
        case wkbNone:
            return {};
        case wkbPoint:
            out.kind = GeometryKind::point;
            break;
        case wkbMultiPoint:
            out.kind = GeometryKind::point;
            out.multi = true;
            break;
        case wkbLineString:
            out.kind = GeometryKind::line;
            break;
        case wkbMultiLineString:
            out.kind = GeometryKind::line;
            out.multi = true;
            break;
        case wkbPolygon:
            out.kind = GeometryKind::polygon;
            break;
        case wkbMultiPolygon:
            out.kind = GeometryKind::polygon;
            out.multi = true;
            break;
        default:
            out.kind = GeometryKind::mixed;
            break;
    }
    return out;
}

OGRwkbGeometryType ogr_type(const GeometryType& type) {
    OGRwkbGeometryType out = wkbUnknown;
    switch (type.kind) {
        case GeometryKind::none:
            return wkbNone;
        case GeometryKind::point:
            out = type.multi ? wkbMultiPoint : wkbPoint;
            break;
        case GeometryKind::line:
            out = type.multi ? wkbMultiLineString : wkbLineString;
            break;
        case GeometryKind::polygon:
            out = type.multi ? wkbMultiPolygon : wkbPolygon;
            break;
        case GeometryKind::mixed:
            out = wkbUnknown;
            break;
    }
    return OGR_GT_SetModifier(out, type.has_z ? TRUE : FALSE, type.has_m ? TRUE : FALSE);
}

LayerSchema schema_of(OGRLayer& layer) {
    LayerSchema schema;
    schema.name = layer.GetName();
    OGRFeatureDefn* defn = layer.GetLayerDefn();
    schema.fields.reserve(static_cast<std::size_t>(defn->GetFieldCount()));
    for (int i = 0; i < defn->GetFieldCount(); ++i) {
        const OGRFieldDefn& from = *defn->GetFieldDefn(i);
        Field field;
        field.name = from.GetNameRef();
        field.type = field_type(from);
        field.width = from.GetWidth();
        field.narrow = from.GetSubType() == OFSTInt16 || from.GetSubType() == OFSTFloat32;
        field.json = from.GetSubType() == OFSTJSON;
        schema.fields.push_back(std::move(field));
    }
    schema.geometry = geometry_type(layer.GetGeomType());
    if (schema.has_geometry()) {
        schema.crs_wkt = crs_wkt_of(layer.GetSpatialRef());
        schema.geometry_name = layer.GetGeometryColumn();
    }
    schema.fid_name = layer.GetFIDColumn();
    if (layer.TestCapability(OLCFastFeatureCount) != 0) {
        schema.feature_count = layer.GetFeatureCount(FALSE);
    }
    return schema;
}

}  // namespace linewood
