#include "src/corridor/corridor_rows.hpp"

#include <string>
#include <utility>

#include "src/job/unit_system.hpp"
#include "src/pipeline/own_field.hpp"
#include "src/pipeline/pole_rows.hpp"

namespace linewood {
namespace {

using own_field::count;
using own_field::number;
using own_field::percent;
using own_field::text;

Cell percent_cell(bool known, double share) {
    return known ? Cell{rounded(share * 100.0)} : Cell{};
}
Cell rate_cell(bool known, double v) { return known ? Cell{rounded(v)} : Cell{}; }

}  // namespace

std::vector<Field> corridor_fields(bool of_runs) {
    std::vector<Field> fields{
        text("corridor_id", "the corridor"),
        count("rank",
              "1 = worst, by the lower limit of rejects per km looked at; a pole on no line as if "
              "it had "
              "the line of an average pole"),
        count("poles", "each pole is in one corridor"),
        count("inspected", "poles with an inspection, dated or not"),
        percent("inspected_pct", "share of the poles"),
        count("n_replace", "poles of this verdict"),
        count("n_stub", "poles of this verdict"),
        count("n_unassessed", "poles of this verdict"),
        count("n_treat", "poles of this verdict"),
        count("n_serviceable", "poles of this verdict"),
        count("n_now", "poles of urgency now"),
        percent("strength_min", "least remaining strength of the assessed poles"),
        percent("strength_p05", "that 5 % of the assessed poles with a figure do not pass"),
        percent("strength_p25", "that 25 % do not pass"),
        percent("strength_p50", "that 50 % do not pass"),
        number(
            "km",
            "km",
            of_runs
                ? "of the line, every span of its runs whole"
                : "of the line, half of each span for each of its poles that is in the corridor"),
        number("km_assessed", "km", "km times the share of assessed poles: the line looked at"),
        percent("reject_pct", "replace and stub, of the assessed poles"),
        percent("reject_pct_low", "95 % limit (Wilson)"),
        percent("reject_pct_high", "95 % limit (Wilson)"),
        number("rejects_per_km", "1/km", "replace and stub, by km_assessed"),
        number("rejects_per_km_low", "1/km", "95 % limit (exact Poisson)"),
        number("rejects_per_km_high", "1/km", "95 % limit (exact Poisson)"),
        text(
            "worst_pole",
            "now first, then replace, stub, unassessed, treat, serviceable, then by strength, then "
            "the least pole_id"),
    };
    if (of_runs) {
        fields.push_back(text("circuits", "of its runs, + between; null = none recorded"));
        fields.push_back(count("runs", "it is made of"));
    }
    return fields;
}

std::vector<Cell> corridor_cells(const LineModel& line,
                                 const CorridorSet& set,
                                 const CorridorCondition& c,
                                 std::uint32_t corridor) {
    const bool share = c.reject_share.has_value();
    const bool rate = c.rejects_per_km.has_value();
    std::vector<Cell> cells{
        text_cell(set.ids[corridor]),
        std::int64_t{c.rank},
        c.poles,
        c.inspected,
        percent_cell(
            c.poles > 0,
            c.poles > 0 ? static_cast<double>(c.inspected) / static_cast<double>(c.poles) : 0.0),
        c.count(Verdict::replace),
        c.count(Verdict::stub),
        c.count(Verdict::unassessed),
        c.count(Verdict::treat),
        c.count(Verdict::serviceable),
        c.now};
    for (std::size_t q = 0; q < CorridorCondition::kShares.size(); ++q) {
        cells.push_back(c.strength_pct ? Cell{(*c.strength_pct)[q]} : Cell{});
    }
    cells.emplace_back(rounded(c.km));
    cells.emplace_back(rounded(c.km_assessed));
    cells.push_back(percent_cell(share, c.reject_share.value_or(0.0)));
    cells.push_back(percent_cell(share, c.reject_share_limits.low));
    cells.push_back(percent_cell(share, c.reject_share_limits.high));
    cells.push_back(rate_cell(rate, c.rejects_per_km.value_or(0.0)));
    cells.push_back(rate_cell(rate, c.rejects_per_km_limits.low));
    cells.push_back(rate_cell(rate, c.rejects_per_km_limits.high));
    cells.push_back(c.worst_pole ? text_cell(line.pole_id(*c.worst_pole)) : Cell{});
    if (!set.groups.empty()) {
        const RunGroup& group = set.groups[corridor];
        cells.push_back(text_cell(line.circuits_of(group.runs.front())));
        cells.emplace_back(static_cast<std::int64_t>(group.runs.size()));
    }
    return cells;
}

std::vector<Field> stretch_fields() {
    return {
        text("run_id", "the run it is on"),
        number("from_m", "m", "station of its first pole"),
        number("to_m", "m", "station of its last pole"),
        text("first_pole", "it begins with"),
        text("last_pole", "it ends with"),
        count("assessed", "poles with a verdict"),
        count("rejects", "replace and stub"),
        percent("reject_pct", "of the assessed; picked because it is high"),
        percent("reject_pct_low", "95 % limit (Wilson)"),
        percent("reject_pct_high", "95 % limit (Wilson)"),
        number("score", "", "log-likelihood ratio"),
        number("p", "", "how often chance has a stretch as bad somewhere (999 relabellings)"),
    };
}

std::vector<Cell> stretch_cells(const LineModel& line, const BadStretch& s) {
    return {text_cell(line.run_id(s.run)),
            s.from_m,
            s.to_m,
            text_cell(line.pole_id(s.first_pole)),
            text_cell(line.pole_id(s.last_pole)),
            s.assessed,
            s.rejects,
            percent_cell(s.assessed > 0,
                         static_cast<double>(s.rejects) / static_cast<double>(s.assessed)),
            percent_cell(true, s.reject_share_limits.low),
            percent_cell(true, s.reject_share_limits.high),
            static_cast<double>(s.score) / 1000.0,
            s.p};
}

std::vector<PoleCondition> pole_conditions(const LineModel& line) {
    const AssessedPoles& poles = line.data().poles;
    std::vector<PoleCondition> conditions(poles.size());
    for (std::uint32_t pole = 0; pole < poles.size(); ++pole) {
        PoleCondition& c = conditions[pole];
        c.id = line.pole_id(pole);
        c.verdict = poles.verdicts[pole];
        c.urgency = poles.urgencies[pole];
        c.inspected = poles.inspected[pole];
        c.remaining_pct = poles.remaining_pct[pole];
    }
    return conditions;
}

}  // namespace linewood
