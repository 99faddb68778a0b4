#include "assess/wood/table_girth.hpp"

#include <cstddef>

namespace linewood {
namespace {

/// The recorded setting depth where it can be true of a pole of that length.
Maybe<Length> possible_depth(const Pole& pole, Length length) {
    if (pole.setting_depth && *pole.setting_depth >= Length{} && *pole.setting_depth < length) {
        return pole.setting_depth;
    }
    return {};
}

struct Cell {
    TableAnswer answer = TableAnswer::found;
    const DimensionTable* table = nullptr;
    const DimensionRow* row = nullptr;
};

Cell find_cell(const WoodTables& tables, const Pole& pole) {
    Cell cell;
    if (pole.species >= tables.species_count()) {
        cell.answer = TableAnswer::no_species;
        return cell;
    }
    cell.table = tables.table_of(pole.species);
    if (cell.table == nullptr) {
        cell.answer = TableAnswer::no_table;
        return cell;
    }
    if (!pole.length) {
        cell.answer = TableAnswer::no_length;
        return cell;
    }
    cell.row = cell.table->row(*pole.length);
    if (cell.row == nullptr) {
        cell.answer = TableAnswer::no_row;
    } else if (!pole.has_class) {
        cell.answer = TableAnswer::no_class;
    } else if (!cell.row->girth[static_cast<std::size_t>(pole.pole_class)]) {
        cell.answer = TableAnswer::no_cell;
    }
    return cell;
}

}  // namespace

std::string_view name_of(TableAnswer answer) {
    switch (answer) {
        case TableAnswer::found:
            return "found";
        case TableAnswer::no_species:
            return "no_species";
        case TableAnswer::no_table:
            return "no_table";
        case TableAnswer::no_length:
            return "no_length";
        case TableAnswer::no_row:
            return "no_row";
        case TableAnswer::no_class:
            return "no_class";
        case TableAnswer::no_cell:
            return "no_cell";
    }
    return "";
}

TableLookup look_up(const WoodTables& tables, const Pole& pole) {
    TableLookup result;
    const Cell cell = find_cell(tables, pole);
    result.answer = cell.answer;
    const Length length = cell.row != nullptr ? cell.row->length : pole.length.value_or(Length{});
    const Maybe<Length> depth = possible_depth(pole, length);
    result.setting_depth_refused =
        pole.setting_depth.has_value() && pole.length.has_value() && !depth.has_value();
    if (cell.answer == TableAnswer::found) {
        const auto c = static_cast<std::size_t>(pole.pole_class);
        result.kind = cell.table->kind;
        result.taper = Taper::from_table(length,
                                         depth.value_or(cell.row->setting_depth),
                                         *cell.row->girth[c],
                                         *cell.table->top_girth[c]);
        result.groundline_girth = result.taper->groundline_girth();
    } else if (pole.species < tables.species_count()) {
        if (const auto slope = tables.species(pole.species).average_taper) {
            result.taper = Taper::average(*slope);
        }
    }
    return result;
}

PoleEnds pole_ends(const WoodTables& tables, const Pole& pole) {
    if (!pole.length) {
        return {};
    }
    Maybe<Length> depth = possible_depth(pole, *pole.length);
    if (!depth) {
        const DimensionTable* table = tables.table_of(pole.species);
        const DimensionRow* row = table != nullptr ? table->row(*pole.length) : nullptr;
        if (row != nullptr) {
            depth = row->setting_depth;
        } else if (const auto standard = WoodTables::standard_setting_depth(*pole.length)) {
            depth = *standard;
        }
    }
    if (!depth) {
        return {};
    }
    return {*pole.length - *depth, -*depth};
}

}  // namespace linewood
