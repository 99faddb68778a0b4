#include "assess/wood/dimension_table.hpp"

#include <algorithm>
#include <cstddef>

namespace linewood {

std::string_view name_of(TableKind kind) {
    switch (kind) {
        case TableKind::quoted:
            return "quoted";
        case TableKind::generated:
            return "generated";
        case TableKind::user:
            return "user";
    }
    return "";
}

const DimensionRow* DimensionTable::row(Length length) const {
    // A nanometre of grace: 0.5 ft is inclusive, and lengths come converted from other units.
    constexpr Length kReach = kRowReach + Length::metres(1e-9);
    const auto after = std::ranges::lower_bound(rows, length, {}, &DimensionRow::length);
    const DimensionRow* best = nullptr;
    Length best_off = kReach;
    if (after != rows.end() && after->length - length <= best_off) {
        best = &*after;
        best_off = after->length - length;
    }
    if (after != rows.begin()) {
        const auto before = std::prev(after);
        if (length - before->length <= best_off) {
            best = &*before;
        }
    }
    return best;
}

const TableBlock* DimensionTable::block(Length row_length, PoleClass c) const {
    const auto covers = [&](const TableBlock& b) {
        return row_length >= b.shortest && row_length <= b.longest && c >= b.stoutest &&
               c <= b.slimmest;
    };
    const auto found = std::ranges::find_if(blocks, covers);
    return found == blocks.end() ? nullptr : &*found;
}

}  // namespace linewood
