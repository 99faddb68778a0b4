#include <cmath>

#include <cpl_conv.h>

#include "geo/io/batch_rows.h"

namespace linewood {
namespace {

TimeStamp timestamp_of(const OGRField& field) {
    TimeStamp t;
    t.year = field.Date.Year;
    t.month = field.Date.Month;
    t.day = field.Date.Day;
    t.hour = field.Date.Hour;
    t.minute = field.Date.Minute;
    t.milliseconds = static_cast<int>(std::lround(static_cast<double>(field.Date.Second) * 1000.0));
    // OGR: 0 unknown, 1 local, 100 UTC, else quarter hours from 100.
    if (field.Date.TZFlag > 1) {
        t.zone_minutes = (field.Date.TZFlag - 100) * 15;
    }
    return t;
}

void set_text(RawValue& value, const char* text) {
    value.type = FieldType::text;
    value.bytes = text == nullptr ? std::string_view{} : std::string_view{text};
}

}  // namespace

bool FeatureRows::is_null(std::size_t row, std::size_t column) const {
    if (!written_.empty() && written_.contains({row, column})) {
        return false;
    }
    return !features[row]->IsFieldSetAndNotNull(static_cast<int>(column));
}

void FeatureRows::get(std::size_t row, std::size_t column, RawValue& value) const {
    const OGRFeature& feature = *features[row];
    const int index = static_cast<int>(column);
    if (const auto kept = written_.find({row, column}); kept != written_.end()) {
        value.null = false;
        value.type = FieldType::text;
        value.bytes = kept->second;
        return;
    }
    value.null = !feature.IsFieldSetAndNotNull(index);
    if (value.null) {
        return;
    }
    const OGRField& field = *feature.GetRawFieldRef(index);
    const OGRFieldDefn& defn = *feature.GetFieldDefnRef(index);
    switch (defn.GetType()) {
        case OFTInteger:
            value.type = defn.GetSubType() == OFSTBoolean ? FieldType::boolean : FieldType::integer;
            value.integer = field.Integer;
            break;
        case OFTInteger64:
            value.type = FieldType::integer64;
            value.integer = field.Integer64;
            break;
        case OFTReal:
            value.type = FieldType::real;
            value.real = field.Real;
            break;
        case OFTDate:
            value.type = FieldType::date;
            value.time = timestamp_of(field);
            break;
        case OFTDateTime:
            value.type = FieldType::datetime;
            value.time = timestamp_of(field);
            break;
        case OFTTime:
            value.type = FieldType::time;
            value.time = timestamp_of(field);
            break;
        case OFTBinary:
            value.type = FieldType::binary;
            // OGR hands bytes as unsigned char; a view of them as char is allowed.
            value.bytes = {reinterpret_cast<const char*>(field.Binary.paData),
                           static_cast<std::size_t>(field.Binary.nCount)};
            break;
        case OFTString:
            set_text(value, field.String);
            break;
        default: {
            char* json = feature.GetFieldAsSerializedJSon(index);
            value.owned = json == nullptr ? "" : json;
            CPLFree(json);
            value.type = FieldType::list;
            value.bytes = value.owned;
            break;
        }
    }
}

StoredGeometry FeatureRows::geometry(std::size_t row) const {
    StoredGeometry stored;
    stored.object = places.empty() ? features[row]->GetGeometryRef() : places[row].get();
    return stored;
}

}  // namespace linewood
