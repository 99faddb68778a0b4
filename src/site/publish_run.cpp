#include "src/site/publish_run.hpp"

#include <algorithm>
#include <numeric>
#include <optional>

#include <fmt/format.h>

#include "geo/io/data_error.hpp"
#include "src/assessed/assessed_run.hpp"
#include "src/job/checksum.hpp"
#include "src/job/file_names.hpp"
#include "src/job/place_clash.hpp"
#include "src/report/figures.hpp"
#include "src/site/pole_tiles.hpp"
#include "src/site/site_downloads.hpp"
#include "src/site/site_files.hpp"
#include "src/site/site_folder.hpp"
#include "src/site/site_overlays.hpp"
#include "src/site/site_pages.hpp"
#include "src/site/site_poles.hpp"
#include "src/site/site_script_data.hpp"
#include "src/site/site_sheets.hpp"
#include "src/site/site_text.hpp"
#include "src/site/site_worksheets.hpp"
#include "src/style/legend_svg.hpp"
#include "src/style/style_css.hpp"

namespace linewood {
namespace {

constexpr const char* kIndex = "index.html";

class PublishRun {
public:
    PublishRun(const SiteJob& job, RunMonitor& monitor)
        : job_{job},
          monitor_{monitor},
          source_{Source::open(job.input)},
          run_{read_assessed_run(source_)},
          overlays_{open_overlays(job, source_)} {
        refuse_to_replace("--out", job.out, overlays_.read);
        site_.emplace(job.out, job.overwrite, summary_.notes);
        title_ =
            job.title.empty() ? "Condition of poles: " + shown_name(source_.dataset()) : job.title;
        add_provenance();
    }

    PublishSummary run() {
        poles_ = read_site_poles(source_,
                                 run_.units,
                                 job_.embed_limit,
                                 std::max(job_.worst, job_.worksheet_limit),
                                 monitor_);
        note_places();
        sheets_ = write_site_worksheets(job_, provenance_.front(), poles_, *site_, monitor_);
        take_notes(sheets_.notes);
        write_reports();
        if (tiled()) {
            write_tiles();
        }
        write_layers();
        write_downloads_of();
        write_pages();
        summary_.poles = poles_.counts.poles;
        summary_.placed = poles_.counts.placed;
        summary_.worksheets = sheets_.worksheets.size();
        summary_.tiled = tiled();
        monitor_.stage("flush to the disk", -1);
        monitor_.advance(0);
        site_->finish();
        monitor_.finish();
        return std::move(summary_);
    }

private:
    bool tiled() const { return poles_.counts.poles > job_.embed_limit; }

    void take_notes(const std::vector<std::string>& notes) {
        notes_.insert(notes_.end(), notes.begin(), notes.end());
        summary_.warnings.insert(summary_.warnings.end(), notes.begin(), notes.end());
    }

    void add_provenance() {
        provenance_.push_back(read_provenance(source_, "Assessment"));
        Provenance read{"Published from", {}};
        for (const std::filesystem::path& file : source_.files()) {
            read.statements.emplace_back(
                "input_file", file.filename().string() + ", sha256 " + sha256_of_file(file));
        }
        for (const Overlay& overlay : overlays_.datasets) {
            provenance_.push_back(read_provenance(overlay.source, overlay.title));
        }
        provenance_.push_back(std::move(read));
        take_notes(overlays_.notes);
    }

    void note_places() {
        const std::size_t missing = poles_.counts.poles - poles_.counts.placed;
        if (missing > 0) {
            take_notes(
                {fmt::format("{} of {} poles have no place on the map; they are in the "
                             "downloads{}.",
                             grouped(static_cast<std::int64_t>(missing)),
                             grouped(static_cast<std::int64_t>(poles_.counts.poles)),
                             tiled() ? "" : " and in the table")});
        }
    }

    void write_reports() {
        reports_.push_back({"fields.html", "Fields: unit and meaning"});
        reports_.push_back({"provenance.html", "Provenance and cautions"});
        if (!sheets_.worksheets.empty()) {
            reports_.push_back({"worksheets/index.html", "Worksheets"});
        }
        if (!job_.sheets.empty()) {
            monitor_.stage("copy project sheets", -1);
            projects_ = copy_project_sheets(job_.sheets, poles_, *site_);
            reports_.push_back({"projects/index.html", "Project sheets"});
        }
        for (const std::filesystem::path& page : job_.pages) {
            reports_.push_back(copy_report(page, *site_));
        }
    }

