#include "tests/support/changed_dataset.hpp"

#include <stdexcept>

#include <gdal_priv.h>

namespace linewood::testing {

void change_by_sql(const std::filesystem::path& path, const std::string& sql) {
    GDALAllRegister();
    const GDALDatasetUniquePtr dataset{
        GDALDataset::Open(path.c_str(), GDAL_OF_VECTOR | GDAL_OF_UPDATE)};
    if (!dataset) {
        throw std::runtime_error{path.string() + " cannot be changed"};
    }
    CPLErrorReset();
    OGRLayer* const layer = dataset->ExecuteSQL(sql.c_str(), nullptr, nullptr);
    if (layer != nullptr) {
        dataset->ReleaseResultSet(layer);
    }
    if (CPLGetLastErrorType() >= CE_Failure) {
        throw std::runtime_error{sql + ": " + CPLGetLastErrorMsg()};
    }
}

}  // namespace linewood::testing
