#include "geo/corridor/corridor_condition.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <tuple>

namespace linewood {

namespace {

bool worse(const PoleCondition& a, const PoleCondition& b) {
    const auto key = [](const PoleCondition& pole) {
        return std::tuple{pole.urgency != Urgency::now,
                          pole.verdict,
                          std::isnan(pole.remaining_pct),
                          std::isnan(pole.remaining_pct) ? 0.0 : pole.remaining_pct,
                          pole.id};
    };
    return key(a) < key(b);
}

void add(CorridorCondition& to, const PoleCondition& pole) {
    ++to.poles;
    to.inspected += pole.inspected ? 1 : 0;
    ++to.verdicts[static_cast<std::size_t>(pole.verdict)];
    to.now += pole.urgency == Urgency::now ? 1 : 0;
}

/// Limits worked out once for each count, since most corridors share a few small ones.
class CountLimits {
public:
    RateInterval of(std::int64_t count) {
        const auto [at, fresh] = known_.try_emplace(count);
        if (fresh) {
            at->second = poisson_interval(count);
        }
        return at->second;
    }

private:
    std::map<std::int64_t, RateInterval> known_;
};

void set_rates(CorridorCondition& corridor, CountLimits& known) {
    const std::int64_t assessed = corridor.assessed();
    if (assessed == 0) {
        return;
    }
    const auto rejects = static_cast<double>(corridor.rejects());
    corridor.reject_share = rejects / static_cast<double>(assessed);
    corridor.reject_share_limits = *wilson_interval(corridor.rejects(), assessed);
    const double km =
        corridor.km * static_cast<double>(assessed) / static_cast<double>(corridor.poles);
    corridor.km_assessed = km;
    if (km > 0.0) {
        const RateInterval limits = known.of(corridor.rejects());
        corridor.rejects_per_km = rejects / km;
        corridor.rejects_per_km_limits = {limits.low / km, limits.high / km};
    }
}

/// The strengths of all assessed poles, corridor by corridor.
void set_strengths(std::span<const std::uint32_t> corridor_of,
                   std::span<const PoleCondition> poles,
                   std::vector<CorridorCondition>& out) {
    const auto counts = [&](std::size_t i) {
        return corridor_of[i] < out.size() && poles[i].verdict != Verdict::unassessed &&
               !std::isnan(poles[i].remaining_pct);
    };
    std::vector<std::size_t> first(out.size() + 1U, 0);
    for (std::size_t i = 0; i < poles.size(); ++i) {
        first[counts(i) ? corridor_of[i] + 1U : 0U] += counts(i) ? 1U : 0U;
    }
    std::partial_sum(first.begin(), first.end(), first.begin());
    std::vector<double> strengths(first.back());
    std::vector<std::size_t> next(first.begin(), first.end() - 1);
    for (std::size_t i = 0; i < poles.size(); ++i) {
        if (counts(i)) {
            strengths[next[corridor_of[i]]++] = poles[i].remaining_pct;
        }
    }
    for (std::size_t c = 0; c < out.size(); ++c) {
        const auto of = std::span{strengths}.subspan(first[c], first[c + 1U] - first[c]);
        if (of.empty()) {
            continue;
        }
        std::sort(of.begin(), of.end());
        auto& quantiles = out[c].strength_pct.emplace();
        for (std::size_t q = 0; q < quantiles.size(); ++q) {
            const double rank =
                std::ceil(CorridorCondition::kShares[q] * static_cast<double>(of.size()));
            quantiles[q] = of[rank < 1.0 ? 0U : static_cast<std::size_t>(rank) - 1U];
        }
    }
}

/// The kilometres of line of an average pole in a corridor; 0 where there is no line.
double km_of_a_pole(const std::vector<CorridorCondition>& corridors) {
    double km = 0.0;
    double poles = 0.0;
    for (const CorridorCondition& c : corridors) {
        km += c.km > 0.0 ? c.km : 0.0;
        poles += c.km > 0.0 ? static_cast<double>(c.poles) : 0.0;
    }
    return poles > 0.0 ? km / poles : 0.0;
}

void set_ranks(std::vector<CorridorCondition>& corridors, CountLimits& known) {
    const double km_each = km_of_a_pole(corridors);
    std::vector<double> badness(corridors.size(), -1.0);  // of those without an assessed pole
    for (std::size_t i = 0; i < corridors.size(); ++i) {
        const CorridorCondition& c = corridors[i];
        if (c.assessed() > 0) {
            const double km = static_cast<double>(c.assessed()) * km_each;
            badness[i] = c.rejects_per_km ? c.rejects_per_km_limits.low
                         : km > 0.0       ? known.of(c.rejects()).low / km
                                          : 0.0;
        }
    }
    std::vector<std::uint32_t> order(corridors.size());
    std::iota(order.begin(), order.end(), 0U);
    std::sort(order.begin(), order.end(), [&](std::uint32_t a, std::uint32_t b) {
        return std::tuple{-badness[a], -corridors[a].rejects(), a} <
               std::tuple{-badness[b], -corridors[b].rejects(), b};
    });
    for (std::size_t i = 0; i < order.size(); ++i) {
        corridors[order[i]].rank = static_cast<std::uint32_t>(i) + 1U;
    }
}

}  // namespace

std::vector<CorridorCondition> corridor_conditions(std::span<const std::uint32_t> corridor_of,
                                                   std::span<const PoleCondition> poles,
                                                   std::span<const double> km) {
    std::vector<CorridorCondition> out(km.size());
    for (std::size_t i = 0; i < poles.size(); ++i) {
        if (corridor_of[i] < out.size()) {
            CorridorCondition& corridor = out[corridor_of[i]];
            add(corridor, poles[i]);
            if (!corridor.worst_pole || worse(poles[i], poles[*corridor.worst_pole])) {
                corridor.worst_pole = static_cast<std::uint32_t>(i);
            }
        }
    }
    CountLimits known;
    for (std::size_t c = 0; c < out.size(); ++c) {
        out[c].km = km[c];
        set_rates(out[c], known);
    }
    set_strengths(corridor_of, poles, out);
    set_ranks(out, known);
    return out;
}

}  // namespace linewood