    void write_tiles() {
        PoleTileOptions options;
        options.threads = job_.threads;
        const TileReport report =
            write_pole_tiles(job_.input, site_->make_folder("tiles"), options, monitor_);
        tiles_ = {{"minzoom", report.first_zoom()}, {"maxzoom", report.last_zoom()}};
        tiles_["shown"] = nlohmann::ordered_json::object();
        for (const ZoomTally& zoom : report.zooms) {
            const auto sum = [](const TileCounts& counts) {
                return std::accumulate(counts.begin(), counts.end(), std::uint64_t{0});
            };
            const std::uint64_t on_map = sum(zoom.kept) + sum(zoom.counted);
            tiles_["shown"][std::to_string(zoom.zoom)] = {on_map, on_map + sum(zoom.left_out)};
        }
        take_notes(
            {fmt::format("The table holds the worst {} of {} poles; the map has all of them "
                         "in tiles, and is to be served: linewood serve FOLDER.",
                         grouped(static_cast<std::int64_t>(poles_.keys.size())),
                         grouped(static_cast<std::int64_t>(poles_.counts.poles)))});
    }

    void write_layers() {
        FileNames names;
        for (const OverlayWish& wish : overlays_.layers) {
            if (tiled() && wish.only_embedded) {
                continue;
            }
            const SiteLayer layer = read_site_layer(wish.source, wish.wish, monitor_);
            const std::string file = "data/" + names.name_for(layer.name) + ".js";
            site_->write(file, layer.script);
            layers_.push_back(
                {layer.name, layer.title, file, layer.geometry, wish.attribution, layer.visible});
        }
    }

    void write_downloads_of() {
        const std::string day = statement_of(provenance_.front(), "job_today");
        FileNames names;
        const std::string stem =
            names.name_for(std::filesystem::path{shown_name(source_.dataset())}.stem().string());
        for (const SiteDownload& d :
             write_downloads(source_,
                             *site_,
                             stem,
                             (day.empty() ? "2000-01-01" : day) + "T00:00:00.000Z",
                             monitor_)) {
            downloads_.push_back({d.file, d.title, site_->size_of(d.file)});
        }
    }

    void write_pages() {
        monitor_.stage("write pages", -1);
        for (const SiteFile& file : site_files()) {
            if (file.path != kIndex) {
                site_->write("app/" + std::string{file.path}, file.content);
            }
        }
        site_->write("app/style.css", style_css(shipped_styles()));
        site_->write("legend.svg", legend_svg(shipped_styles()));
        site_->write("style.json", site_style(layers_).dump(1) + "\n");
        site_->write("fields.html", fields_page(source_, run_.units, title_));
        site_->write("provenance.html", provenance_page(provenance_, notes_, title_));
        std::vector<SiteLink> links = reports_;
        for (const ListedDownload& d : downloads_) {
            links.push_back({d.file, d.title});
        }
        site_->write(
            kIndex,
            index_page(site_file(kIndex), title_, poles_, sheets_.worksheets, links, notes_));
        monitor_.advance(0);
        site_->write("data/poles.js",
                     poles_script(poles_, sheets_.worksheets, sheets_.sections, projects_));
        site_->write("data/site.js",
                     site_script({title_,
                                  run_,
                                  poles_,
                                  tiled(),
                                  tiles_,
                                  layers_,
                                  downloads_,
                                  reports_,
                                  notes_,
                                  provenance_}));
        summary_.files = site_->files().size() + 1;
        monitor_.advance(0);
    }

    const SiteJob& job_;
    RunMonitor& monitor_;
    PublishSummary summary_;
    Source source_;
    AssessedRun run_;
    Overlays overlays_;
    std::optional<SiteFolder> site_;
    std::string title_;
    std::vector<Provenance> provenance_;
    std::vector<std::string> notes_;
    SitePoles poles_;
    SiteSheets sheets_;
    PagesByRow projects_;
    nlohmann::ordered_json tiles_ = nullptr;
    std::vector<SiteLink> reports_;
    std::vector<ListedLayer> layers_;
    std::vector<ListedDownload> downloads_;
};

}  // namespace

PublishSummary run_publish(const SiteJob& job, RunMonitor& monitor) {
    return PublishRun{job, monitor}.run();
}

}  // namespace linewood
