#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "assess/condition/sectors.hpp"
#include "src/report/section_drawing_parts.hpp"
#include "src/report/worksheet_parts.hpp"

namespace linewood {
namespace {

std::vector<SheetColumn> step_columns() {
    return {{"quantity", "Quantity"},
            {"formula", "Formula"},
            {"figures", "Figures"},
            {"result", "Result"}};
}

/// Rows of quantity, formula, figures and result.
class Steps {
public:
    void add(std::string quantity, std::string formula, std::string figures, SheetCell result) {
        rows_.push_back({SheetCell::words(std::move(quantity)),
                         SheetCell::words(std::move(formula)),
                         SheetCell::words(std::move(figures)),
                         std::move(result)});
    }
    SheetTable table(std::string key, std::string caption) && {
        return {std::move(key), std::move(caption), step_columns(), std::move(rows_)};
    }

private:
    std::vector<std::vector<SheetCell>> rows_;
};

/// A share to six digits: what a calculator is compared with.
SheetCell share_cell(double share) {
    return SheetCell::figure(six_digits(share * 100.0) + " %", Cell{percent_figure(share)});
}

std::string pair_text(const SheetFigures& f, double x, double y, int power) {
    return fmt::format("({}, {})", f.property_text(x, power), f.property_text(y, power));
}

SheetTable property_table(const WorksheetInput& in, const SectionTrace& t, const WorkedShape& w) {
    const SheetFigures f{in.run.job.units};
    const double c0 = t.survey.original->metres();
    const double c = t.survey.present->metres();
    const BendingFigures& b = w.figures;
    Steps steps;
    steps.add("R",
              "C / (2π)",
              f.property_text(c, 1) + " / " + six_digits(2.0 * std::numbers::pi),
              f.property_cell(w.shape.radius.metres(), 1));
    steps.add("S0, sound",
              "C0³ / (32 π²) = π D0³ / 32",
              fmt::format("{}³ / {}",
                          f.property_text(c0, 1),
                          six_digits(32.0 * std::numbers::pi * std::numbers::pi)),
              f.property_cell(t.sound_modulus, 3));
    steps.add("A0, sound",
              "C0² / (4π)",
              fmt::format("{}² / {}", f.property_text(c0, 1), six_digits(4.0 * std::numbers::pi)),
              f.property_cell(t.sound_area, 2));
    steps.add("A, all that remains", "∫ dA", "", f.property_cell(w.area, 2));
    steps.add("A / A0",
              "",
              f.property_text(w.area, 2) + " / " + f.property_text(t.sound_area, 2),
              share_cell(w.area / t.sound_area));
    steps.add("A, what carries",
              "∫ dA of the piece or pieces that carry",
              "",
              f.property_cell(b.area, 2));
    steps.add("c, centroid x", "∫ x dA / A", "", f.property_cell(b.centroid_x, 1));
    steps.add("c, centroid y", "∫ y dA / A", "", f.property_cell(b.centroid_y, 1));
    steps.add("Jxx", "∫ (x − cx)² dA", "", f.property_cell(b.xx, 4));
    steps.add("Jxy", "∫ (x − cx)(y − cy) dA", "", f.property_cell(b.xy, 4));
    steps.add("Jyy", "∫ (y − cy)² dA", "", f.property_cell(b.yy, 4));
    return std::move(steps).table("properties", "Properties of what carries, x east and y north");
}

/// One load direction as a row.
class DirectionRows {
public:
    /// @param on_bound something needed is missing: what is reported is no value.
    DirectionRows(const WorksheetInput& in, bool on_bound)
        : f_{in.run.job.units}, on_bound_{on_bound} {
        table_ = {"directions",
                  "Strength by load direction",
                  {{"direction", "Load"},
                   {"azimuth", "Azimuth"},
                   {"e", "e"},
                   {"k", "k = J⁻¹ e, " + f_.property_unit(-4)},
                   {"p", "p, " + f_.property_unit(1)},
                   {"modulus", "S = 1 / |k·(p − c)|, " + f_.property_unit(3)},
                   {"share", "S / S0"},
                   {"reported", "Reported"}},
                  {}};
    }

