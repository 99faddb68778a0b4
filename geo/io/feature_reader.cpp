#include "geo/io/feature_reader.hpp"

#include <algorithm>

#include "geo/io/arrow_reader.h"
#include "geo/io/batch_rows.h"
#include "geo/io/row_stream.h"
#include "geo/io/source_pool.h"

namespace linewood {

class FeatureReader::Impl {
public:
    Impl(const Source& source, std::string_view layer, ReadOptions options)
        : pool_{source.pool()},
          index_{pool_->find(layer)},
          schema_{pool_->schema(index_)},
          options_{std::move(options)},
          loan_{pool_->borrow(index_)} {
        options_.batch_size = std::max<std::size_t>(options_.batch_size, 1);
        if (options_.where.empty()) {
            ignore_unwanted();
        } else {
            options_.columnar = false;
            filter();
        }
        loan_.layer().ResetReading();
        if (options_.columnar) {
            arrow_ = ArrowReader::open(loan_.dataset(), loan_.layer(), schema_, options_);
        }
        if (options_.columnar && !arrow_) {
            open_stream();
        }
    }

    ~Impl() {
        if (!options_.where.empty()) {
            const ErrorCollector quiet;
            loan_.layer().SetAttributeFilter(nullptr);  // the handle goes back for others to use
        }
    }
    Impl(const Impl&) = delete;
    Impl& operator=(const Impl&) = delete;
    Impl(Impl&&) = delete;
    Impl& operator=(Impl&&) = delete;

    bool next(FeatureBatch& batch) {
        std::unique_ptr<BatchRows>& slot = batch.rows_slot();
        if (ended_) {
            slot.reset();
            return false;
        }
        const std::int64_t strays = stray_failures();
        ErrorCollector errors;
        if (stream_) {
            read_stream(slot);
        } else if (arrow_) {
            ended_ = !arrow_->next(slot);
            if (static_cast<const ArrowRows&>(*slot).has_doubtful_day()) {
                go_on_by_features();
                fill(slot);
            }
        } else {
            fill(slot);
        }
        const auto got = static_cast<std::int64_t>(slot->size());
        if (arrow_ && !errors.failed()) {
            if (stray_failures() != strays) {
                CPLError(CE_Failure, CPLE_AppDefined, "%s", last_stray_failure().c_str());
            } else if (arrow_->code() != 0) {
                explain_by_features();
            }
        }
        if (errors.failed()) {
            fail(got, errors);
        }
        if (ended_) {
            check_count(rows_read_ + got);
        }
        slot->first_row = rows_read_;
        rows_read_ += got;
        return got > 0;
    }

    const LayerSchema& schema() const { return schema_; }
    std::int64_t rows_read() const { return rows_read_; }

private:
    void open_stream() {
        stream_ = open_csv_stream(loan_.dataset(), pool_->entry(index_).file, schema_, options_);
        if (!stream_) {
            stream_ = open_gpkg_stream(loan_.dataset(), loan_.layer(), schema_, options_);
        }
    }

    void read_stream(std::unique_ptr<BatchRows>& slot) {
        const RowStream::State state = stream_->next(slot);
        ended_ = state == RowStream::State::end;
        if (state == RowStream::State::odd) {
            stream_.reset();
            go_on_by_features();
            fill(slot);
        }
    }

    void ignore_unwanted() {
        CPLStringList ignored;
        if (options_.columns) {
            for (std::size_t i = 0; i < schema_.fields.size(); ++i) {
                const auto& wanted = *options_.columns;
                if (std::find(wanted.begin(), wanted.end(), i) == wanted.end()) {
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

    void filter() {
        const ErrorCollector errors;
        loan_.layer().SetIgnoredFields(nullptr);
        if (loan_.layer().SetAttributeFilter(options_.where.c_str()) != OGRERR_NONE ||
            errors.failed()) {
            loan_.spoil();
            throw_gdal_error(pool_->entry(index_).file,
                             schema_.name,
                             "the filter " + options_.where + " cannot be used",
                             errors);
        }
    }

    void fill(std::unique_ptr<BatchRows>& slot) {
        auto* rows = dynamic_cast<FeatureRows*>(slot.get());
        if (rows == nullptr) {
            slot = std::make_unique<FeatureRows>();
            rows = static_cast<FeatureRows*>(slot.get());
        }
        rows->features.clear();
        while (rows->features.size() < options_.batch_size) {
            OGRFeatureUniquePtr feature{loan_.layer().GetNextFeature()};
            if (!feature) {
                ended_ = true;
                break;
            }
            rows->features.push_back(std::move(feature));
        }
    }

    /// From the same place.
    void go_on_by_features() {
        arrow_.reset();
        ended_ = false;
        loan_.layer().ResetReading();
        loan_.layer().SetNextByIndex(rows_read_);
    }

    /// The stream failed without a word: the feature interface says what is wrong.
    void explain_by_features() {
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

    [[noreturn]] void fail(std::int64_t got, const ErrorCollector& errors) {
        loan_.spoil();
        const std::int64_t good = rows_read_ + (options_.columnar ? 0 : got);
        throw_gdal_error(pool_->entry(index_).file,
                         schema_.name,
                         "reading after feature " + std::to_string(good),
                         errors);
    }

    /// A FlatGeobuf or Shapefile states how many features it has; fewer mean that its end is missing.
    void check_count(std::int64_t read) {
        const GDALDriver* driver = loan_.dataset().GetDriver();
        const std::string name = driver == nullptr ? "" : driver->GetDescription();
        if (name == "FlatGeobuf" && options_.where.empty() && schema_.feature_count > read) {
            loan_.spoil();
            throw DataError{pool_->entry(index_).file,
                            schema_.name,
                            "the file ends too early: " + std::to_string(read) + " of " +
                                std::to_string(schema_.feature_count) +
                                " features are there; restore it from a copy"};
        }
    }

    std::shared_ptr<SourcePool> pool_;
    std::size_t index_;
    const LayerSchema& schema_;
    ReadOptions options_;
    LayerLoan loan_;
    std::unique_ptr<ArrowReader> arrow_;  // ends before the loan
    std::unique_ptr<RowStream> stream_;   // likewise
    std::int64_t rows_read_ = 0;
    bool ended_ = false;
};

FeatureReader::FeatureReader(const Source& source, std::string_view layer, ReadOptions options)
    : impl_{std::make_unique<Impl>(source, layer, std::move(options))} {}
FeatureReader::~FeatureReader() = default;
FeatureReader::FeatureReader(FeatureReader&&) noexcept = default;
FeatureReader& FeatureReader::operator=(FeatureReader&&) noexcept = default;

bool FeatureReader::next(FeatureBatch& batch) { return impl_->next(batch); }
const LayerSchema& FeatureReader::schema() const { return impl_->schema(); }
std::int64_t FeatureReader::rows_read() const { return impl_->rows_read(); }

}  // namespace linewood
