#include "assess/section/parting.hpp"

#include <algorithm>
#include <cmath>

namespace linewood::polar {

namespace {

constexpr double kTouch = 1e-11;    // radii
constexpr double kShortest = 1e-9;  // radians: a slot this narrow is a corner, not a side

class Touches {
public:
    Touches(const std::vector<Stretch>& stretches, const Bands& bands, const Pieces& pieces)
        : stretches_{stretches}, bands_{bands}, pieces_{pieces} {
        const auto& slots = bands.slots();
        for (std::size_t i = 0; i < slots.size(); ++i) {
            const Slot& next = slots[(i + 1) % slots.size()];
            for (std::size_t b = slots[i].first_band; b < slots[i].last_band; ++b) {
                along(slots[i], b);
                const Band& band = bands.all()[b];
                across(b, band.inner_last, next, 0.0);
            }
            for (std::size_t b = next.first_band; b < next.last_band; ++b) {
                const Band& band = bands.all()[b];
                across(b, band.inner_first, slots[i], 1.0);
            }
        }
    }

    std::vector<int> parting() {
        std::vector<int> parting;
        std::vector<int> touching;
        for (std::size_t c = 0; c < touched_.size(); ++c) {
            std::vector<int>& pieces = touched_[c];
            std::sort(pieces.begin(), pieces.end());
            pieces.erase(std::unique(pieces.begin(), pieces.end()), pieces.end());
            if (pieces.size() > 1) {
                parting.push_back(static_cast<int>(c));
            }
            if (!pieces.empty()) {
                touching.push_back(static_cast<int>(c));
            }
        }
        return parting.empty() ? touching : parting;
    }

private:
    const Stretch& stretch(int i) const { return stretches_[static_cast<std::size_t>(i)]; }

    /// Cavities whose arc or outer bound is a bound of the band.
    void along(const Slot& slot, std::size_t b) {
        if (slot.span < kShortest) {
            return;
        }
        const Band& band = bands_.all()[b];
        const double inner = band.inner < 0 ? -1.0 : bands_.high_at(slot, band.inner, 0.5);
        for (const int* i = bands_.begin_active(slot); i != bands_.end_active(slot); ++i) {
            const double low = stretch(*i).low;
            const double high = bands_.high_at(slot, *i, 0.5);
            if (high - low > kThin &&
                (std::abs(low - band.outer) < kTouch || std::abs(high - inner) < kTouch)) {
                touch(stretch(*i).cavity, b);
            }
        }
    }

    /// Cavities of the neighbouring slot that face the band's end along the shared ray: the ends of a
    /// pocket wider than it is deep into the pole run along a ray.
    void across(std::size_t b, double inner, const Slot& other, double part) {
        const double outer = bands_.all()[b].outer;
        for (const int* i = bands_.begin_active(other); i != bands_.end_active(other); ++i) {
            const double low = std::max(stretch(*i).low, inner);
            const double high = std::min(bands_.high_at(other, *i, part), outer);
            if (high - low > kJoin) {
                touch(stretch(*i).cavity, b);
            }
        }
    }

    void touch(int cavity, std::size_t band) {
        const int piece = pieces_.of_band(band);
        if (piece < 0) {
            return;
        }
        const auto at = static_cast<std::size_t>(cavity);
        if (touched_.size() <= at) {
            touched_.resize(at + 1);
        }
        touched_[at].push_back(piece);
    }

    const std::vector<Stretch>& stretches_;
    const Bands& bands_;
    const Pieces& pieces_;
    std::vector<std::vector<int>> touched_;  // by cavity
};

}  // namespace

std::vector<int> parting_cavities(const std::vector<Stretch>& stretches,
                                  const Bands& bands,
                                  const Pieces& pieces) {
    return Touches{stretches, bands, pieces}.parting();
}

}  // namespace linewood::polar
