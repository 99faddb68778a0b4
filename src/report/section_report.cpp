#include "src/report/section_report.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <vector>

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "assess/condition/sectors.hpp"
#include "src/job/cautions.hpp"
#include "src/report/section_drawing_parts.hpp"

namespace linewood {
namespace {

using Json = nlohmann::ordered_json;

/// One figure that a limit is asked of. Shares of 1; a shell in metres.
struct LimitCheck {
    std::string_view code;  ///< of the limit, as in a criteria profile
    std::string_view words;
    double value;
    double limit;
    bool is_share;
    bool meets;
};

std::vector<LimitCheck> limit_checks(const SectionReportInput& in) {
    const SectionCondition& s = in.assessment.sections.front();
    const Criteria& c = in.criteria;
    std::vector<LimitCheck> checks;
    const auto add = [&](std::string_view code,
                         std::string_view words,
                         double value,
                         double limit,
                         bool is_share) {
        checks.push_back({code, words, value, limit, is_share, c.meets(value, limit)});
    };
    if (s.strengths) {
        add("governing_strength_min",
            transverse_governs(in.line, c) ? "across the line (governs)" : "weakest (governs)",
            s.strengths->governing,
            c.governing_strength_min,
            true);
        add("weakest_strength_min",
            "weakest direction",
            s.strengths->weakest,
            c.weakest_strength_min,
            true);
    }
    if (s.strengths && s.present && s.original) {
        add("girth_ratio_min",
            "girth, of the original",
            *s.present / *s.original,
            c.girth_ratio_min,
            true);
    }
    if (s.shell_min) {
        add("shell_min", "least sound shell", s.shell_min->metres(), c.shell_min.metres(), false);
    }
    return checks;
}

/// A defect named as it was given: `pocket 2`.
std::string name_of_defect(std::span<const Defect> defects, std::size_t which) {
    const auto words = [](DefectKind k) -> std::string_view {
        switch (k) {
            case DefectKind::external_pocket:
                return "pocket";
            case DefectKind::internal_rot:
                return "bore";
            case DefectKind::bore:
                return "sound bore";
            case DefectKind::shell_rot:
                return "shell rot";
        }
        return "defect";
    };
    const DefectKind kind = defects[which].kind;
    const auto nth = std::count_if(defects.begin(),
                                   defects.begin() + static_cast<std::ptrdiff_t>(which) + 1,
                                   [kind](const Defect& d) { return d.kind == kind; });
    return fmt::format("{} {}", words(kind), nth);
}

/// Where a pocket ended up: its shape's azimuth, and whether that is what was given.
struct PlacedPocket {
    Maybe<Bearing> azimuth;  ///< absent where there was no girth to place it on
    bool as_given = true;
};

PlacedPocket placed_pocket(const SectionReportInput& in, std::size_t which) {
    const auto& pockets = in.assessment.sections.front().shape.pockets;
    const auto before = static_cast<std::size_t>(
        std::count_if(in.defects.begin(),
                      in.defects.begin() + static_cast<std::ptrdiff_t>(which),
                      [](const Defect& d) { return d.kind == DefectKind::external_pocket; }));
    if (before >= pockets.size()) {
        return {in.defects[which].azimuth, true};
    }
    const Bearing azimuth = pockets[before].azimuth;
    return {azimuth, in.defects[which].azimuth == Maybe<Bearing>{azimuth}};
}

Maybe<Length> shell_of(const SectionReportInput& in, std::size_t which) {
    for (const DefectShell& s : in.assessment.shells) {
        if (s.defect == which) {
            return s.shell;
        }
    }
    return {};
}

std::string degrees_text(double degrees) {
    return svg_number(std::round(degrees * 10.0) / 10.0) + "\u00b0";
}

std::string sector_words(const SectionReportInput& in, Maybe<Bearing> azimuth) {
    if (!azimuth || !in.line.axis) {
        return "";
    }
    std::string words{name_of(sector_of(*azimuth, *in.line.axis, in.criteria))};
    std::replace(words.begin(), words.end(), '_', ' ');
    return ", " + words;
}

std::string pocket_line(const SectionReportInput& in, std::size_t which) {
    const Defect& d = in.defects[which];
    const PlacedPocket placed = placed_pocket(in, which);
    std::string line = fmt::format(
        "{} wide, {} deep", figure_text(*d.width, in.units), figure_text(*d.depth, in.units));
    if (placed.azimuth) {
        line += " at " + degrees_text(placed.azimuth->degrees()) + sector_words(in, placed.azimuth);
    }
    if (!placed.as_given) {
        line += d.azimuth ? "; position and azimuth disagree, the worse was used"
                          : "; no direction given, placed where it costs most";
    }
    if (const Maybe<Length> shell = shell_of(in, which)) {
        line += "; shell behind it " + figure_text(*shell, in.units);
    }
    return line;
}

std::string bore_line(const SectionReportInput& in, std::size_t which) {
    const Defect& d = in.defects[which];
    const Maybe<Length> shell = shell_of(in, which);
    std::string line = shell ? "shell " + figure_text(*shell, in.units) : "shell not usable";
    if (shell && std::abs((*shell - *d.shell_thickness).metres()) > 1e-9) {
        line += " effective (read " + figure_text(*d.shell_thickness, in.units) + ")";
    }
    line += d.azimuth ? " at " + degrees_text(d.azimuth->degrees()) + sector_words(in, d.azimuth)
                      : ", no direction: taken all round";
    return line;
}

std::string defect_line(const SectionReportInput& in, std::size_t which) {
    const Defect& d = in.defects[which];
    switch (d.kind) {
        case DefectKind::external_pocket:
            return pocket_line(in, which);
        case DefectKind::internal_rot:
            return bore_line(in, which);
        case DefectKind::bore:
            return "at " + degrees_text(d.azimuth->degrees()) + sector_words(in, d.azimuth);
        case DefectKind::shell_rot:
            return figure_text(*d.depth, in.units) + " deep, all round";
    }
    return "";
}

std::string row(std::string_view label, std::string_view value, std::string_view rest = "") {
    return rest.empty() ? fmt::format("  {:<26} {:>9}\n", label, value)
                        : fmt::format("  {:<26} {:>9}   {}\n", label, value, rest);
}

std::string check_row(const LimitCheck& c, UnitSystem units, const std::string& note) {
    const std::string value =
        c.is_share ? share_text(c.value, c.limit) : figure_text(Length::metres(c.value), units);
    const std::string limit = c.is_share ? svg_number(std::round(c.limit * 1000.0) / 10.0) + " %"
                                         : figure_text(Length::metres(c.limit), units);
    return row(c.words,
               value,
               fmt::format("limit {:>6}   {}{}", limit, c.meets ? "meets" : "FAILS", note));
}

std::string numbers_text(const SectionReportInput& in) {
    const SectionCondition& s = in.assessment.sections.front();
    const auto girth = [&](Maybe<Length> l) {
        return l ? figure_text(*l, in.units) : std::string{"not known"};
    };
    std::string out =
        row("girth now", girth(s.present)) + row("girth, original", girth(s.original));
    const bool has_axis = s.strengths && s.strengths->weakest_axis;
    for (const LimitCheck& c : limit_checks(in)) {
        const bool weakest = c.code == "weakest_strength_min" && has_axis;
        out += check_row(
            c,
            in.units,
            weakest ? ", load at " + degrees_text(s.strengths->weakest_axis->degrees()) : "");
    }
    if (s.strengths) {
        if (s.strengths->transverse && !transverse_governs(in.line, in.criteria)) {
            out += row("across the line", share_text(*s.strengths->transverse));
        }
        if (s.strengths->longitudinal) {
            out += row("along the line", share_text(*s.strengths->longitudinal));
        }
        out += row("area", share_text(s.strengths->area));
    } else {
        out += row("strength", "not known");
    }
    if (s.pieces != 1) {
        out += row("pieces",
                   std::to_string(s.pieces),
                   s.split ? "limit in one   FAILS" : "what is lost with them is within the limit");
    }
    return out;
}

void add_reasons(ReasonSet reasons, std::string& out) {
    for (int i = 0; i < kReasonCount; ++i) {
        const auto r = static_cast<Reason>(i);
        if (reasons.has(r)) {
            out += fmt::format("  {}: {}\n", text_of(r).code, text_of(r).meaning);
        }
    }
}

/// The defect a finding speaks of: readers of the report know it by its kind and number.
std::optional<std::size_t> defect_of(const Finding& f, std::size_t defects) {
    if (f.layer != InputLayer::defects || f.feature.empty()) {
        return std::nullopt;
    }
    const std::size_t which = std::stoul(f.feature);
    return which < defects ? std::optional{which} : std::nullopt;
}

bool is_upper_bound(const SectionCondition& s) { return s.strengths && !(s.original && s.present); }

Json length_json(Maybe<Length> l, UnitSystem units) {
    return l ? Json(girth_figure(*l, units)) : Json();
}

Json defect_json(const SectionReportInput& in, std::size_t which) {
    const Defect& d = in.defects[which];
    const bool pocket = d.kind == DefectKind::external_pocket;
    const PlacedPocket placed = pocket ? placed_pocket(in, which) : PlacedPocket{d.azimuth, true};
    constexpr std::array<const char*, 4> kKinds{
        "external_pocket", "internal_rot", "shell_rot", "bore"};
    Json j{{"kind", kKinds[static_cast<std::size_t>(d.kind)]}};
    j["azimuth_true"] = placed.azimuth ? Json(rounded(placed.azimuth->degrees())) : Json();
    j["azimuth_given"] = placed.as_given && d.azimuth.has_value();
    j["position_derived"] =
        placed.azimuth && in.line.axis
            ? Json(std::string{name_of(sector_of(*placed.azimuth, *in.line.axis, in.criteria))})
            : Json();
    if (d.width) {
        j["width"] = girth_figure(*d.width, in.units);
    }
    if (d.depth) {
        j["depth"] = girth_figure(*d.depth, in.units);
    }
    if (d.shell_thickness) {
        j["shell_thickness"] = girth_figure(*d.shell_thickness, in.units);
    }
    if (const Maybe<Length> shell = shell_of(in, which)) {
        j["shell_effective"] = girth_figure(*shell, in.units);
    }
    return j;
}

Json strengths_json(const SectionCondition& s) {
    Json j = Json::object();
    const auto percent = [](std::optional<double> share) {
        return share ? Json(percent_figure(*share)) : Json();
    };
    const auto& strengths = s.strengths;
    j["area_pct"] = percent(strengths ? std::optional{strengths->area} : std::nullopt);
    j["transverse_pct"] = percent(strengths ? strengths->transverse : std::nullopt);
    j["longitudinal_pct"] = percent(strengths ? strengths->longitudinal : std::nullopt);
    j["weakest_pct"] = percent(strengths ? std::optional{strengths->weakest} : std::nullopt);
    j["weakest_azimuth"] = strengths && strengths->weakest_axis
                               ? Json(rounded(strengths->weakest_axis->degrees()))
                               : Json();
    j["governing_pct"] = percent(strengths ? std::optional{strengths->governing} : std::nullopt);
    return j;
}

Json reasons_json(ReasonSet reasons) {
    Json list = Json::array();
    for (int i = 0; i < kReasonCount; ++i) {
        if (reasons.has(static_cast<Reason>(i))) {
            list.push_back(std::string{text_of(static_cast<Reason>(i)).code});
        }
    }
    return list;
}

Json findings_json(const SectionReportInput& in) {
    Json list = Json::array();
    for (const Finding& f : in.findings) {
        const auto which = defect_of(f, in.defects.size());
        list.push_back({{"severity", std::string{name_of(f.severity)}},
                        {"code", std::string{f.code}},
                        {"feature", which ? name_of_defect(in.defects, *which) : std::string{}},
                        {"field", f.field},
                        {"message", f.message}});
    }
    return list;
}

}  // namespace

std::string section_report_text(const SectionReportInput& in) {
    const PoleAssessment& a = in.assessment;
    const SectionCondition& s = a.sections.front();
    std::string out = fmt::format("section, {}, directions from true north\n",
                                  in.units == UnitSystem::us ? "inches" : "millimetres");
    out += numbers_text(in);
    if (is_upper_bound(s)) {
        out += "  something needed is missing: the strengths are at most these\n";
    }
    out += in.defects.empty() ? "no defects\n" : "defects\n";
    for (std::size_t i = 0; i < in.defects.size(); ++i) {
        out += fmt::format("  {:<13} {}\n", name_of_defect(in.defects, i), defect_line(in, i));
    }
    out += fmt::format("verdict: {}{}{}\n",
                       name_of(a.verdict),
                       a.urgency == Urgency::none ? "" : ", ",
                       name_of(a.urgency));
    add_reasons(a.reasons, out);
    out += fmt::format("criteria: {}, SHA-256 {}\n", in.criteria.name, in.criteria_hash);
    for (const Finding& f : in.findings) {
        const auto which = defect_of(f, in.defects.size());
        out += fmt::format("{}: {}{}\n",
                           name_of(f.severity),
                           which ? name_of_defect(in.defects, *which) + ": " : "",
                           f.message);
    }
    for (const std::string_view caution : kCautions) {
        out += fmt::format("caution: {}\n", caution);
    }
    return out;
}

std::string section_report_json(const SectionReportInput& in) {
    const PoleAssessment& a = in.assessment;
    const SectionCondition& s = a.sections.front();
    Json j{{"units", std::string{name_of(in.units)}}};
    j["original_circumference"] = length_json(s.original, in.units);
    j["present_circumference"] = length_json(s.present, in.units);
    j.update(strengths_json(s));
    j["governs"] = transverse_governs(in.line, in.criteria) ? "transverse" : "weakest";
    j["strengths_are_upper_bounds"] = is_upper_bound(s);
    j["shell_min"] = length_json(s.shell_min, in.units);
    j["pieces"] = s.pieces;
    j["split"] = s.split;
    j["passes"] = s.outcome == SectionOutcome::incomplete
                      ? Json()
                      : Json(s.outcome == SectionOutcome::passes);
    j["limits"] = Json::array();
    for (const LimitCheck& c : limit_checks(in)) {
        const auto figure = [&](double v) {
            return c.is_share ? percent_figure(v) : girth_figure(Length::metres(v), in.units);
        };
        j["limits"].push_back({{"limit", std::string{c.code}},
                               {"value", figure(c.value)},
                               {"least", figure(c.limit)},
                               {"meets", c.meets}});
    }
    j["defects"] = Json::array();
    for (std::size_t i = 0; i < in.defects.size(); ++i) {
        j["defects"].push_back(defect_json(in, i));
    }
    j["verdict"] = std::string{name_of(a.verdict)};
    j["urgency"] = a.urgency == Urgency::none ? Json() : Json(std::string{name_of(a.urgency)});
    j["reasons"] = reasons_json(a.reasons);
    j["criteria"] = in.criteria.name;
    j["criteria_sha256"] = in.criteria_hash;
    j["findings"] = findings_json(in);
    j["cautions"] = Json::array();
    for (const std::string_view caution : kCautions) {
        j["cautions"].push_back(std::string{caution});
    }
    return j.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace linewood