    void add(const std::string& name, const WorkedDirection& d, double limit) {
        const double a = d.load.radians();
        const ExtremeFibre& p = d.fibre;
        const double reported = std::min(1.0, d.share);
        table_.rows.push_back(
            {SheetCell::words(name),
             SheetCell::figure(f_.degrees(d.load.degrees()), Cell{rounded(d.load.degrees())}),
             SheetCell::words(
                 fmt::format("({}, {})", six_digits(std::sin(a)), six_digits(std::cos(a)))),
             SheetCell::words(pair_text(f_, p.k_x, p.k_y, -4)),
             SheetCell::words(pair_text(f_, p.x, p.y, 1)),
             SheetCell::figure(f_.property_text(d.modulus, 3), Cell{f_.property(d.modulus, 3)}),
             share_cell(d.share),
             on_bound_
                 ? SheetCell::figure(
                       "no value; at most " + share_text(reported, limit), {}, CellMark::open)
                 : SheetCell::figure(share_text(reported, limit), Cell{percent_figure(reported)})});
    }
    void rename(std::string key, std::string caption) {
        table_.key = std::move(key);
        table_.caption = std::move(caption);
    }
    SheetTable finish() && { return std::move(table_); }

private:
    SheetFigures f_;
    bool on_bound_;
    SheetTable table_;
};

std::string governs_words(const WorksheetInput& in) {
    const LineDirection& line = in.file.line;
    const Criteria& c = in.run.job.criteria;
    if (transverse_governs(line, c)) {
        return "The load across the line governs: the pole is a tangent, or an angle up to " +
               SheetFigures::degrees(c.governing_deflection_max.degrees()) + ".";
    }
    return "The weakest direction governs: " +
           std::string{line.axis ? "the pole is neither a tangent nor a small angle."
                                 : "the line has no direction here."};
}

constexpr const char* kHow =
    "e = (sin a, cos a) for a load at azimuth a. kx = (Jyy ex − Jxy ey) / Δ, ky = (Jxx ey − Jxy "
    "ex) "
    "/ Δ, Δ = Jxx Jyy − Jxy². p is the point of the section where |k·(p − c)| is greatest. Shares "
    "are reported as at most 100 %.";

std::string weakest_name(const WorkedShape& w) {
    return w.all_directions_agree ? "weakest: all directions alike" : "weakest";
}

/// The shell figure of a defect, where it has one.
Maybe<Length> shell_of(const WorksheetInput& in, std::size_t defect) {
    for (const DefectShell& s : in.assessment.shells) {
        if (s.defect == defect) {
            return s.shell;
        }
    }
    return {};
}

SheetCell azimuth_cell(const WorksheetInput& in, Maybe<Bearing> a, const std::string& more) {
    return a ? SheetCell::figure(SheetFigures::degrees(a->degrees()) + more + sector_words(in, a),
                                 Cell{rounded(a->degrees())})
             : SheetCell::figure("not recorded", {});
}

std::vector<SheetCell> pocket_row(const WorksheetInput& in, const SectionTrace& t, std::size_t p) {
    const SheetFigures f{in.run.job.units};
    const SurveyedPocket& pocket = t.survey.pockets[p];
    const bool placed = t.worked && was_placed(t, p);
    const Maybe<Bearing> azimuth =
        t.worked ? Maybe<Bearing>{t.worked->shape.pockets[p].azimuth} : pocket.azimuth;
    const Maybe<Length> shell = shell_of(in, pocket.defect);
    return {SheetCell::words(defect_label(in, pocket.defect)),
            SheetCell::words(t.worked ? fmt::format("P{}", p + 1) : ""),
            SheetCell::words(fmt::format(
                "pocket, width {}, depth {}", f.girth(pocket.width), f.girth(pocket.depth))),
            azimuth_cell(in, azimuth, placed ? " (placed)" : ""),
            SheetCell::words(shell ? "least shell where it may sit − depth" : ""),
            SheetCell::words(shell ? f.girth(*shell + pocket.depth) + " − " + f.girth(pocket.depth)
                                   : ""),
            shell ? f.girth_cell(shell) : SheetCell::figure(std::string{kNoValue}, {})};
}

/// The drawing's number of a bore: B1 clockwise from north; bores near each other are one.
std::string bore_mark(const WorksheetInput& in, const SectionTrace& t, const SurveyedBore& b) {
    if (!t.worked || shell_is_all_round(in, t) || !b.azimuth) {
        return "";
    }
    std::vector<ShellReading> drawn = t.worked->shape.shell;
    std::stable_sort(drawn.begin(), drawn.end(), [](const auto& x, const auto& y) {
        return x.azimuth < y.azimuth;
    });
    const double merged = in.run.job.criteria.bore_merge.degrees() + 1e-9;
    for (std::size_t i = 0; i < drawn.size(); ++i) {
        if (angle_between(drawn[i].azimuth, *b.azimuth).degrees() <= merged) {
            return fmt::format("B{}", i + 1);
        }
    }
    return "";
}

std::vector<SheetCell> bore_row(const WorksheetInput& in,
                                const SectionTrace& t,
                                const SurveyedBore& b) {
    const SheetFigures f{in.run.job.units};
    const Defect& d = in.file.defects[b.defect];
    std::string figures;
    if (b.shell && d.shell_thickness) {
        figures = f.girth(d.shell_thickness) + " × " + six_digits(b.factor);
        figures += b.added ? " + " + f.girth(b.added) : std::string{};
    }
    const std::string how = b.sound ? "found sound: the radius"
                            : b.shell
                                ? std::string{"thickness × factor of the bore's angle"} +
                                      (b.added ? " + depth of its pocket" : "") + ", at most R"
                                : "not measured";
    return {SheetCell::words(defect_label(in, b.defect)),
            SheetCell::words(bore_mark(in, t, b)),
            SheetCell::words(b.sound ? "bore, sound" : "bore, internal rot"),
            azimuth_cell(in, b.azimuth, ""),
            SheetCell::words(how),
            SheetCell::words(figures),
            b.shell ? f.girth_cell(b.shell) : SheetCell::figure(std::string{kNoValue}, {})};
}

}  // namespace

void add_strength_tables(const WorksheetInput& in, std::size_t i, SheetPart& part) {
    const SectionTrace& t = in.trace.sections[i];
    const WorkedShape& w = *t.worked;
    const Criteria& c = in.run.job.criteria;
    part.items.emplace_back(property_table(in, t, w));
    if (!(w.figures.area > 0.0)) {
        part.items.emplace_back(SheetText{"Nothing carries: every strength is 0.", true});
        return;
    }
    if (in.assessment.sections[i].pieces > 1) {
        part.items.emplace_back(SheetText{fmt::format(
            "The section is in {} pieces. {}",
            in.assessment.sections[i].pieces,
            w.acts_together ? "All that parts them is shorter than a diameter: they act together."
                            : "The largest carries alone; the others are " +
                                  share_text(w.lost_share) + " of what remains.")});
    }
    const bool on_bound = in.assessment.sections[i].upper_bound;
    DirectionRows rows{in, on_bound};
    if (w.transverse) {
        rows.add("across the line", *w.transverse, c.governing_strength_min);
        rows.add("along the line", *w.longitudinal, c.governing_strength_min);
    }
    rows.add(weakest_name(w), w.weakest, c.weakest_strength_min);
    part.items.emplace_back(std::move(rows).finish());
    part.items.emplace_back(SheetText{kHow});
    part.items.emplace_back(SheetText{governs_words(in)});
    if (t.weaker_placed) {
        part.items.emplace_back(SheetText{
            "A pocket has no place of its own. It stands where the governing strength is least; at "
            "another place the weakest direction is weaker still, and that figure counts for it:"});
        SheetTable other = property_table(in, t, *t.weaker_placed);
        other.key = "properties_weakest";
        other.caption = "The same with the pocket where the weakest direction is least";
        part.items.emplace_back(std::move(other));
        DirectionRows weaker{in, on_bound};
        weaker.rename("directions_weakest", "The weakest direction there");
        weaker.add(
            weakest_name(*t.weaker_placed), t.weaker_placed->weakest, c.weakest_strength_min);
        part.items.emplace_back(std::move(weaker).finish());
    }
}

SheetTable defects_table(const WorksheetInput& in, std::size_t i) {
    SheetTable table{"defects",
                     "Pockets and bores of the section",
                     {{"defect", "No."},
                      {"mark", "In the drawing"},
                      {"what", "What"},
                      {"azimuth", "Azimuth, true"},
                      {"formula", "Effective shell"},
                      {"figures", "Figures"},
                      {"shell", "Result"}},
                     {}};
    const SectionTrace& t = in.trace.sections[i];
    for (std::size_t p = 0; p < t.survey.pockets.size(); ++p) {
        table.rows.push_back(pocket_row(in, t, p));
    }
    for (const SurveyedBore& b : t.survey.bores) {
        table.rows.push_back(bore_row(in, t, b));
    }
    return table;
}

}  // namespace linewood
