#include "geo/io/sheet_places.h"

#include <array>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <utility>
#include <vector>

#include "geo/io/ogr_file.h"
#include "geo/io/value_text.hpp"

namespace linewood {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kShown = 400;

class SheetPlaceCheck final : public RowCheck {
public:
    SheetPlaceCheck(PlaceColumns places,
                    const LayerSchema& schema,
                    std::unique_ptr<RowCheck> others)
        : places_{places},
          others_{std::move(others)},
          names_{schema.fields[places.x].name, schema.fields[places.y].name} {}

    void check(BatchRows& rows, std::int64_t first_row) override {
        if (others_) {
            others_->check(rows, first_row);
        }
        auto* features = dynamic_cast<FeatureRows*>(&rows);
        if (features == nullptr) {
            return;
        }
        features->places.clear();
        features->places.resize(features->size());
        for (std::size_t row = 0; row < features->size(); ++row) {
            features->places[row] = places_.shape ? shape(*features, row) : point(*features, row);
        }
    }

private:
    void add_damage(FeatureRows& rows, std::size_t row, const std::string& name) {
        rows.damage.push_back({static_cast<std::int64_t>(row),
                               {DamageKind::geometry,
                                name,
                                std::string{text_of(value_, scratch_).substr(0, kShown)}}});
    }

    std::optional<double> coordinate(FeatureRows& rows,
                                     std::size_t row,
                                     std::size_t column,
                                     const std::string& name) {
        rows.get(row, column, value_);
        if (value_.null) {
            return std::nullopt;
        }
        const auto number = parse_number(text_of(value_, scratch_));
        if (number.status == ValueStatus::unreadable || number.status == ValueStatus::not_finite) {
            add_damage(rows, row, name);
        }
        return number.value;
    }

    OGRGeometryUniquePtr point(FeatureRows& rows, std::size_t row) {
        const auto x = coordinate(rows, row, places_.x, names_[0]);
        const auto y = coordinate(rows, row, places_.y, names_[1]);
        return OGRGeometryUniquePtr{x && y ? new OGRPoint{*x, *y} : nullptr};
    }

    OGRGeometryUniquePtr shape(FeatureRows& rows, std::size_t row) {
        rows.get(row, places_.x, value_);
        const std::string text{value_.null ? std::string_view{} : text_of(value_, scratch_)};
        if (text.find_first_not_of(' ') == std::string::npos) {
            return nullptr;
        }
        OGRGeometryUniquePtr geometry = shape_of_text(text);
        if (!geometry) {
            add_damage(rows, row, names_[0]);
        }
        return geometry;
    }

    PlaceColumns places_;
    std::unique_ptr<RowCheck> others_;
    std::array<std::string, 2> names_;
    RawValue value_;
    std::string scratch_;
};

}  // namespace

bool is_sheet_driver(std::string_view driver) {
    return driver == "XLSX" || driver == "ODS" || driver == "XLS";
}

std::optional<PlaceColumns> sheet_places(const std::string& driver, const LayerSchema& schema) {
    if (!is_sheet_driver(driver) && driver != "CSV") {
        return std::nullopt;
    }
    std::vector<std::string> names;
    for (const Field& field : schema.fields) {
        names.push_back(field.name);
    }
    const auto places = place_columns(names);
    const bool ours = places && (driver != "CSV" || ogr_takes_another(names, *places));
    return ours ? places : std::nullopt;
}

std::string sheet_prj(const std::string& file) {
    for (const char* const kind : {".prj", ".PRJ"}) {
        std::error_code error;
        const fs::path prj = fs::path{file}.replace_extension(kind);
        if (fs::is_regular_file(prj, error)) {
            return prj.string();
        }
    }
    return {};
}

void add_sheet_places(const std::string& driver, const std::string& file, LayerSchema& schema) {
    const auto places = sheet_places(driver, schema);
    if (!places) {
        return;
    }
    schema.geometry = {};
    schema.geometry.kind = places->shape ? GeometryKind::mixed : GeometryKind::point;
    const std::string prj = sheet_prj(file);
    if (prj.empty() || !schema.crs_wkt.empty()) {
        return;
    }
    std::ifstream in{prj, std::ios::binary};
    const std::string text{std::istreambuf_iterator<char>{in}, {}};
    const SrsPtr srs = srs_from_wkt(text, prj, "");
    schema.crs_wkt = crs_wkt_of(srs.get());
}

std::unique_ptr<RowCheck> make_sheet_place_check(PlaceColumns places,
                                                 const LayerSchema& schema,
                                                 std::unique_ptr<RowCheck> others) {
    return std::make_unique<SheetPlaceCheck>(places, schema, std::move(others));
}

}  // namespace linewood
