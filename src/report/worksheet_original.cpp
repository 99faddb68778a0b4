#include <fmt/format.h>

#include "assess/wood/dimension_table.hpp"
#include "assess/wood/pole_class.hpp"
#include "src/report/worksheet_parts.hpp"

namespace linewood {
namespace {

/// The steps to the original girth at the groundline.
class OriginalSteps {
public:
    explicit OriginalSteps(const WorksheetInput& in)
        : in_{in}, f_{in.run.job.units}, found_{in.trace.original_found} {}

    SheetPart part() {
        SheetPart part{"original", "Original girth at the groundline, C0(0)", {}};
        add_found();
        add_raised();
        SheetTable table{"steps",
                         "Where it came from, and how",
                         {{"quantity", "Quantity"},
                          {"formula", "How"},
                          {"figures", "Figures"},
                          {"result", "Result"}},
                         std::move(rows_)};
        part.items.emplace_back(std::move(table));
        for (std::string& note : notes_) {
            part.items.emplace_back(SheetText{std::move(note)});
        }
        return part;
    }

private:
    void add(std::string quantity, std::string formula, std::string figures, SheetCell result) {
        rows_.push_back({SheetCell::words(std::move(quantity)),
                         SheetCell::words(std::move(formula)),
                         SheetCell::words(std::move(figures)),
                         std::move(result)});
    }

    void add_found() {
        switch (found_.source) {
            case OriginalSource::measured:
            case OriginalSource::measured_above:
                add_measured();
                break;
            case OriginalSource::recorded:
                add("C0(0)",
                    "recorded with the pole (recorded_circumference)",
                    f_.girth(found_.groundline),
                    f_.girth_cell(found_.groundline));
                break;
            case OriginalSource::tables:
                add_table();
                break;
            case OriginalSource::present:
            case OriginalSource::none:
                add("C0(0)", "not known: " + why_not(), "", f_.girth_cell({}));
                break;
        }
    }

    void add_measured() {
        const Inspection& visit = in_.trace.visit->inspection;
        const Length height = visit.original_height.value_or(Length{});
        const Maybe<Length> girth = visit.original_circumference;
        add("C0 measured",
            "at the inspection, at " + f_.height(height),
            f_.girth(girth),
            f_.girth_cell(girth));
        if (height == Length{}) {
            return;
        }
        if (found_.source == OriginalSource::measured_above) {
            add("C0(0)",
                "as it is: neither a table nor the species gives a taper to carry it by",
                f_.girth(girth),
                f_.girth_cell(found_.groundline));
        } else if (found_.taper->has_girth()) {
            add_taper();
            add("C0(0)",
                "measured × T(0) / T(h)",
                fmt::format("{} × {} / {}",
                            f_.girth(girth),
                            f_.girth(found_.taper->girth_at(Length{})),
                            f_.girth(found_.taper->girth_at(height))),
                f_.girth_cell(found_.groundline));
        } else {
            add("C0(0)",
                "measured + average taper of the species × h",
                fmt::format("{} + {} × {}",
                            f_.girth(girth),
                            six_digits(found_.taper->slope()),
                            f_.girth(height)),
                f_.girth_cell(found_.groundline));
        }
    }

    void add_table() {
        add_taper();
        add("C0(0)",
            "least girth of the class at the groundline, T(0)",
            f_.girth(found_.groundline),
            f_.girth_cell(found_.groundline));
        notes_.emplace_back(
            "Tables give the least girth of a class: a stouter pole has lost more than shown.");
    }

    /// The table's row and the straight line through it. @pre the taper is a table's
    void add_taper() {
        const Pole& pole = in_.file.pole;
        const WoodTables& tables = in_.run.job.tables;
        const DimensionTable* table = tables.table_of(pole.species);
        const DimensionRow* row =
            table != nullptr && pole.length ? table->row(*pole.length) : nullptr;
        if (row == nullptr || !pole.has_class) {
            return;
        }
        const auto c = static_cast<std::size_t>(pole.pole_class);
        const Maybe<Length> foot = row->girth[c];
        const Maybe<Length> top = table->top_girth[c];
        const Length depth = in_.trace.ends.butt ? -*in_.trace.ends.butt : row->setting_depth;
        const std::string of = fmt::format("table {}, {} pole, class {}",
                                           table->code,
                                           f_.height(row->length),
                                           name_of(pole.pole_class));
        add("girth 6 ft from the butt", of, "", f_.girth_cell(foot));
        add("girth at the tip", of, "", f_.girth_cell(top));
        add("taper",
            "(girth 6 ft from the butt − girth at the tip) / (length − 6 ft)",
            fmt::format("({} − {}) / ({} − {})",
                        f_.girth(foot),
                        f_.girth(top),
                        f_.height(row->length),
                        f_.height(kTableHeight)),
            taper_cell(in_.trace.lookup.taper->slope()));
        add("T(0)",
            "girth 6 ft from the butt − taper × (setting depth − 6 ft)",
            fmt::format("{} − {} × ({} − {})",
                        f_.girth(foot),
                        taper_cell(in_.trace.lookup.taper->slope()).text,
                        f_.height(depth),
                        f_.height(kTableHeight)),
            f_.girth_cell(in_.trace.lookup.groundline_girth));
        if (const TableBlock* block = table->block(row->length, pole.pole_class)) {
            notes_.push_back(
                fmt::format("Table {}: {}; {}.", table->code, block->source, block->confidence));
        }
    }

    /// Girth lost for each unit of height: in for each ft, mm for each m.
    SheetCell taper_cell(double slope) const {
        const bool us = f_.units() == UnitSystem::us;
        const double v = slope * (us ? 12.0 : 1000.0);
        return SheetCell::figure(six_digits(v) + (us ? " in/ft" : " mm/m"), Cell{rounded(v)});
    }

    std::string why_not() const {
        switch (in_.trace.lookup.answer) {
            case TableAnswer::found:
                return "nothing gives it";
            case TableAnswer::no_species:
                return "not measured, not recorded, and no species to look it up by";
            case TableAnswer::no_table:
                return "not measured, not recorded, and the species has no table";
            case TableAnswer::no_length:
                return "not measured, not recorded, and no length to look it up by";
            case TableAnswer::no_row:
                return "not measured, not recorded, and the tables have no row for the length";
            case TableAnswer::no_class:
                return "not measured, not recorded, and no class to look it up by";
            case TableAnswer::no_cell:
                return "not measured, not recorded, and the tables have no such pole";
        }
        return "";
    }

    void add_raised() {
        const OriginalGirth& used = in_.trace.original;
        if (used.source == OriginalSource::present && found_.source != OriginalSource::present) {
            add("C0(0)",
                "the present girth stands for it, as the criteria allow",
                "",
                f_.girth_cell(used.groundline));
        } else if (used.groundline && found_.groundline && *used.groundline != *found_.groundline) {
            add("C0(0) used",
                "raised to the wood that was certainly there: the girth now, or that and 2π × the "
                "depth of the shell rot (see the section at the groundline)",
                "",
                f_.girth_cell(used.groundline));
        }
    }

    const WorksheetInput& in_;
    SheetFigures f_;
    const OriginalGirth& found_;
    std::vector<std::vector<SheetCell>> rows_;
    std::vector<std::string> notes_;
};

}  // namespace

SheetPart original_part(const WorksheetInput& in) {
    if (in.trace.facts.not_wood || in.duplicate) {
        return {"original", "Original girth", {SheetText{"Not looked for."}}};
    }
    return OriginalSteps{in}.part();
}

}  // namespace linewood
