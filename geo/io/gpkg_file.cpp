#include "geo/io/gpkg_file.h"

#include <cassert>

#include "geo/io/ogr_file.h"
#include "geo/io/vector_layers.h"

namespace linewood {

GpkgFile::GpkgFile(std::filesystem::path file, std::string shown)
    : file_{std::move(file)}, shown_{std::move(shown)} {
    // The file is invisible and thrown away if anything fails, and flushed once at the end: SQLite
    // need not protect it on the way.
    const CPLConfigOptionSetter synchronous{"OGR_SQLITE_SYNCHRONOUS", "OFF", false};
    const CPLConfigOptionSetter journal{"OGR_SQLITE_JOURNAL", "MEMORY", false};
    CPLStringList options;
    options.SetNameValue("DATETIME_FORMAT", "UTC");
    dataset_ = create_dataset(file_, OutputFormat::geopackage, options);
}

GDALDataset& GpkgFile::dataset() {
    assert(dataset_);
    return *dataset_;
}

SqliteFile& GpkgFile::rows() {
    if (!rows_) {
        close_dataset(dataset_, shown_, "");
        rows_ = std::make_unique<SqliteFile>(file_, shown_);
    }
    return *rows_;
}

void GpkgFile::finish() {
    rows().commit();
    rows_.reset();
}

void GpkgFile::drop() noexcept {
    const ErrorCollector quiet;
    rows_.reset();
    dataset_.reset();
}

}  // namespace linewood
