#include <atomic>
#include <fstream>
#include <optional>

#include <cpl_conv.h>
#include <cpl_vsi.h>

#include "geo/io/place_names.h"
#include "geo/io/vector_layers.h"

namespace linewood {
namespace {

namespace fs = std::filesystem;

/// Rows that a spreadsheet can hold, the header being one.
constexpr std::int64_t kMostRows = (std::int64_t{1} << 20) - 1;

/// How the places of a layer become columns: two numbers for points, else text.
enum class Shape { none, xy, wkt };

Shape shape_of(const GeometryType& type) {
    if (type.kind == GeometryKind::none) {
        return Shape::none;
    }
    return type.kind == GeometryKind::point && !type.multi && !type.has_z ? Shape::xy : Shape::wkt;
}

Field column(std::string name, FieldType type, std::string meaning) {
    Field field;
    field.name = std::move(name);
    field.type = type;
    field.meaning = std::move(meaning);
    return field;
}

std::vector<std::string> names_of(const LayerPlan& plan) {
    std::vector<std::string> names;
    for (const CarriedColumn& carried : plan.carried) {
        names.push_back(carried.name);
    }
    for (const Field& added : plan.added) {
        names.push_back(added.name);
    }
    return names;
}

/// The plan of the table: without geometry, with the columns for it at the end.
LayerPlan table_plan(const LayerPlan& plan, Shape shape) {
    LayerPlan table = plan;
    table.geometry = {};
    if (shape == Shape::wkt) {
        const auto names = free_place_names({"wkt"}, names_of(plan));
        table.added.push_back(column(names[0], FieldType::text, "geometry as well-known text"));
    } else if (shape == Shape::xy) {
        const SrsPtr srs = srs_from_wkt(plan.crs_wkt, "", "");
        const bool degrees = srs && srs->IsGeographic() != 0;
        const auto names =
            free_place_names({degrees ? "lon" : "x", degrees ? "lat" : "y"}, names_of(plan));
        table.added.push_back(column(names[0], FieldType::real, "first coordinate of the point"));
        table.added.push_back(column(names[1], FieldType::real, "second coordinate of the point"));
    }
    return table;
}

std::string wkt_of(const OGRGeometry& geometry) {
    char* text = nullptr;
    std::string out;
    if (geometry.exportToWkt(&text, wkbVariantIso) == OGRERR_NONE && text != nullptr) {
        out = text;
    }
    CPLFree(text);
    return out;
}

/// A layer as the one sheet of a spreadsheet. Texts are stored as texts, so that none is run as a formula.
class SheetLayer final : public LayerSink {
public:
    SheetLayer(const fs::path& folder,
               const LayerPlan& plan,
               OutputFormat format,
               std::string shown)
        : LayerSink{plan},
          shape_{shape_of(plan.geometry)},
          table_{table_plan(plan_, shape_)},
          extension_{format == OutputFormat::xlsx ? ".xlsx" : ".ods"},
          path_{folder / (plan.name + extension_)},
          memory_{memory_name()},
          shown_{std::move(shown)},
          columns_{out_columns(table_, format)} {
        dataset_ = create_dataset(memory_, format, CPLStringList{}, shown_);
        file_.emplace(*dataset_, table_, columns_, format, CPLStringList{}, shown_);
    }

    ~SheetLayer() override { drop(); }
    SheetLayer(const SheetLayer&) = delete;
    SheetLayer& operator=(const SheetLayer&) = delete;
    SheetLayer(SheetLayer&&) = delete;
    SheetLayer& operator=(SheetLayer&&) = delete;

