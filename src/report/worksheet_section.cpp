#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "assess/condition/placement.hpp"
#include "src/pipeline/output_fields.hpp"
#include "src/pipeline/pole_rows.hpp"
#include "src/report/section_drawing.hpp"
#include "src/report/section_drawing_parts.hpp"
#include "src/report/worksheet_parts.hpp"

namespace linewood {
namespace {

SheetPicture drawing_of(const WorksheetInput& in, std::size_t i) {
    const SectionTrace& trace = in.trace.sections[i];
    SectionDrawingInput drawing{
        in.assessment.sections[i], in.file.line, in.run.job.criteria, in.run.job.units};
    drawing.title = "Pole " + std::string{in.pole_id} + ", " + section_words(in, i);
    drawing.subtitle = "Verdict on the pole: " + std::string{name_of(in.assessment.verdict)};
    for (std::size_t p = 0; p < trace.survey.pockets.size(); ++p) {
        if (trace.worked && was_placed(trace, p)) {
            drawing.placed_pockets.push_back(p);
        }
    }
    drawing.shell_all_round = shell_is_all_round(in, trace);
    SheetPicture picture;
    picture.name = section_picture(i);
    picture.caption = "The section from above, and what remains by direction of load";
    const auto& formats = in.run.job.formats;
    if (std::find(formats.begin(), formats.end(), SheetFormat::svg) != formats.end()) {
        picture.document = section_drawing(drawing);
    }
    if (std::find(formats.begin(), formats.end(), SheetFormat::html) != formats.end()) {
        drawing.form = SvgForm::fragment;
        picture.fragment = section_drawing(drawing);
    }
    return picture;
}

SheetTable layer_table(const WorksheetInput& in, std::size_t i) {
    const UnitSystem units = in.run.job.units;
    const SheetFigures f{units};
    const auto fields = section_fields(units);
    const SectionCells cells = section_cells(in.pole_id, in.assessment.sections[i], units);
    SheetTable table{"section",
                     "The section, as the layer sections has it",
                     {{"field", "Field"}, {"value", "Value"}},
                     {},
                     true};
    for (std::size_t c = 1; c < fields.size(); ++c) {
        table.rows.push_back({SheetCell::words(fields[c].name),
                              f.column_cell(fields[c], cells[c], in.run.job.criteria)});
    }
    return table;
}

/// Where both girths of a section came from.
class GirthSteps {
public:
    GirthSteps(const WorksheetInput& in, std::size_t i)
        : in_{in},
          f_{in.run.job.units},
          s_{in.trace.sections[i].survey},
          taper_{in.trace.original.taper} {}

    SheetTable table() const {
        SheetTable table{"girths",
                         "Girths",
                         {{"quantity", "Quantity"},
                          {"formula", "How"},
                          {"figures", "Figures"},
                          {"result", "Result"}},
                         {}};
        table.rows.push_back({SheetCell::words("C0, original"),
                              SheetCell::words(original_how()),
                              SheetCell::words(original_figures()),
                              result(s_.original, s_.original_known, "at least ")});
        table.rows.push_back({SheetCell::words("C, now"),
                              SheetCell::words(present_how()),
                              SheetCell::words(present_figures()),
                              result(s_.present, s_.present_known, "at most ")});
        if (s_.present && s_.original && *s_.original > Length{}) {
            const double ratio = *s_.present / *s_.original;
            const bool known = s_.present_known && s_.original_known;
            table.rows.push_back(
                {SheetCell::words("C / C0"),
                 SheetCell::words("girth now over the original"),
                 SheetCell::words(f_.girth(s_.present) + " / " + f_.girth(s_.original)),
                 SheetCell::figure((known ? "" : "bound: at most ") +
                                       share_text(ratio, in_.run.job.criteria.girth_ratio_min),
                                   known ? Cell{percent_figure(ratio)} : Cell{})});
        }
        return table;
    }

private:
    SheetCell result(Maybe<Length> girth, bool known, std::string_view bound) const {
        if (known || !girth) {
            return f_.girth_cell(girth);
        }
        return SheetCell::figure(
            fmt::format("not known; bound: {}{}", bound, f_.girth(girth)), {}, CellMark::open);
    }

    std::string original_how() const {
        switch (s_.original_basis) {
            case OriginalBasis::unknown:
                return "not known";
            case OriginalBasis::groundline:
                return "C0(0), as found above";
            case OriginalBasis::carried:
                return taper_ && taper_->has_girth() ? "C0(0) × T(h) / T(0)"
                                                     : "C0(0) − average taper of the species × h";
            case OriginalBasis::uncarried:
                return "C0(0) unchanged: no taper is known";
            case OriginalBasis::before_rot:
                return "at least C + 2π × depth of the shell rot that came off";
            case OriginalBasis::present_stands:
                return "at least C: wood does not grow on a standing pole";
        }
        return "";
    }

