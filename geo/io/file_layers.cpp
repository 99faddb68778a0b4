#include <array>
#include <fstream>
#include <map>
#include <optional>
#include <system_error>
#include <tuple>

#include "geo/io/csv_table.h"
#include "geo/io/fgb_file.h"
#include "geo/io/vector_layers.h"

namespace linewood {
namespace {

namespace fs = std::filesystem;

CPLStringList flatgeobuf_options(bool index) {
    CPLStringList options;
    options.SetNameValue("SPATIAL_INDEX", index ? "YES" : "NO");
    return options;
}

/// One FlatGeobuf file. Its driver drops rows without geometry without a word, and refuses geometries
/// that are not of the declared type: the first go to a table beside it; for the second the file
/// is begun anew as one of mixed geometry.
class FlatGeobufLayer final : public LayerSink {
public:
    FlatGeobufLayer(fs::path folder,
                    const LayerPlan& plan,
                    const OutputOptions& options,
                    std::string shown)
        : LayerSink{plan},
          folder_{std::move(folder)},
          shown_{std::move(shown)},
          // Without rows a file without an index would have no bytes at all.
          index_{options.spatial_index && plan.spatial_index},
          file_plan_{plan_},
          columns_{out_columns(plan_, OutputFormat::flatgeobuf)} {
        begin(index_);
    }

    void close() override {
        const std::int64_t rows = end_file();
        if (rows == 0 && !index_ && !direct_) {
            fs::remove(path());
            begin(true);
            file_.reset();
            close_dataset(dataset_, shown_, plan_.name);
        }
        check_count(rows, count_features(path(), shown_, plan_.name), shown_, plan_.name);
        if (nogeom_) {
            nogeom_->finish();
            check_count(count() - rows, nogeom_->rows(), shown_, plan_.name);
        }
    }

    void drop() noexcept override {
        const ErrorCollector quiet;
        file_.reset();
        dataset_.reset();
        direct_.reset();
        nogeom_.reset();
    }

    LayerSummary summary() const override {
        LayerSummary out = LayerSink::summary();
        out.files.push_back(file_name());
        if (nogeom_) {
            out.files.push_back(nogeom_name());
        }
        return out;
    }

    void add_notes(std::vector<OutputNote>& notes) const override {
        LayerSink::add_notes(notes);
        if (nogeom_) {
            add_loss_notes(plan_.name, nogeom_->columns(), notes);
            notes.push_back({plan_.name,
                             "",
                             "rows without geometry, which FlatGeobuf cannot hold, are in " +
                                 nogeom_name() + ": " + std::to_string(nogeom_->rows())});
        }
        add_zero_note(file_plan_.geometry.has_z, without_z_, "height (Z)", notes);
        add_zero_note(file_plan_.geometry.has_m, without_m_, "measure (M)", notes);
        if (index_) {
            notes.push_back(
                {plan_.name, "", "an indexed FlatGeobuf is in spatial order, not in input order"});
        }
    }

    const std::vector<OutColumn>& columns() const override { return columns_; }
    std::string file_name() const override { return plan_.name + ".fgb"; }

protected:
    void write(const RowInput& input, OGRGeometryUniquePtr geometry) override {
        if (!geometry || geometry->IsEmpty() != 0) {
            if (!nogeom_) {
                nogeom_.emplace(folder_ / nogeom_name(), plan_, CsvTable::Shape::none);
            }
            nogeom_->write(plan_, input, nullptr);
            return;
        }
        if (!fits(*geometry)) {
            widen(*geometry);
        }
        without_z_ += OGR_GT_HasZ(geometry->getGeometryType()) == 0 ? 1 : 0;
        without_m_ += OGR_GT_HasM(geometry->getGeometryType()) == 0 ? 1 : 0;
        if (direct_) {
            direct_->write(plan_, input, *geometry);
        } else {
            file_->write(plan_, input, std::move(geometry), OGRNullFID);
        }
    }

private:
    fs::path path() const { return folder_ / file_name(); }
    std::string nogeom_name() const { return plan_.name + "_nogeom.csv"; }

    void add_zero_note(bool declared,
                       std::int64_t without,
                       const std::string& what,
                       std::vector<OutputNote>& notes) const {
        if (declared && without > 0) {
            notes.push_back({plan_.name,
                             "",
                             std::to_string(without) + " geometries have no " + what +
                                 "; in a FlatGeobuf of which others have one they get 0"});
        }
    }

    void begin(bool index) {
        const bool direct = FgbFile::suits(file_plan_.geometry, columns_);
        dataset_ = create_dataset(path(), OutputFormat::flatgeobuf, CPLStringList{}, shown_);
        file_.emplace(*dataset_,
                      file_plan_,
                      columns_,
                      OutputFormat::flatgeobuf,
                      flatgeobuf_options(index || direct),
                      shown_);
        if (direct) {
            file_.reset();
            close_dataset(dataset_, shown_, plan_.name);
            direct_.emplace(path(), shown_, columns_, index);
        }
    }

