#include "geo/io/csv_table.h"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <optional>

#include <cpl_conv.h>

#include "geo/io/ogr_file.h"
#include "geo/io/place_names.h"

namespace linewood {
namespace {

std::vector<std::string> header_of(const std::vector<OutColumn>& columns,
                                   CsvTable::Shape shape,
                                   const std::string& crs_wkt) {
    std::vector<std::string> header;
    header.reserve(columns.size() + 2);
    for (const OutColumn& column : columns) {
        header.push_back(column.field.name);
    }
    std::vector<std::string> places;
    if (shape == CsvTable::Shape::wkt) {
        places = free_place_names({"wkt"}, header);
    } else if (shape == CsvTable::Shape::xy) {
        const SrsPtr srs = srs_from_wkt(crs_wkt, "", "");
        const bool degrees = srs && srs->IsGeographic() != 0;
        places = free_place_names({degrees ? "lon" : "x", degrees ? "lat" : "y"}, header);
    }
    header.insert(header.end(), places.begin(), places.end());
    return header;
}

class CsvLayer final : public LayerSink {
public:
    CsvLayer(const std::filesystem::path& folder, const LayerPlan& plan, bool with_shape)
        : LayerSink{plan},
          folder_{folder},
          typed_{with_shape},
          points_only_{shape_for(plan, with_shape) == CsvTable::Shape::xy} {
        table_.emplace(folder / file_name(), plan_, shape_for(plan, with_shape));
    }

    void close() override {
        table_->finish();
        write_types();
        if (other_) {
            other_->finish();
        }
    }
    void drop() noexcept override {
        table_.reset();
        other_.reset();
    }
    LayerSummary summary() const override {
        LayerSummary out = LayerSink::summary();
        out.files.push_back(file_name());
        if (other_) {
            out.files.push_back(other_name());
        }
        return out;
    }
    void add_notes(std::vector<OutputNote>& notes) const override {
        LayerSink::add_notes(notes);
        if (other_) {
            add_loss_notes(plan_.name, other_->columns(), notes);
            notes.push_back({plan_.name,
                             "",
                             std::to_string(other_->rows()) +
                                 " rows whose geometry is not one point are in " + other_name()});
        }
    }
    const std::vector<OutColumn>& columns() const override { return table_->columns(); }
    std::string file_name() const override { return plan_.name + ".csv"; }

protected:
    void write(const RowInput& input, OGRGeometryUniquePtr geometry) override {
        if (points_only_ && geometry && geometry->getGeometryType() != wkbPoint) {
            if (!other_) {
                other_.emplace(folder_ / other_name(), plan_, CsvTable::Shape::wkt);
            }
            other_->write(plan_, input, geometry.get());
            return;
        }
        table_->write(plan_, input, geometry.get());
    }

private:
    static CsvTable::Shape shape_for(const LayerPlan& plan, bool with_shape) {
        if (!with_shape || plan.geometry.kind == GeometryKind::none) {
            return CsvTable::Shape::none;
        }
        return plan.geometry.kind == GeometryKind::point && !plan.geometry.multi &&
                       !plan.geometry.has_z
                   ? CsvTable::Shape::xy
                   : CsvTable::Shape::wkt;
    }

    /// What a CSV does not say itself: the types of its columns, and its coordinate system.
    void write_types() const {
        if (!typed_) {
            return;
        }
        write_beside(".csvt", csvt_of(table_->columns(), table_->shape()) + "\r\n");
        const SrsPtr srs = plan_.geometry.kind == GeometryKind::none
                               ? nullptr
                               : srs_from_wkt(plan_.crs_wkt, "", plan_.name);
        char* wkt = nullptr;
        if (srs && srs->exportToWkt(&wkt) == OGRERR_NONE && wkt != nullptr) {
            write_beside(".prj", wkt);
        }
        CPLFree(wkt);
    }

    void write_beside(const char* kind, const std::string& text) const {
        const std::filesystem::path path = folder_ / (plan_.name + kind);
        std::ofstream out{path, std::ios::binary | std::ios::trunc};
        out << text;
        out.close();
        if (!out) {
            throw DataError{
                path.string(), "", "it cannot be written; free some space or choose another place"};
        }
    }

    std::string other_name() const { return plan_.name + "_othergeom.csv"; }

    std::filesystem::path folder_;
    bool typed_;
    std::optional<CsvTable> table_;
    std::optional<CsvTable> other_;
    bool points_only_ = false;
};

}  // namespace

CsvTable::CsvTable(const std::filesystem::path& path, const LayerPlan& plan, Shape shape)
    : columns_{out_columns(plan, OutputFormat::csv)},
      shape_{shape},
      writer_{path, header_of(columns_, shape, plan.crs_wkt)} {}

void CsvTable::put(OutColumn& column, const RawValue& value) {
    if (value.null || !fits(column, value)) {
        column.refused += value.null ? 0 : 1;
        writer_.null();
        return;
    }
    std::string scratch;
    if (value.type == FieldType::text || value.type == FieldType::list) {
        writer_.text(stored_text(column, value.bytes, scratch));
    } else if (column.storage == Storage::boolean) {
        writer_.raw(value.integer == 0   ? "false"
                    : value.integer == 1 ? "true"
                                         : number_text(value.integer));
    } else {
        writer_.raw(text_of(value, scratch));
    }
}

void CsvTable::put_geometry(const OGRGeometry* geometry) {
    if (shape_ == Shape::none) {
        return;
    }
    if (shape_ == Shape::xy) {
        if (geometry == nullptr) {
            writer_.null();
            writer_.null();
        } else {
            const OGRPoint& p = *geometry->toPoint();
            writer_.raw(number_text(p.getX()));
            writer_.raw(number_text(p.getY()));
        }
        return;
    }
    if (geometry == nullptr) {
        writer_.null();
        return;
    }
    char* wkt = nullptr;
    if (geometry->exportToWkt(&wkt, wkbVariantIso) == OGRERR_NONE && wkt != nullptr) {
        writer_.text(wkt);
    } else {
        writer_.null();
    }
    CPLFree(wkt);
}

void CsvTable::write(const LayerPlan& plan, const RowInput& input, const OGRGeometry* geometry) {
    for_each_value(plan, input, value_, [&](std::size_t i, const RawValue& value) {
        put(columns_[i], value);
    });
    put_geometry(geometry);
    writer_.end_row();
}

std::string csvt_of(const std::vector<OutColumn>& columns, CsvTable::Shape shape) {
    std::string out;
    const auto add = [&](std::string_view type) {
        out += (out.empty() ? "\"" : ",\"") + std::string{type} + "\"";
    };
    for (const OutColumn& column : columns) {
        switch (column.storage) {
            case Storage::integer:
                add("Integer");
                break;
            case Storage::integer64:
                add("Integer64");
                break;
            case Storage::real:
                add("Real");
                break;
            case Storage::boolean:
                add("String");  // `true` and `false`, as every reader understands them
                break;
            default:
                add(column.field.type == FieldType::date ? "Date" : "String");
                break;
        }
    }
    if (shape == CsvTable::Shape::wkt) {
        add("WKT");
    } else if (shape == CsvTable::Shape::xy) {
        add("CoordX");
        add("CoordY");
    }
    return out;
}

std::unique_ptr<LayerSink> make_csv_layer(const std::filesystem::path& folder,
                                          const LayerPlan& plan,
                                          bool with_shape) {
    return std::make_unique<CsvLayer>(folder, plan, with_shape);
}

}  // namespace linewood
