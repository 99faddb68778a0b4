#include "geo/io/row_condition.hpp"

#include <algorithm>
#include <memory>

#include <ogr_feature.h>

#include "geo/io/composition.h"
#include "geo/io/gdal_session.h"
#include "geo/io/source_pool.h"

namespace linewood {
namespace {

std::string column_names(const LayerSchema& schema) {
    std::string names;
    for (const Field& field : schema.fields) {
        names += (names.empty() ? "" : ", ") + field.name;
    }
    return names;
}

[[noreturn]] void refuse(const std::string& condition,
                         const LayerSchema& schema,
                         const ErrorCollector& errors) {
    std::string message = "\"" + condition + "\" is no condition for layer " + schema.name;
    if (!errors.message().empty()) {
        message += " (" + errors.message() + ")";
    }
    message += "; its columns are " + column_names(schema) +
               "; a column that is text is compared with 'text', or as CAST(column AS FLOAT)";
    throw ConditionError{message};
}

/// Leaves out what the condition does not name.
void ignore_others(OGRLayer& layer, const LayerSchema& schema, const CPLStringList& used) {
    CPLStringList ignored;
    for (const Field& field : schema.fields) {
        if (used.FindString(field.name.c_str()) < 0) {
            ignored.AddString(field.name.c_str());
        }
    }
    if (used.PartialFindString("OGR_GEOM") < 0) {
        ignored.AddString("OGR_GEOMETRY");
    }
    const ErrorCollector quiet;  // a driver that cannot leave columns out reads them all
    // NOLINTNEXTLINE(cppcoreguidelines-pro-type-const-cast): the C++ interface lacks a const
    layer.SetIgnoredFields(const_cast<const char**>(ignored.List()));
}

}  // namespace

void check_row_condition(const Source& source,
                         std::string_view layer,
                         const std::string& condition) {
    const std::shared_ptr<SourcePool>& pool = source.pool();
    const std::size_t index = pool->find(layer);
    const LayerLoan loan = pool->borrow(index);
    OGRFeatureQuery query;
    const ErrorCollector errors;
    if (query.Compile(&loan.layer(), condition.c_str()) != OGRERR_NONE) {
        refuse(condition, pool->schema(index), errors);
    }
}

std::vector<bool> rows_where(const Source& source,
                             std::string_view layer,
                             const std::string& condition) {
    const std::shared_ptr<SourcePool>& pool = source.pool();
    const std::size_t index = pool->find(layer);
    if (pool->composition() != nullptr) {
        return pool->composition()->rows_where(condition);
    }
    const LayerSchema& schema = pool->schema(index);
    LayerLoan loan = pool->borrow(index);
    OGRFeatureQuery query;
    {
        const ErrorCollector errors;
        if (query.Compile(&loan.layer(), condition.c_str()) != OGRERR_NONE) {
            refuse(condition, schema, errors);
        }
    }
    ignore_others(loan.layer(), schema, CPLStringList{query.GetUsedFields()});
    loan.layer().ResetReading();
    std::vector<bool> rows;
    ErrorCollector errors;
    while (const OGRFeatureUniquePtr feature{loan.layer().GetNextFeature()}) {
        rows.push_back(query.Evaluate(feature.get()) != 0);
    }
    if (errors.failed()) {
        loan.spoil();
        throw_gdal_error(pool->entry(index).file,
                         schema.name,
                         "reading after feature " + std::to_string(rows.size()),
                         errors);
    }
    return rows;
}

}  // namespace linewood