    void close() override {
        file_.reset();
        close_dataset(dataset_, shown_, plan_.name);
        if (count() > 0) {
            check_count(count(), count_features(memory_, shown_, plan_.name), shown_, plan_.name);
        }
        save();
    }
    void drop() noexcept override {
        const ErrorCollector quiet;
        file_.reset();
        dataset_.reset();
        VSIUnlink(memory_.c_str());
    }
    LayerSummary summary() const override {
        LayerSummary out = LayerSink::summary();
        out.files.push_back(file_name());
        return out;
    }
    const std::vector<OutColumn>& columns() const override { return columns_; }
    std::string file_name() const override { return plan_.name + extension_; }

protected:
    void write(const RowInput& input, OGRGeometryUniquePtr geometry) override {
        if (count() >= kMostRows) {
            throw DataError{shown_,
                            plan_.name,
                            "a spreadsheet holds 1,048,576 rows at most; choose another --format"};
        }
        cells_.assign(input.added.begin(), input.added.end());
        add_place(geometry.get());
        for (Cell& cell : cells_) {
            disarm(cell);
        }
        file_->write(table_, {input.rows, input.row, cells_}, nullptr, OGRNullFID);
    }

private:
    /// The drivers find no place in a folder whose name looks like that of an archive, and hold the whole sheet in
    /// memory in any case: it is made there.
    std::string memory_name() const {
        static std::atomic<int> serial{0};
        return "/vsimem/linewood-" + std::to_string(++serial) + "/" + plan_.name + extension_;
    }

    void save() {
        vsi_l_offset size = 0;
        const GByte* bytes = VSIGetMemFileBuffer(memory_.c_str(), &size, FALSE);
        std::ofstream out{path_, std::ios::binary | std::ios::trunc};
        if (bytes != nullptr) {
            out.write(reinterpret_cast<const char*>(bytes), static_cast<std::streamsize>(size));
        }
        out.close();
        if (bytes == nullptr || !out) {
            throw_write_error(shown_, "writing the end of the file", "");
        }
        VSIUnlink(memory_.c_str());
        save_crs();
    }

    /// As beside a CSV: a sheet does not say it itself.
    void save_crs() const {
        const SrsPtr srs =
            shape_ == Shape::none ? nullptr : srs_from_wkt(plan_.crs_wkt, "", plan_.name);
        char* wkt = nullptr;
        if (srs && srs->exportToWkt(&wkt) == OGRERR_NONE && wkt != nullptr) {
            std::ofstream out{fs::path{path_}.replace_extension(".prj"),
                              std::ios::binary | std::ios::trunc};
            out << wkt;
            out.close();
            if (!out) {
                CPLFree(wkt);
                throw_write_error(shown_, "writing the coordinate system", "");
            }
        }
        CPLFree(wkt);
    }

    void add_place(const OGRGeometry* geometry) {
        const bool point =
            geometry != nullptr && wkbFlatten(geometry->getGeometryType()) == wkbPoint;
        if (shape_ == Shape::wkt) {
            cells_.emplace_back();
            if (geometry != nullptr) {
                cells_.back().emplace<std::string>(wkt_of(*geometry));
            }
        } else if (shape_ == Shape::xy) {
            cells_.resize(cells_.size() + 2);
            if (point) {
                cells_.rbegin()[1].emplace<double>(geometry->toPoint()->getX());
                cells_.rbegin()[0].emplace<double>(geometry->toPoint()->getY());
            }
        }
    }

    /// The one text that the ODS driver would store as a formula.
    static void disarm(Cell& cell) {
        auto* text = std::get_if<std::string>(&cell);
        if (text != nullptr && text->rfind("of:=", 0) == 0) {
            text->insert(0, "'");
        }
    }

    Shape shape_;
    LayerPlan table_;
    std::string extension_;
    fs::path path_;
    std::string memory_;
    std::string shown_;
    std::vector<OutColumn> columns_;
    GDALDatasetUniquePtr dataset_;
    std::optional<OgrLayerFile> file_;
    std::vector<Cell> cells_;
};

}  // namespace

std::unique_ptr<LayerSink> make_sheet_layer(const fs::path& folder,
                                            const LayerPlan& plan,
                                            OutputFormat format,
                                            const std::string& shown) {
    return std::make_unique<SheetLayer>(folder, plan, format, shown);
}

}  // namespace linewood
