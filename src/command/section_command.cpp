#include "src/command/section_command.hpp"

#include <array>
#include <cstdio>
#include <optional>
#include <utility>

#include "assess/verdict/assessment.hpp"
#include "src/command/typed_defect.hpp"
#include "src/job/job_error.hpp"
#include "src/job/nearest_word.hpp"
#include "src/job/place_clash.hpp"
#include "src/report/section_drawing.hpp"
#include "src/report/section_report.hpp"

#include <CLI/CLI.hpp>

namespace linewood {
namespace {

constexpr const char* kExamples =
    "Examples:\n"
    "  linewood section --original 40 --present 36 --pocket 90,5,3 --line 45\n"
    "  linewood section --original 40 --present 37 --pocket out_of_line,5,2.5 --bore 0,3\n"
    "      --bore 120,2.5 --sound 240 --line 45 --svg section.svg\n"
    "  linewood section --original 1016 --present 914 --bore 60 --units si --format json\n"
    "\n"
    "A direction is degrees clockwise from true north, or a compass point (NE). A length is in\n"
    "inches (us) or millimetres (si), or has its unit: 127mm, 5in. A pocket without a direction "
    "is\n"
    "put where it costs most strength; a bore without one counts all round.\n"
    "\n"
    "The section stands at the groundline of a pole of which nothing else is known.\n"
    "\n"
    "A screening aid: local codes, the utility's criteria and licensed engineers decide; never "
    "climb\n"
    "on the tool's word.\n"
    "\n"
    "Exit codes: 0 done (whatever the verdict), 1 failed, 2 called wrongly.";

constexpr std::array<std::pair<std::string_view, LineRole>, 5> kRoles{
    {{"tangent", LineRole::tangent},
     {"angle", LineRole::angle},
     {"dead_end", LineRole::dead_end},
     {"junction", LineRole::junction},
     {"isolated", LineRole::isolated}}};
constexpr std::array<std::pair<std::string_view, InspectionMethod>, 4> kMethods{
    {{"visual", InspectionMethod::visual},
     {"hammer", InspectionMethod::hammer},
     {"bore", InspectionMethod::bore},
     {"excavated", InspectionMethod::excavated}}};

/// The value of a word, hyphens and spaces taken for underscores.
template <typename Value, std::size_t n>
Value value_of(std::string_view option,
               std::string word,
               const std::array<std::pair<std::string_view, Value>, n>& words) {
    std::array<std::string_view, n> names;
    for (char& c : word) {
        c = c == '-' || c == ' ' ? '_' : c;
    }
    std::string list;
    for (std::size_t i = 0; i < n; ++i) {
        if (words[i].first == word) {
            return words[i].second;
        }
        names[i] = words[i].first;
        list += (i == 0 ? "" : ", ") + std::string{words[i].first};
    }
    throw JobError{std::string{option} + " \"" + word + "\": not one of " + list +
                   did_you_mean(word, names)};
}

SectionDrawingInput drawing_input(const PoleAssessment& a,
                                  const std::vector<Defect>& defects,
                                  const LineDirection& line,
                                  const Criteria& criteria) {
    SectionDrawingInput in{a.sections.front(), line, criteria};
    std::size_t pocket = 0;
    for (const Defect& d : defects) {
        if (d.kind == DefectKind::external_pocket) {
            const auto& drawn = in.section.shape.pockets;
            if (pocket < drawn.size() && d.azimuth != Maybe<Bearing>{drawn[pocket].azimuth}) {
                in.placed_pockets.push_back(pocket);
            }
            ++pocket;
        }
        in.shell_all_round =
            in.shell_all_round || (d.kind == DefectKind::internal_rot && !d.azimuth);
    }
    in.subtitle = "Verdict: " + std::string{name_of(a.verdict)};
    if (a.urgency != Urgency::none) {
        in.subtitle += ", " + std::string{name_of(a.urgency)};
    }
    in.subtitle += "; criteria: " + criteria.name;
    return in;
}

}  // namespace

CLI::App* SectionCommand::setup(CLI::App& program) {
    CLI::App* c = program.add_subcommand("section", "One section typed, answered at once");
    c->footer(kExamples);
    const auto one = [&](const char* option, std::string& to, const char* what, const char* type) {
        return c->add_option(option, to, what)->type_name(type);
    };
    const auto many =
        [&](const char* option, std::vector<std::string>& to, const char* what, const char* type) {
            c->add_option(option, to, what)->type_name(type)->allow_extra_args(false);
        };
    one("--original", original_, "Girth of the sound pole here, as installed", "GIRTH");
    one("--present", present_, "Girth measured now, after shell rot is removed", "GIRTH");
    many("--pocket",
         pockets_,
         "External pocket; instead of the azimuth in_line, out_of_line or oblique, or nothing. "
         "Also a cause (mechanical ...) and extent=LENGTH. May be repeated",
         "[AZIMUTH,]WIDTH,DEPTH");
    many("--bore",
         bores_,
         "Bore that found rot: sound shell before it; with ANGLE, read along a bore that many "
         "degrees off the horizontal; with the word pocket, begun in a pocket. May be repeated",
         "[AZIMUTH,]SHELL[,ANGLE]");
    many("--sound", sounds_, "Bore that found sound wood. May be repeated", "AZIMUTH");
    one("--shell-rot",
        shell_rot_,
        "Depth of shell rot all round, where no girth was taken",
        "DEPTH");
    one("--line",
        line_,
        "Direction of the line, true; none: the weakest direction governs",
        "AZIMUTH");
    one("--role",
        role_,
        "tangent (default with --line), angle, dead_end, junction, isolated",
        "ROLE");
    one("--deflection",
        deflection_,
        "Line angle, degrees, 0 straight on; an angle pole needs it",
        "DEGREES");
    one("--method", method_, "The most done: visual, hammer, bore, excavated", "METHOD");
    c->add_option("--units", units_, "us (in) or si (mm)")
        ->check(CLI::IsMember({"us", "si"}))
        ->capture_default_str();
    add_criteria_option(
        *c, criteria_, "Criteria profile, shipped or a file, instead of general-practice");
    one("--svg", svg_, "Also draw the section to this file", "FILE");
    one("--label", label_, "Title of the drawing, e.g. the pole's id", "TEXT");
    c->add_flag("--overwrite", overwrite_, "Replace the drawing where it exists");
    c->add_option("--format", format_, "What is written to standard output: text or json")
        ->check(CLI::IsMember({"text", "json"}))
        ->capture_default_str();
    talk_.add_to(*c);
    return c;
}

Inspection SectionCommand::typed_visit() const {
    Inspection visit;
    if (!original_.empty()) {
        visit.original_circumference = typed_length("--original", original_, units());
    }
    if (!present_.empty()) {
        visit.present_circumference = typed_length("--present", present_, units());
    }
    if (!method_.empty()) {
        visit.method = value_of("--method", method_, kMethods);
    }
    if (original_.empty() && present_.empty()) {
        throw JobError{"no girth: type --original GIRTH (sound pole) and --present GIRTH (now)"};
    }
    return visit;
}

std::vector<Defect> SectionCommand::typed_defects() const {
    std::vector<Defect> defects;
    for (const std::string& text : pockets_) {
        defects.push_back(typed_pocket(text, units()));
    }
    for (const std::string& text : bores_) {
        defects.push_back(typed_bore(text, units()));
    }
    for (const std::string& text : sounds_) {
        defects.push_back(typed_sound_bore(text));
    }
    if (!shell_rot_.empty()) {
        defects.push_back(typed_shell_rot(shell_rot_, units()));
    }
    for (std::size_t i = 0; i < defects.size(); ++i) {
        defects[i].fid = static_cast<std::int64_t>(i);
    }
    return defects;
}

LineDirection SectionCommand::typed_line(const Profile& profile) const {
    LineDirection line;
    const std::optional<LineRole> role =
        role_.empty() ? std::nullopt : std::optional{value_of("--role", role_, kRoles)};
    if (line_.empty()) {
        const bool needs_axis = role == LineRole::tangent || role == LineRole::angle;
        if (needs_axis || !deflection_.empty()) {
            throw JobError{std::string{needs_axis ? "--role " + role_ : "--deflection"} +
                           ": needs the line; type --line AZIMUTH"};
        }
        line.role = role.value_or(LineRole::isolated);
        return line;
    }
    line.axis = Axis::along(typed_direction("--line", line_));
    line.source = LineSource::given;
    line.role = role.value_or(LineRole::tangent);
    if (!deflection_.empty()) {
        line.deflection = typed_line_angle("--deflection", deflection_);
        if (!role && *line.deflection > profile.network.tangent_limit) {
            line.role = LineRole::angle;
        }
    }
    return line;
}

int SectionCommand::run() {
    const Profile profile = read_criteria(criteria_);
    if (svg_.empty() && !label_.empty()) {
        throw JobError{"--label: is the title of the drawing; name its file with --svg FILE"};
    }
    if (!svg_.empty()) {
        refuse_to_replace("--svg", svg_, files_read(criteria_, {}));
    }
    const Inspection visit = typed_visit();
    const std::vector<Defect> defects = typed_defects();
    const LineDirection line = typed_line(profile);
    const Pole pole;
    Findings findings;
    const PoleAssessment a = assess_pole(
        {pole, line, {&visit, 1}, defects}, WoodTables::built_in(), profile.criteria, findings);
    if (!svg_.empty()) {
        SectionDrawingInput in = drawing_input(a, defects, line, profile.criteria);
        in.units = units();
        in.title = label_.empty() ? "Section" : label_;
        write_text_file(svg_, section_drawing(in), overwrite_);
    }
    const SectionReportInput report{
        a, defects, line, profile.criteria, findings, profile_hash(profile), units()};
    if (format_ == "json") {
        std::fputs(section_report_json(report).c_str(), stdout);
    } else {
        std::fputs(section_report_text(report).c_str(), stdout);
    }
    return kExitDone;
}

}  // namespace linewood
