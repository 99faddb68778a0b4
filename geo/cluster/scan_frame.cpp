#include "geo/cluster/scan_frame.h"

#include <algorithm>
#include <bit>
#include <cassert>
#include <cmath>

#include "geo/cluster/scan_llr.hpp"

namespace linewood {

ScanFrame::ScanFrame(const NeighbourSource& source,
                     const ScanPoles& poles,
                     const ScanSettings& settings)
    : model_{settings.model},
      min_decayed_{std::max(settings.min_decayed, 1U)},
      labels_{poles.decayed, poles.stratum},
      place_{poles.place},
      all_poles_{static_cast<std::int64_t>(poles.decayed.size())},
      all_decayed_{labels_.decayed_count()} {
    assert(poles.place.empty() ? poles.decayed.size() == source.pole_count()
                               : poles.decayed.size() == poles.place.size());
    // The guard lets 0.3 of 10 poles be 3, whatever 0.3 is in binary.
    const double share = settings.max_share * static_cast<double>(all_poles_) + 1e-9;
    most_poles_ = std::min(static_cast<std::int64_t>(share), all_poles_);
    if (settings.max_poles < static_cast<std::size_t>(most_poles_)) {
        most_poles_ = static_cast<std::int64_t>(settings.max_poles);
    }
    most_places_ = std::min(settings.max_places, source.pole_count());
    fill_slots(source, poles);
}

void ScanFrame::fill_slots(const NeighbourSource& source, const ScanPoles& poles) {
    const std::vector<std::uint32_t> layout = source.layout();
    slots_.resize(layout.size());
    slot_of_.resize(layout.size());
    for (std::uint32_t slot = 0; slot < layout.size(); ++slot) {
        slots_[slot].place = layout[slot];
        slot_of_[layout[slot]] = slot;
    }
    // As fine as all of it together still fits: exact sums, in any order.
    const auto width = std::bit_width(static_cast<std::uint64_t>(all_poles_));
    const int bits = 61 - static_cast<int>(width);
    unit_ = std::ldexp(1.0, -bits);
    std::vector<std::int64_t> share;
    for (const StratumTotal& total : labels_.strata()) {
        const double part =
            total.poles == 0 ? 0.0 : static_cast<double>(total.decayed) / total.poles;
        share.push_back(static_cast<std::int64_t>(std::ldexp(part, bits)));
    }
    for (std::uint32_t pole = 0; pole < poles.decayed.size(); ++pole) {
        Slot& slot = slots_[slot_of_pole(pole)];
        ++slot.poles;
        slot.decayed += poles.decayed[pole] != 0 ? 1U : 0U;
        slot.expected += share[poles.stratum.empty() ? 0 : poles.stratum[pole]];
    }
    for (const Slot& slot : slots_) {
        most_at_place_ = std::max<std::int64_t>(most_at_place_, slot.poles);
    }
    most_at_place_ = std::min(most_at_place_, all_decayed_);
}

std::int64_t ScanFrame::most_decayed() const { return std::min(most_poles_, all_decayed_); }

std::int64_t ScanFrame::most_measure() const {
    if (model_ == ScanModel::bernoulli) {
        return most_poles_;
    }
    double share = 0.0;
    for (const StratumTotal& total : labels_.strata()) {
        share = std::max(share,
                         total.poles == 0 ? 0.0 : static_cast<double>(total.decayed) / total.poles);
    }
    const double most =
        std::min(share * static_cast<double>(most_poles_), static_cast<double>(all_decayed_));
    return static_cast<std::int64_t>(most / unit_);
}

double ScanFrame::llr(std::int64_t decayed, std::int64_t measure) const {
    return model_ == ScanModel::bernoulli
               ? bernoulli_llr(decayed, measure, all_decayed_, all_poles_)
               : poisson_llr(decayed, expected(measure), all_decayed_);
}

}  // namespace linewood
