#include "src/site/tile_row_store.hpp"

#include <algorithm>
#include <stdexcept>

#include "assess/verdict/verdict.hpp"
#include "geo/tiles/tile_properties.hpp"

namespace linewood {

TileRowStore::TileRowStore(const std::filesystem::path& folder,
                           const std::vector<std::string>& fields,
                           int full_zoom)
    : keys_{std::string{kTilePoleId}, std::string{kTileVerdict}, std::string{kTileCount}},
      full_zoom_{full_zoom},
      full_{folder} {
    for (const std::string& field : fields) {
        if (std::find(keys_.begin(), keys_.end(), field) == keys_.end()) {
            keys_.push_back(field);
        }
    }
}

std::uint32_t TileRowStore::key(std::string_view name) const {
    const auto found = std::find(keys_.begin(), keys_.end(), name);
    if (found == keys_.end()) {
        throw std::out_of_range{"no property " + std::string{name}};
    }
    return static_cast<std::uint32_t>(found - keys_.begin());
}

void TileRowStore::add(const PackedRows& rows) {
    std::uint64_t brief_begin = brief_.size();
    std::uint64_t full_begin = full_.size();
    for (const PackedRows::Row& row : rows.rows) {
        places_.push_back(Place{brief_begin, full_begin, row});
        brief_begin += row.brief_bytes;
        full_begin += row.full_bytes;
    }
    brief_ += rows.brief;
    full_.append(rows.full);
}

std::size_t TileRowStore::most_bytes(std::uint32_t pole, int zoom) const {
    const PackedRows::Row& row = places_[pole].row;
    return zoom < full_zoom_ ? row.most_brief : row.most_full;
}

void TileRowStore::read(std::uint32_t pole, int zoom, std::string& packed) const {
    const Place& place = places_[pole];
    if (zoom < full_zoom_) {
        packed.assign(brief_, place.brief_begin, place.row.brief_bytes);
    } else {
        full_.read(place.full_begin, place.row.full_bytes, packed);
    }
}

void TileRowStore::read_counted(std::uint32_t count, std::string& packed) const {
    TileProperties properties;
    properties.add_text(key(kTileVerdict), name_of(Verdict::replace));
    properties.add_number(key(kTileCount), count);
    packed = properties.packed();
}

}  // namespace linewood
