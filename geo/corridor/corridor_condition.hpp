#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "assess/verdict/verdict.hpp"
#include "geo/stats/rate_interval.hpp"

namespace linewood {

/// What is known of one pole's condition.
struct PoleCondition {
    std::string_view id;  ///< not owned
    Verdict verdict = Verdict::unassessed;
    Urgency urgency = Urgency::none;
    bool inspected = false;
    double remaining_pct = std::numeric_limits<double>::quiet_NaN();  ///< NaN = no figure
};

/// A rejected pole: its verdict is `replace` or `stub`.
inline bool is_reject(Verdict v) { return v == Verdict::replace || v == Verdict::stub; }

/// The figures of one corridor: a run, a circuit, or any other group of poles.
struct CorridorCondition {
    static constexpr std::array<double, 4> kShares{0.0, 0.05, 0.25, 0.50};

    std::int64_t poles = 0;
    std::int64_t inspected = 0;
    std::array<std::int64_t, kVerdictCount> verdicts{};  ///< in the order of Verdict
    std::int64_t now = 0;                                ///< of urgency `now`
    double km = 0.0;

    /// Remaining strength in percent that so many of the assessed poles with a figure do not pass (nearest
    /// rank; the first is the least). Absent where none has one. What is computed of an unassessed pole
    /// is as far as its data allow, and stands for nothing here.
    std::optional<std::array<double, kShares.size()>> strength_pct;

    /// Rejected poles to assessed ones, 95 % limits by Wilson. Poles without a verdict are not
    /// counted as sound. Absent where none is assessed.
    std::optional<double> reject_share;
    RateInterval reject_share_limits;

    /// `km` times the share of assessed poles: the kilometres looked at, if these poles are spread evenly.
    double km_assessed = 0.0;

    /// Rejected poles per kilometre looked at, 95 % limits by Garwood. Absent where that is none.
    std::optional<double> rejects_per_km;
    RateInterval rejects_per_km_limits;

    /// The first in the order: urgency `now`, verdict (replace, stub, unassessed, treat, serviceable),
    /// least strength (none last), least id. Absent without poles.
    std::optional<std::uint32_t> worst_pole;

    /// 1 = worst. By the lower limit of rejects per kilometre looked at, so that one reject on a short tap
    /// does not go before ten on a feeder; then by rejects; equal: position. A corridor without kilometres
    /// (a pole on no line) is ranked as if each of its poles had the line of an average pole of all
    /// corridors; those without an assessed pole come last. Own choice, no source.
    std::uint32_t rank = 0;

    std::int64_t count(Verdict v) const { return verdicts[static_cast<std::size_t>(v)]; }
    std::int64_t assessed() const { return poles - count(Verdict::unassessed); }
    std::int64_t rejects() const { return count(Verdict::replace) + count(Verdict::stub); }
};

/// @param corridor_of of each pole, below km.size(); kNone = in none. Each pole is in one corridor
///        only, so the counts add up; a pole between runs is in the one it is given.
/// @param poles one each.
/// @param km the length of each corridor.
/// Cost: linear but for the ranks; 8 bytes a pole while it works.
std::vector<CorridorCondition> corridor_conditions(std::span<const std::uint32_t> corridor_of,
                                                   std::span<const PoleCondition> poles,
                                                   std::span<const double> km);

}  // namespace linewood
