#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "geo/io/cell.hpp"

namespace linewood {

// A worksheet before it is written as HTML, Markdown or JSON: the same words and figures for all three.

/// How a cell came out, for looks; its words say it as well.
enum class CellMark : std::uint8_t { plain, good, bad, open };

/// One cell: what people read, and what programs read.
struct SheetCell {
    std::string text;
    Cell value{};  ///< null where there is no value
    CellMark mark = CellMark::plain;

    /// Words that are their own value.
    static SheetCell words(std::string text, CellMark mark = CellMark::plain) {
        SheetCell cell;
        if (!text.empty()) {
            cell.value = text;
        }
        cell.text = std::move(text);
        cell.mark = mark;
        return cell;
    }
    /// A figure with its value at full precision.
    static SheetCell figure(std::string text, Cell value, CellMark mark = CellMark::plain) {
        return {std::move(text), std::move(value), mark};
    }
};

struct SheetColumn {
    std::string key;   ///< for programs
    std::string head;  ///< for people
};

/// A table. Its first column names the row.
struct SheetTable {
    std::string key;
    std::string caption;
    std::vector<SheetColumn> columns;
    std::vector<std::vector<SheetCell>> rows;
    /// Two columns, a name and a value: an object for programs, keyed by the first column's values.
    bool as_object = false;
};

struct SheetText {
    std::string text;
    bool warning = false;
};

/// A drawing, twice: as a part of the page, and the name of the file it is where drawings are files.
struct SheetPicture {
    std::string name;     ///< `elevation`, `section-1`
    std::string caption;  ///< what it shows
    std::string fragment;
    std::string document;  ///< empty where no file was asked for
};

using SheetItem = std::variant<SheetText, SheetTable, SheetPicture>;

struct SheetPart {
    std::string key;
    std::string title;
    std::vector<SheetItem> items;
    std::vector<SheetPart> parts{};  ///< of one kind
    bool is_list = false;            ///< for programs: the list of its parts
};

struct Worksheet {
    std::string title;
    std::string pole_id;
    std::string made_by;  ///< tool, criteria, in a line
    std::vector<SheetPart> parts;
};

}  // namespace linewood
