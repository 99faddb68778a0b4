#include "geo/io/output_dataset.hpp"

#include <algorithm>
#include <cassert>
#include <fstream>

#include "geo/io/csv_table.h"
#include "geo/io/field_dictionary.hpp"
#include "geo/io/gpkg_file.h"
#include "geo/io/gpkg_notes.h"
#include "geo/io/gpkg_styles.h"
#include "geo/io/grid_turn.hpp"
#include "geo/io/output_place.hpp"
#include "geo/io/pg_file.h"
#include "geo/io/shapefile_size.h"
#include "geo/io/source_lock.h"
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
        case OutputFormat::geojsonl:
            return "geojsonl";
        case OutputFormat::gml:
            return "gml";
        case OutputFormat::kml:
            return "kml";
        case OutputFormat::xlsx:
            return "xlsx";
        case OutputFormat::ods:
            return "ods";
        case OutputFormat::postgis:
            return "postgis";
    }
    return "";
}

std::optional<OutputFormat> output_format_named(std::string_view name) {
    using F = OutputFormat;
    for (const F format : {F::geopackage,
                           F::flatgeobuf,
                           F::geojson,
                           F::geojsonl,
                           F::shapefile,
                           F::csv,
                           F::gml,
                           F::kml,
                           F::xlsx,
                           F::ods,
                           F::postgis}) {
        if (same_name(name, name_of(format))) {
            return format;
        }
    }
    constexpr std::pair<std::string_view, OutputFormat> kShort[] = {
        {"gpkg", OutputFormat::geopackage},
        {"fgb", OutputFormat::flatgeobuf},
        {"json", OutputFormat::geojson},
        {"geojsonseq", OutputFormat::geojsonl},
        {"postgresql", OutputFormat::postgis},
        {"shp", OutputFormat::shapefile}};
    for (const auto& [word, format] : kShort) {
        if (same_name(name, word)) {
            return format;
        }
    }
    return std::nullopt;
}

std::optional<OutputFormat> output_format_of_path(const fs::path& path) {
    const std::string name = path.string();
    for (const std::string_view begin : {"PG:", "postgresql:", "postgres:"}) {
        if (name.rfind(begin, 0) == 0) {
            return OutputFormat::postgis;
        }
    }
    return path.extension().string().size() == 5 && same_name(path.extension().string(), ".gpkg")
               ? std::optional{OutputFormat::geopackage}
               : std::nullopt;
}

bool is_known_crs(const std::string& text) {
    start_gdal();
    const ErrorCollector quiet;
    OGRSpatialReference srs;
    return srs.SetFromUserInput(text.c_str()) == OGRERR_NONE && srs.IsGeocentric() == 0;
}

namespace {

constexpr const char* kDegrees = "EPSG:4326";

/// Formats that know longitude and latitude on WGS 84 only.
bool is_in_degrees(OutputFormat format) {
    return format == OutputFormat::geojsonl || format == OutputFormat::kml;
}

/// The system that coordinates are written in; empty: the layer's own.
std::string system_written(OutputFormat format, const std::string& asked) {
    const bool standard = format == OutputFormat::geojson && asked.empty();
    return is_in_degrees(format) || standard ? kDegrees : asked;
}

/// From one system to another; null where they are the same.
std::unique_ptr<OGRCoordinateTransformation> transformation(const std::string& from,
                                                            const std::string& to,
                                                            const std::string& shown,
                                                            const std::string& layer) {
    const SrsPtr before = srs_from_wkt(from, shown, layer);
    const SrsPtr after = srs_from_wkt(to, shown, layer);
    if (before->IsSame(after.get()) != 0) {
        return nullptr;
    }
    ErrorCollector errors;
    std::unique_ptr<OGRCoordinateTransformation> way{
        OGRCreateCoordinateTransformation(before.get(), after.get())};
    if (!way) {
        throw_gdal_error(shown, layer, "finding the way to the coordinate system " + to, errors);
    }
    return way;
}

}  // namespace

bool turns_grid(OutputFormat format, const std::string& asked, const std::string& wkt) {
    const std::string wanted = system_written(format, asked);
    if (wanted.empty() || wkt.empty()) {
        return false;
    }
    const SrsPtr before = srs_from_wkt(wkt, "", "");
    const SrsPtr after = srs_from_wkt(wanted, "", "");
    return before->IsSame(after.get()) == 0 &&
           !(before->IsGeographic() != 0 && after->IsGeographic() != 0);
}