    /// Closes the file. @return the rows in it.
    std::int64_t end_file() {
        std::int64_t rows = copied_;
        if (direct_) {
            direct_->finish();
            rows += direct_->rows();
        } else {
            rows += file_->rows();
            file_.reset();
            close_dataset(dataset_, shown_, plan_.name);
        }
        return rows;
    }

    bool fits(const OGRGeometry& geometry) const {
        const OGRwkbGeometryType declared = ogr_type(file_plan_.geometry);
        const OGRwkbGeometryType type = geometry.getGeometryType();
        if (file_plan_.geometry.kind != GeometryKind::mixed) {
            return type == declared;
        }
        return (OGR_GT_HasZ(type) == 0 || file_plan_.geometry.has_z) &&
               (OGR_GT_HasM(type) == 0 || file_plan_.geometry.has_m);
    }

    /// Begins the file anew so that `geometry` fits too, with the rows so far.
    void widen(const OGRGeometry& geometry) {
        const OGRwkbGeometryType type = geometry.getGeometryType();
        file_plan_.geometry.kind = GeometryKind::mixed;
        file_plan_.geometry.multi = false;
        file_plan_.geometry.has_z = file_plan_.geometry.has_z || OGR_GT_HasZ(type) != 0;
        file_plan_.geometry.has_m = file_plan_.geometry.has_m || OGR_GT_HasM(type) != 0;
        const std::int64_t rows = end_file();
        direct_.reset();
        if (rows == 0) {
            fs::remove(path());
            begin(index_);
            return;
        }
        const fs::path before = folder_ / (plan_.name + ".before.fgb");
        fs::rename(path(), before);
        begin(index_);
        copied_ = copy_rows(before);
        check_count(rows, copied_, shown_, plan_.name);
        fs::remove(before);
    }

    std::int64_t copy_rows(const fs::path& from) {
        ErrorCollector errors;
        const GDALDatasetUniquePtr old{
            GDALDataset::Open(from.c_str(), GDAL_OF_VECTOR | GDAL_OF_READONLY)};
        std::int64_t rows = 0;
        OGRLayer* layer = old ? old->GetLayer(0) : nullptr;
        while (layer != nullptr) {
            const OGRFeatureUniquePtr feature{layer->GetNextFeature()};
            if (!feature) {
                break;
            }
            OGRFeature copy{file_->layer().GetLayerDefn()};
            copy.SetFrom(feature.get());
            if (file_->layer().CreateFeature(&copy) != OGRERR_NONE) {
                break;
            }
            ++rows;
        }
        if (errors.failed()) {
            throw_gdal_error(shown_, plan_.name, "writing", errors);
        }
        return rows;
    }

    fs::path folder_;
    std::string shown_;
    bool index_;
    LayerPlan file_plan_;
    std::vector<OutColumn> columns_;
    GDALDatasetUniquePtr dataset_;
    std::optional<OgrLayerFile> file_;
    std::optional<FgbFile> direct_;  // in place of the two before
    std::int64_t copied_ = 0;
    std::int64_t without_z_ = 0;
    std::int64_t without_m_ = 0;
    std::optional<CsvTable> nogeom_;
};

/// Features in a GeoJSON file as OGR writes it (one a line), and whether its end is there: much cheaper than
/// parsing it again.
std::int64_t count_geojson_lines(const fs::path& path) {
    constexpr std::string_view kBegin = R"({ "type": "Feature", )";
    std::ifstream in{path, std::ios::binary};
    std::string line;
    std::string last;
    std::int64_t count = 0;
    while (std::getline(in, line)) {
        if (line.rfind(kBegin, 0) == 0) {
            ++count;
        }
        if (!line.empty()) {
            last = line.substr(0, 1);
        }
    }
    return last == "}" ? count : -1;
}

class GeoJsonLayer final : public LayerSink {
public:
    GeoJsonLayer(const fs::path& folder, const LayerPlan& plan, std::string shown, bool standard)
        : LayerSink{plan},
          path_{folder / (plan.name + ".geojson")},
          shown_{std::move(shown)},
          standard_{standard},
          columns_{out_columns(plan_, OutputFormat::geojson)} {
        CPLStringList options;
        // The standard knows no other coordinates than degrees on WGS 84.
        options.SetNameValue("RFC7946", plan_.crs_wkt.empty() || !standard ? "NO" : "YES");
        options.SetNameValue("COORDINATE_PRECISION", "7");
        if (!plan.description.empty()) {
            options.SetNameValue("DESCRIPTION", plan.description.c_str());
        }
        dataset_ = create_dataset(path_, OutputFormat::geojson, CPLStringList{}, shown_);
        LayerPlan file_plan = plan_;
        const SrsPtr from =
            standard ? srs_from_wkt(plan_.crs_wkt, shown_, plan.name) : SrsPtr{nullptr};
        if (from) {
            file_plan.crs_wkt = "EPSG:4326";
            const SrsPtr to = srs_from_wkt(file_plan.crs_wkt, shown_, plan.name);
            if (from->IsSame(to.get()) == 0) {
                ErrorCollector errors;
                to_degrees_.reset(OGRCreateCoordinateTransformation(from.get(), to.get()));
                if (!to_degrees_) {
                    throw_gdal_error(
                        shown_, plan.name, "converting to longitude and latitude", errors);
                }
            }
        }
        file_.emplace(*dataset_, file_plan, columns_, OutputFormat::geojson, options, shown_);
    }

