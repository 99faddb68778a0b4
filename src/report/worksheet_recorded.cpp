#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "assess/wood/pole_class.hpp"
#include "src/pipeline/row_decoder.hpp"
#include "src/report/worksheet_parts.hpp"

namespace linewood {
namespace {

void add_sentence(std::string& to, std::string_view more) {
    if (!more.empty()) {
        to += to.empty() ? "" : "; ";
        to += more;
    }
}

/// One record as a table: every column that holds something, then what was not recorded but used.
class RecordTable {
public:
    RecordTable(const WorksheetInput& in, std::string key, std::string caption, InputLayer layer)
        : in_{in},
          layer_{layer},
          table_{std::move(key),
                 std::move(caption),
                 {{"field", "Field"},
                  {"recorded", "As recorded"},
                  {"used_as", "Used as"},
                  {"assumed", "Assumed, and why"}},
                 {}} {}

    void take(const RecordedRow& row) { row_ = &row; }

    /// What became of a contract field. @param assumed where it was not recorded.
    void field(std::string_view name, const std::string& used, std::string_view assumed) {
        const std::string recorded = recorded_text(name);
        seen_.insert(std::string{name});
        std::string why = recorded.empty() ? std::string{assumed} : std::string{};
        add_sentence(why, doubts(name));
        if (recorded.empty() && why.empty()) {
            return;
        }
        table_.rows.push_back(
            {SheetCell::words(std::string{name}),
             recorded.empty() ? SheetCell::figure("not recorded", {}) : SheetCell::words(recorded),
             SheetCell::words(used),
             SheetCell::words(why)});
    }

    void leave_out(std::string_view name) { seen_.insert(std::string{name}); }

    SheetTable finish() {
        for (const auto& [name, text] : row_->fields) {
            if (seen_.count(code_form(name)) == 0) {
                table_.rows.push_back({SheetCell::words(name),
                                       SheetCell::words(text),
                                       SheetCell::words(""),
                                       SheetCell::words("")});
            }
        }
        return std::move(table_);
    }

private:
    std::string recorded_text(std::string_view name) const {
        for (const auto& [column, text] : row_->fields) {
            const std::string form = code_form(column);
            const bool cut = form.size() == 10 && name.substr(0, 10) == form;
            if (form == name || cut) {
                seen_.insert(form);
                return text;
            }
        }
        return "";
    }

    std::string doubts(std::string_view field) const {
        std::string words;
        const std::string feature =
            layer_ == InputLayer::poles ? std::string{in_.pole_id} : std::to_string(row_->fid);
        for (const Finding& f : in_.findings) {
            if (f.layer == layer_ && f.feature == feature && f.field == field) {
                add_sentence(words, f.message);
            }
        }
        return words;
    }

