#include "src/site/tile_row_reader.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <string_view>

#include "assess/verdict/verdict.hpp"
#include "geo/io/data_error.hpp"
#include "geo/io/value_text.hpp"
#include "geo/tiles/tile_properties.hpp"
#include "src/job/job_error.hpp"
#include "src/job/nearest_word.hpp"
#include "src/pipeline/row_decoder.hpp"

namespace linewood {
namespace {

/// A text of a tile is this long at most, bytes (own choice: a note is read on the pole's sheet, and one of a
/// megabyte would push its neighbours out of the tile).
constexpr std::size_t kLongestText = 2000;
constexpr std::string_view kCutMark = "\xE2\x80\xA6";

std::uint8_t verdict_of(std::string_view word) {
    for (int v = 0; v < kVerdictCount; ++v) {
        if (name_of(static_cast<Verdict>(v)) == word) {
            return static_cast<std::uint8_t>(v);
        }
    }
    return static_cast<std::uint8_t>(Verdict::unassessed);  // what cannot be read gives no pass
}

/// Writes one row.
class RowPacker {
public:
    RowPacker(const FeatureBatch& batch, std::uint64_t& cut_texts)
        : batch_{batch}, cut_texts_{cut_texts} {}

    void add_text(TileProperties& to, std::uint32_t key, std::string_view text) {
        if (text.empty()) {
            return;
        }
        const std::string repaired = is_utf8(text) ? std::string{} : repaired_utf8(text);
        const std::string_view whole = repaired.empty() ? text : std::string_view{repaired};
        if (whole.size() <= kLongestText) {
            to.add_text(key, whole);
            return;
        }
        ++cut_texts_;
        to.add_text(key, std::string{utf8_prefix(whole, kLongestText)}.append(kCutMark));
    }

    void add_value(TileProperties& to,
                   std::uint32_t key,
                   std::size_t row,
                   std::size_t column,
                   FieldType type) {
        if (batch_.is_null(row, column)) {
            return;
        }
        if (type == FieldType::boolean) {
            if (const auto truth = batch_.boolean(row, column).value) {
                to.add_boolean(key, *truth);
            }
        } else if (type == FieldType::integer || type == FieldType::integer64 ||
                   type == FieldType::real) {
            if (const auto number = batch_.number(row, column).value) {
                to.add_number(key, *number);
            }
        } else if (const auto view = batch_.text_view(row, column)) {
            add_text(to, key, *view);
        } else {
            add_text(to, key, batch_.text(row, column));
        }
    }

private:
    const FeatureBatch& batch_;
    std::uint64_t& cut_texts_;
};

}  // namespace

TileRowReader::TileRowReader(const std::string& dataset,
                             const LayerSchema& schema,
                             const std::vector<std::string>& fields)
    : pole_id_{schema.field_index(kTilePoleId)} {
    const auto verdict = schema.field_index(kTileVerdict);
    if (!verdict) {
        throw DataError{dataset,
                        schema.name,
                        "has no verdicts; assess it first: linewood assess IN --out OUT.gpkg"};
    }
    verdict_ = *verdict;
    std::vector<std::string_view> names;
    for (const Field& field : schema.fields) {
        names.emplace_back(field.name);
    }
    std::vector<std::string> wanted = fields;
    if (wanted.empty()) {
        wanted.assign(names.begin(), names.end());
    }
    for (const std::string& name : wanted) {
        const auto index = schema.field_index(name);
        if (!index) {
            throw JobError{"the poles layer has no column " + name + did_you_mean(name, names)};
        }
        if (*index != verdict_ && index != pole_id_) {
            columns_.push_back(Column{*index, schema.fields[*index].type, name});
        }
    }
}

std::vector<std::size_t> TileRowReader::columns() const {
    std::vector<std::size_t> out{verdict_};
    if (pole_id_) {
        out.push_back(*pole_id_);
    }
    for (const Column& column : columns_) {
        out.push_back(column.index);
    }
    std::sort(out.begin(), out.end());
    out.erase(std::unique(out.begin(), out.end()), out.end());
    return out;
}

std::vector<std::string> TileRowReader::names() const {
    std::vector<std::string> out;
    for (const Column& column : columns_) {
        out.push_back(column.name);
    }
    return out;
}

TileBatch TileRowReader::read(const FeatureBatch& batch, const TileRowStore& store) const {
    constexpr double kNan = std::numeric_limits<double>::quiet_NaN();
    std::vector<std::uint32_t> keys;
    for (const Column& column : columns_) {
        keys.push_back(store.key(column.name));
    }
    TileBatch out;
    TileProperties row_properties;
    RowPacker packer{batch, out.cut_texts};
    for (std::size_t row = 0; row < batch.size(); ++row) {
        out.places.push_back(batch.point(row).value.value_or(Point{kNan, kNan}));
        out.verdicts.push_back(verdict_of(trimmed(batch.text(row, verdict_))));
        row_properties.clear();
        if (pole_id_) {
            packer.add_text(
                row_properties, store.key(kTilePoleId), trimmed(batch.text(row, *pole_id_)));
        }
        row_properties.add_text(store.key(kTileVerdict),
                                name_of(static_cast<Verdict>(out.verdicts.back())));
        PackedRows::Row sizes;
        sizes.brief_bytes = static_cast<std::uint32_t>(row_properties.packed().size());
        sizes.most_brief = static_cast<std::uint32_t>(row_properties.most_bytes());
        out.packed.brief += row_properties.packed();
        for (std::size_t i = 0; i < columns_.size(); ++i) {
            packer.add_value(row_properties, keys[i], row, columns_[i].index, columns_[i].type);
        }
        sizes.full_bytes = static_cast<std::uint32_t>(row_properties.packed().size());
        sizes.most_full = static_cast<std::uint32_t>(row_properties.most_bytes());
        out.packed.full += row_properties.packed();
        out.packed.rows.push_back(sizes);
    }
    return out;
}

}  // namespace linewood