class OutputDataset::Impl {
public:
    Impl(const fs::path& path, OutputFormat format, OutputOptions options)
        : format_{format}, options_{std::move(options)}, shown_{shown_dataset(path.string())} {
        start_gdal();
        if (format_ == OutputFormat::postgis) {
            database_.emplace(path.string(), options_);
            return;
        }
        if (options_.in_place) {
            lock_.emplace(path);
        }
        place_.emplace(path,
                       format == OutputFormat::geopackage ? OutputPlace::Form::file
                                                          : OutputPlace::Form::folder,
                       options_.overwrite || options_.in_place,
                       place_notes_);
        if (options_.in_place) {
            lock_->copy_to(place_->work());
            geopackage_.emplace(GpkgFile::of_copy(place_->work(), shown_, options_.last_change));
            remove_own_layers();
        } else if (format_ == OutputFormat::geopackage) {
            geopackage_.emplace(place_->work(), shown_, options_.last_change);
        }
    }
    ~Impl() { abort(); }
    Impl(const Impl&) = delete;
    Impl& operator=(const Impl&) = delete;
    Impl(Impl&&) = delete;
    Impl& operator=(Impl&&) = delete;

    LayerWriter& add_layer(const LayerPlan& plan) {
        assert(!ended_);
        layers_.push_back(make_brought_over(plan));
        return *layers_.back();
    }

    void relate(LayerRelation relation) { relations_.push_back(std::move(relation)); }
    void describe(std::string record) { record_ = std::move(record); }

