#include "geo/io/part_reader.h"

#include <algorithm>

#include "geo/io/batch_rows.h"
#include "geo/io/sheet_places.h"

namespace linewood {
namespace {

constexpr std::size_t kMostLayerDamage = 20;

}  // namespace

PartReader::PartReader(std::shared_ptr<SourcePool> pool, std::size_t entry, ReadOptions options)
    : pool_{std::move(pool)},
      entry_{entry},
      schema_{pool_->schema(entry)},
      options_{std::move(options)},
      loan_{pool_->borrow(entry)},
      geojson_{pool_->geojson(pool_->entry(entry).file, driver())},
      damage_{geojson_ != nullptr ? geojson_->rows : pool_->damage(pool_->entry(entry).file)} {
    options_.batch_size = std::max<std::size_t>(options_.batch_size, 1);
    if (options_.where.empty()) {
        ignore_unwanted();
    } else {
        options_.columnar = false;
        filter();
    }
    loan_.layer().ResetReading();
    // What a GeoPackage holds against its columns' types only the stream sees; Arrow makes 0 of it.
    if (options_.columnar) {
        open_stream();
    }
    if (options_.columnar && !stream_) {
        arrow_ = ArrowReader::open(loan_.dataset(), loan_.layer(), schema_, options_);
    }
    const std::string& file = pool_->entry(entry_).file;
    check_ = make_cut_text_check(pool_->cut_texts(file, driver()), schema_, options_);
    if (!check_) {
        check_ = make_row_check(
            loan_.dataset(), loan_.layer(), schema_, options_, pool_->read_path(file));
    }
}

PartReader::~PartReader() {
    if (!options_.where.empty()) {
        const ErrorCollector quiet;
        loan_.layer().SetAttributeFilter(nullptr);  // the handle goes back for others to use
    }
}

void PartReader::filter() {
    const ErrorCollector errors;
    loan_.layer().SetIgnoredFields(nullptr);
    if (loan_.layer().SetAttributeFilter(options_.where.c_str()) != OGRERR_NONE ||
        errors.failed()) {
        loan_.spoil();
        throw_gdal_error(pool_->entry(entry_).file,
                         schema_.name,
                         "the filter " + options_.where + " cannot be used",
                         errors);
    }
}

void PartReader::open_stream() {
    const std::string path = pool_->read_path(pool_->entry(entry_).file);
    stream_ = open_csv_stream(loan_.dataset(), path, schema_, options_);
    if (!stream_) {
        stream_ = open_gpkg_stream(loan_.dataset(), loan_.layer(), schema_, options_);
    }
}

void PartReader::read_stream(std::unique_ptr<BatchRows>& slot, ErrorCollector& errors) {
    const RowStream::State state = stream_->next(slot);
    ended_ = state == RowStream::State::end;
    if (state == RowStream::State::odd) {
        stream_.reset();
        go_on_by_features();
        fill(slot, errors);
    }
}

void PartReader::read_arrow(std::unique_ptr<BatchRows>& slot, ErrorCollector& errors) {
    ended_ = !arrow_->next(slot);
    const auto& rows = static_cast<const ArrowRows&>(*slot);
    slot->first_row = rows_read_;
    if (rows.has_doubtful_day() || (check_ && check_->cuts_text(rows))) {
        go_on_by_features();
        fill(slot, errors);
    }
}

std::string PartReader::driver() const { return driver_name(loan_.dataset()); }

bool PartReader::next(std::unique_ptr<BatchRows>& slot) {
    if (ended_) {
        return false;
    }
    const std::int64_t strays = stray_failures();
    ErrorCollector errors;
    if (stream_) {
        read_stream(slot, errors);
    } else if (arrow_) {
        read_arrow(slot, errors);
    } else {
        fill(slot, errors);
    }
    const auto got = static_cast<std::int64_t>(slot->size());
    if (arrow_ && !errors.failed()) {
        if (stray_failures() != strays) {
            CPLError(CE_Failure, CPLE_AppDefined, "%s", last_stray_failure().c_str());
        } else if (arrow_->code() != 0) {
            explain_by_features();
        }
    }
    if (errors.failed() && !take_as_damage(errors)) {
        fail(got, errors);
    }
    slot->first_row = rows_read_;
    add_damage(*slot);
    if (check_) {
        check_->check(*slot, rows_read_);
    }
    rows_read_ += got;
    if (ended_) {
        check_end();
    }
    return got > 0;
}

/// OGR ignores by name, without case: the first that is called so, or the geometry.
bool PartReader::can_be_ignored(std::size_t column) const {
    const auto& wanted = *options_.columns;
    const std::string& name = schema_.fields[column].name;
    return !same_name(name, "OGR_GEOMETRY") && !same_name(name, "OGR_STYLE") &&
           std::find(wanted.begin(), wanted.end(), column) == wanted.end() &&
           std::none_of(wanted.begin(), wanted.end(), [&](std::size_t other) {
               return same_name(schema_.fields[other].name, name);
           });
}

void PartReader::ignore_unwanted() {
    CPLStringList ignored;
    const auto places = sheet_places(driver(), schema_);
    if (options_.columns) {
        for (std::size_t i = 0; i < schema_.fields.size(); ++i) {
            if (!(places && places->has(i)) && can_be_ignored(i)) {
                ignored.AddString(schema_.fields[i].name.c_str());
            }
        }
    }
    if (!options_.geometry) {
        ignored.AddString("OGR_GEOMETRY");
    }
    ignored.AddString("OGR_STYLE");
    const ErrorCollector quiet;  // a driver that cannot leave columns out reads them all
    // NOLINTNEXTLINE(cppcoreguidelines-pro-type-const-cast): the C++ interface lacks a const
    loan_.layer().SetIgnoredFields(const_cast<const char**>(ignored.List()));
}

void PartReader::fill(std::unique_ptr<BatchRows>& slot, ErrorCollector& errors) {
    const bool gpkg = driver() == "GPKG";
    auto* rows = dynamic_cast<FeatureRows*>(slot.get());
    if (rows == nullptr) {
        slot = std::make_unique<FeatureRows>();
        rows = static_cast<FeatureRows*>(slot.get());
    }
    rows->clear();
    while (rows->features.size() < options_.batch_size) {
        OGRFeatureUniquePtr feature{loan_.layer().GetNextFeature()};
        if (!feature) {
            ended_ = true;
            break;
        }
        // OGR goes on after bytes that are no geometry; the row check says what they are.
        if (gpkg && errors.failed() && feature->GetGeometryRef() == nullptr) {
            errors.clear();
        }
        rows->features.push_back(std::move(feature));
    }
}

/// From the same place.
void PartReader::go_on_by_features() {
    arrow_.reset();
    ended_ = false;
    loan_.layer().ResetReading();
    loan_.layer().SetNextByIndex(rows_read_);
}

/// The stream failed without a word: the feature interface says what is wrong.
void PartReader::explain_by_features() {
    arrow_.reset();
    loan_.layer().ResetReading();
    bool more = true;
    while (more) {
        more = OGRFeatureUniquePtr{loan_.layer().GetNextFeature()} != nullptr;
    }
    if (CPLGetLastErrorType() < CE_Failure) {
        CPLError(CE_Failure, CPLE_AppDefined, "the file is corrupt");
    }
}

void PartReader::add_damage(BatchRows& rows) const {
    rows.damage.clear();
    if (!options_.where.empty()) {
        return;  // which rows these are is not known
    }
    const auto first = std::lower_bound(
        damage_.begin(), damage_.end(), rows_read_, [](const PlacedDamage& d, std::int64_t row) {
            return d.row < row;
        });
    const std::int64_t end = rows_read_ + static_cast<std::int64_t>(rows.size());
    for (auto it = first; it != damage_.end() && it->row < end; ++it) {
        rows.damage.push_back({it->row - rows_read_, it->damage});
    }
}

/// GDAL goes on after what it cannot make anything of in GeoJSON, with words that name no feature; the scan of the file
/// does.
bool PartReader::take_as_damage(const ErrorCollector& errors) {
    const std::string name = driver();
    if (name != "GeoJSON" && name != "GeoJSONSeq") {
        return false;
    }
    const bool known = geojson_ != nullptr && !(geojson_->rows.empty() && geojson_->lost.empty());
    if (!known && layer_damage_.size() < kMostLayerDamage) {
        layer_damage_.push_back({DamageKind::geometry, "geometry", errors.message()});
    }
    return true;
}

void PartReader::fail(std::int64_t got, const ErrorCollector& errors) {
    loan_.spoil();
    const std::int64_t good = rows_read_ + (options_.columnar ? 0 : got);
    throw_gdal_error(pool_->entry(entry_).file,
                     schema_.name,
                     "reading after feature " + std::to_string(good),
                     errors);
}

/// Where a file states how many features it has, fewer mean that its end is missing.
void PartReader::check_end() {
    if (!options_.where.empty()) {
        return;
    }
    const std::string name = driver();
    if ((name == "FlatGeobuf" || name == "GeoJSON") && schema_.feature_count > rows_read_) {
        loan_.spoil();
        throw DataError{pool_->entry(entry_).file,
                        schema_.name,
                        "the file ends too early: " + std::to_string(rows_read_) + " of " +
                            std::to_string(schema_.feature_count) +
                            " features are there; restore it from a copy"};
    }
    if (geojson_ != nullptr) {
        check_geojson();
    }
}

/// GDAL leaves out what is no feature, or ends at it.
void PartReader::check_geojson() {
    if (geojson_->features > rows_read_) {
        loan_.spoil();
        throw DataError{pool_->entry(entry_).file,
                        schema_.name,
                        "reading ended after " + std::to_string(rows_read_) + " features, with " +
                            std::to_string(geojson_->features - rows_read_) + " left" +
                            (geojson_->lost.empty() ? "" : "; " + geojson_->lost.front().value) +
                            "; mend the file, or remove that line"};
    }
    layer_damage_.insert(layer_damage_.end(), geojson_->lost.begin(), geojson_->lost.end());
}

}  // namespace linewood
