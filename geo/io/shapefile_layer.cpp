#include <map>
#include <optional>

#include "geo/io/csv_table.h"
#include "geo/io/shapefile_size.h"
#include "geo/io/vector_layers.h"

namespace linewood {
namespace {

namespace fs = std::filesystem;

/// What one .shp file can hold: one of its shape types, plain, with Z or with M.
struct ShapeClass {
    GeometryType type;

    bool operator<(const ShapeClass& o) const {
        const auto key = [](const GeometryType& t) {
            return (static_cast<int>(t.kind) * 2 + (t.multi ? 1 : 0)) * 4 + (t.has_z ? 2 : 0) +
                   (t.has_m ? 1 : 0);
        };
        return key(type) < key(o.type);
    }
};

/// The class for a geometry type; nothing for what a Shapefile has no shape for.
std::optional<ShapeClass> class_of(OGRwkbGeometryType type) {
    GeometryType t = geometry_type(type);
    if (t.kind == GeometryKind::none || t.kind == GeometryKind::mixed) {
        return std::nullopt;
    }
    if (t.kind != GeometryKind::point) {
        t.multi = false;  // lines and polygons may have many parts
    }
    return ShapeClass{t};
}

std::string suffix_of(const ShapeClass& c) {
    std::string suffix;
    switch (c.type.kind) {
        case GeometryKind::point:
            suffix = c.type.multi ? "_multipoint" : "_point";
            break;
        case GeometryKind::line:
            suffix = "_line";
            break;
        default:
            suffix = "_polygon";
            break;
    }
    suffix += c.type.has_z ? "_z" : "";
    suffix += c.type.has_m ? "_m" : "";
    return suffix;
}

/// A layer as one Shapefile for its declared kind of geometry, and one more for each other kind that comes.
/// Null geometries are null shapes in the first. What has no shape (collections) goes to a CSV with WKT.
class ShapefileLayer final : public LayerSink {
public:
    ShapefileLayer(fs::path folder,
                   const LayerPlan& plan,
                   std::string shown,
                   std::uint64_t most_bytes)
        : LayerSink{plan},
          folder_{std::move(folder)},
          shown_{std::move(shown)},
          most_bytes_{most_bytes},
          columns_{out_columns(plan_, OutputFormat::shapefile)},
          main_{class_of(ogr_type(plan.geometry))} {
        if (main_) {
            part_for(*main_);
        }
    }

    void close() override {
        for (auto& [key, part] : parts_) {
            const std::int64_t rows = part.file->rows();
            part.file.reset();
            close_dataset(part.dataset, shown_, plan_.name);
            check_count(rows,
                        count_features(folder_ / (part.stem + ".shp"), shown_, plan_.name),
                        shown_,
                        plan_.name);
        }
        for (auto* table : {&nogeom_, &othergeom_}) {
            if (*table) {
                (*table)->finish();
            }
        }
    }

    void drop() noexcept override {
        const ErrorCollector quiet;
        parts_.clear();
        nogeom_.reset();
        othergeom_.reset();
    }

    LayerSummary summary() const override {
        LayerSummary out = LayerSink::summary();
        for (const auto& [key, part] : parts_) {
            out.files.push_back(part.stem + ".shp");
        }
        if (nogeom_) {
            out.files.push_back(plan_.name + "_nogeom.csv");
        }
        if (othergeom_) {
            out.files.push_back(plan_.name + "_othergeom.csv");
        }
        return out;
    }

    void add_notes(std::vector<OutputNote>& notes) const override {
        LayerSink::add_notes(notes);
        for (const auto& [key, part] : parts_) {
            if (part.stem != plan_.name) {
                notes.push_back({plan_.name,
                                 "",
                                 "a Shapefile holds one kind of geometry; the rows of another kind "
                                 "are in " +
                                     part.stem + ".shp"});
            }
        }
        if (nogeom_) {
            notes.push_back({plan_.name,
                             "",
                             std::to_string(nogeom_->rows()) + " rows without geometry are in " +
                                 plan_.name + "_nogeom.csv"});
        }
        if (othergeom_) {
            notes.push_back({plan_.name,
                             "",
                             std::to_string(othergeom_->rows()) +
                                 " rows whose geometry a Shapefile cannot hold are in " +
                                 plan_.name + "_othergeom.csv, as WKT"});
        }
    }

