#pragma once

#include "geo/cluster/decay_labels.hpp"
#include "geo/cluster/scan.hpp"

namespace linewood {

/// What a scan counts, at places in slots: slots follow the layout of the source, so that places
/// near each other lie near each other in memory.
class ScanFrame {
public:
    ScanFrame(const NeighbourSource& source, const ScanPoles& poles, const ScanSettings& settings);

    struct Slot {
        std::uint32_t place = 0;
        std::uint32_t poles = 0;
        std::uint32_t decayed = 0;
        std::int64_t expected = 0;  ///< in units of `expected_unit()`
    };
    std::span<const Slot> slots() const { return slots_; }
    std::uint32_t slot_of(std::uint32_t place) const { return slot_of_[place]; }
    std::uint32_t slot_of_pole(std::uint32_t pole) const {
        return slot_of_[place_.empty() ? pole : place_[pole]];
    }

    const DecayLabels& labels() const { return labels_; }
    std::int64_t all_poles() const { return all_poles_; }
    std::int64_t all_decayed() const { return all_decayed_; }
    /// The most poles and the most places that a window may hold.
    std::int64_t most_poles() const { return most_poles_; }
    std::size_t most_places() const { return most_places_; }
    /// The most decayed poles that some replicate may have at one place, and in one window.
    std::int64_t most_at_place() const { return most_at_place_; }
    std::int64_t most_decayed() const;
    /// False where no window can be told from the rest: none or all are decayed, or there are none.
    bool worth_scanning() const {
        return all_decayed_ > 0 && all_decayed_ < all_poles_ && most_poles_ > 0;
    }

    double expected(std::int64_t units) const { return static_cast<double>(units) * unit_; }

    /// The measure of a window that its LLR falls with: poles, or what is expected of them in units.
    /// Whole numbers, so the same window measures the same from every centre.
    std::int64_t measure(std::int64_t poles, std::int64_t expected_units) const {
        return model_ == ScanModel::bernoulli ? poles : expected_units;
    }
    std::int64_t most_measure() const;
    double llr(std::int64_t decayed, std::int64_t measure) const;
    ScanModel model() const { return model_; }
    std::uint32_t min_decayed() const { return min_decayed_; }

private:
    void fill_slots(const NeighbourSource& source, const ScanPoles& poles);

    ScanModel model_;
    std::uint32_t min_decayed_;
    DecayLabels labels_;
    std::vector<Slot> slots_;
    std::vector<std::uint32_t> slot_of_;
    std::span<const std::uint32_t> place_;
    std::int64_t all_poles_ = 0;
    std::int64_t all_decayed_ = 0;
    std::int64_t most_poles_ = 0;
    std::size_t most_places_ = 0;
    std::int64_t most_at_place_ = 0;
    double unit_ = 1.0;
};

}  // namespace linewood
