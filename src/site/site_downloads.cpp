#include "src/site/site_downloads.hpp"

#include <array>
#include <map>
#include <set>

#include "geo/io/data_error.hpp"
#include "geo/io/feature_reader.hpp"
#include "geo/io/output_dataset.hpp"
#include "src/job/file_names.hpp"
#include "src/report/figures.hpp"
#include "src/site/site_pages.hpp"
#include "src/style/stored_styles.hpp"

namespace linewood {
namespace {

namespace fs = std::filesystem;

struct DownloadForm {
    OutputFormat format;
    const char* ending;  ///< of the file, or of the folder's name
    const char* title;
    const char* feature_file;  ///< ending of a file of a folder that holds a layer
};

constexpr std::array kForms{
    DownloadForm{OutputFormat::geopackage, ".gpkg", "GeoPackage", ""},
    DownloadForm{OutputFormat::flatgeobuf, "-flatgeobuf", "FlatGeobuf", ".fgb"},
    DownloadForm{OutputFormat::csv, "-csv", "CSV", ".csv"}};

std::string rows_text(const std::string& layer, std::int64_t rows) {
    return layer + ", " + grouped(rows) + (rows == 1 ? " row" : " rows");
}

std::string all_layers(const Source& source) {
    std::string text = "all layers in one file:";
    for (const std::string& layer : published_layers(source)) {
        text += (text.back() == ':' ? " " : "; ") +
                rows_text(layer, source.schema(layer).feature_count);
    }
    return text;
}

/// What a file of a folder holds. @param layer that it is of
std::string content_of(const std::string& file,
                       const LayerSummary& layer,
                       const std::string& ending) {
    const std::string kind = fs::path{file}.extension().string();
    if (kind == ending) {
        return rows_text(layer.name,
                         layer.rows - (kind == ".csv" ? 0 : layer.rows_without_geometry));
    }
    if (kind == ".csv") {
        return rows_text(layer.name, layer.rows_without_geometry) + " without a place";
    }
    return kind == ".csvt"  ? "types of the columns of " + layer.name
           : kind == ".prj" ? "coordinate system of " + layer.name
                            : layer.name;
}

/// @param name that is a file's too
void write_layer(const Source& source,
                 const std::string& layer,
                 const std::string& name,
                 OutputDataset& out,
                 RunMonitor& monitor) {
    LayerPlan plan;
    plan.source = source.schema(layer);
    plan.name = name;
    for (std::size_t i = 0; i < plan.source.fields.size(); ++i) {
        plan.carried.push_back({i, plan.source.fields[i].name});
    }
    plan.geometry = plan.source.geometry;
    plan.crs_wkt = plan.source.crs_wkt;
    plan.keep_fids = true;
    plan.expected_rows = plan.source.feature_count;
    plan.styles = stored_styles(plan.name, plan);
    LayerWriter& writer = out.add_layer(plan);
    FeatureReader reader{source, layer, ReadOptions{}};
    FeatureBatch batch;
    while (reader.next(batch)) {
        for (std::size_t row = 0; row < batch.size(); ++row) {
            writer.append(batch, row, {});
        }
        monitor.advance(static_cast<std::int64_t>(batch.size()));
    }
    writer.complete();
    if (writer.count() != reader.rows_read()) {
        throw DataError{source.dataset(), layer, "not every row could be written for downloading"};
    }
}

/// Is it one file that says everything, with no log beside it?
bool can_be_copied(const Source& source, fs::path& file) {
    const auto files = source.files();
    if (source.driver() != "GPKG" || files.size() != 1) {
        return false;
    }
    file = files.front();
    std::error_code error;
    const auto log = fs::file_size(file.string() + "-wal", error);
    return error || log == 0;
}

/// The files of layers first, then what is beside them.
void list_folder(const DownloadForm& form,
                 const std::string& folder,
                 const OutputSummary& summary,
                 const SiteFolder& site,
                 std::vector<SiteDownload>& to) {
    std::vector<SiteDownload> beside;
    std::set<std::string> listed;
    const auto add =
        [&](std::vector<SiteDownload>& list, const std::string& file, std::string what) {
            listed.insert(file);
            list.push_back({form.title, file, std::move(what), site.size_of(file)});
        };
    for (const LayerSummary& layer : summary.layers) {
        for (const std::string& name : layer.files) {
            const bool only = layer.rows == layer.rows_without_geometry;
            const std::string ending = only ? ".csv" : form.feature_file;
            add(fs::path{name}.extension() == ending ? to : beside,
                folder + "/" + name,
                content_of(name, layer, ending));
        }
    }
    for (const std::string& file : site.files(folder)) {
        if (listed.count(file) == 0) {
            const fs::path path{file};
            add(beside,
                file,
                path.stem() == "fields"
                    ? "unit and meaning of every field, as " +
                          std::string{path.extension() == ".json" ? "JSON" : "CSV"}
                    : path.filename().string());
        }
    }
    to.insert(to.end(), beside.begin(), beside.end());
}

}  // namespace

std::vector<SiteDownload> write_downloads(const Source& source,
                                          const SiteFolder& site,
                                          const std::string& name,
                                          const std::string& last_change,
                                          RunMonitor& monitor) {
    const fs::path folder = site.make_folder("downloads");
    std::vector<SiteDownload> downloads;
    for (const DownloadForm& form : kForms) {
        const std::string place = "downloads/" + name + form.ending;
        monitor.stage("write " + place, -1);
        fs::path file;
        OutputSummary summary;
        if (form.format == OutputFormat::geopackage && can_be_copied(source, file)) {
            site.copy(file, place);
            monitor.advance(0);
        } else {
            OutputDataset out = OutputDataset::create(folder / (name + form.ending),
                                                      form.format,
                                                      OutputOptions{.last_change = last_change});
            FileNames names;
            std::map<std::string, std::string> layer_of;
            for (const std::string& layer : published_layers(source)) {
                const std::string called = names.name_for(layer);
                layer_of[called] = layer;
                write_layer(source, layer, called, out, monitor);
            }
            summary = out.finish();
            for (LayerSummary& layer : summary.layers) {
                layer.name = layer_of.at(layer.name);
            }
        }
        if (form.format == OutputFormat::geopackage) {
            downloads.push_back({form.title, place, all_layers(source), site.size_of(place)});
        } else {
            list_folder(form, place, summary, site, downloads);
        }
    }
    return downloads;
}

}  // namespace linewood
