#include "geo/cluster/count_bins.h"

#include <algorithm>

namespace linewood {
namespace {

/// 128 bytes each for 64 replicates: together they stay in a core's second cache.
constexpr std::size_t kBins = 1024;

/// More than the tables are off by.
constexpr double kGuard = 1e-6;

}  // namespace

CountBins::CountBins(const ScanFrame& frame) : frame_{frame}, low_(kBins) {
    const bool bernoulli = frame.model() == ScanModel::bernoulli;
    const auto most = static_cast<double>(std::max<std::int64_t>(frame.most_measure(), 1));
    scale_ = static_cast<double>(kBins) / std::sqrt(most) * (1.0 - 1e-12);
    const std::int64_t table = bernoulli ? frame.all_poles() : frame.all_decayed();
    k_log_k_.resize(static_cast<std::size_t>(table) + 1);
    for (std::size_t k = 1; k < k_log_k_.size(); ++k) {
        k_log_k_[k] = static_cast<double>(k) * std::log(static_cast<double>(k));
    }
    const auto all = static_cast<double>(frame.all_decayed());
    const auto poles = static_cast<double>(frame.all_poles());
    if (bernoulli) {
        constant_ = k_log_k_[static_cast<std::size_t>(frame.all_decayed())] +
                    k_log_k_[static_cast<std::size_t>(frame.all_poles() - frame.all_decayed())] -
                    k_log_k_.back();
    }
    for (std::size_t bin = 0; bin < low_.size(); ++bin) {
        Low& low = low_[bin];
        const double root = static_cast<double>(bin) / scale_;
        // A little less: bin_of() rounds as well.
        const double least = std::max(0.0, root * root * (1.0 - 1e-9) - 1e-9);
        low.measure =
            static_cast<std::int64_t>(bernoulli ? std::max(1.0, std::ceil(least)) : least);
        low.expected = bernoulli ? static_cast<double>(low.measure) * all / poles
                                 : frame.expected(low.measure);
        low.log_in = low.expected > 0.0 ? std::log(low.expected) : 0.0;
        low.log_out = low.expected < all ? std::log(all - low.expected) : 0.0;
    }
}

/// The LLR by tables, about 1e-8 off.
double CountBins::nearly(std::int64_t count, const Low& low) const {
    const auto k_log_k = [&](std::int64_t k) { return k_log_k_[static_cast<std::size_t>(k)]; };
    const std::int64_t rest = frame_.all_decayed() - count;
    if (frame_.model() == ScanModel::poisson) {
        return k_log_k(count) + k_log_k(rest) - static_cast<double>(count) * low.log_in -
               static_cast<double>(rest) * low.log_out;
    }
    const std::int64_t n = low.measure;
    const std::int64_t outside = frame_.all_poles() - n;
    return k_log_k(count) + k_log_k(n - count) - k_log_k(n) + k_log_k(rest) +
           k_log_k(outside - rest) - k_log_k(outside) - constant_;
}

bool CountBins::may_beat(std::int64_t count, const Low& low, double llr) const {
    if (!(static_cast<double>(count) > low.expected * (1.0 - 1e-9))) {
        return false;
    }
    if (!(low.expected > 0.0)) {
        return true;
    }
    if (frame_.model() == ScanModel::bernoulli) {
        if (count > low.measure) {
            return true;  // a wider window of the same bin may hold them
        }
        if (frame_.all_poles() - low.measure < frame_.all_decayed() - count) {
            return false;  // the rest would not find room outside
        }
    }
    return nearly(count, low) > llr - kGuard;
}

void CountBins::must_exceed(double llr, std::int64_t none, std::span<std::int64_t> out) const {
    // The greater the measure, the more it takes; about as much more as there is more expected.
    const std::int64_t least = frame_.min_decayed();
    const std::int64_t most = std::min(frame_.most_decayed(), none);
    std::int64_t count = least;
    double expected = 0.0;
    for (std::size_t bin = 0; bin < low_.size(); ++bin) {
        const auto more = static_cast<std::int64_t>(low_[bin].expected - expected);
        expected = low_[bin].expected;
        count = std::min(count + more, most + 1);
        while (more > 0 && count > least && may_beat(count - 1, low_[bin], llr)) {
            --count;
        }
        while (count <= most && !may_beat(count, low_[bin], llr)) {
            ++count;
        }
        out[bin] = count > most ? none : count - 1;
    }
}

}  // namespace linewood