    std::string original_figures() const {
        const Maybe<Length> base = in_.trace.original.groundline;
        switch (s_.original_basis) {
            case OriginalBasis::carried:
                if (taper_ && taper_->has_girth()) {
                    return fmt::format("{} × {} / {}",
                                       f_.girth(base),
                                       f_.girth(taper_->girth_at(s_.height)),
                                       f_.girth(taper_->girth_at(Length{})));
                }
                return fmt::format("{} − {} × {}",
                                   f_.girth(base),
                                   six_digits(taper_ ? taper_->slope() : 0.0),
                                   f_.girth(s_.height));
            case OriginalBasis::before_rot:
                return fmt::format("{} + 2π × {}{}",
                                   f_.girth(s_.girth_measured),
                                   f_.girth(s_.rot_depth),
                                   instead_of());
            case OriginalBasis::present_stands:
                return f_.girth(s_.present) + instead_of();
            case OriginalBasis::groundline:
            case OriginalBasis::uncarried:
                return f_.girth(base);
            case OriginalBasis::unknown:
                break;
        }
        return "";
    }

    std::string instead_of() const {
        return s_.original_brought ? " (instead of " + f_.girth(s_.original_brought) + ")"
                                   : std::string{};
    }

    std::string present_how() const {
        switch (s_.present_basis) {
            case PresentBasis::unknown:
                return "not known; it is C0 at most";
            case PresentBasis::measured:
                return "the least girth measured here";
            case PresentBasis::less_rot:
                return "C0 − 2π × depth of the shell rot";
            case PresentBasis::as_groundline:
                return "C0 × C(0) / C0(0): at or below the groundline it shrinks as there";
            case PresentBasis::original_stands:
                return s_.height == Length{}
                           ? "C0: bored or excavated, and no shell rot recorded"
                           : "C0: above the groundline, and no shell rot recorded here";
        }
        return "";
    }

    std::string present_figures() const {
        switch (s_.present_basis) {
            case PresentBasis::less_rot:
                return fmt::format(
                    "{} − 2π × {}", f_.girth(s_.original_brought), f_.girth(s_.rot_depth));
            case PresentBasis::as_groundline:
                return groundline_figures();
            case PresentBasis::measured:
                return f_.girth(s_.girth_measured);
            case PresentBasis::original_stands:
                return f_.girth(s_.original);
            case PresentBasis::unknown:
                break;
        }
        return "";
    }

    std::string groundline_figures() const {
        for (const SectionTrace& t : in_.trace.sections) {
            if (t.survey.height == Length{}) {
                return fmt::format("{} × {} / {}",
                                   f_.girth(s_.original),
                                   f_.girth(t.survey.present),
                                   f_.girth(t.survey.original));
            }
        }
        return "";
    }

    const WorksheetInput& in_;
    SheetFigures f_;
    const SurveyedSection& s_;
    const std::optional<Taper>& taper_;
};

std::string limit_words(SectionLimit limit) {
    switch (limit) {
        case SectionLimit::governing_strength:
            return "governing strength, at least";
        case SectionLimit::weakest_strength:
            return "strength in the weakest direction, at least";
        case SectionLimit::girth_ratio:
            return "girth now over the original, at least";
        case SectionLimit::shell:
            return "least effective shell, at least";
        case SectionLimit::lost_pieces:
            return "area lost with pieces that do not carry, at most";
    }
    return "";
}

SheetCell outcome_cell(const CheckedLimit& c) {
    switch (c.outcome) {
        case LimitOutcome::meets:
            return SheetCell::figure("pass", Cell{std::string{"pass"}}, CellMark::good);
        case LimitOutcome::fails:
            return SheetCell::figure(
                c.on_bound ? "FAIL, on a bound" : "FAIL", Cell{std::string{"fail"}}, CellMark::bad);
        case LimitOutcome::unknown:
            return SheetCell::figure("unknown", Cell{std::string{"unknown"}}, CellMark::open);
        case LimitOutcome::not_asked:
            return SheetCell::figure("not asked", Cell{std::string{"not_asked"}}, CellMark::open);
    }
    return {};
}

class LimitRows {
public:
    LimitRows(const WorksheetInput& in, std::size_t i)
        : f_{in.run.job.units}, checks_{in.assessment.sections[i].limits} {}

    SheetTable table() const {
        SheetTable table{"limits",
                         "Limits",
                         {{"limit", "Limit"},
                          {"words", "Asks of"},
                          {"value", "Value"},
                          {"bound", "Limit"},
                          {"outcome", "Outcome"}},
                         {}};
        for (const CheckedLimit& c : checks_) {
            table.rows.push_back({SheetCell::words(std::string{name_of(c.limit)}),
                                  SheetCell::words(limit_words(c.limit)),
                                  value_cell(c),
                                  SheetCell::figure(text(c, c.bound), Cell{figure(c, c.bound)}),
                                  outcome_cell(c)});
        }
        return table;
    }

private:
    double figure(const CheckedLimit& c, double v) const {
        return c.limit == SectionLimit::shell ? girth_figure(Length::metres(v), f_.units())
                                              : percent_figure(v);
    }