    const std::vector<OutColumn>& columns() const override { return columns_; }
    std::string file_name() const override { return plan_.name + ".shp"; }

protected:
    void write(const RowInput& input, OGRGeometryUniquePtr geometry) override {
        if (geometry && geometry->IsEmpty() != 0) {
            geometry.reset();
        }
        if (geometry && OGR_GT_IsNonLinear(geometry->getGeometryType()) != 0) {
            geometry.reset(geometry->getLinearGeometry());
        }
        if (!geometry && !main_) {
            table(nogeom_, "_nogeom.csv", CsvTable::Shape::none).write(plan_, input, nullptr);
            return;
        }
        const auto shape = geometry ? class_of(geometry->getGeometryType()) : main_;
        if (!shape) {
            table(othergeom_, "_othergeom.csv", CsvTable::Shape::wkt)
                .write(plan_, input, geometry.get());
            return;
        }
        Part& part = part_for(*shape);
        check_size(part, geometry.get());
        part.file->write(plan_, input, std::move(geometry), OGRNullFID);
    }

private:
    struct Part {
        std::string stem;
        GDALDatasetUniquePtr dataset;
        std::optional<OgrLayerFile> file;
        ShapefileSize size;
    };

    /// Before the row is written: GDAL tells it of the last bytes only. @throws DataError
    void check_size(Part& part, const OGRGeometry* geometry) const {
        const std::string full = part.size.add(geometry, *part.file->layer().GetLayerDefn());
        if (!full.empty()) {
            throw DataError{shown_,
                            plan_.name,
                            "a file of a Shapefile holds 2 GB at most, and " + part.stem + full +
                                " has no room for row " + std::to_string(part.file->rows() + 1) +
                                "; choose --format flatgeobuf, or a GeoPackage (--out NAME.gpkg)"};
        }
    }

    CsvTable& table(std::optional<CsvTable>& slot, const char* suffix, CsvTable::Shape shape) {
        if (!slot) {
            slot.emplace(folder_ / (plan_.name + suffix), plan_, shape);
        }
        return *slot;
    }

    Part& part_for(const ShapeClass& shape) {
        const auto found = parts_.find(shape);
        if (found != parts_.end()) {
            return found->second;
        }
        const bool is_main = main_ && !(shape < *main_) && !(*main_ < shape);
        Part& part = parts_[shape];
        part.size = ShapefileSize{most_bytes_};
        part.stem = plan_.name + (is_main ? "" : suffix_of(shape));
        LayerPlan file_plan = plan_;
        file_plan.name = part.stem;
        file_plan.geometry = shape.type;
        CPLStringList options;
        options.SetNameValue("ENCODING", "UTF-8");
        options.SetNameValue("2GB_LIMIT", "YES");
        part.dataset = create_dataset(
            folder_ / (part.stem + ".shp"), OutputFormat::shapefile, CPLStringList{}, shown_);
        part.file.emplace(
            *part.dataset, file_plan, columns_, OutputFormat::shapefile, options, shown_);
        return part;
    }

    fs::path folder_;
    std::string shown_;
    std::uint64_t most_bytes_;
    std::vector<OutColumn> columns_;
    std::optional<ShapeClass> main_;
    std::map<ShapeClass, Part> parts_;
    std::optional<CsvTable> nogeom_;
    std::optional<CsvTable> othergeom_;
};

}  // namespace

std::unique_ptr<LayerSink> make_shapefile_layer(const fs::path& folder,
                                                const LayerPlan& plan,
                                                const std::string& shown,
                                                std::uint64_t most_bytes) {
    return std::make_unique<ShapefileLayer>(folder, plan, shown, most_bytes);
}

}  // namespace linewood
