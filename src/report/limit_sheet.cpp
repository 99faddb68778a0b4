#include "src/report/limit_sheet.hpp"

#include <algorithm>
#include <array>
#include <numbers>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "src/job/cautions.hpp"
#include "src/report/svg.hpp"

namespace linewood {
namespace {

/// A letter behind a figure: what fails first beyond it, where that is not the governing strength.
struct Mark {
    Reason reason;
    char letter;
    std::string_view meaning;
};
constexpr std::array<Mark, 4> kMarks{
    {{Reason::shell_below_limit, 's', "the sound shell falls below its limit"},
     {Reason::section_split, 'p', "the section falls into pieces"},
     {Reason::weakest_below_limit, 'w', "the weakest direction falls below its limit"},
     {Reason::circumference_below_limit, 'g', "the girth falls below its limit"}}};

constexpr std::size_t kGirthsAbreast = 9;
constexpr std::string_view kTooDeep = "-";

char mark_of(ReasonSet fails_by) {
    if (fails_by.has(Reason::strength_below_limit)) {
        return ' ';
    }
    for (const Mark& m : kMarks) {
        if (fails_by.has(m.reason)) {
            return m.letter;
        }
    }
    return ' ';
}

std::string cell_text(const LimitReport& r, const SizeLimit& limit) {
    if (limit.kind == LimitKind::any) {
        return "any";
    }
    std::string text = limit.kind == LimitKind::none ? "none" : limit_figure(r, limit.size);
    const char mark = mark_of(limit.fails_by);
    return mark == ' ' ? text : text + ' ' + mark;
}

/// A typed size, as short as it can be written.
std::string size_text(const LimitReport& r, Length l) {
    return svg_number(girth_figure(l, r.units));
}

std::vector<std::string> angle_heads(const LimitReport& r) {
    std::vector<std::string> heads;
    for (const Angle a : r.angles) {
        heads.push_back(svg_number(a.degrees()));
    }
    return heads;
}

LimitSheetTable girth_table(const LimitReport& r) {
    const std::string unit{girth_unit(r.units)};
    LimitSheetTable t{"Least girth and least shell, by original girth",
                      "original girth, " + unit,
                      "",
                      {"least girth, " + unit, "least shell, " + unit},
                      {}};
    const bool poles =
        std::any_of(r.all.begin(), r.all.end(), [](const auto& g) { return !g.pole.empty(); });
    if (poles) {
        t.corner = "pole";
        t.columns.insert(t.columns.begin(), "original girth, " + unit);
    }
    for (const LimitReport::Girth& g : r.all) {
        LimitSheetTable::Row row{poles ? g.pole : size_text(r, g.limits.original), {}};
        if (poles) {
            row.cells.push_back(size_text(r, g.limits.original));
        }
        row.cells.push_back(cell_text(r, g.limits.girth));
        row.cells.push_back(cell_text(r, g.limits.shell));
        t.rows.push_back(std::move(row));
    }
    return t;
}

/// Whether two girths can share a table: the rows that both have are alike. Further rows of the stouter
/// pole are deeper than the other's radius.
bool go_together(const std::vector<LimitSheetTable::Row>& a,
                 const std::vector<LimitSheetTable::Row>& b) {
    return std::equal(a.begin(),
                      a.begin() + static_cast<std::ptrdiff_t>(std::min(a.size(), b.size())),
                      b.begin(),
                      [](const LimitSheetTable::Row& x, const LimitSheetTable::Row& y) {
                          return x.head == y.head && x.cells == y.cells;
                      });
}

/// What the criteria ask for behind a pocket, which a mouth cannot give.
std::string shell_note(const LimitReport& r) {
    if (!(r.shell_min > Length{})) {
        return fmt::format(
            "The criteria ask for some shell behind every pocket over {} {} wide (none at all does "
            "not meet a limit of 0), and a mouth has none behind it: none may be wider.",
            size_text(r, r.shell_pocket_width),
            girth_unit(r.units));
    }
    return fmt::format(
        "The criteria ask for {} {} of shell behind every pocket over {} {} wide, and a mouth has "
        "none behind it: none may be wider.",
        size_text(r, r.shell_min),
        girth_unit(r.units),
        size_text(r, r.shell_pocket_width),
        girth_unit(r.units));
}

using RowsOfGirth = std::vector<LimitRow> GirthLimits::*;

/// One for each run of girths whose figures are the same.
std::vector<LimitSheetTable> tables_by_angle(const LimitReport& r,
                                             std::string_view what,
                                             std::string_view corner,
                                             RowsOfGirth which) {
    std::vector<LimitSheetTable> tables;
    std::vector<std::pair<std::string, std::string>> runs;  // first and last girth of a table
    for (const LimitReport::Girth& g : r.all) {
        std::vector<LimitSheetTable::Row> rows;
        for (const LimitRow& row : g.limits.*which) {
            rows.push_back({size_text(r, row.size), {}});
            for (const SizeLimit& limit : row.by_angle) {
                rows.back().cells.push_back(cell_text(r, limit));
            }
        }
        const std::string girth = size_text(r, g.limits.original);
        if (!tables.empty() && go_together(rows, tables.back().rows)) {
            runs.back().second = girth;
            if (rows.size() > tables.back().rows.size()) {
                tables.back().rows = std::move(rows);
            }
            continue;
        }
        tables.push_back({{},
                          fmt::format("{}, {}", corner, girth_unit(r.units)),
                          "angle off the line, degrees",
                          angle_heads(r),
                          std::move(rows)});
        tables.back().caption = g.pole;
        runs.emplace_back(girth, girth);
    }
    for (std::size_t i = 0; i < tables.size(); ++i) {
        const auto& [first, last] = runs[i];
        std::string caption = fmt::format("{}, original girth {}{} {}",
                                          what,
                                          first,
                                          first == last ? std::string{} : " to " + last,
                                          girth_unit(r.units));
        if (!tables[i].caption.empty() && first == last) {
            caption += fmt::format(" ({})", tables[i].caption);
        }
        tables[i].caption = std::move(caption);
    }
    return tables;
}

/// Where the angle does not matter: girths side by side.
LimitSheetTable table_by_girth(const LimitReport& r,
                               std::string_view what,
                               std::string_view corner,
                               RowsOfGirth which,
                               std::size_t begin,
                               std::size_t end) {
    const std::string first = size_text(r, r.all[begin].limits.original);
    const std::string last = size_text(r, r.all[end - 1].limits.original);
    LimitSheetTable t{fmt::format("{} at any angle, original girth {}{} {}",
                                  what,
                                  first,
                                  first == last ? std::string{} : " to " + last,
                                  girth_unit(r.units)),
                      fmt::format("{}, {}", corner, girth_unit(r.units)),
                      fmt::format("original girth, {}", girth_unit(r.units)),
                      {},
                      {}};
    for (std::size_t g = begin; g < end; ++g) {
        t.columns.push_back(size_text(r, r.all[g].limits.original));
        const std::vector<LimitRow>& rows = r.all[g].limits.*which;
        for (std::size_t i = 0; i < rows.size(); ++i) {
            if (i == t.rows.size()) {
                t.rows.push_back({size_text(r, rows[i].size), {}});
            }
            t.rows[i].cells.resize(g - begin, std::string{kTooDeep});
            t.rows[i].cells.push_back(cell_text(r, rows[i].by_angle.front()));
        }
    }
    for (LimitSheetTable::Row& row : t.rows) {
        row.cells.resize(end - begin, std::string{kTooDeep});
    }
    return t;
}

std::vector<LimitSheetTable> width_tables(const LimitReport& r,
                                          std::string_view what,
                                          std::string_view corner,
                                          RowsOfGirth which) {
    if (r.transverse_governs) {
        return tables_by_angle(r, what, corner, which);
    }
    std::vector<LimitSheetTable> tables;
    for (std::size_t begin = 0; begin < r.all.size(); begin += kGirthsAbreast) {
        tables.push_back(table_by_girth(
            r, what, corner, which, begin, std::min(begin + kGirthsAbreast, r.all.size())));
    }
    return tables;
}

std::vector<std::string> cells_of(const LimitSheet& sheet) {
    std::vector<std::string> cells;
    for (const LimitSheetPart& part : sheet.parts) {
        for (const LimitSheetTable& table : part.tables) {
            for (const LimitSheetTable::Row& row : table.rows) {
                cells.insert(cells.end(), row.cells.begin(), row.cells.end());
            }
        }
    }
    return cells;
}

/// Explains the words and letters that the tables use, and no others.
void add_legend(LimitSheet& sheet) {
    const std::vector<std::string> cells = cells_of(sheet);
    const auto any_is = [&](std::string_view word) {
        return std::any_of(cells.begin(), cells.end(), [&](const std::string& cell) {
            return cell.substr(0, cell.find(' ')) == word;
        });
    };
    const auto any_ends_in = [&](char letter) {
        const std::string end{' ', letter};
        return std::any_of(cells.begin(), cells.end(), [&](const std::string& cell) {
            return cell.size() > end.size() && cell.substr(cell.size() - end.size()) == end;
        });
    };
    if (any_is("any")) {
        sheet.legend.emplace_back("any: no size that fits the pole fails.");
    }
    if (any_is("none")) {
        sheet.legend.emplace_back("none: fails whatever the size.");
    }
    if (any_is(kTooDeep)) {
        sheet.legend.emplace_back("-: more than the radius of such a pole.");
    }
    std::string letters;
    for (const Mark& m : kMarks) {
        if (any_ends_in(m.letter)) {
            letters += fmt::format("{}{}: {}", letters.empty() ? "" : "; ", m.letter, m.meaning);
        }
    }
    sheet.legend.push_back(
        "Just beyond a figure the governing strength falls below its limit" +
        (letters.empty() ? "." : ", or, where a letter stands, " + letters + "."));
}

}  // namespace

std::string limit_figure(const LimitReport& report, Length l) {
    return fmt::format("{:.{}f}", girth_figure(l, report.units), report.decimals);
}

LimitSheet limit_sheet(const LimitReport& r) {
    LimitSheet sheet;
    sheet.title = "Limits of pole sections by " + r.criteria_name;
    sheet.head = {
        fmt::format("Solved from the section model of {}, {}.",
                    r.tool,
                    r.units == UnitSystem::us ? "in inches" : "in millimetres"),
        fmt::format("Criteria: {}, SHA-256 {}.", r.criteria_name, r.criteria_hash),
        r.transverse_governs
            ? "For tangents and small angles: strength across the line governs."
            : "For dead ends, junctions, large angles and poles without a line: the weakest "
              "direction governs."};
    if (!r.species.empty()) {
        sheet.head.push_back(
            fmt::format("Species: {}. The original girth is the least of its class at the "
                        "groundline, from the tables.",
                        r.species));
    }
    for (const std::string& note : r.notes) {
        sheet.head.push_back("Note: " + note + ".");
    }
    sheet.cautions = {"These are the model's limits, not a standard's."};
    sheet.cautions.insert(sheet.cautions.end(), kCautions.begin(), kCautions.end());
    if (r.girths) {
        sheet.parts.push_back({"Girth and shell",
                               {"Girth: present girth of a pole without other defects, shell rot "
                                "removed. Shell: sound wood around internal rot, even all round, "
                                "at full girth."},
                               {girth_table(r)}});
    }
    LimitSheetPart pockets{
        "External pockets",
        {"The widest that passes: one pocket, no other defect, full girth. "
         "Width straight across the mouth, depth the greatest." +
         std::string{r.transverse_governs ? " An angle of 0 is in line with the conductors, 90 "
                                            "square to them."
                                          : ""}},
        width_tables(r, "Widest pocket", "depth", &GirthLimits::pockets)};
    LimitSheetPart mouths{
        "Pocket mouths over internal rot",
        {"The widest that passes where a pocket is as deep as the shell and opens "
         "the rot behind: one pocket, an even shell, full girth."},
        width_tables(r, "Widest mouth", "shell", &GirthLimits::mouths)};
    mouths.notes.push_back(shell_note(r));
    for (LimitSheetPart* part : {&pockets, &mouths}) {
        const bool empty = std::all_of(part->tables.begin(),
                                       part->tables.end(),
                                       [](const LimitSheetTable& t) { return t.rows.empty(); });
        if (!empty) {
            sheet.parts.push_back(std::move(*part));
        }
    }
    sheet.legend.emplace_back("Between two rows or girths take the stricter figure.");
    if (r.transverse_governs && sheet.parts.size() > (r.girths ? 1U : 0U)) {
        sheet.legend.emplace_back("A depth or shell over the radius of a pole has no row.");
        sheet.legend.emplace_back(
            "Between two angles a figure may be smaller than at either: take neither; run the "
            "section "
            "with linewood section, or ask for that angle with --angles.");
    }
    add_legend(sheet);
    return sheet;
}

}  // namespace linewood
