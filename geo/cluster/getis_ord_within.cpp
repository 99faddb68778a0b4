#include <algorithm>
#include <cassert>
#include <cmath>

#include "geo/cluster/getis_ord.hpp"
#include "geo/stats/gamma_tail.hpp"
#include "geo/stats/normal.hpp"

namespace linewood {
namespace {

struct Stratum {
    double poles = 0.0;
    double mean = 0.0;
    double variance = 0.0;  ///< divisor: the poles; 0 where rounding is all that is left of it
    double cubed = 0.0;     ///< mean cube of the distances from the mean
    double here = 0.0;      ///< of them in the neighbourhood that is looked at
};

std::vector<Stratum> strata_of(std::span<const double> value,
                               std::span<const std::uint32_t> stratum) {
    const auto last = std::max_element(stratum.begin(), stratum.end());
    std::vector<Stratum> strata(last == stratum.end() ? 0U : 1U + *last);
    for (const std::uint32_t s : stratum) {
        strata[s].poles += 1.0;
    }
    for (std::size_t i = 0; i < value.size(); ++i) {
        Stratum& s = strata[stratum[i]];
        s.mean += value[i] / s.poles;
    }
    for (std::size_t i = 0; i < value.size(); ++i) {
        Stratum& s = strata[stratum[i]];
        const double off = value[i] - s.mean;
        s.variance += off * off / s.poles;
        s.cubed += off * off * off / s.poles;
    }
    for (Stratum& s : strata) {
        s.variance = s.variance > 1e-24 * s.mean * s.mean ? s.variance : 0.0;
    }
    return strata;
}

double on_the_safe_side(double z, double skewness) {
    const double further = std::abs(z);
    const double skewed = skewed_upper(further, z < 0.0 ? -skewness : skewness);
    return std::min(1.0, 2.0 * std::max(skewed, normal_upper(further)));
}

}  // namespace

std::vector<GetisOrdScore> getis_ord_within(std::span<const double> value,
                                            std::span<const std::uint32_t> stratum,
                                            const NeighbourRows& rows,
                                            const GetisOrdSettings& settings) {
    assert(settings.star && value.size() == rows.size());
    assert(stratum.empty() || stratum.size() == value.size());
    const std::vector<std::uint32_t> one(stratum.empty() ? value.size() : 0U, 0U);
    if (stratum.empty()) {
        stratum = one;
    }
    std::vector<Stratum> strata = strata_of(value, stratum);
    std::vector<GetisOrdScore> scores(value.size());
    std::vector<std::uint32_t> met;  // there may be many strata, and rows are short
    for (std::uint32_t pole = 0; pole < scores.size(); ++pole) {
        GetisOrdScore& score = scores[pole];
        double beyond = 0.0;
        const auto add = [&](std::uint32_t other) {
            Stratum& s = strata[stratum[other]];
            if (s.here == 0.0) {
                met.push_back(stratum[other]);
            }
            s.here += 1.0;
            beyond += s.variance > 0.0 ? value[other] - s.mean : 0.0;
            score.varying += s.variance > 0.0 ? 1U : 0U;
            ++score.poles;
        };
        add(pole);
        for (const Near& near : rows.row(pole)) {
            add(near.pole);
        }
        double variance = 0.0;
        double cubed = 0.0;
        for (const std::uint32_t number : met) {
            Stratum& s = strata[number];
            if (s.variance > 0.0) {
                const double chance = s.here * (s.poles - s.here) / (s.poles - 1.0);
                variance += s.variance * chance;
                if (s.poles > 2.0) {
                    cubed += s.cubed * chance * (s.poles - 2.0 * s.here) / (s.poles - 2.0);
                }
            }
            s.here = 0.0;
        }
        met.clear();
        if (score.varying >= settings.min_poles && variance > 0.0) {
            score.z = beyond / std::sqrt(variance);
            score.skewness = cubed / (variance * std::sqrt(variance));
            score.p = on_the_safe_side(*score.z, score.skewness);
        }
    }
    return scores;
}

}  // namespace linewood
