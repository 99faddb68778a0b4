#include <cmath>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "geo/io/csv_writer.hpp"
#include "src/job/cautions.hpp"
#include "src/report/limit_report.hpp"
#include "src/report/limit_sheet.hpp"

namespace linewood {
namespace {

using Json = nlohmann::ordered_json;

std::string_view name_of(LimitKind k) {
    switch (k) {
        case LimitKind::limit:
            return "limit";
        case LimitKind::any:
            return "any";
        case LimitKind::none:
            return "none";
    }
    return "";
}

/// Text only: a number is never guarded against being run as a formula.
std::string csv_field(std::string_view text) {
    const std::string field = guarded_csv_text(text);
    if (field.find_first_of(",\"\r\n") == std::string_view::npos) {
        return field;
    }
    std::string out = "\"";
    for (const char c : field) {
        out += c;
        if (c == '"') {
            out += '"';
        }
    }
    return out + '"';
}

std::string plain(double v) { return fmt::format("{:.9g}", v); }

/// The lines of one girth.
class CsvLines {
public:
    CsvLines(const LimitReport& report, const LimitReport::Girth& girth, std::string& out)
        : report_{report}, girth_{girth}, out_{out} {}

    void line(std::string_view table,
              const std::string& size,
              const std::string& angle,
              const SizeLimit& limit) {
        out_ += fmt::format("{},{},{},{},{},{},{},{},{},{},{},{},{},{}\n",
                            table,
                            csv_field(report_.species),
                            csv_field(girth_.pole),
                            figure(girth_.limits.original),
                            size,
                            angle,
                            limit.kind == LimitKind::limit ? limit_figure(report_, limit.size) : "",
                            name_of(limit.kind),
                            limit.fails_by.to_string(),
                            girth_unit(report_.units),
                            report_.transverse_governs ? "transverse" : "weakest",
                            csv_field(report_.tool + ", section model; not a standard"),
                            csv_field(report_.criteria_name),
                            report_.criteria_hash);
    }
    void rows(std::string_view table, const std::vector<LimitRow>& rows) {
        for (const LimitRow& row : rows) {
            for (std::size_t i = 0; i < row.by_angle.size(); ++i) {
                line(table, figure(row.size), angle(i), row.by_angle[i]);
            }
        }
    }

private:
    std::string figure(Length l) const { return plain(girth_figure(l, report_.units)); }
    /// Where the weakest direction governs a figure holds for all angles.
    std::string angle(std::size_t i) const {
        return report_.transverse_governs ? plain(report_.angles[i].degrees()) : "";
    }

    const LimitReport& report_;
    const LimitReport::Girth& girth_;
    std::string& out_;
};

Json limit_json(const LimitReport& r, const SizeLimit& limit) {
    const double scale = std::pow(10.0, r.decimals);
    Json j{{"limit",
            limit.kind == LimitKind::limit
                ? Json(std::round(girth_figure(limit.size, r.units) * scale) / scale)
                : Json()},
           {"kind", std::string{name_of(limit.kind)}},
           {"fails_by", Json::array()}};
    for (int i = 0; i < kReasonCount; ++i) {
        if (limit.fails_by.has(static_cast<Reason>(i))) {
            j["fails_by"].push_back(std::string{text_of(static_cast<Reason>(i)).code});
        }
    }
    return j;
}

Json rows_json(const LimitReport& r, const char* size, const std::vector<LimitRow>& rows) {
    Json list = Json::array();
    for (const LimitRow& row : rows) {
        for (std::size_t i = 0; i < row.by_angle.size(); ++i) {
            Json j{{size, girth_figure(row.size, r.units)},
                   {"angle", r.transverse_governs ? Json(rounded(r.angles[i].degrees())) : Json()}};
            j.update(limit_json(r, row.by_angle[i]));
            list.push_back(std::move(j));
        }
    }
    return list;
}

}  // namespace

std::string limit_report_csv(const LimitReport& report) {
    std::string out =
        "table,species,pole,original_girth,depth_or_shell,angle,limit,kind,fails_by,unit,governs,"
        "model,"
        "criteria,criteria_sha256\n";
    for (const LimitReport::Girth& g : report.all) {
        CsvLines lines{report, g, out};
        if (report.girths) {
            lines.line("least_girth", "", "", g.limits.girth);
            lines.line("least_shell", "", "", g.limits.shell);
        }
        lines.rows("widest_pocket", g.limits.pockets);
        lines.rows("widest_mouth", g.limits.mouths);
    }
    return out;
}

std::string limit_report_json(const LimitReport& report) {
    Json j{{"tool", report.tool},
           {"model", "the section model of linewood; not a standard's limits"},
           {"cautions", kCautions},
           {"criteria", report.criteria_name},
           {"criteria_sha256", report.criteria_hash},
           {"units", std::string{name_of(report.units)}},
           {"governs", report.transverse_governs ? "transverse" : "weakest"},
           {"notes", report.notes},
           {"species", report.species.empty() ? Json() : Json(report.species)},
           {"girths", Json::array()}};
    for (const LimitReport::Girth& g : report.all) {
        Json girth{{"pole", g.pole.empty() ? Json() : Json(g.pole)},
                   {"original_girth", girth_figure(g.limits.original, report.units)}};
        if (report.girths) {
            girth["least_girth"] = limit_json(report, g.limits.girth);
            girth["least_shell"] = limit_json(report, g.limits.shell);
        }
        girth["widest_pocket"] = rows_json(report, "depth", g.limits.pockets);
        girth["widest_mouth"] = rows_json(report, "shell", g.limits.mouths);
        j["girths"].push_back(std::move(girth));
    }
    return j.dump(2) + "\n";
}

}  // namespace linewood
