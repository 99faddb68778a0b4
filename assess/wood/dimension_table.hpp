#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "assess/record/pole.hpp"
#include "assess/units/length.hpp"
#include "assess/units/maybe.hpp"

namespace linewood {

/// Where the numbers of a table come from.
enum class TableKind : std::uint8_t {
    quoted,     ///< a published table, as read or remembered: see its blocks
    generated,  ///< computed here by the generating rule; never to be called a standard's
    user,       ///< brought by the user
};
std::string_view name_of(TableKind kind);

/// One girth a class, `by_class[position of PoleClass]`; absent where the table has no such pole.
using GirthByClass = std::array<Maybe<Length>, kPoleClassCount>;

/// The poles of one length.
struct DimensionRow {
    Length length;
    Length setting_depth;  ///< butt to groundline where the pole's own is not recorded
    GirthByClass girth;    ///< least girth 6 ft from the butt
};

/// A part of a table that shares a source and a confidence. All four ends are inclusive.
struct TableBlock {
    Length shortest, longest;
    PoleClass stoutest, slimmest;
    std::string source;
    std::string confidence;
    std::string note;  ///< disagreements between sources, in words; may be empty
};

/// Least girths of new poles, 6 ft from the butt, by length and class.
struct DimensionTable {
    std::string code;   ///< lower_snake: `southern_pine_douglas_fir`
    std::string title;  ///< for people
    TableKind kind = TableKind::user;
    GirthByClass top_girth;          ///< least girth at the tip
    std::vector<DimensionRow> rows;  ///< shortest first
    std::vector<TableBlock> blocks;  ///< the first that covers a cell speaks for it

    /// The row nearest to `length`, if within 0.5 ft of it, inclusive: 12.2 m is the 40 ft row.
    /// Cost: a binary search.
    const DimensionRow* row(Length length) const;
    /// The block that speaks for a cell of that row and class, or null.
    const TableBlock* block(Length row_length, PoleClass c) const;
};

/// Where every table measures: 6 ft from the butt.
inline constexpr Length kTableHeight = Length::feet(6.0);
/// How far from a row a length may be and still be that row.
inline constexpr Length kRowReach = Length::feet(0.5);

/// Setting depth by pole length, one row.
struct SettingDepth {
    Length length;
    Length depth;
    std::string_view confidence;
};

/// Butt to groundline in soil, 20 to 125 ft in steps of 5 ft, shortest first. Sources: E. T. Hawes 1947
/// (20-95 ft, read), a lineman's handbook as quoted (25-60 ft, read), ANSI O5.1 from memory (100-125 ft).
const std::vector<SettingDepth>& published_setting_depths();

/// Southern pine and Douglas-fir, 8000 psi: the one table two sources agree on. See its blocks.
DimensionTable published_8000_psi_table();

/// What the generating rule needs to know of a group of species.
struct GeneratingGroup {
    std::string_view code;
    std::string_view title;
    double fibre_stress_psi;
    double average_taper_in_per_ft;
    std::string_view confidence;  ///< of stress and taper
};

/// The girth 6 ft from the butt by the generating rule, not rounded:
///     C6 = (32 pi^2 M / f)^(1/3) + (depth - 6 ft) taper,   M = class load x (length - depth - 2 ft).
/// Within about 0.5 in of the printed standard tables; up to 1.3 in for classes 9 and 10.
/// @pre length and depth in feet, length > depth + 2.
double generated_girth_in(const GeneratingGroup& group,
                          PoleClass c,
                          double length_ft,
                          double depth_ft);

/// All lengths of published_setting_depths() and all classes, each girth rounded up to 0.5 in; some of
/// these poles do not exist in the standard.
DimensionTable generated_table(const GeneratingGroup& group);

}  // namespace linewood
