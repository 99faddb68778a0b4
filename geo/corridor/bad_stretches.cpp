#include "geo/corridor/bad_stretches.hpp"

#include <algorithm>
#include <tuple>

#include "geo/corridor/stretches.hpp"
#include "geo/stats/replicate_random.hpp"

namespace linewood {

namespace {

/// The assessed poles of all runs, run after run.
struct Line {
    struct Place {
        std::uint32_t pole;
        std::uint32_t run;
        double station_m;
    };
    std::vector<Place> places;
    std::vector<bool> reject;
    std::int64_t rejects = 0;
};

Line line_of(const Runs& runs, std::span<const PoleCondition> conditions) {
    Line line;
    for (std::uint32_t run = 0; run < runs.runs().size(); ++run) {
        for (const Runs::Stop& stop : runs.stops(run)) {
            const Verdict verdict = conditions[stop.pole].verdict;
            if (verdict != Verdict::unassessed && runs.place(stop.pole).run == run) {
                line.places.push_back({stop.pole, run, stop.station_m});
                line.reject.push_back(is_reject(verdict));
                line.rejects += is_reject(verdict) ? 1 : 0;
            }
        }
    }
    return line;
}

/// The best stretch anywhere when the rejects are dealt anew.
std::int64_t best_by_chance(const Line& line, StretchScores scores, ReplicateRandom random) {
    auto left = static_cast<std::uint32_t>(line.rejects);
    auto poles = static_cast<std::uint32_t>(line.places.size());
    std::int64_t best = 0;
    std::int64_t here = 0;
    std::uint32_t run = kNone;
    for (const Line::Place& place : line.places) {
        if (place.run != run) {
            run = place.run;
            here = 0;
        }
        const bool reject = random.below(poles--) < left;
        left -= reject ? 1U : 0U;
        here = std::max<std::int64_t>(0, here + (reject ? scores.reject : scores.sound));
        best = std::max(best, here);
    }
    return best;
}

void set_p(const Line& line,
           StretchScores scores,
           const StretchSearch& search,
           std::vector<BadStretch>& stretches) {
    if (search.relabellings == 0 || stretches.empty()) {
        return;
    }
    std::vector<std::int64_t> best;
    for (std::uint32_t i = 0; i < search.relabellings; ++i) {
        best.push_back(best_by_chance(line, scores, ReplicateRandom{search.seed, i}));
    }
    std::sort(best.begin(), best.end());
    for (BadStretch& stretch : stretches) {
        const auto reached = best.end() - std::lower_bound(best.begin(), best.end(), stretch.score);
        stretch.p = (1.0 + static_cast<double>(reached)) / (1.0 + search.relabellings);
    }
}

}  // namespace

std::vector<BadStretch> bad_stretches(const Runs& runs,
                                      std::span<const PoleCondition> conditions,
                                      const StretchSearch& search) {
    const Line line = line_of(runs, conditions);
    const StretchScores scores =
        stretch_scores(line.rejects, static_cast<std::int64_t>(line.places.size()));
    std::vector<BadStretch> out;
    std::vector<std::int64_t> of_run;
    for (std::size_t begin = 0; begin < line.places.size();) {
        std::size_t end = begin;
        of_run.clear();
        for (; end < line.places.size() && line.places[end].run == line.places[begin].run; ++end) {
            of_run.push_back(line.reject[end] ? scores.reject : scores.sound);
        }
        for (const Stretch& found : maximal_stretches(of_run)) {
            const Line::Place& first = line.places[begin + found.begin];
            const Line::Place& last = line.places[begin + found.end - 1U];
            BadStretch stretch;
            stretch.run = first.run;
            stretch.first_pole = first.pole;
            stretch.last_pole = last.pole;
            stretch.from_m = first.station_m;
            stretch.to_m = last.station_m;
            stretch.assessed = static_cast<std::int64_t>(found.end - found.begin);
            for (std::size_t i = begin + found.begin; i < begin + found.end; ++i) {
                stretch.rejects += line.reject[i] ? 1 : 0;
            }
            stretch.reject_share_limits = *wilson_interval(stretch.rejects, stretch.assessed);
            stretch.score = found.score;
            if (stretch.rejects >= search.least_rejects) {
                out.push_back(stretch);
            }
        }
        begin = end;
    }
    std::sort(out.begin(), out.end(), [](const BadStretch& a, const BadStretch& b) {
        return std::tuple{-a.score, a.run, a.from_m} < std::tuple{-b.score, b.run, b.from_m};
    });
    set_p(line, scores, search, out);
    return out;
}

}  // namespace linewood
