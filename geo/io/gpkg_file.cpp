#include "geo/io/gpkg_file.h"

#include <optional>

#include "geo/io/ogr_file.h"
#include "geo/io/vector_layers.h"

namespace linewood {

namespace {

/// The time of change that GDAL writes while this lives; empty = now.
class ChangeDate {
public:
    explicit ChangeDate(const std::string& last_change) {
        if (!last_change.empty()) {
            setter_.emplace("OGR_CURRENT_DATE", last_change.c_str(), false);
        }
    }

private:
    std::optional<CPLConfigOptionSetter> setter_;
};

}  // namespace

GpkgFile::GpkgFile(std::filesystem::path file, std::string shown, std::string last_change)
    : file_{std::move(file)}, shown_{std::move(shown)}, last_change_{std::move(last_change)} {
    const ChangeDate date{last_change_};
    // The file is invisible and thrown away if anything fails, and flushed once at the end: SQLite
    // need not protect it on the way.
    const CPLConfigOptionSetter synchronous{"OGR_SQLITE_SYNCHRONOUS", "OFF", false};
    const CPLConfigOptionSetter journal{"OGR_SQLITE_JOURNAL", "MEMORY", false};
    CPLStringList options;
    options.SetNameValue("DATETIME_FORMAT", "UTC");
    dataset_ = create_dataset(file_, OutputFormat::geopackage, options, shown_);
}

GpkgFile GpkgFile::of_copy(std::filesystem::path file, std::string shown, std::string last_change) {
    return {Existing{}, std::move(file), std::move(shown), std::move(last_change)};
}

std::string GpkgFile::now() const {
    return last_change_.empty() ? "strftime('%Y-%m-%dT%H:%M:%fZ','now')"
                                : quoted_text(last_change_);
}

GDALDataset& GpkgFile::dataset() {
    if (!dataset_) {
        if (rows_) {
            rows_->commit();
            rows_.reset();
        }
        ErrorCollector errors;
        dataset_.reset(GDALDataset::Open(file_.c_str(), GDAL_OF_VECTOR | GDAL_OF_UPDATE));
        if (!dataset_) {
            throw_gdal_error(shown_, "", "opening the file again", errors);
        }
    }
    return *dataset_;
}

SqliteFile& GpkgFile::rows() {
    if (!rows_) {
        // OGR puts off creating its tables until now.
        const ChangeDate date{last_change_};
        if (dataset_) {
            close_dataset(dataset_, shown_, "");
        }
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
