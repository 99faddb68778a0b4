#pragma once

#include <memory>

#include "geo/cluster/scan_windows.h"

namespace linewood {

/// Replicates that are counted side by side.
inline constexpr std::size_t kLanes = 64;

/// Finds the greatest LLR over all windows in every replicate. Replicates go in blocks of 64: the
/// label of a place in 64 replicates is one line of memory, a window's counts are 64 numbers that
/// grow line by line, and one comparison of them with what it takes (CountBins) tells that no
/// replicate has its greatest LLR here, which nearly always is so. What is found does not depend
/// on the order of the windows, on blocks or on threads.
class ReplicateCounter {
public:
    virtual ~ReplicateCounter() = default;

    /// How many blocks of labels fit into the memory that may be used; at least 1.
    virtual std::size_t blocks_at_once() const = 0;
    /// Draws the labels of these blocks; only they are counted from then on.
    virtual void draw_labels(std::size_t first_block, std::size_t blocks) = 0;
    /// Counts windows; one call at a time for each worker.
    virtual void count(const WindowBatch& batch, unsigned worker) = 0;
    /// Puts the greatest LLR of the replicates of these blocks in their places.
    virtual void collect(std::span<double> greatest) const = 0;
};

std::unique_ptr<ReplicateCounter> make_replicate_counter(const ScanFrame& frame,
                                                         const CountBins& bins,
                                                         const ScanSettings& settings);

}  // namespace linewood