    const WorksheetInput& in_;
    InputLayer layer_;
    SheetTable table_;
    const RecordedRow* row_ = nullptr;
    mutable std::set<std::string> seen_;
};

std::string length_words(Maybe<Length> l, const SheetFigures& f) {
    return l ? f.height(*l) : std::string{};
}

SheetTable pole_table(const WorksheetInput& in) {
    const SheetFigures f{in.run.job.units};
    const Pole& pole = in.file.pole;
    const WoodTables& tables = in.run.job.tables;
    RecordTable t{in, "pole_record", "The pole", InputLayer::poles};
    t.take(in.recorded.pole);
    t.field("pole_id", std::string{in.pole_id}, "");
    t.field("material",
            pole.is_wood ? "wood" : "not wood",
            "taken for wood: only poles of wood are meant to be here");
    t.field("species",
            pole.species < tables.species_count()
                ? tables.species(pole.species).code + ": " + tables.species(pole.species).name
                : "",
            "no table girth and no taper");
    t.field("pole_class",
            pole.has_class ? "class " + std::string{name_of(pole.pole_class)} : "",
            "no table girth");
    t.field("length",
            length_words(pole.length, f),
            "no table girth; where tip and butt are is not known");
    t.field("setting_depth",
            in.trace.ends.butt ? f.height(-*in.trace.ends.butt) : "",
            in.trace.ends.butt ? "the depth usual for that length, from the tables"
                               : "where the butt is is not known");
    t.field("recorded_circumference",
            pole.recorded_circumference ? f.girth(pole.recorded_circumference) : "",
            "");
    t.field("reinforced", pole.reinforced ? "yes" : "no", "taken as not reinforced");
    return t.finish();
}

SheetTable visit_table(const WorksheetInput& in, const Inspection& visit, const RecordedRow& row) {
    const SheetFigures f{in.run.job.units};
    RecordTable t{in, "inspection_record", "The inspection assessed", InputLayer::inspections};
    t.take(row);
    t.leave_out("pole_id");
    t.field("inspected_on",
            visit.inspected_on ? visit.inspected_on->to_string() : "",
            "without a date it counts as the oldest");
    t.field("method", "", "counts as having neither bored nor excavated");
    t.field("original_circumference",
            visit.original_circumference ? f.girth(visit.original_circumference) : "",
            "the pole's record or the tables stand for it, where they have one");
    t.field("original_height",
            visit.original_circumference ? f.height(visit.original_height.value_or(Length{})) : "",
            visit.original_circumference ? "taken at the groundline" : "");
    t.field("present_circumference",
            visit.present_circumference ? f.girth(visit.present_circumference) : "",
            "see the section at the groundline for what stands for it");
    t.field("aboveground_damage", "", "a stub then asks for a look above first");
    t.field("climb_safe", "", "taken as not said: nothing follows from it");
    t.field("decay_below_excavation", "", "taken as not said: nothing follows from it");
    t.field("treated", "", "taken as not treated");
    return t.finish();
}

/// The word a section goes by in the other tables.
std::optional<std::size_t> section_of(const WorksheetInput& in, std::size_t defect) {
    for (std::size_t i = 0; i < in.trace.sections.size(); ++i) {
        const auto& here = in.trace.sections[i].survey.defects;
        if (std::find(here.begin(), here.end(), defect) != here.end()) {
            return i;
        }
    }
    return std::nullopt;
}

constexpr std::array<std::string_view, 4> kKinds{
    "external_pocket", "internal_rot", "shell_rot", "bore"};

class DefectRow {
public:
    DefectRow(const WorksheetInput& in, std::size_t which)
        : in_{in}, f_{in.run.job.units}, which_{which}, d_{in.file.defects[which]} {}

    std::vector<SheetCell> cells() {
        return {SheetCell::words(defect_label(in_, which_)),
                SheetCell::words(recorded()),
                SheetCell::words(used()),
                SheetCell::words(assumed())};
    }

private:
    bool has(std::string_view column) const {
        const auto& rows = in_.recorded.defects;
        if (which_ >= rows.size()) {
            return false;
        }
        return std::any_of(rows[which_].fields.begin(),
                           rows[which_].fields.end(),
                           [&](const auto& field) { return code_form(field.first) == column; });
    }

    std::string recorded() const {
        std::string words;
        if (which_ < in_.recorded.defects.size()) {
            for (const auto& [name, text] : in_.recorded.defects[which_].fields) {
                if (code_form(name) != "pole_id") {
                    add_sentence(words, name + " " + text);
                }
            }
        }
        return words;
    }

    std::string used() const {
        std::string words{kKinds[static_cast<std::size_t>(d_.kind)]};
        if (const auto section = section_of(in_, which_)) {
            words += ", " + section_words(in_, *section);
        }
        const auto size = [&](std::string_view name, Maybe<Length> l) {
            if (l) {
                words += fmt::format(", {} {}", name, f_.girth(l));
            }
        };
        size("width", d_.width);
        size("depth", d_.depth);
        size("shell", d_.shell_thickness);
        size("girth", d_.present_circumference);
        if (d_.azimuth) {
            words += ", at " + f_.degrees(d_.azimuth->degrees()) + " true" +
                     sector_words(in_, d_.azimuth);
        }
        return words;
    }

