#include "geo/io/output_dataset.hpp"

#include <algorithm>
#include <cassert>

#include "geo/io/csv_table.h"
#include "geo/io/gpkg_file.h"
#include "geo/io/output_place.hpp"
#include "geo/io/source_pool.h"
#include "geo/io/vector_layers.h"

namespace linewood {

namespace fs = std::filesystem;

const char* name_of(OutputFormat format) {
    switch (format) {
        case OutputFormat::geopackage:
            return "geopackage";
        case OutputFormat::flatgeobuf:
            return "flatgeobuf";
        case OutputFormat::geojson:
            return "geojson";
        case OutputFormat::shapefile:
            return "shapefile";
        case OutputFormat::csv:
            return "csv";
    }
    return "";
}

std::optional<OutputFormat> output_format_named(std::string_view name) {
    for (const OutputFormat format : {OutputFormat::geopackage,
                                      OutputFormat::flatgeobuf,
                                      OutputFormat::geojson,
                                      OutputFormat::shapefile,
                                      OutputFormat::csv}) {
        if (same_name(name, name_of(format))) {
            return format;
        }
    }
    constexpr std::pair<std::string_view, OutputFormat> kShort[] = {
        {"gpkg", OutputFormat::geopackage},
        {"fgb", OutputFormat::flatgeobuf},
        {"json", OutputFormat::geojson},
        {"shp", OutputFormat::shapefile}};
    for (const auto& [word, format] : kShort) {
        if (same_name(name, word)) {
            return format;
        }
    }
    return std::nullopt;
}

std::optional<OutputFormat> output_format_of_path(const fs::path& path) {
    return same_name(path.extension().string(), ".gpkg") ? std::optional{OutputFormat::geopackage}
                                                         : std::nullopt;
}

class OutputDataset::Impl {
public:
    Impl(const fs::path& path, OutputFormat format, OutputOptions options)
        : format_{format},
          options_{std::move(options)},
          shown_{path.string()},
          place_{path,
                 format == OutputFormat::geopackage ? OutputPlace::Form::file
                                                    : OutputPlace::Form::folder,
                 options_.overwrite,
                 place_notes_} {
        start_gdal();
        if (format_ == OutputFormat::geopackage) {
            geopackage_.emplace(place_.work(), shown_, options_.last_change);
        }
    }
    ~Impl() { abort(); }
    Impl(const Impl&) = delete;
    Impl& operator=(const Impl&) = delete;
    Impl(Impl&&) = delete;
    Impl& operator=(Impl&&) = delete;

    LayerWriter& add_layer(const LayerPlan& plan) {
        assert(!ended_);
        layers_.push_back(make_layer(plan));
        return *layers_.back();
    }

    OutputSummary finish() {
        assert(!ended_);
        try {
            OutputSummary summary = close_all();
            place_.publish();
            ended_ = true;
            return summary;
        } catch (...) {
            abort();
            throw;
        }
    }

    void abort() noexcept {
        if (ended_) {
            return;
        }
        ended_ = true;
        for (const auto& layer : layers_) {
            layer->drop();
        }
        if (geopackage_) {
            geopackage_->drop();
        }
        place_.discard();
    }

private:
    std::unique_ptr<LayerSink> make_layer(const LayerPlan& plan) {
        const fs::path& folder = place_.work();
        if (format_ == OutputFormat::geopackage) {
            for (const auto& layer : layers_) {
                layer->pause();
            }
            return make_gpkg_layer(*geopackage_, plan, options_);
        }
        if (format_ == OutputFormat::csv || plan.geometry.kind == GeometryKind::none) {
            return make_csv_layer(folder, plan, format_ == OutputFormat::csv);
        }
        if (format_ == OutputFormat::flatgeobuf) {
            return make_flatgeobuf_layer(folder, plan, options_, shown_);
        }
        if (format_ == OutputFormat::geojson) {
            return make_geojson_layer(folder, plan, shown_);
        }
        return make_shapefile_layer(folder, plan, shown_);
    }

    OutputSummary close_all() {
        OutputSummary summary;
        for (const std::string& note : place_notes_) {
            summary.notes.push_back({"", "", note});
        }
        for (const auto& layer : layers_) {
            layer->complete();
            summary.layers.push_back(layer->summary());
            layer->add_notes(summary.notes);
        }
        if (format_ == OutputFormat::geopackage) {
            close_geopackage();
        } else {
            write_field_list();
        }
        return summary;
    }

    void close_geopackage() {
        for (const auto& layer : layers_) {
            layer->drop();
        }
        geopackage_->finish();
        ErrorCollector errors;
        const GDALDatasetUniquePtr again{GDALDataset::Open(
            place_.work().c_str(), GDAL_OF_VECTOR | GDAL_OF_READONLY | GDAL_OF_VERBOSE_ERROR)};
        if (!again) {
            throw_gdal_error(shown_, "", "opening the finished file", errors);
        }
        for (const auto& layer : layers_) {
            const std::string& name = layer->plan().name;
            OGRLayer* result = again->ExecuteSQL(
                ("SELECT COUNT(*) FROM " + quoted_name(name)).c_str(), nullptr, nullptr);
            if (result == nullptr) {
                throw_gdal_error(shown_, name, "counting the rows", errors);
            }
            std::int64_t counted = -1;
            if (const OGRFeatureUniquePtr row{result->GetNextFeature()}) {
                counted = row->GetFieldAsInteger64(0);
            }
            again->ReleaseResultSet(result);
            check_count(layer->count(), counted, shown_, name);
        }
    }

    /// Units and meanings for formats that cannot hold them.
    void write_field_list() const {
        const std::vector<std::string> header{
            "layer", "file", "column", "field", "type", "unit", "meaning"};
        CsvWriter list{place_.work() / "fields.csv", header};
        for (const auto& layer : layers_) {
            for (const OutColumn& column : layer->columns()) {
                const std::string row[] = {layer->plan().name,
                                           layer->file_name(),
                                           column.field.name,
                                           column.full_name,
                                           name_of(column.field.type),
                                           column.field.unit,
                                           column.field.meaning};
                for (const std::string& text : row) {
                    list.value(text.empty() ? Cell{} : Cell{text});
                }
                list.end_row();
            }
        }
        list.finish();
    }

    OutputFormat format_;
    OutputOptions options_;
    std::string shown_;
    std::vector<std::string> place_notes_;
    OutputPlace place_;
    std::optional<GpkgFile> geopackage_;
    std::vector<std::unique_ptr<LayerSink>> layers_;
    bool ended_ = false;
};

OutputDataset OutputDataset::create(const fs::path& path,
                                    OutputFormat format,
                                    OutputOptions options) {
    return OutputDataset{std::make_unique<Impl>(path, format, std::move(options))};
}

OutputDataset::OutputDataset(std::unique_ptr<Impl> impl) : impl_{std::move(impl)} {}
OutputDataset::~OutputDataset() = default;
OutputDataset::OutputDataset(OutputDataset&&) noexcept = default;
OutputDataset& OutputDataset::operator=(OutputDataset&&) noexcept = default;

LayerWriter& OutputDataset::add_layer(const LayerPlan& plan) { return impl_->add_layer(plan); }
OutputSummary OutputDataset::finish() { return impl_->finish(); }

void OutputDataset::abort() noexcept {
    if (impl_) {
        impl_->abort();
    }
}

}  // namespace linewood