    std::string text(const CheckedLimit& c, double v) const {
        if (c.limit == SectionLimit::shell) {
            return f_.girth(Length::metres(v));
        }
        return share_text(v, c.bound);
    }

    SheetCell value_cell(const CheckedLimit& c) const {
        if (!c.value) {
            return SheetCell::figure(
                c.outcome == LimitOutcome::not_asked ? std::string{kNoValue} : "no value", {});
        }
        if (c.on_bound) {
            return SheetCell::figure(
                fmt::format("no value, worked on a bound: {} {}",
                            c.limit == SectionLimit::lost_pieces ? "about" : "at most",
                            text(c, *c.value)),
                {},
                CellMark::open);
        }
        return SheetCell::figure(text(c, *c.value), Cell{figure(c, *c.value)});
    }

    SheetFigures f_;
    const CheckedLimits& checks_;
};

std::string missing_words(const SectionCondition& s) {
    std::string words;
    for (const Reason r : {Reason::present_circumference_missing,
                           Reason::original_circumference_missing,
                           Reason::pocket_size_missing,
                           Reason::shell_thickness_missing,
                           Reason::value_unreadable}) {
        if (s.reasons.has(r)) {
            words += words.empty() ? "" : "; ";
            words += text_of(r).meaning;
        }
    }
    return words;
}

SheetPart section_part(const WorksheetInput& in, std::size_t i) {
    const SectionCondition& s = in.assessment.sections[i];
    const SectionTrace& trace = in.trace.sections[i];
    SheetPart part{
        fmt::format("section-{}", i + 1),
        fmt::format("Section {} of {}: {}",
                    i + 1,
                    in.assessment.sections.size(),
                    section_words(in, i).substr(std::string_view{"the section "}.size())),
        {}};
    if (in.assessment.worst_section == i) {
        part.items.emplace_back(
            SheetText{"The worst section: of least governing strength, the lowest of equals."});
    }
    part.items.emplace_back(layer_table(in, i));
    if (const std::string missing = missing_words(s); !missing.empty()) {
        part.items.emplace_back(
            SheetText{"Something is missing: " + missing +
                          ". What follows is worked on bounds, not on values: what fails on them "
                          "fails on the truth, and nothing passes on them.",
                      true});
    }
    if (s.reasons.has(Reason::geometry_impossible)) {
        part.items.emplace_back(SheetText{
            "A recorded size does not fit the pole; the section is cut as far as the geometry "
            "allows. It cannot pass.",
            true});
    }
    if (trace.worked && trace.worked->shape.radius > Length{}) {
        part.items.emplace_back(drawing_of(in, i));
    }
    part.items.emplace_back(GirthSteps{in, i}.table());
    if (SheetTable defects = defects_table(in, i); !defects.rows.empty()) {
        part.items.emplace_back(std::move(defects));
    }
    if (trace.worked) {
        add_strength_tables(in, i, part);
        add_hand_check(in, i, part);
    } else {
        part.items.emplace_back(
            SheetText{"No girth is known: no strength could be worked out.", true});
    }
    part.items.emplace_back(LimitRows{in, i}.table());
    return part;
}

}  // namespace

std::string section_picture(std::size_t section) { return fmt::format("section-{}", section + 1); }

bool was_placed(const SectionTrace& trace, std::size_t pocket) {
    return trace.survey.pockets[pocket].azimuth !=
           Maybe<Bearing>{trace.worked->shape.pockets[pocket].azimuth};
}

bool shell_is_all_round(const WorksheetInput& in, const SectionTrace& trace) {
    const auto& bores = trace.survey.bores;
    return std::any_of(bores.begin(), bores.end(), [&](const SurveyedBore& b) {
        SurveyedPocket there;
        there.azimuth = b.azimuth;
        there.position = b.position;
        return !b.sound && is_open(there, in.file.line, in.run.job.criteria);
    });
}

std::string section_words(const WorksheetInput& in, std::size_t i) {
    const Length height = in.trace.sections[i].survey.height;
    const std::string at = "the section at " + SheetFigures{in.run.job.units}.height(height);
    return at + (height == Length{} ? ", the groundline" : "");
}

SheetPart sections_part(const WorksheetInput& in) {
    SheetPart part{"sections", "Sections", {}};
    part.is_list = true;
    if (in.assessment.sections.empty()) {
        part.items.emplace_back(SheetText{"None: the pole was not assessed."});
    }
    for (std::size_t i = 0; i < in.assessment.sections.size(); ++i) {
        part.parts.push_back(section_part(in, i));
    }
    return part;
}

}  // namespace linewood
