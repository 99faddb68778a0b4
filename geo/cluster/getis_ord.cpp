#include "geo/cluster/getis_ord.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "geo/stats/normal.hpp"

namespace linewood {
namespace {

struct WeightSums {
    double w = 0.0;
    double w2 = 0.0;
    double wx = 0.0;

    void add(double weight, double x) {
        w += weight;
        w2 += weight * weight;
        wx += weight * x;
    }
};

std::optional<double> standard_score(const WeightSums& sums, double n, double mean, double var) {
    const double room = (n * sums.w2 - sums.w * sums.w) / (n - 1.0);
    if (!(n > 1.0) || !(var > 0.0) || !(room > 1e-12 * n * sums.w2)) {
        return std::nullopt;
    }
    return (sums.wx - sums.w * mean) / std::sqrt(var * room);
}

}  // namespace

std::vector<GetisOrdScore> getis_ord(std::span<const double> value,
                                     const NeighbourRows& rows,
                                     std::span<const double> weight,
                                     const GetisOrdSettings& settings) {
    assert(value.size() == rows.size());
    assert(weight.empty() || weight.size() == rows.neighbour_count());
    std::vector<GetisOrdScore> scores(value.size());
    const auto n = static_cast<double>(value.size());
    double mean = 0.0;
    for (const double v : value) {
        mean += v / n;
    }
    // Everything below is of values less their mean, so that nothing cancels.
    std::vector<double> x(value.size());
    double sum = 0.0;
    double sum2 = 0.0;
    for (std::size_t i = 0; i < x.size(); ++i) {
        x[i] = value[i] - mean;
        sum += x[i];
        sum2 += x[i] * x[i];
    }
    // Less than this is what rounding leaves of equal values.
    const double least = 1e-24 * mean * mean;
    for (std::size_t i = 0; i < x.size(); ++i) {
        WeightSums sums;
        const auto row = rows.row(i);
        for (std::size_t j = 0; j < row.size(); ++j) {
            sums.add(weight.empty() ? 1.0 : weight[rows.begin_of(i) + j], x[row[j].pole]);
        }
        double m = n;
        double own = x[i];
        if (settings.star) {
            sums.add(1.0, x[i]);
            own = 0.0;
        } else {
            m = n - 1.0;
        }
        const double xbar = (sum - own) / m;
        const double var = (sum2 - own * own) / m - xbar * xbar;
        GetisOrdScore& score = scores[i];
        score.poles = static_cast<std::uint32_t>(row.size() + (settings.star ? 1 : 0));
        score.varying = score.poles;
        if (score.poles >= settings.min_poles && var > std::max(least, 1e-14 * sum2 / n)) {
            score.z = standard_score(sums, m, xbar, var);
        }
        if (score.z) {
            score.p = normal_two_sided(*score.z);
        }
    }
    return scores;
}

}  // namespace linewood
