#pragma once

#include <vector>

#include "assess/section/stretches.hpp"

namespace linewood::polar {

/// A range of angle in which the same bounds stand in the same order on every ray.
struct Slot {
    double begin;
    double span;
    Vec first_ray;
    Vec middle_ray;
    Vec last_ray;
    std::vector<int>::size_type first_active;  ///< into Bands::active
    std::vector<int>::size_type last_active;
    std::vector<int>::size_type first_band;  ///< into Bands::all
    std::vector<int>::size_type last_band;
};

/// Wood in one slot between two bounds.
struct Band {
    int slot;
    int inner;           ///< the stretch that bounds it from inside; -1 for the centre
    double outer;        ///< radius of the arc that bounds it from outside
    double inner_first;  ///< inner bound on the slot's first ray
    double inner_last;   ///< inner bound on the slot's last ray
};

/// What the cavities leave of the disc, cut along rays into bands.
class Bands {
public:
    /// @param stretches by rising `low`; must outlive the bands
    explicit Bands(const std::vector<Stretch>& stretches);

    const std::vector<Slot>& slots() const { return slots_; }
    const std::vector<Band>& all() const { return bands_; }
    Moments moments_of(const Band& band) const;

    /// Where the bound of a stretch lies at `part` (0 first ray, 1 last) of a slot it is active in.
    double high_at(const Slot& slot, int stretch, double part) const;
    /// Indices of the stretches active in a slot.
    const int* begin_active(const Slot& slot) const { return active_.data() + slot.first_active; }
    const int* end_active(const Slot& slot) const { return active_.data() + slot.last_active; }

private:
    std::vector<double> cuts() const;
    void add_slot(double begin, double span);
    void add_bands(Slot& slot);
    void add_band(const Slot& slot, int inner, double outer);

    const std::vector<Stretch>& stretches_;
    std::vector<Slot> slots_;
    std::vector<int> active_;
    std::vector<Band> bands_;
};

}  // namespace linewood::polar
