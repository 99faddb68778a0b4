#include "src/site/site_downloads.hpp"

#include <array>

#include "geo/io/data_error.hpp"
#include "geo/io/feature_reader.hpp"
#include "geo/io/output_dataset.hpp"
#include "src/site/site_pages.hpp"

namespace linewood {
namespace {

namespace fs = std::filesystem;

struct DownloadForm {
    OutputFormat format;
    const char* ending;  ///< of the file, or of the folder's name
    const char* title;
};

constexpr std::array kForms{
    DownloadForm{OutputFormat::geopackage, ".gpkg", "GeoPackage, all layers"},
    DownloadForm{OutputFormat::flatgeobuf, "-flatgeobuf", "FlatGeobuf"},
    DownloadForm{OutputFormat::csv, "-csv", "CSV"}};

void write_layer(const Source& source,
                 const std::string& layer,
                 OutputDataset& out,
                 RunMonitor& monitor) {
    LayerPlan plan;
    plan.source = source.schema(layer);
    plan.name = plan.source.name;
    for (std::size_t i = 0; i < plan.source.fields.size(); ++i) {
        plan.carried.push_back({i, plan.source.fields[i].name});
    }
    plan.geometry = plan.source.geometry;
    plan.crs_wkt = plan.source.crs_wkt;
    plan.keep_fids = true;
    plan.expected_rows = plan.source.feature_count;
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
        if (form.format == OutputFormat::geopackage && can_be_copied(source, file)) {
            site.copy(file, place);
            monitor.advance(0);
        } else {
            OutputDataset out = OutputDataset::create(folder / (name + form.ending),
                                                      form.format,
                                                      OutputOptions{.last_change = last_change});
            for (const std::string& layer : assessed_layers(source)) {
                write_layer(source, layer, out, monitor);
            }
            out.finish();
        }
        if (form.format == OutputFormat::geopackage) {
            downloads.push_back({place, form.title});
            continue;
        }
        for (const std::string& written : site.files(place)) {
            downloads.push_back(
                {written, std::string{form.title} + ", " + fs::path{written}.filename().string()});
        }
    }
    return downloads;
}

}  // namespace linewood
