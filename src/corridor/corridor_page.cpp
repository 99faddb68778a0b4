#include "src/corridor/corridor_page.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "src/corridor/corridor_text.hpp"
#include "src/job/cautions.hpp"
#include "src/report/figures.hpp"
#include "src/report/html_table.hpp"
#include "src/report/worksheet_page.hpp"

namespace linewood {
namespace {

constexpr std::size_t kMostShown = 500;

/// `2.1 (0.8 to 4.6)`; empty where it is not known.
std::string with_limits(bool known, double value, RateInterval limits, double times, int decimals) {
    return known ? fmt::format("{} ({} to {})",
                               plain_text(value * times, decimals),
                               plain_text(limits.low * times, decimals),
                               plain_text(limits.high * times, decimals))
                 : std::string{};
}

}  // namespace

std::string corridor_page(const LineModel& line,
                          const CorridorSet& set,
                          const std::vector<CorridorCondition>& conditions,
                          const std::vector<std::uint32_t>& by_rank,
                          Paper paper,
                          std::string_view made_by) {
    std::string out = page_head("Corridors", paper, false);
    out += "<h1>Corridors</h1>\n";
    add_paragraph(out, made_by, "made");
    for (const std::string_view caution : kCautions) {
        add_paragraph(out, caution, "made");
    }
    HtmlTable table{
        out,
        "By rank: the lower limit of rejects per km looked at (a pole on no line as if it had the "
        "line of an average pole). km looked at: km times the share of assessed poles. In "
        "brackets 95 % limits",
        {"Rank",
         "Corridor",
         "Poles",
         "Inspected",
         "Rejects",
         "Cannot wait",
         "km",
         "km looked at",
         "Rejects (%)",
         "Rejects per km looked at",
         "Worst pole"}};
    for (std::size_t i = 0; i < std::min(by_rank.size(), kMostShown); ++i) {
        const CorridorCondition& c = conditions[by_rank[i]];
        table.row({std::to_string(c.rank),
                   set.ids[by_rank[i]],
                   grouped(c.poles),
                   grouped(c.inspected),
                   grouped(c.rejects()),
                   grouped(c.now),
                   plain_text(c.km, 2),
                   plain_text(c.km_assessed, 2),
                   with_limits(c.reject_share.has_value(),
                               c.reject_share.value_or(0.0),
                               c.reject_share_limits,
                               100.0,
                               0),
                   with_limits(c.rejects_per_km.has_value(),
                               c.rejects_per_km.value_or(0.0),
                               c.rejects_per_km_limits,
                               1.0,
                               1),
                   c.worst_pole ? std::string{line.pole_id(*c.worst_pole)} : std::string{}});
    }
    table.finish();
    if (by_rank.size() > kMostShown) {
        add_paragraph(out,
                      fmt::format("{} more are in corridors.csv.",
                                  grouped(static_cast<std::int64_t>(by_rank.size() - kMostShown))));
    }
    return out + page_foot();
}

}  // namespace linewood
