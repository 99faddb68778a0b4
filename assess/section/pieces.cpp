#include "assess/section/pieces.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace linewood::polar {

Pieces::Pieces(const Bands& bands) : bands_{bands}, parent_(bands.all().size()) {
    std::iota(parent_.begin(), parent_.end(), 0);
    const auto& slots = bands.slots();
    for (std::size_t i = 0; i < slots.size(); ++i) {
        join_across(slots[i], slots[(i + 1) % slots.size()]);
    }
    number_pieces();
}

int Pieces::root(int band) {
    while (parent_[static_cast<std::size_t>(band)] != band) {
        int& up = parent_[static_cast<std::size_t>(band)];
        up = parent_[static_cast<std::size_t>(up)];
        band = up;
    }
    return band;
}

void Pieces::join_across(const Slot& here, const Slot& next) {
    const auto& all = bands_.all();
    for (std::size_t i = here.first_band; i < here.last_band; ++i) {
        for (std::size_t j = next.first_band; j < next.last_band; ++j) {
            const double inner = std::max(all[i].inner_last, all[j].inner_first);
            if (std::min(all[i].outer, all[j].outer) - inner > kJoin) {
                parent_[static_cast<std::size_t>(root(static_cast<int>(j)))] =
                    root(static_cast<int>(i));
            }
        }
    }
}

void Pieces::number_pieces() {
    const auto& all = bands_.all();
    std::vector<Moments> by_root(all.size());
    for (std::size_t i = 0; i < all.size(); ++i) {
        by_root[static_cast<std::size_t>(root(static_cast<int>(i)))] += bands_.moments_of(all[i]);
    }
    std::vector<int> number(all.size(), -1);
    piece_.assign(all.size(), -1);
    for (std::size_t i = 0; i < all.size(); ++i) {
        const auto at = static_cast<std::size_t>(root(static_cast<int>(i)));
        if (number[at] < 0 && by_root[at].area > kScrap) {
            number[at] = static_cast<int>(moments_.size());
            moments_.push_back(by_root[at]);
        }
        piece_[i] = number[at];
    }
}

}  // namespace linewood::polar
