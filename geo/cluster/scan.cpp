#include "geo/cluster/scan.hpp"

#include <algorithm>
#include <cmath>
#include <queue>

#include "geo/cluster/count_bins.h"
#include "geo/cluster/replicate_counter.h"
#include "geo/cluster/scan_frame.h"
#include "geo/cluster/scan_windows.h"

namespace linewood {
namespace {

/// Centres whose windows are counted together, while their labels are in a core's cache.
constexpr std::size_t kCentresAtOnce = 32;

/// An LLR this much below another is as great: compilers may round differently.
constexpr double kAsGreat = 1e-9;

class Scan {
public:
    /// @pre frame.worth_scanning()
    Scan(const NeighbourSource& source, const ScanFrame& frame, const ScanSettings& settings)
        : source_{source},
          settings_{settings},
          frame_{frame},
          bins_{frame_},
          finder_{frame_, bins_} {}

    /// @return false where it was stopped.
    bool run(const KeepGoing& keep_going, ScanResult& result) {
        result.stride = stride();
        for (std::size_t slot = 0; slot < frame_.slots().size(); slot += result.stride) {
            centres_.push_back(frame_.slots()[slot].place);
        }
        result.centres = centres_.size();
        best_.resize(centres_.size());
        if (!count_windows(keep_going, result)) {
            return false;
        }
        pick_clusters(result);
        for (ScanCluster& cluster : result.clusters) {
            cluster.p = p_of(cluster.llr, result.replicate_llr);
        }
        return true;
    }

private:
    WindowMaker maker() const {
        return {source_, frame_, bins_, to_micrometres(settings_.max_radius_m)};
    }

    /// By a sample of centres: how many must be left out to keep the work within bounds.
    std::size_t stride() const {
        constexpr std::size_t kSample = 128;
        const std::size_t places = frame_.slots().size();
        const std::size_t step = (places + kSample - 1) / kSample;
        WindowMaker windows = maker();
        WindowBatch batch;
        double widest = 0.0;
        double sampled = 0.0;
        for (std::size_t slot = 0; slot < places; slot += step) {
            batch.clear();
            windows.add(frame_.slots()[slot].place, batch);
            widest += static_cast<double>(batch.slots.size());
            sampled += 1.0;
        }
        const double steps = static_cast<double>(places) * widest / sampled;
        return static_cast<std::size_t>(
            std::max(1.0, std::ceil(steps / std::max(settings_.max_steps, 1.0))));
    }

    /// Counts all windows, with the true labels and with those of all replicates: as many blocks of
    /// replicates at a time as there is memory for.
    bool count_windows(const KeepGoing& keep_going, ScanResult& result) {
        const std::size_t blocks = (settings_.replicates + kLanes - 1) / kLanes;
        const auto counter = make_replicate_counter(frame_, bins_, settings_);
        const std::size_t at_once = counter->blocks_at_once();
        const std::size_t rounds = std::max<std::size_t>((blocks + at_once - 1) / at_once, 1);
        for (std::size_t round = 0; round < rounds; ++round) {
            const std::size_t first = round * at_once;
            counter->draw_labels(first, std::min(at_once, blocks - first));
            const KeepGoing part_of_all = [&](double done) {
                return !keep_going || keep_going((static_cast<double>(round) + done) /
                                                 static_cast<double>(rounds));
            };
            if (!count_round(*counter, round == 0, part_of_all, result)) {
                return false;
            }
            counter->collect(result.replicate_llr);
        }
        return true;
    }

    bool count_round(ReplicateCounter& counter,
                     bool first,
                     const KeepGoing& keep_going,
                     ScanResult& result) {
        struct Worker {
            WindowMaker windows;
            WindowBatch batch;
            std::uint64_t counted = 0;
        };
        std::vector<Worker> workers;
        for (unsigned i = 0; i < std::max(settings_.threads, 1U); ++i) {
            workers.push_back({maker(), {}, 0});
        }
        const std::size_t parts = (centres_.size() + kCentresAtOnce - 1) / kCentresAtOnce;
        const auto work = [&](unsigned number, std::size_t part) {
            Worker& worker = workers[number];
            const std::size_t begin = part * kCentresAtOnce;
            const std::size_t end = std::min(begin + kCentresAtOnce, centres_.size());
            worker.batch.clear();
            for (std::size_t i = begin; i < end; ++i) {
                worker.windows.add(centres_[i], worker.batch);
            }
            for (std::size_t i = begin; first && i < end; ++i) {
                best_[i] = finder_.best(worker.batch, i - begin, frame_.slots().size());
            }
            worker.counted += worker.batch.windows.size();
            counter.count(worker.batch, number);
        };
        const bool complete = do_parts(parts, settings_.threads, keep_going, work);
        for (const Worker& worker : workers) {
            result.windows += first ? worker.counted : 0;
        }
        return complete;
    }

