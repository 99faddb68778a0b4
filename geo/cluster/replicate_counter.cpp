#include "geo/cluster/replicate_counter.h"

#include <algorithm>
#include <array>
#include <limits>

#include "geo/cluster/worker_parts.hpp"

namespace linewood {
namespace {

template <typename Value>
struct alignas(64) Line {
    std::array<Value, kLanes> lane{};
};

template <typename Lane, typename Label>
inline void add(Line<Lane>& counts, const Line<Label>& labels) {
    for (std::size_t i = 0; i < kLanes; ++i) {
        counts.lane[i] = static_cast<Lane>(counts.lane[i] + labels.lane[i]);
    }
}

template <typename Lane>
inline bool any_above(const Line<Lane>& counts, const Line<Lane>& limits) {
    Lane any = 0;
    for (std::size_t i = 0; i < kLanes; ++i) {
        any = static_cast<Lane>(any | (counts.lane[i] > limits.lane[i] ? -1 : 0));
    }
    return any != 0;
}

/// The greatest LLR of 64 replicates so far, and the counts it takes to beat them.
template <typename Lane>
class Greatest {
public:
    Greatest(const ScanFrame& frame, const CountBins& bins)
        : frame_{&frame}, bins_{&bins}, limits_(bins.size()), column_(bins.size()) {
        for (std::size_t lane = 0; lane < kLanes; ++lane) {
            tighten(lane);
        }
    }

    const Line<Lane>& limits(std::uint32_t bin) const { return limits_[bin]; }

    void offer(const Line<Lane>& counts, const Window& window) {
        const Line<Lane>& limits = limits_[window.bin];
        for (std::size_t lane = 0; lane < kLanes; ++lane) {
            if (counts.lane[lane] > limits.lane[lane]) {
                raise(lane, frame_->llr(counts.lane[lane], window.measure));
            }
        }
    }

    double llr(std::size_t lane) const { return llr_[lane]; }

private:
    void raise(std::size_t lane, double llr) {
        llr_[lane] = std::max(llr_[lane], llr);
        // Not each time: old limits only let more through.
        if (llr > limits_of_[lane] * 1.02 + 0.02) {
            tighten(lane);
        }
    }

    void tighten(std::size_t lane) {
        limits_of_[lane] = llr_[lane];
        bins_->must_exceed(llr_[lane], std::numeric_limits<Lane>::max(), column_);
        for (std::size_t bin = 0; bin < limits_.size(); ++bin) {
            limits_[bin].lane[lane] = static_cast<Lane>(column_[bin]);
        }
    }

    const ScanFrame* frame_;
    const CountBins* bins_;
    std::vector<Line<Lane>> limits_;  ///< by bin
    std::vector<std::int64_t> column_;
    std::array<double, kLanes> llr_{};
    std::array<double, kLanes> limits_of_{};
};

template <typename Lane, typename Label>
class BlockCounter : public ReplicateCounter {
public:
    BlockCounter(const ScanFrame& frame, const CountBins& bins, const ScanSettings& settings)
        : frame_{frame}, bins_{bins}, settings_{settings} {}

    std::size_t blocks_at_once() const override {
        const std::size_t block = sizeof(Line<Label>) * std::max<std::size_t>(slots(), 1);
        return std::max<std::size_t>(settings_.max_label_bytes / block, 1);
    }

    void draw_labels(std::size_t first_block, std::size_t blocks) override {
        first_block_ = first_block;
        workers_.clear();
        labels_.assign(blocks * slots(), {});
        std::vector<DecayLabels> drawers(threads(), frame_.labels());
        do_parts(blocks, threads(), {}, [&](unsigned worker, std::size_t block) {
            draw_block(block, drawers[worker]);
        });
        workers_.resize(threads());
        for (auto& worker : workers_) {
            worker.assign(blocks, Greatest<Lane>{frame_, bins_});
        }
    }

    void count(const WindowBatch& batch, unsigned worker) override {
        auto& blocks = workers_[worker];
        for (std::size_t block = 0; block < blocks.size(); ++block) {
            const Line<Label>* labels = labels_.data() + block * slots();
            for (std::size_t centre = 0; centre < batch.centres.size(); ++centre) {
                count_centre(batch, centre, labels, blocks[block]);
            }
        }
    }

    void collect(std::span<double> greatest) const override {
        const std::size_t first = first_block_ * kLanes;
        for (const auto& blocks : workers_) {
            const std::size_t end = std::min(first + blocks.size() * kLanes, greatest.size());
            for (std::size_t i = first; i < end; ++i) {
                const double found = blocks[(i - first) / kLanes].llr((i - first) % kLanes);
                greatest[i] = std::max(greatest[i], found);
            }
        }
    }

private:
    std::size_t slots() const { return frame_.slots().size(); }
    unsigned threads() const { return std::max(settings_.threads, 1U); }

    void draw_block(std::size_t block, DecayLabels& drawer) {
        std::vector<std::uint32_t> decayed;
        for (std::size_t lane = 0; lane < kLanes; ++lane) {
            const std::size_t replicate = (first_block_ + block) * kLanes + lane;
            if (replicate >= settings_.replicates) {
                return;
            }
            drawer.draw(settings_.seed, replicate, decayed);
            for (const std::uint32_t pole : decayed) {
                Label& label = labels_[block * slots() + frame_.slot_of_pole(pole)].lane[lane];
                label = static_cast<Label>(label + 1);
            }
        }
    }

    static void count_centre(const WindowBatch& batch,
                             std::size_t centre,
                             const Line<Label>* labels,
                             Greatest<Lane>& greatest) {
        Line<Lane> counts;
        std::uint32_t at = batch.centres[centre].first_slot;
        for (const Window& window : batch.windows_of(centre)) {
            for (; at < window.end; ++at) {
                add(counts, labels[batch.slots[at]]);
            }
            if (any_above(counts, greatest.limits(window.bin))) {
                greatest.offer(counts, window);
            }
        }
    }

    const ScanFrame& frame_;
    const CountBins& bins_;
    const ScanSettings& settings_;
    std::size_t first_block_ = 0;
    std::vector<Line<Label>> labels_;                   ///< [block][slot]
    std::vector<std::vector<Greatest<Lane>>> workers_;  ///< [worker][block]
};

}  // namespace

std::unique_ptr<ReplicateCounter> make_replicate_counter(const ScanFrame& frame,
                                                         const CountBins& bins,
                                                         const ScanSettings& settings) {
    using Narrow = std::int16_t;
    using Wide = std::int32_t;
    if (frame.most_at_place() > std::numeric_limits<std::uint8_t>::max()) {
        return std::make_unique<BlockCounter<Wide, Wide>>(frame, bins, settings);
    }
    if (frame.most_decayed() > std::numeric_limits<Narrow>::max()) {
        return std::make_unique<BlockCounter<Wide, std::uint8_t>>(frame, bins, settings);
    }
    return std::make_unique<BlockCounter<Narrow, std::uint8_t>>(frame, bins, settings);
}

}  // namespace linewood
