#include "geo/cluster/decay_rate.hpp"

#include <algorithm>
#include <cassert>

namespace linewood {
namespace {

double rate_of(const AreaCount& area) { return static_cast<double>(area.decayed) / area.poles; }

/// What a set of areas has in common.
struct Moments {
    double mean = 0.0;
    double variance = 0.0;    ///< s^2, weighted by poles
    double mean_poles = 0.0;  ///< nbar
    bool empty = true;
};

Moments moments_of(std::span<const AreaCount> areas) {
    double poles = 0.0;
    double decayed = 0.0;
    double counted = 0.0;
    for (const AreaCount& area : areas) {
        poles += area.poles;
        decayed += area.decayed;
        counted += area.poles > 0 ? 1.0 : 0.0;
    }
    Moments moments;
    if (!(poles > 0.0)) {
        return moments;
    }
    moments.empty = false;
    moments.mean = decayed / poles;
    moments.mean_poles = poles / counted;
    for (const AreaCount& area : areas) {
        if (area.poles > 0) {
            const double off = rate_of(area) - moments.mean;
            moments.variance += area.poles * off * off / poles;
        }
    }
    return moments;
}

double between_poisson(const Moments& m) {
    return std::max(0.0, m.variance - m.mean / m.mean_poles);
}

double between_binomial(const Moments& m) {
    return std::max(0.0, m.variance - m.mean * (1.0 - m.mean) / m.mean_poles);
}

double poisson_rate(const AreaCount& area, const Moments& m) {
    const double a = between_poisson(m);
    if (!(a > 0.0)) {
        return m.mean;
    }
    return m.mean + (rate_of(area) - m.mean) * a / (a + m.mean / area.poles);
}

double binomial_rate(const AreaCount& area, const Moments& m) {
    const double n = area.poles;
    const double between = between_binomial(m);
    if (!(between > 0.0)) {
        return m.mean;
    }
    // At least m (1 - m) - s^2, so never below 0 here.
    const double whole =
        (n - 1.0) * m.variance + (m.mean_poles - n) / m.mean_poles * m.mean * (1.0 - m.mean);
    const double rho = n * between < whole ? n * between / whole : 1.0;
    return rho * rate_of(area) + (1.0 - rho) * m.mean;
}

}  // namespace

SmoothedRates smoothed_rates(std::span<const AreaCount> areas, RateModel model) {
    const Moments moments = moments_of(areas);
    SmoothedRates smoothed;
    smoothed.rate.resize(areas.size());
    if (moments.empty) {
        return smoothed;
    }
    const bool poisson = model == RateModel::poisson;
    smoothed.mean = moments.mean;
    smoothed.between = poisson ? between_poisson(moments) : between_binomial(moments);
    for (std::size_t i = 0; i < areas.size(); ++i) {
        if (areas[i].poles > 0) {
            smoothed.rate[i] =
                poisson ? poisson_rate(areas[i], moments) : binomial_rate(areas[i], moments);
        }
    }
    return smoothed;
}

std::vector<std::optional<double>> locally_smoothed_rates(std::span<const AreaCount> areas,
                                                          const NeighbourRows& neighbours) {
    assert(areas.size() == neighbours.size());
    std::vector<std::optional<double>> rates(areas.size());
    std::vector<AreaCount> set;
    for (std::size_t i = 0; i < areas.size(); ++i) {
        if (areas[i].poles == 0) {
            continue;
        }
        set.assign(1, areas[i]);
        for (const Near& near : neighbours.row(i)) {
            set.push_back(areas[near.pole]);
        }
        rates[i] = poisson_rate(areas[i], moments_of(set));
    }
    return rates;
}

}  // namespace linewood
