#include "src/report/worksheet.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "assess/condition/condition_findings.hpp"
#include "assess/condition/sectors.hpp"
#include "src/job/cautions.hpp"
#include "src/job/profile_settings.hpp"
#include "src/pipeline/output_fields.hpp"
#include "src/pipeline/pole_rows.hpp"
#include "src/pipeline/run_record.hpp"
#include "src/report/pole_elevation.hpp"
#include "src/report/worksheet_parts.hpp"

namespace linewood {
namespace {

SheetPicture elevation_of(const WorksheetInput& in) {
    std::vector<Defect> defects;
    if (in.trace.visit) {
        for (const std::size_t i : in.trace.visit->defects) {
            defects.push_back(in.file.defects[i]);
        }
    }
    PoleElevationInput drawing{in.trace.ends,
                               in.trace.original,
                               in.assessment.sections,
                               defects,
                               in.run.job.criteria,
                               in.run.job.units};
    drawing.title = "Pole " + std::string{in.pole_id};
    drawing.subtitle = "Verdict: " + std::string{name_of(in.assessment.verdict)};
    SheetPicture picture;
    picture.name = "elevation";
    picture.caption = "The pole from the side: sections, defects, taper";
    const auto& formats = in.run.job.formats;
    const auto wanted = [&](SheetFormat f) {
        return std::find(formats.begin(), formats.end(), f) != formats.end();
    };
    if (wanted(SheetFormat::svg)) {
        picture.document = pole_elevation(drawing);
    }
    if (wanted(SheetFormat::html)) {
        drawing.form = SvgForm::fragment;
        picture.fragment = pole_elevation(drawing);
    }
    return picture;
}

/// A setting in the unit system asked for. Its key ends in the unit of the profile.
SheetCell setting_cell(const ProfileSetting& s, double v, const SheetFigures& f) {
    switch (s.unit) {
        case SettingUnit::share:
            return SheetCell::figure(six_digits(v * 100.0) + " %", Cell{percent_figure(v)});
        case SettingUnit::inches:
            return f.girth_cell(Length::inches(v));
        case SettingUnit::feet:
            return SheetCell::figure(f.height(Length::feet(v)),
                                     Cell{height_figure(Length::feet(v), f.units())});
        case SettingUnit::degrees:
            return SheetCell::figure(SheetFigures::degrees(v), Cell{v});
        case SettingUnit::metres:
            return SheetCell::figure(six_digits(v) + " m", Cell{v});
        case SettingUnit::days:
            return SheetCell::figure(six_digits(v) + " days", Cell{v});
        case SettingUnit::flag:
            return SheetCell::figure(v != 0.0 ? "yes" : "no", Cell{v != 0.0});
    }
    return {};
}

}  // namespace

std::string sector_words(const WorksheetInput& in, Maybe<Bearing> azimuth) {
    if (!azimuth || !in.file.line.axis) {
        return "";
    }
    return ", " + words_of(name_of(sector_of(*azimuth, *in.file.line.axis, in.run.job.criteria)));
}

std::string defect_label(const WorksheetInput& in, std::size_t defect) {
    const auto& all = in.trace.visit->defects;
    const auto at = std::find(all.begin(), all.end(), defect);
    return fmt::format("D{}", at - all.begin() + 1);
}

SheetPart result_part(const WorksheetInput& in) {
    const WorksheetJob& job = in.run.job;
    const SheetFigures f{job.units};
    SheetPart part{"result", "Result", {}};
    const auto fields = pole_fields(job.units);
    const PoleCells cells =
        pole_cells(in.assessment, line_cells(in.file.line, in.trust), job.units);
    SheetTable table{"pole",
                     "The pole, as the layer poles has it",
                     {{"field", "Field"}, {"value", "Value"}, {"meaning", "Meaning"}},
                     {},
                     true};
    // The verdict first: the order of the layer else.
    std::vector<std::size_t> order;
    for (std::size_t i = 0; i < fields.size(); ++i) {
        order.push_back(i);
    }
    std::stable_partition(order.begin(), order.end(), [&](std::size_t i) {
        return fields[i].name == "verdict" || fields[i].name == "urgency" ||
               fields[i].name == "reasons" || fields[i].name == "inspected_on";
    });
    for (const std::size_t i : order) {
        table.rows.push_back({SheetCell::words(fields[i].name),
                              f.column_cell(fields[i], cells[i], job.criteria),
                              SheetCell::words(fields[i].meaning)});
    }
    part.items.emplace_back(std::move(table));
    part.items.emplace_back(elevation_of(in));
    return part;
}

SheetPart criteria_part(const WorksheetInput& in) {
    const Criteria& c = in.run.job.criteria;
    const SheetFigures f{in.run.job.units};
    SheetPart part{"criteria", "Criteria", {}};
    part.items.emplace_back(
        SheetText{fmt::format("Profile {}, SHA-256 {} of its canonical JSON (as in the layer run).",
                              c.name,
                              in.run.criteria_sha256)});
    if (!in.run.criteria_note.empty()) {
        part.items.emplace_back(SheetText{in.run.criteria_note, true});
    }
    SheetTable table{"settings",
                     "Limits and settings used",
                     {{"setting", "Setting"},
                      {"meaning", "Meaning"},
                      {"value", "Value"},
                      {"source", "Where it comes from"}},
                     {}};
    Profile profile;
    profile.criteria = c;
    profile.network = in.run.job.network;
    for (const ProfileSetting& s : profile_settings()) {
        const std::optional<double> v = s.get(profile);
        const auto source = c.sources.find(std::string{s.key});
        table.rows.push_back({SheetCell::words(std::string{s.key}),
                              SheetCell::words(std::string{s.meaning}),
                              v ? setting_cell(s, *v, f) : SheetCell::figure("off", {}),
                              SheetCell::words(source == c.sources.end() ? "" : source->second)});
    }
    part.items.emplace_back(std::move(table));
    return part;
}

SheetPart findings_part(const WorksheetInput& in) {
    SheetPart part{"findings", "Doubts about the data", {}};
    if (in.findings.empty()) {
        part.items.emplace_back(SheetText{"None."});
        return part;
    }
    SheetTable table{"findings",
                     "As in the layer findings, of this pole and of the layers as a whole",
                     {{"severity", "Severity"},
                      {"code", "Code"},
                      {"layer", "Layer"},
                      {"feature", "Feature"},
                      {"field", "Field"},
                      {"value", "Value"},
                      {"message", "What is doubtful and what was done about it"}},
                     {}};
    for (const Finding& f : in.findings) {
        const CellMark mark = f.severity == Severity::error ? CellMark::bad : CellMark::plain;
        table.rows.push_back({SheetCell::words(std::string{name_of(f.severity)}, mark),
                              SheetCell::words(std::string{f.code}),
                              SheetCell::words(std::string{name_of(f.layer)}),
                              SheetCell::words(f.feature),
                              SheetCell::words(f.field),
                              SheetCell::words(f.value),
                              SheetCell::words(f.message)});
    }
    part.items.emplace_back(std::move(table));
    return part;
}

SheetPart cautions_part(const WorksheetInput& /*in*/) {
    SheetPart part{"cautions", "Cautions", {}};
    for (const std::string_view caution : kCautions) {
        part.items.emplace_back(SheetText{std::string{caution}});
    }
    return part;
}

Worksheet make_worksheet(const WorksheetInput& in) {
    const WorksheetJob& job = in.run.job;
    Worksheet sheet;
    sheet.pole_id = in.pole_id;
    sheet.title = in.pole_id.empty() ? "Pole without an id" : "Pole " + std::string{in.pole_id};
    sheet.made_by =
        fmt::format("linewood {}; criteria {} ({}); wood tables {}; units {}; read from {}",
                    tool_version(),
                    job.criteria.name,
                    in.run.criteria_sha256.substr(0, 12),
                    job.tables_name,
                    name_of(job.units),
                    in.run.inputs);
    sheet.parts.push_back(result_part(in));
    sheet.parts.push_back(cautions_part(in));
    sheet.parts.push_back(recorded_part(in));
    sheet.parts.push_back(original_part(in));
    sheet.parts.push_back(sections_part(in));
    sheet.parts.push_back(verdict_part(in));
    sheet.parts.push_back(findings_part(in));
    sheet.parts.push_back(criteria_part(in));
    return sheet;
}

}  // namespace linewood