    void close() override {
        file_.reset();
        close_dataset(dataset_, shown_, plan_.name);
        check_count(count(), count_geojson_lines(path_), shown_, plan_.name);
    }
    void drop() noexcept override {
        const ErrorCollector quiet;
        file_.reset();
        dataset_.reset();
    }
    LayerSummary summary() const override {
        LayerSummary out = LayerSink::summary();
        out.files.push_back(file_name());
        return out;
    }
    void add_notes(std::vector<OutputNote>& notes) const override {
        LayerSink::add_notes(notes);
        add_beyond_note(notes);
    }
    std::vector<OutputNote> losses() const override {
        std::vector<OutputNote> notes = LayerSink::losses();
        add_beyond_note(notes);
        return notes;
    }
    const std::vector<OutColumn>& columns() const override { return columns_; }
    std::string file_name() const override { return plan_.name + ".geojson"; }

protected:
    void write(const RowInput& input, OGRGeometryUniquePtr geometry) override {
        if (geometry && standard_ && !plan_.crs_wkt.empty() && !bring_to_degrees(*geometry)) {
            ++placeless_;
            geometry.reset();
        }
        file_->write(plan_, input, std::move(geometry), fid_for(input));
    }

private:
    void add_beyond_note(std::vector<OutputNote>& notes) const {
        if (placeless_ > 0) {
            notes.push_back(
                {plan_.name,
                 "",
                 std::to_string(placeless_) +
                     " geometries have no place on the Earth in their coordinate system "
                     "and are null"});
        }
    }

    /// The driver would do this too, but it gives up the whole file at the first geometry that fails.
    /// @return false where the geometry has no longitude and latitude.
    bool bring_to_degrees(OGRGeometry& geometry) {
        const ErrorCollector quiet;
        if (to_degrees_ && geometry.transform(to_degrees_.get()) != OGRERR_NONE) {
            return false;
        }
        OGREnvelope box;
        geometry.getEnvelope(&box);
        // Longitudes beyond 180 are brought back by the driver.
        return geometry.IsEmpty() != 0 ||
               (box.MinX >= -540.0 && box.MaxX <= 540.0 && box.MinY >= -90.0 && box.MaxY <= 90.0);
    }

    fs::path path_;
    std::string shown_;
    bool standard_;
    std::vector<OutColumn> columns_;
    GDALDatasetUniquePtr dataset_;
    std::optional<OgrLayerFile> file_;
    std::unique_ptr<OGRCoordinateTransformation> to_degrees_;
    std::int64_t placeless_ = 0;
};

}  // namespace

void close_dataset(GDALDatasetUniquePtr& dataset,
                   const std::string& shown,
                   const std::string& layer) {
    ErrorCollector errors;
    dataset.reset();
    if (errors.failed()) {
        throw_gdal_error(shown, layer, "writing the end of the file", errors);
    }
}

std::int64_t count_features(const fs::path& file,
                            const std::string& shown,
                            const std::string& layer) {
    ErrorCollector errors;
    const GDALDatasetUniquePtr dataset{
        GDALDataset::Open(file.c_str(), GDAL_OF_VECTOR | GDAL_OF_READONLY | GDAL_OF_VERBOSE_ERROR)};
    OGRLayer* opened = dataset ? dataset->GetLayer(0) : nullptr;
    const std::int64_t count = opened == nullptr ? -1 : opened->GetFeatureCount(TRUE);
    if (errors.failed()) {
        throw_gdal_error(shown, layer, "opening the finished file", errors);
    }
    return count;
}

void check_count(std::int64_t appended,
                 std::int64_t readable,
                 const std::string& shown,
                 const std::string& layer) {
    if (readable < 0) {
        throw DataError{shown,
                        layer,
                        "the end of the finished file is missing; nothing was kept. The disk may "
                        "be full: free some space or choose another place"};
    }
    if (appended != readable) {
        throw DataError{shown,
                        layer,
                        "the finished file holds " + std::to_string(readable) + " of " +
                            std::to_string(appended) +
                            " rows; nothing was kept. The disk may be full: free some space or "
                            "choose another place; or the format cannot hold this layer: try a "
                            "GeoPackage"};
    }
}

std::unique_ptr<LayerSink> make_flatgeobuf_layer(const fs::path& folder,
                                                 const LayerPlan& plan,
                                                 const OutputOptions& options,
                                                 const std::string& shown) {
    return std::make_unique<FlatGeobufLayer>(folder, plan, options, shown);
}

std::unique_ptr<LayerSink> make_geojson_layer(const fs::path& folder,
                                              const LayerPlan& plan,
                                              const std::string& shown,
                                              bool standard) {
    return std::make_unique<GeoJsonLayer>(folder, plan, shown, standard);
}

}  // namespace linewood
