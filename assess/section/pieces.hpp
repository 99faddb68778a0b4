#pragma once

#include <vector>

#include "assess/section/bands.hpp"

namespace linewood::polar {

/// The bands of a section joined to separate pieces of wood.
class Pieces {
public:
    /// @param bands must outlive the pieces
    explicit Pieces(const Bands& bands);

    int count() const { return static_cast<int>(moments_.size()); }
    const Moments& moments(int piece) const { return moments_[static_cast<std::size_t>(piece)]; }
    /// The piece of a band, by its index in Bands::all; -1 for a scrap (kScrap).
    int of_band(std::size_t band) const { return piece_[band]; }

private:
    void join_across(const Slot& here, const Slot& next);
    void number_pieces();
    int root(int band);

    const Bands& bands_;
    std::vector<int> parent_;
    std::vector<int> piece_;
    std::vector<Moments> moments_;
};

}  // namespace linewood::polar
