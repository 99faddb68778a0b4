#include "src/site/publish_run.hpp"

#include <algorithm>
#include <cstdio>
#include <map>
#include <numeric>
#include <optional>
#include <set>

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

/// Which tiles there are: zoom, column, then first and last row of each run of rows.
nlohmann::ordered_json tiles_there(const std::vector<std::string>& files) {
    std::map<int, std::map<int, std::set<int>>> rows;
    for (const std::string& file : files) {
        int zoom = 0;
        int column = 0;
        int row = 0;
        if (std::sscanf(file.c_str(), "tiles/%d/%d/%d.pbf", &zoom, &column, &row) == 3) {
            rows[zoom][column].insert(row);
        }
    }
    nlohmann::ordered_json there = nlohmann::ordered_json::object();
    for (const auto& [zoom, columns] : rows) {
        for (const auto& [column, all] : columns) {
            auto& runs = there[std::to_string(zoom)][std::to_string(column)];
            for (const int row : all) {
                if (!runs.empty() && runs.back() == row - 1) {
                    runs.back() = row;
                } else {
                    runs.push_back(row);
                    runs.push_back(row);
                }
            }
        }
    }
    return there;
}

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
        today_ = Date::parse(statement_of(provenance_.front(), "job_today"));
        poles_ =
            read_site_poles(source_,
                            run_.units,
                            {job_.embed_limit, std::max(job_.worst, job_.worksheet_limit), today_},
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
    bool tiled() const { return !poles_.whole; }

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
        monitor_.stage("write the search index", -1);
        search_ = poles_.index.write(*site_);
        monitor_.advance(0);
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
        tiles_["there"] = tiles_there(site_->files("tiles"));
        if (report.cut_texts > 0) {
            take_notes(
                {fmt::format("{} long texts are cut in the tiles and end in \u2026; they are "
                             "whole in the downloads.",
                             grouped(static_cast<std::int64_t>(report.cut_texts)))});
        }
        take_beyond_mercator(report);
        take_notes(
            {fmt::format("The table holds the worst {} of {} poles; the map has all of them "
                         "in tiles, and is to be served: linewood serve FOLDER.",
                         grouped(static_cast<std::int64_t>(poles_.keys.size())),
                         grouped(static_cast<std::int64_t>(poles_.counts.poles)))});
    }

    void take_beyond_mercator(const TileReport& report) {
        const std::uint64_t beyond = std::accumulate(
            report.beyond_mercator.begin(), report.beyond_mercator.end(), std::uint64_t{0});
        if (beyond > 0) {
            take_notes(
                {fmt::format("{} poles lie so far north or south that this map cannot show "
                             "them; they are in the downloads.",
                             grouped(static_cast<std::int64_t>(beyond)))});
        }
    }

    void write_layers() {
        FileNames names;
        std::string left_out;
        for (const OverlayWish& wish : overlays_.layers) {
            if (tiled() && wish.only_embedded) {
                left_out += (left_out.empty() ? "" : ", ") + wish.wish.title;
                continue;
            }
            const SiteLayer layer = read_site_layer(wish.source, wish.wish, monitor_);
            const std::string file = "data/" + names.name_for(layer.name) + ".js";
            site_->write(file, layer.script);
            layers_.push_back({layer.name,
                               layer.title,
                               file,
                               layer.geometry,
                               wish.attribution,
                               layer.visible,
                               layer.columns,
                               layer.without_place,
                               {}});
            if (layer.name == "projects") {
                layers_.back().sheets = projects_.by_project;
            }
        }
        if (!left_out.empty()) {
            take_notes({"Not on the map, since there are as many as poles, but in the downloads: " +
                        left_out + "."});
        }
    }

    void write_downloads_of() {
        FileNames names;
        const std::string stem =
            names.name_for(std::filesystem::path{shown_name(source_.dataset())}.stem().string());
        downloads_ =
            write_downloads(source_,
                            *site_,
                            stem,
                            (today_ ? today_->to_string() : "2000-01-01") + "T00:00:00.000Z",
                            monitor_);
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
        for (const SiteDownload& d : downloads_) {
            links.push_back({d.file, d.format + ": " + d.title});
        }
        site_->write(
            kIndex,
            index_page(site_file(kIndex), title_, poles_, sheets_.worksheets, links, notes_));
        monitor_.advance(0);
        site_->write("data/poles.js",
                     poles_script(poles_, sheets_.worksheets, sheets_.sections, projects_.by_pole));
        site_->write("data/site.js",
                     site_script({title_,
                                  run_,
                                  poles_,
                                  tiled(),
                                  tiles_,
                                  search_,
                                  today_,
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
    std::optional<Date> today_;
    std::vector<std::string> search_;
    SitePoles poles_;
    SiteSheets sheets_;
    CopiedSheets projects_;
    nlohmann::ordered_json tiles_ = nullptr;
    std::vector<SiteLink> reports_;
    std::vector<ListedLayer> layers_;
    std::vector<SiteDownload> downloads_;
};

}  // namespace

PublishSummary run_publish(const SiteJob& job, RunMonitor& monitor) {
    return PublishRun{job, monitor}.run();
}

}  // namespace linewood