    std::string assumed() const {
        std::string words;
        if (!d_.height) {
            add_sentence(words, "no height recorded: taken at the groundline");
        }
        if (has("azimuth") && !has("azimuth_ref") && d_.azimuth) {
            add_sentence(words, "no azimuth reference recorded: taken as true");
        }
        add_sentence(words, placed());
        if (d_.kind == DefectKind::external_pocket && d_.cause == DefectCause::not_recorded) {
            add_sentence(words, "no cause recorded: counts as decay");
        }
        if (d_.kind == DefectKind::internal_rot && !d_.azimuth) {
            add_sentence(words, "no direction: the least shell of the section is taken all round");
        }
        const std::string feature = std::to_string(d_.fid);
        for (const Finding& finding : in_.findings) {
            const bool said =
                finding.code == "height_assumed" || finding.code == "azimuth_ref_assumed";
            if (finding.layer == InputLayer::defects && finding.feature == feature && !said) {
                add_sentence(words, finding.message);
            }
        }
        return words;
    }

    std::string placed() const {
        for (const SectionTrace& s : in_.trace.sections) {
            for (std::size_t i = 0; s.worked && i < s.survey.pockets.size(); ++i) {
                if (s.survey.pockets[i].defect == which_ && was_placed(s, i)) {
                    return fmt::format("{}: put at {}, where it costs most",
                                       s.survey.pockets[i].azimuth ? "azimuth and position disagree"
                                       : s.survey.pockets[i].position == FacePosition::not_recorded
                                           ? "no direction recorded"
                                           : "no azimuth recorded, only a side",
                                       f_.degrees(s.worked->shape.pockets[i].azimuth.degrees()));
                }
            }
        }
        return "";
    }

    const WorksheetInput& in_;
    SheetFigures f_;
    std::size_t which_;
    const Defect& d_;
};

void add_visit(const WorksheetInput& in, SheetPart& part) {
    if (!in.trace.visit) {
        part.items.emplace_back(SheetText{"No inspection is recorded."});
        return;
    }
    const Inspection& visit = in.trace.visit->inspection;
    for (std::size_t i = 0; i < in.file.inspections.size(); ++i) {
        if (in.file.inspections[i].fid == visit.fid && i < in.recorded.inspections.size()) {
            part.items.emplace_back(visit_table(in, visit, in.recorded.inspections[i]));
            break;
        }
    }
    if (visit.fid < 0) {
        part.items.emplace_back(
            SheetText{"No inspection is recorded near the date of these defects: they are taken as "
                      "an inspection of their own."});
    }
    if (in.trace.visits.size() > 1) {
        std::string words;
        for (const Visit& v : in.trace.visits) {
            if (v.inspection.fid != visit.fid) {
                add_sentence(words,
                             v.inspection.inspected_on ? v.inspection.inspected_on->to_string()
                                                       : std::string{"undated"});
            }
        }
        part.items.emplace_back(
            SheetText{"Other inspections, not assessed here (the latest counts; of several on a "
                      "day the worse): " +
                      words + "."});
    }
}

void add_defects(const WorksheetInput& in, SheetPart& part) {
    if (!in.trace.visit) {
        return;
    }
    const auto& chosen = in.trace.visit->defects;
    if (chosen.empty()) {
        part.items.emplace_back(SheetText{"No defects are recorded at this inspection."});
    } else {
        SheetTable table{"defect_records",
                         "Defects and bores of the inspection",
                         {{"defect", "No."},
                          {"recorded", "As recorded"},
                          {"used_as", "Used as"},
                          {"assumed", "Assumed, and why"}},
                         {}};
        for (const std::size_t i : chosen) {
            table.rows.push_back(DefectRow{in, i}.cells());
        }
        part.items.emplace_back(std::move(table));
    }
    if (chosen.size() < in.file.defects.size()) {
        part.items.emplace_back(
            SheetText{fmt::format("Defects recorded for other inspections and not used here: {}.",
                                  in.file.defects.size() - chosen.size())});
    }
}

}  // namespace

SheetPart recorded_part(const WorksheetInput& in) {
    SheetPart part{"recorded", "What was recorded", {}};
    part.items.emplace_back(pole_table(in));
    add_visit(in, part);
    add_defects(in, part);
    return part;
}

}  // namespace linewood
