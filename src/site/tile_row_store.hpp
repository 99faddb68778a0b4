#pragma once

#include <cstdint>
#include <filesystem>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "geo/tiles/tile_rows.hpp"
#include "src/site/scratch_file.hpp"

namespace linewood {

/// Attributes of poles in a row, packed one after the other.
struct PackedRows {
    std::string brief;  ///< those of the low zooms
    std::string full;
    struct Row {
        std::uint32_t brief_bytes = 0;
        std::uint32_t full_bytes = 0;
        std::uint32_t most_brief = 0;  ///< TileProperties::most_bytes()
        std::uint32_t most_full = 0;
    };
    std::vector<Row> rows;
};

/// The attributes of the poles of tiles: the few of the low zooms in memory, all of them in a file.
class TileRowStore : public TileRows {
public:
    /// @param folder for the file that holds the full rows
    /// @param fields columns of the full rows beside pole_id and verdict; keys() has all of them
    TileRowStore(const std::filesystem::path& folder,
                 const std::vector<std::string>& fields,
                 int full_zoom);

    /// The number of a name of keys(). @throws std::out_of_range
    std::uint32_t key(std::string_view name) const;

    /// The next poles. @throws DataError where the disk is full.
    void add(const PackedRows& rows);

    std::span<const std::string> keys() const override { return keys_; }
    std::size_t most_bytes(std::uint32_t pole, int zoom) const override;
    void read(std::uint32_t pole, int zoom, std::string& packed) const override;
    void read_counted(std::uint32_t count, std::string& packed) const override;

private:
    std::vector<std::string> keys_;
    int full_zoom_;
    std::string brief_;
    struct Place {
        std::uint64_t brief_begin = 0;
        std::uint64_t full_begin = 0;
        PackedRows::Row row;
    };
    std::vector<Place> places_;
    ScratchFile full_;
};

/// The names of the properties that every tile may have.
inline constexpr std::string_view kTilePoleId = "pole_id";
inline constexpr std::string_view kTileVerdict = "verdict";
inline constexpr std::string_view kTileCount = "count";

}  // namespace linewood
