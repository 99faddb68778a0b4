#include "src/site/pole_tiles.hpp"

#include <cmath>
#include <fstream>
#include <memory>
#include <numeric>
#include <optional>
#include <string_view>
#include <utility>

#include "geo/crs/layer_crs.hpp"
#include "geo/io/data_error.hpp"
#include "geo/io/feature_reader.hpp"
#include "src/assessed/assessed_run.hpp"
#include "src/pipeline/ordered_pipeline.hpp"
#include "src/site/pole_schema.hpp"
#include "src/site/tile_row_reader.hpp"

namespace linewood {
namespace {

/// Poles for the cutter, and the rows they came from: those without a place on the map have none.
struct MapPoles {
    std::vector<TilePole> poles;
    std::unique_ptr<TileRowStore> rows;
};

/// The attributes of the poles on the map, by their position among these.
class MapRows : public TileRows {
public:
    MapRows(const TileRowStore& store, std::span<const TilePole> poles)
        : store_{store}, poles_{poles} {}

    std::span<const std::string> keys() const override { return store_.keys(); }
    std::size_t most_bytes(std::uint32_t pole, int zoom) const override {
        return store_.most_bytes(row(pole), zoom);
    }
    void read(std::uint32_t pole, int zoom, std::string& packed) const override {
        store_.read(row(pole), zoom, packed);
    }
    void read_counted(std::uint32_t count, std::string& packed) const override {
        store_.read_counted(count, packed);
    }

private:
    std::uint32_t row(std::uint32_t pole) const {
        return static_cast<std::uint32_t>(poles_[pole].id);
    }
    const TileRowStore& store_;
    std::span<const TilePole> poles_;
};

LayerCrs crs_of(const Source& source, const LayerSchema& schema) {
    if (!schema.crs_wkt.empty()) {
        LayerCrs crs = LayerCrs::from_wkt(schema.crs_wkt);
        if (crs.known()) {
            return crs;
        }
    }
    throw DataError{source.dataset(),
                    schema.name,
                    "states no coordinate system with a place on the Earth, which a map of tiles "
                    "needs; state it in your data and assess again"};
}

/// Reads the poles and what the tiles say of them.
class PoleReading {
public:
    PoleReading(const Source& source,
                const std::filesystem::path& folder,
                const PoleTileOptions& options)
        : source_{source},
          schema_{pole_schema(source)},
          crs_{crs_of(source, schema_)},
          reader_{source.dataset(), schema_, options.fields},
          threads_{options.threads} {
        map_.rows = std::make_unique<TileRowStore>(folder, reader_.names(), options.full_zoom);
    }

    MapPoles read(TileReport& report, RunMonitor& monitor) {
        ReadOptions options;
        options.columns = reader_.columns();
        FeatureReader rows{source_, schema_.name, options};
        monitor.stage("read poles", schema_.feature_count);
        run_in_order<FeatureBatch, TileBatch>(
            [&]() -> std::optional<FeatureBatch> {
                FeatureBatch batch;
                return rows.next(batch) ? std::optional{std::move(batch)} : std::nullopt;
            },
            [&](FeatureBatch batch) { return reader_.read(batch, *map_.rows); },
            [&](TileBatch batch) {
                take(batch, report);
                monitor.advance(static_cast<std::int64_t>(batch.places.size()));
            },
            threads_);
        return std::move(map_);
    }

private:
    void take(TileBatch& batch, TileReport& report) {
        map_.rows->add(batch.packed);
        report.cut_texts += batch.cut_texts;
        crs_.to_wgs84(batch.places);
        for (std::size_t i = 0; i < batch.places.size(); ++i) {
            const Point at = batch.places[i];
            const std::uint8_t verdict = batch.verdicts[i];
            ++report.poles[verdict];
            const auto place = world_place(at.x, at.y);
            if (place) {
                map_.poles.push_back(TilePole{*place, verdict, next_row_});
            } else {
                const bool placed = std::isfinite(at.x) && std::isfinite(at.y);
                ++(placed ? report.beyond_mercator : report.without_place)[verdict];
            }
            ++next_row_;
        }
    }

    const Source& source_;
    LayerSchema schema_;
    LayerCrs crs_;
    TileRowReader reader_;
    unsigned threads_;
    MapPoles map_;
    std::uint64_t next_row_ = 0;
};

/// Writes tiles as files `z/x/y.pbf`.
void write_tile(const std::filesystem::path& folder, const TileId& tile, std::string_view bytes) {
    const std::filesystem::path column =
        folder / std::to_string(tile.zoom) / std::to_string(tile.x);
    const std::filesystem::path path = column / (std::to_string(tile.y) + ".pbf");
    std::ofstream out{path, std::ios::binary};
    if (!out) {
        std::error_code error;
        std::filesystem::create_directories(column, error);
        out.open(path, std::ios::binary);
    }
    out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    out.close();
    if (!out) {
        throw DataError{path.string(), "", "cannot be written; is the disk full?"};
    }
}

std::uint64_t sum(const TileCounts& counts) {
    return std::accumulate(counts.begin(), counts.end(), std::uint64_t{0});
}

/// Tells the monitor of a share of the work as of so many steps.
class ShareSteps {
public:
    ShareSteps(RunMonitor& monitor, std::uint64_t steps) : monitor_{monitor}, steps_{steps} {}
    bool tell(double share) {
        const auto now = static_cast<std::int64_t>(share * static_cast<double>(steps_));
        monitor_.advance(now - told_);
        told_ = now;
        return true;
    }

private:
    RunMonitor& monitor_;
    std::uint64_t steps_;
    std::int64_t told_ = 0;
};

}  // namespace

std::uint64_t TileReport::placed() const {
    return sum(poles) - sum(without_place) - sum(beyond_mercator);
}

std::uint64_t TileReport::tiles() const {
    std::uint64_t n = 0;
    for (const ZoomTally& zoom : zooms) {
        n += zoom.tiles;
    }
    return n;
}

std::uint64_t TileReport::bytes() const {
    std::uint64_t n = 0;
    for (const ZoomTally& zoom : zooms) {
        n += zoom.bytes;
    }
    return n;
}

TileReport write_pole_tiles(const std::string& assessed_dataset,
                            const std::filesystem::path& folder,
                            const PoleTileOptions& options,
                            RunMonitor& monitor) {
    static_assert(kTileSeverities == kVerdictCount && static_cast<int>(Verdict::replace) == 0);
    const Source source = Source::open(assessed_dataset);
    read_assessed_run(source);
    TileReport report;
    const MapPoles map = PoleReading{source, folder, options}.read(report, monitor);
    const MapRows rows{*map.rows, map.poles};
    const TileCutter cutter{std::string{kPoleTileLayer}, map.poles, rows, options.limits};
    const TileSink sink = [&](const TileId& tile, std::string_view bytes) {
        write_tile(folder, tile, bytes);
    };
    for (int zoom = options.first_zoom; zoom <= options.deepest_zoom; ++zoom) {
        monitor.stage("tiles of zoom " + std::to_string(zoom),
                      static_cast<std::int64_t>(map.poles.size()));
        ShareSteps steps{monitor, map.poles.size()};
        bool stopped = false;
        report.zooms.push_back(cutter.cut(
            zoom, options.threads, sink, [&](double share) { return steps.tell(share); }, stopped));
        if (zoom >= options.full_zoom && report.zooms.back().complete()) {
            break;
        }
    }
    return report;
}

}  // namespace linewood
