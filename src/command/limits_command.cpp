#include "src/command/limits_command.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <optional>
#include <string_view>

#include "assess/condition/condition_findings.hpp"
#include "assess/condition/sectors.hpp"
#include "assess/wood/pole_class.hpp"
#include "assess/wood/table_girth.hpp"
#include "src/command/size_list.hpp"
#include "src/command/typed_defect.hpp"
#include "src/job/job_error.hpp"
#include "src/job/nearest_word.hpp"
#include "src/job/place_clash.hpp"
#include "src/job/wood_tables_json.hpp"
#include "src/pipeline/run_record.hpp"

#include <CLI/CLI.hpp>

namespace linewood {
namespace {

constexpr const char* kExamples =
    "Tables: girth (least girth, and least shell all round, by original girth), pocket (widest\n"
    "external pocket by depth and angle off the line, for each girth), mouth (widest pocket mouth\n"
    "over internal rot, by shell and angle, for each girth).\n"
    "\n"
    "Examples:\n"
    "  linewood limits --tables girth\n"
    "  linewood limits --girths 36 --tables pocket\n"
    "  linewood limits --criteria transmission-3in --girths 30:60:1 --out limits.html\n"
    "  linewood limits --species southern_pine --class 4,5 --length 35,40 --out pine.html\n"
    "  linewood limits --units si --girths 750:1500:50 --resolution 1 --format csv > limits.csv\n"
    "  linewood limits --role dead_end --resolution 0.125\n"
    "\n"
    "A list of sizes is 30,36,42 or FROM:TO:STEP. Sizes are in inches (us) or millimetres (si).\n"
    "Figures are on the safe side of the limit, to the resolution: each was run through the model\n"
    "once more and passes.\n"
    "\n"
    "They are the model's limits, not a standard's. A screening aid: local codes, the utility's\n"
    "criteria and licensed engineers decide; never climb on the tool's word.\n"
    "\n"
    "Exit codes: 0 done, 1 failed, 2 called wrongly.";

constexpr std::array<std::string_view, 3> kTables{"girth", "pocket", "mouth"};
constexpr std::array<std::string_view, 4> kFormats{"text", "csv", "json", "html"};
constexpr std::array<std::pair<std::string_view, LineRole>, 5> kRoles{
    {{"tangent", LineRole::tangent},
     {"angle", LineRole::angle},
     {"dead_end", LineRole::dead_end},
     {"junction", LineRole::junction},
     {"isolated", LineRole::isolated}}};
constexpr std::size_t kShellRows = 7;
constexpr const char* kAngles = "0:90:15";

std::vector<std::string> words_of(const std::string& list) {
    std::vector<std::string> words{""};
    for (const char c : list) {
        if (c == ',') {
            words.emplace_back();
        } else if (c != ' ') {
            words.back() += c;
        }
    }
    return words;
}

/// What a person can do about a pole that the tables do not have.
std::string_view advice_on(TableAnswer answer) {
    switch (answer) {
        case TableAnswer::no_table:
            return "no table of dimensions for this species; give --girths instead";
        case TableAnswer::no_row:
            return "the tables have no pole of this length";
        case TableAnswer::no_cell:
            return "the tables have no pole of this class and length";
        default:
            return "the tables give no girth for it";
    }
}

/// Decimals that show a multiple of the resolution whole, at most six.
int decimals_of(double resolution) {
    int decimals = 0;
    double shown = resolution;
    while (decimals < 6 && std::abs(shown - std::round(shown)) > 1e-6) {
        shown *= 10.0;
        ++decimals;
    }
    return decimals;
}

Length of_unit(double v, UnitSystem u) {
    return u == UnitSystem::us ? Length::inches(v) : Length::millimetres(v);
}

}  // namespace

CLI::App* LimitsCommand::setup(CLI::App& program) {
    CLI::App* c =
        program.add_subcommand("limits", "Tables of least girths and shells and widest pockets");
    c->footer(kExamples);
    const auto text = [&](const char* option, std::string& to, const char* what, const char* type) {
        return c->add_option(option, to, what)->type_name(type);
    };
    add_criteria_option(*c, criteria_, "Criteria profile, shipped or a file (general-practice)");
    text("--tables", tables_, "Which: girth, pocket, mouth", "LIST")->capture_default_str();
    text("--girths", girths_, "Original girths (27:60:3, or 700:1500:50 mm)", "LIST");
    text("--depths", depths_, "Depths of pockets (0.5:5:0.5, or 10:120:10 mm)", "LIST");
    text("--shells",
         shells_,
         "Shells behind mouths (from the least of the criteria in steps of 0.5 in or 10 mm)",
         "LIST");
    text("--angles", angles_, "Degrees off the line's axis, 0 to 90", "LIST")
        ->capture_default_str();
    text(
        "--role",
        role_,
        "tangent: strength across the line governs; angle (with --deflection), dead_end, junction, "
        "isolated: the weakest direction",
        "ROLE")
        ->capture_default_str();
    text("--deflection", deflection_, "Line angle of an angle pole, 0 straight on", "DEGREES");
    text("--species", species_, "Poles of the tables instead of girths", "SPECIES")->group("Poles");
    text("--class", classes_, "Their classes: 4 or 3,4,5", "LIST")->group("Poles");
    text("--length", lengths_, "Their lengths, ft (us) or m (si): 40 or 35,40,45", "LIST")
        ->group("Poles");
    text("--wood-tables", wood_tables_, "Own species and pole dimensions (JSON)", "FILE")
        ->group("Poles");
    c->add_option("--units", units_, "us (in) or si (mm)")
        ->check(CLI::IsMember({"us", "si"}))
        ->capture_default_str();
    allow_range(
        *c->add_option("--resolution", resolution_, "Figures are multiples of it (0.01 in, 0.1 mm)")
             ->type_name("SIZE"),
        0.001,
        25.0);
    text("--format", format_, "text, csv, json or html; else by the ending of --out", "FORMAT");
    text("--out", out_, "Write to this file instead of standard output", "FILE");
    c->add_flag("--overwrite", overwrite_, "Replace the file where it exists");
    talk_.add_to(*c);
    return c;
}

LineDirection LimitsCommand::typed_line() const {
    LineDirection line;
    line.axis = Axis::degrees(0.0);
    line.source = LineSource::given;
    const auto* const role =
        std::find_if(kRoles.begin(), kRoles.end(), [&](const auto& r) { return r.first == role_; });
    if (role == kRoles.end()) {
        throw JobError{"--role \"" + role_ +
                       "\": not one of tangent, angle, dead_end, junction, isolated"};
    }
    line.role = role->second;
    if (line.role == LineRole::angle) {
        if (deflection_.empty()) {
            throw JobError{"--role angle: needs the line angle; type --deflection DEGREES"};
        }
        line.deflection = typed_line_angle("--deflection", deflection_);
    } else if (!deflection_.empty()) {
        throw JobError{"--deflection: is asked of --role angle only"};
    }
    return line;
}

bool LimitsCommand::wants(const char* table) const {
    const auto words = words_of(tables_);
    return std::find(words.begin(), words.end(), table) != words.end();
}

void LimitsCommand::check_tables() const {
    for (const std::string& word : words_of(tables_)) {
        if (std::find(kTables.begin(), kTables.end(), word) == kTables.end()) {
            throw JobError{"--tables \"" + word + "\": not one of girth, pocket, mouth" +
                           did_you_mean(word, kTables)};
        }
    }
}

/// An option that would change nothing is a mistake to be told of.
void LimitsCommand::refuse_unused(bool transverse_governs) const {
    if (!depths_.empty() && !wants("pocket")) {
        throw JobError{"--depths: is asked of the table pocket only; add it to --tables"};
    }
    if (!shells_.empty() && !wants("mouth")) {
        throw JobError{"--shells: is asked of the table mouth only; add it to --tables"};
    }
    if (angles_ != kAngles && !wants("pocket") && !wants("mouth")) {
        throw JobError{"--angles: is asked of the tables pocket and mouth; add one to --tables"};
    }
    if (angles_ != kAngles && !transverse_governs) {
        throw JobError{
            "--angles: the weakest direction governs here, the same at every angle; "
            "leave it away, or type --role tangent"};
    }
}

/// What was asked for and has no table, since nothing of it fits the pole. Who reads the page later sees no
/// warning, so it stands there too.
void LimitsCommand::note_missing_rows(LimitReport& report, const LimitRows& rows) const {
    const Log log = talk_.make_log();
    const auto warn = [&](const char* option, const char* what, const LimitReport::Girth& girth) {
        report.notes.push_back(std::string{option} +
                               ": all are over the radius of a pole of girth " +
                               plain_number(girth_figure(girth.limits.original, units())) + " " +
                               std::string{girth_unit(units())} + "; it has no table of " + what);
        log.warning("too_deep", report.notes.back());
    };
    for (const LimitReport::Girth& girth : report.all) {
        if (!rows.depths.empty() && girth.limits.pockets.empty()) {
            warn("--depths", "pockets", girth);
        }
        if (!rows.shells.empty() && girth.limits.mouths.empty()) {
            warn("--shells", "mouths", girth);
        }
    }
}

std::string LimitsCommand::checked_format() const {
    std::string format = format_;
    if (format.empty()) {
        const std::string ending = std::filesystem::path{out_}.extension().string();
        format =
            ending == ".csv" || ending == ".json" || ending == ".html" ? ending.substr(1) : "text";
    }
    if (std::find(kFormats.begin(), kFormats.end(), format) == kFormats.end()) {
        throw JobError{"--format \"" + format + "\": not one of text, csv, json, html" +
                       did_you_mean(format, kFormats)};
    }
    return format;
}

LimitRows LimitsCommand::typed_rows(const Criteria& criteria, bool with_angles) const {
    const bool us = units() == UnitSystem::us;
    const double most = us ? 20.0 : 500.0;
    const double least = us ? 0.01 : 0.1;
    LimitRows rows;
    rows.angles = typed_angles("--angles", angles_);
    if (!with_angles) {
        rows.angles = {Angle{}};
    }
    if (wants("pocket")) {
        const std::string standard = us ? "0.5:5:0.5" : "10:120:10";
        rows.depths =
            typed_lengths("--depths", depths_.empty() ? standard : depths_, units(), least, most);
    }
    if (wants("mouth") && !shells_.empty()) {
        rows.shells = typed_lengths("--shells", shells_, units(), least, most);
    } else if (wants("mouth")) {
        const double step = us ? 0.5 : 10.0;
        const double first =
            std::max(1.0, std::ceil(girth_figure(criteria.shell_min, units()) / step));
        for (std::size_t i = 0; i < kShellRows; ++i) {
            rows.shells.push_back(of_unit(step * (first + static_cast<double>(i)), units()));
        }
    }
    return rows;
}

void LimitsCommand::add_typed_girths(LimitReport& report) const {
    const bool us = units() == UnitSystem::us;
    const std::string standard = us ? "27:60:3" : "700:1500:50";
    for (const Length girth : typed_lengths("--girths",
                                            girths_.empty() ? standard : girths_,
                                            units(),
                                            us ? 10.0 : 250.0,
                                            us ? 120.0 : 3000.0)) {
        report.all.emplace_back();
        report.all.back().limits.original = girth;
    }
}

void LimitsCommand::add_poles_of_species(LimitReport& report) const {
    if (classes_.empty() || lengths_.empty() || !girths_.empty()) {
        throw JobError{girths_.empty() ? "--species: name --class and --length as well"
                                       : "--species: gives the girths; leave --girths away"};
    }
    WoodTables tables = WoodTables::built_in();
    if (!wood_tables_.empty()) {
        tables = read_from_file(
            wood_tables_, [&](const std::string& text) { return read_wood_tables(text, tables); });
    }
    Pole pole;
    const auto species = tables.find_species(species_);
    if (!species) {
        std::vector<std::string_view> codes;
        for (std::size_t i = 0; i < tables.species_count(); ++i) {
            codes.push_back(tables.species(static_cast<SpeciesIndex>(i)).code);
        }
        std::string list;
        for (const std::string_view code : codes) {
            list += (list.empty() ? "" : ", ") + std::string{code};
        }
        throw JobError{"--species \"" + species_ + "\": not one of " + list +
                       did_you_mean(species_, codes)};
    }
    pole.species = *species;
    pole.has_class = true;
    report.species = tables.species(*species).name;
    for (const std::string& class_text : words_of(classes_)) {
        const auto pole_class = parse_pole_class(class_text);
        if (!pole_class) {
            throw JobError{"--class \"" + class_text + "\": is no class; H6 to H1, 1 to 7, 9, 10"};
        }
        pole.pole_class = *pole_class;
        for (const std::string& length_text : words_of(lengths_)) {
            const bool bare = length_text.find_first_not_of("0123456789.") == std::string::npos;
            const std::string unit{bare ? height_unit(units()) : std::string_view{}};
            pole.length = typed_length("--length", length_text + unit, units());
            const std::string name = "class " + std::string{name_of(*pole_class)} + ", " +
                                     plain_number(height_figure(*pole.length, units())) + " " +
                                     std::string{height_unit(units())};
            const TableLookup found = look_up(tables, pole);
            if (!found.groundline_girth) {
                throw JobError{"--species " + species_ + ", " + name + ": " +
                               std::string{advice_on(found.answer)}};
            }
            report.all.push_back({name, {}});
            report.all.back().limits.original = *found.groundline_girth;
        }
    }
}

int LimitsCommand::run() {
    check_tables();
    const std::string format = checked_format();
    const Profile profile = read_criteria(criteria_);
    if (!out_.empty()) {
        refuse_to_replace("--out", out_, files_read(criteria_, wood_tables_));
    }
    const LineDirection line = typed_line();
    LimitReport report;
    report.units = units();
    report.tool = "linewood " + std::string{tool_version()};
    report.criteria_name = profile.criteria.name;
    report.criteria_hash = profile_hash(profile);
    report.shell_min = profile.criteria.shell_min;
    report.shell_pocket_width = profile.criteria.shell_pocket_width;
    report.transverse_governs = transverse_governs(line, profile.criteria);
    report.girths = wants("girth");
    refuse_unused(report.transverse_governs);
    const LimitRows rows = typed_rows(profile.criteria, report.transverse_governs);
    report.angles = rows.angles;
    if (species_.empty()) {
        if (!classes_.empty() || !lengths_.empty() || !wood_tables_.empty()) {
            throw JobError{"--class, --length and --wood-tables: need --species"};
        }
        add_typed_girths(report);
    } else {
        add_poles_of_species(report);
    }
    const double resolution =
        resolution_ > 0.0 ? resolution_ : (units() == UnitSystem::us ? 0.01 : 0.1);
    report.decimals = decimals_of(resolution);
    for (LimitReport::Girth& girth : report.all) {
        girth.limits = solve_limits(
            {girth.limits.original, line, profile.criteria, of_unit(resolution, units())}, rows);
    }
    note_missing_rows(report, rows);
    const std::string out = format == "csv"    ? limit_report_csv(report)
                            : format == "json" ? limit_report_json(report)
                            : format == "html" ? limit_report_html(report)
                                               : limit_report_text(report);
    if (out_.empty()) {
        std::fputs(out.c_str(), stdout);
    } else {
        write_text_file(out_, out, overwrite_);
    }
    return kExitDone;
}

}  // namespace linewood