    /// The best windows that share no place with a better one. A centre whose best window does is
    /// asked again for its best among those that do not.
    void pick_clusters(ScanResult& result) {
        const auto later = [](const BestWindow& a, const BestWindow& b) { return b < a; };
        std::priority_queue<BestWindow, std::vector<BestWindow>, decltype(later)> open{later};
        for (const BestWindow& window : best_) {
            if (window.llr > 0.0) {
                open.push(window);
            }
        }
        std::vector<bool> taken(frame_.slots().size(), false);
        WindowMaker windows = maker();
        WindowBatch batch;
        while (!open.empty() && result.clusters.size() < settings_.max_clusters) {
            const BestWindow top = open.top();
            open.pop();
            if (taken[frame_.slot_of(top.centre)]) {
                continue;
            }
            batch.clear();
            windows.add(top.centre, batch);
            std::size_t untaken = 0;
            while (untaken < batch.slots.size() && !taken[batch.slots[untaken]]) {
                ++untaken;
            }
            if (top.places <= untaken) {
                for (std::size_t i = 0; i < top.places; ++i) {
                    taken[batch.slots[i]] = true;
                }
                result.clusters.push_back(cluster_of(top, windows.found()));
                continue;
            }
            const BestWindow next = finder_.best(batch, 0, untaken);
            if (next.llr > 0.0) {
                open.push(next);
            }
        }
    }

    ScanCluster cluster_of(const BestWindow& window, std::span<const Near> found) const {
        ScanCluster cluster;
        cluster.centre = window.centre;
        cluster.poles = window.poles;
        cluster.decayed = window.decayed;
        cluster.llr = window.llr;
        std::int64_t expected = 0;
        for (const Near& near : found.first(window.places)) {
            cluster.places.push_back(near.pole);
            cluster.radius_m = to_metres(near.um);
            expected += frame_.slots()[frame_.slot_of(near.pole)].expected;
        }
        cluster.expected = frame_.expected(expected);
        const auto rest = static_cast<double>(frame_.all_decayed() - window.decayed);
        const double rest_expected = static_cast<double>(frame_.all_decayed()) - cluster.expected;
        if (rest > 0.0 && cluster.expected > 0.0) {
            cluster.relative_risk = window.decayed / cluster.expected / (rest / rest_expected);
        }
        return cluster;
    }

    static double p_of(double llr, std::span<const double> replicates) {
        const auto as_great = std::count_if(replicates.begin(),
                                            replicates.end(),
                                            [&](double other) { return other >= llr - kAsGreat; });
        return (1.0 + static_cast<double>(as_great)) /
               (1.0 + static_cast<double>(replicates.size()));
    }

    const NeighbourSource& source_;
    const ScanSettings& settings_;
    const ScanFrame& frame_;
    CountBins bins_;
    BestWindowFinder finder_;
    std::vector<std::uint32_t> centres_;
    std::vector<BestWindow> best_;  ///< of each centre
};

}  // namespace

std::optional<ScanResult> scan_for_clusters(const NeighbourSource& source,
                                            const ScanPoles& poles,
                                            const ScanSettings& settings,
                                            const KeepGoing& keep_going) {
    std::optional<ScanResult> result{std::in_place};
    result->replicate_llr.assign(settings.replicates, 0.0);
    const ScanFrame frame{source, poles, settings};
    if (frame.worth_scanning() && !Scan{source, frame, settings}.run(keep_going, *result)) {
        result.reset();
    }
    return result;
}

}  // namespace linewood
