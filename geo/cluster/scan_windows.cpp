#include "geo/cluster/scan_windows.h"

#include <algorithm>
#include <cmath>

namespace linewood {

void WindowBatch::clear() {
    centres.clear();
    slots.clear();
    windows.clear();
}

std::span<const Window> WindowBatch::windows_of(std::size_t centre) const {
    const std::size_t begin = centres[centre].first_window;
    const std::size_t end =
        centre + 1 < centres.size() ? centres[centre + 1].first_window : windows.size();
    return {windows.data() + begin, windows.data() + end};
}

WindowMaker::WindowMaker(const NeighbourSource& source,
                         const ScanFrame& frame,
                         const CountBins& bins,
                         std::int64_t radius_um)
    : frame_{frame}, bins_{bins}, radius_um_{radius_um}, search_{source.search()} {}

void WindowMaker::add(std::uint32_t place, WindowBatch& batch) {
    batch.centres.push_back({place,
                             static_cast<std::uint32_t>(batch.slots.size()),
                             static_cast<std::uint32_t>(batch.windows.size())});
    // A place holds a pole at least, so more places than poles are never asked for; one more tells
    // whether the last ones stand for all at their distance.
    const std::size_t most =
        std::min(frame_.most_places(), static_cast<std::size_t>(frame_.most_poles()));
    search_->nearest(place, {most + 1, radius_um_}, found_);
    const std::size_t usable = found_.size() > most ? most : found_.size();
    std::int64_t poles = 0;
    std::int64_t expected = 0;
    for (std::size_t begin = 0; begin < usable;) {
        std::size_t end = begin;
        while (end < found_.size() && found_[end].um == found_[begin].um) {
            const auto& slot = frame_.slots()[frame_.slot_of(found_[end].pole)];
            poles += slot.poles;
            expected += slot.expected;
            ++end;
        }
        if (end > usable || poles > frame_.most_poles()) {
            break;
        }
        for (std::size_t i = begin; i < end; ++i) {
            batch.slots.push_back(frame_.slot_of(found_[i].pole));
        }
        const std::int64_t measure = frame_.measure(poles, expected);
        batch.windows.push_back({static_cast<std::uint32_t>(batch.slots.size()),
                                 bins_.bin_of(measure),
                                 static_cast<std::uint32_t>(poles),
                                 measure});
        begin = end;
    }
}

BestWindowFinder::BestWindowFinder(const ScanFrame& frame, const CountBins& bins) : frame_{frame} {
    steps_.push_back(0.0);
    for (int doubled = 0; doubled < 16; ++doubled) {
        steps_.push_back(std::ldexp(0.25, doubled));
    }
    for (const double step : steps_) {
        must_exceed_.emplace_back(bins.size());
        bins.must_exceed(step, frame.all_poles(), must_exceed_.back());
    }
}

BestWindow BestWindowFinder::best(const WindowBatch& batch,
                                  std::size_t centre,
                                  std::size_t most_places) const {
    const WindowBatch::Centre& from = batch.centres[centre];
    BestWindow best;
    best.centre = from.place;
    std::uint32_t decayed = 0;
    std::uint32_t at = from.first_slot;
    std::size_t step = 0;
    for (const Window& window : batch.windows_of(centre)) {
        if (window.end - from.first_slot > most_places) {
            break;
        }
        for (; at < window.end; ++at) {
            decayed += frame_.slots()[batch.slots[at]].decayed;
        }
        if (decayed <= must_exceed_[step][window.bin]) {
            continue;
        }
        const double llr = frame_.llr(decayed, window.measure);
        if (llr > best.llr) {
            best.llr = llr;
            best.poles = window.poles;
            best.decayed = decayed;
            best.places = window.end - from.first_slot;
            while (step + 1 < steps_.size() && steps_[step + 1] < llr) {
                ++step;
            }
        }
    }
    return best;
}

}  // namespace linewood