    OutputSummary finish() {
        assert(!ended_);
        try {
            OutputSummary summary = close_all();
            publish();
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
        if (database_) {
            database_->drop();
        }
        if (place_) {
            place_->discard();
        }
    }

private:
    void publish() {
        if (database_) {
            database_->finish();
            return;
        }
        if (lock_) {
            lock_->check_unchanged();
        }
        place_->publish();
    }

    /// Layers of an earlier run in the copy of a dataset; what else is called so is not the tool's to remove.
    void remove_own_layers() {
        ErrorCollector errors;
        GDALDataset& dataset = geopackage_->dataset();
        for (const std::string& own : options_.own_layers) {
            for (int i = 0; i < dataset.GetLayerCount(); ++i) {
                if (own == dataset.GetLayer(i)->GetName()) {
                    dataset.DeleteLayer(i);
                    break;
                }
            }
        }
        if (errors.failed()) {
            throw_gdal_error(shown_, "", "removing the layers of the earlier run", errors);
        }
    }

    bool is_plane(const LayerPlan& plan) const {
        const SrsPtr stated = srs_from_wkt(plan.crs_wkt, shown_, plan.name);
        return plan.geometry.kind != GeometryKind::none && (!stated || stated->IsLocal() != 0);
    }

    /// Coordinates of a plane would be read as degrees, and there is no way from it to a system on the Earth.
    void refuse_plane(const LayerPlan& plan) const {
        if (!options_.crs.empty() && is_plane(plan)) {
            throw DataError{shown_,
                            plan.name,
                            "this layer has no coordinate system with a place on the Earth, so it "
                            "cannot be brought into " +
                                options_.crs +
                                "; state its system in the input, or leave --crs away"};
        }
        const bool degrees = is_in_degrees(format_) || format_ == OutputFormat::geojson;
        if (degrees && is_plane(plan)) {
            throw DataError{
                shown_,
                plan.name,
                std::string{name_of(format_)} +
                    " knows longitude and latitude on WGS 84 only, and this layer has no "
                    "coordinate system with a place on the Earth; state its system in "
                    "the input, or take --format flatgeobuf, shapefile or csv, or an --out that "
                    "ends in .gpkg"};
        }
    }

    /// The layer in the coordinate system asked for.
    std::unique_ptr<LayerSink> make_brought_over(const LayerPlan& plan) {
        // GeoJSON is brought over to degrees by its layer; in another system it names that.
        const std::string wanted = is_in_degrees(format_) ? kDegrees : options_.crs;
        if (!plan.in_place && !plan.untouched) {
            refuse_plane(plan);
        }
        if (wanted.empty() || plan.geometry.kind == GeometryKind::none || plan.crs_wkt.empty() ||
            plan.in_place || plan.untouched) {
            return make_layer(plan);
        }
        LayerPlan other = plan;
        other.crs_wkt = wanted;
        auto layer = make_layer(other);
        layer->set_transformation(transformation(plan.crs_wkt, wanted, shown_, plan.name));
        return layer;
    }

    std::unique_ptr<LayerSink> make_layer(const LayerPlan& plan) {
        if (plan.untouched) {
            return make_untouched_layer(plan);
        }
        if (database_) {
            return plan.in_place ? make_pg_columns(*database_, plan)
                                 : make_pg_layer(*database_, plan);
        }
        const fs::path& folder = place_->work();
        if (format_ == OutputFormat::geopackage) {
            for (const auto& layer : layers_) {
                layer->pause();
            }
            return plan.in_place ? make_gpkg_columns(*geopackage_, plan)
                                 : make_gpkg_layer(*geopackage_, plan, options_);
        }
        return make_file_layer(folder, plan);
    }

    std::unique_ptr<LayerSink> make_file_layer(const fs::path& folder, const LayerPlan& plan) {
        if (format_ == OutputFormat::xlsx || format_ == OutputFormat::ods) {
            return make_sheet_layer(folder, plan, format_, shown_);
        }
        if (format_ == OutputFormat::csv || plan.geometry.kind == GeometryKind::none) {
            return make_csv_layer(folder, plan, format_ == OutputFormat::csv);
        }
        if (format_ == OutputFormat::flatgeobuf) {
            return make_flatgeobuf_layer(folder, plan, options_, shown_);
        }
        if (format_ == OutputFormat::geojson) {
            return make_geojson_layer(folder, plan, shown_, options_.crs.empty());
        }
        if (format_ != OutputFormat::shapefile) {
            return make_ogr_layer(folder, plan, format_, shown_);
        }
        return make_shapefile_layer(folder, plan, shown_, kMostShapefileBytes);
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
        if (database_) {
            database_->run_last();
        } else if (format_ == OutputFormat::geopackage) {
            add_statements();
            add_styles(summary.notes);
            close_geopackage();
        } else {
            write_field_list();
            write_field_dictionary();
        }
        return summary;
    }

    /// What the file says of itself as a whole.
    void add_statements() {
        const auto plan_of = [&](const std::string& name) -> const LayerPlan* {
            for (const auto& layer : layers_) {
                if (layer->plan().name == name) {
                    return &layer->plan();
                }
            }
            return nullptr;
        };
        const auto key_of = [](const LayerPlan& plan) {
            return KeyedTable{plan.name, plan.in_place ? plan.source.fid_name : plan.fid_name};
        };
        SqliteFile& db = geopackage_->rows();
        for (const LayerRelation& r : relations_) {
            const LayerPlan* base = plan_of(r.base);
            const LayerPlan* related = plan_of(r.related);
            if (base != nullptr && related != nullptr) {
                write_relation(
                    db, key_of(*base), r.base_column, key_of(*related), r.related_column);
            }
        }
        if (!record_.empty()) {
            write_record(db, record_, geopackage_->last_change());
        }
    }

    void add_styles(std::vector<OutputNote>& notes) {
        std::vector<LayerStyles> layers;
        for (const auto& layer : layers_) {
            const LayerPlan& plan = layer->plan();
            const std::string& geometry =
                plan.in_place ? plan.source.geometry_name : plan.geometry_name;
            if (!plan.styles.empty() && layer->is_written() && !geometry.empty()) {
                layers.push_back({plan.name, geometry, plan.styles});
            }
        }
        if (layers.empty()) {
            return;
        }
        const std::string note = write_styles(geopackage_->rows(), layers, geopackage_->now());
        if (!note.empty()) {
            notes.push_back({std::string{kStyleTable}, "", note});
        }
    }

    void close_geopackage() {
        for (const auto& layer : layers_) {
            layer->drop();
        }
        geopackage_->finish();
        ErrorCollector errors;
        const GDALDatasetUniquePtr again{GDALDataset::Open(
            place_->work().c_str(), GDAL_OF_VECTOR | GDAL_OF_READONLY | GDAL_OF_VERBOSE_ERROR)};
        if (!again) {
            throw_gdal_error(shown_, "", "opening the finished file", errors);
        }
        for (const auto& layer : layers_) {
            if (!layer->is_written()) {
                continue;
            }
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
        CsvWriter list{place_->work() / "fields.csv", header};
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

    /// The same for programs.
    void write_field_dictionary() const {
        std::vector<DictionaryLayer> dictionary;
        for (const auto& layer : layers_) {
            DictionaryLayer& entry = dictionary.emplace_back();
            entry.name = layer->plan().name;
            entry.file = layer->file_name();
            entry.description = layer->plan().description;
            for (const OutColumn& column : layer->columns()) {
                entry.fields.push_back({column.field, column.full_name});
            }
        }
        const fs::path path = place_->work() / "fields.json";
        std::ofstream out{path, std::ios::binary | std::ios::trunc};
        out << field_dictionary_json(dictionary);
        out.close();
        if (!out) {
            throw_write_error(shown_, "writing the end of the file", "");
        }
    }

    OutputFormat format_;
    OutputOptions options_;
    std::string shown_;
    std::vector<std::string> place_notes_;
    std::optional<SourceLock> lock_;
    std::optional<OutputPlace> place_;
    std::optional<GpkgFile> geopackage_;
    std::optional<PgFile> database_;
    std::vector<LayerRelation> relations_;
    std::string record_;
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
void OutputDataset::relate(LayerRelation relation) { impl_->relate(std::move(relation)); }
void OutputDataset::describe(std::string record) { impl_->describe(std::move(record)); }
OutputSummary OutputDataset::finish() { return impl_->finish(); }

void OutputDataset::abort() noexcept {
    if (impl_) {
        impl_->abort();
    }
}

}  // namespace linewood
