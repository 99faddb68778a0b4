#include <algorithm>
#include <set>

#include "geo/io/composition.h"
#include "geo/io/data_error.hpp"
#include "geo/io/row_condition.hpp"
#include "geo/io/source_pool.h"

namespace linewood {
namespace {

/// The value in the type of its column, where another part has another.
void to_type(RawValue& value, FieldType type) {
    if (value.null || value.type == type) {
        return;
    }
    if (type == FieldType::real) {
        value.real = static_cast<double>(value.integer);
        value.type = type;
    } else if (type == FieldType::integer64) {
        value.type = type;
    } else if (type == FieldType::text) {
        std::string scratch;
        const std::string text{text_of(value, scratch)};
        value.owned = text;
        value.bytes = value.owned;
        value.type = type;
    }
}

/// Rows of a part as rows of the layer: some of them, or several of one.
class ComposedRows final : public BatchRows {
public:
    ComposedRows(std::unique_ptr<BatchRows> rows, std::shared_ptr<const PartLayout> layout)
        : rows_{std::move(rows)}, layout_{std::move(layout)} {}

    /// The row with all groups that hold something.
    void take(std::uint32_t row) {
        if (layout_->groups.empty()) {
            places_.push_back({row, 0});
            return;
        }
        for (std::uint32_t group = 0; group < layout_->groups.size(); ++group) {
            if (holds_something(row, group)) {
                places_.push_back({row, group});
            }
        }
    }

    /// After the last row: the damage of those that are in. @param first_fid of rows that are numbered anew.
    void finish(std::optional<std::int64_t> first_fid) {
        first_fid_ = first_fid;
        for (std::size_t i = 0; !rows_->damage.empty() && i < places_.size(); ++i) {
            for (const PlacedDamage& d : rows_->damage) {
                if (d.row == static_cast<std::int64_t>(places_[i].row)) {
                    damage.push_back({static_cast<std::int64_t>(i), d.damage});
                }
            }
        }
    }

    std::size_t size() const override { return places_.size(); }
    std::int64_t fid(std::size_t row) const override {
        return first_fid_ ? *first_fid_ + static_cast<std::int64_t>(row)
                          : rows_->fid(places_[row].row);
    }
    bool is_null(std::size_t row, std::size_t column) const override {
        const Place place = places_[row];
        const std::size_t at = layout_->positions[place.group][column];
        if (at >= PartLayout::kFirstSpecial) {
            return at == PartLayout::kAbsent;
        }
        return rows_->is_null(place.row, at);
    }
    void get(std::size_t row, std::size_t column, RawValue& value) const override {
        const Place place = places_[row];
        const std::size_t at = layout_->positions[place.group][column];
        value.null = at == PartLayout::kAbsent;
        if (at == PartLayout::kGroup) {
            value.type = FieldType::text;
            value.bytes = layout_->groups[place.group];
        } else if (at == PartLayout::kWideFid) {
            value.type = FieldType::integer64;
            value.integer = rows_->fid(place.row);
        } else if (at != PartLayout::kAbsent) {
            rows_->get(place.row, at, value);
            if (layout_->converted[column]) {
                to_type(value, layout_->types[column]);
            }
        }
    }
    StoredGeometry geometry(std::size_t row) const override {
        return layout_->groups.empty() ? rows_->geometry(places_[row].row) : StoredGeometry{};
    }

private:
    struct Place {
        std::uint32_t row = 0;
        std::uint32_t group = 0;
    };

    bool holds_something(std::uint32_t row, std::uint32_t group) const {
        RawValue value;
        std::string scratch;
        for (const PartLayout::Telling& told : layout_->telling[group]) {
            rows_->get(row, told.column, value);
            const std::string_view text = text_of(value, scratch);
            const auto first = text.find_first_not_of(" \t\r\n");
            if (first == std::string_view::npos) {
                continue;
            }
            const std::string_view bare =
                text.substr(first, text.find_last_not_of(" \t\r\n") - first + 1);
            if (std::find(told.nulls.begin(), told.nulls.end(), bare) == told.nulls.end()) {
                return true;
            }
        }
        return false;
    }

    std::unique_ptr<BatchRows> rows_;
    std::shared_ptr<const PartLayout> layout_;
    std::vector<Place> places_;
    std::optional<std::int64_t> first_fid_;
};

}  // namespace

ComposedReader::ComposedReader(std::shared_ptr<SourcePool> pool, ReadOptions options)
    : pool_{std::move(pool)}, composition_{*pool_->composition()}, options_{std::move(options)} {
    open_part();
}

void ComposedReader::open_part() {
    const LayerPart& part = composition_.parts()[part_];
    asked_.clear();
    if (!options_.where.empty()) {
        try {
            asked_ = composition_.rows_where(part_, options_.where);
        } catch (const ConditionError& e) {
            throw DataError{part.source.dataset(), part.layer, e.what()};
        }
    }
    reader_.emplace(part.source, part.layer, options_of_part());
}

ReadOptions ComposedReader::options_of_part() const {
    const PartLayout& layout = *composition_.layout(part_);
    ReadOptions options = options_;
    options.where.clear();
    options.geometry = options_.geometry && layout.groups.empty();
    if (!options_.columns && layout.groups.empty()) {
        return options;
    }
    std::set<std::size_t> wanted;
    for (const auto& of_group : layout.positions) {
        for (std::size_t column = 0; column < of_group.size(); ++column) {
            const bool asked = !options_.columns || std::find(options_.columns->begin(),
                                                              options_.columns->end(),
                                                              column) != options_.columns->end();
            if (asked && of_group[column] < PartLayout::kFirstSpecial) {
                wanted.insert(of_group[column]);
            }
        }
    }
    for (const auto& of_group : layout.telling) {
        for (const PartLayout::Telling& told : of_group) {
            wanted.insert(told.column);
        }
    }
    options.columns.emplace(wanted.begin(), wanted.end());
    return options;
}

std::unique_ptr<BatchRows> ComposedReader::rows_of(std::unique_ptr<BatchRows> rows) const {
    const auto first = static_cast<std::size_t>(rows->first_row);
    const std::size_t size = rows->size();
    const std::vector<bool>& in = composition_.rows_in(part_);
    const auto holds = [](const std::vector<bool>& which, std::size_t row) {
        return which.empty() || (row < which.size() && which[row]);
    };
    auto composed = std::make_unique<ComposedRows>(std::move(rows), composition_.layout(part_));
    for (std::size_t row = 0; row < size; ++row) {
        if (holds(in, first + row) && holds(asked_, first + row)) {
            composed->take(static_cast<std::uint32_t>(row));
        }
    }
    composed->finish(composition_.keeps_fids() ? std::nullopt : std::optional{rows_read_ + 1});
    return composed;
}

bool ComposedReader::next(FeatureBatch& batch) {
    std::unique_ptr<BatchRows>& slot = batch.rows_slot();
    while (reader_) {
        FeatureBatch inner;
        if (!reader_->next(inner)) {
            const auto& damage = reader_->layer_damage();
            damage_.insert(damage_.end(), damage.begin(), damage.end());
            reader_.reset();
            if (++part_ < composition_.parts().size()) {
                open_part();
            }
            continue;
        }
        slot = rows_of(std::move(inner.rows_slot()));
        if (slot->size() > 0) {
            slot->first_row = rows_read_;
            slot->part = part_;
            rows_read_ += static_cast<std::int64_t>(slot->size());
            return true;
        }
    }
    slot.reset();
    return false;
}

}  // namespace linewood
