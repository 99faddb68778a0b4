#pragma once

#include "geo/cluster/count_bins.h"
#include "geo/cluster/scan_frame.h"

namespace linewood {

struct Window {
    std::uint32_t end = 0;  ///< of its slots in the batch; they begin with those of its centre
    std::uint32_t bin = 0;  ///< of CountBins
    std::uint32_t poles = 0;
    std::int64_t measure = 0;
};

/// The windows of some centres. Those of one centre hold one another, so its slots stand there once.
struct WindowBatch {
    struct Centre {
        std::uint32_t place = 0;
        std::uint32_t first_slot = 0;
        std::uint32_t first_window = 0;
    };
    std::vector<Centre> centres;
    std::vector<std::uint32_t> slots;  ///< of the frame
    std::vector<Window> windows;

    void clear();
    std::span<const Window> windows_of(std::size_t centre) const;
};

/// Finds the windows around centres; one for each thread.
class WindowMaker {
public:
    WindowMaker(const NeighbourSource& source,
                const ScanFrame& frame,
                const CountBins& bins,
                std::int64_t radius_um);

    /// Adds the windows of that centre.
    void add(std::uint32_t place, WindowBatch& batch);
    /// The places found around the centre added last, by distance; windows hold the first of them.
    std::span<const Near> found() const { return found_; }

private:
    const ScanFrame& frame_;
    const CountBins& bins_;
    std::int64_t radius_um_;
    std::unique_ptr<NeighbourSearch> search_;
    std::vector<Near> found_;
};

/// The window of a centre with the greatest LLR, by the true labels.
struct BestWindow {
    double llr = 0.0;  ///< 0: none
    std::uint32_t poles = 0;
    std::uint32_t decayed = 0;
    std::uint32_t places = 0;
    std::uint32_t centre = 0;

    /// More significant, then smaller, then of lower centre.
    friend bool operator<(const BestWindow& a, const BestWindow& b) {
        if (a.llr != b.llr) {
            return a.llr > b.llr;
        }
        return a.poles != b.poles ? a.poles < b.poles : a.centre < b.centre;
    }
};

/// Finds it; of equal ones the smallest. Safe for many threads.
class BestWindowFinder {
public:
    BestWindowFinder(const ScanFrame& frame, const CountBins& bins);

    /// @param most_places windows with more are not looked at.
    BestWindow best(const WindowBatch& batch, std::size_t centre, std::size_t most_places) const;

private:
    const ScanFrame& frame_;
    std::vector<double> steps_;                           ///< of the LLR
    std::vector<std::vector<std::int64_t>> must_exceed_;  ///< of each step, by bin
};

}  // namespace linewood
