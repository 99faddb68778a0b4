#include "assess/section/bands.hpp"

#include <algorithm>
#include <cmath>

#include "assess/section/crossings.hpp"

namespace linewood::polar {

namespace {

/// Cuts closer than this, radians, are one: azimuths that ought to agree may differ by some 5e-15.
constexpr double kSameCut = 4e-14;

}  // namespace

Bands::Bands(const std::vector<Stretch>& stretches) : stretches_{stretches} {
    const std::vector<double> cut = cuts();
    slots_.reserve(cut.size());
    active_.reserve(cut.size() * 4);
    bands_.reserve(cut.size() * 2);
    for (std::size_t i = 0; i + 1 < cut.size(); ++i) {
        add_slot(cut[i], cut[i + 1] - cut[i]);
    }
    add_slot(cut.back(), cut.front() + kTurn - cut.back());
    for (std::size_t i = 0; i < slots_.size(); ++i) {
        slots_[i].last_ray = slots_[(i + 1) % slots_.size()].first_ray;
        add_bands(slots_[i]);
    }
}

std::vector<double> Bands::cuts() const {
    std::vector<double> cut;
    cut.reserve(8 * stretches_.size() + 1);
    for (std::size_t i = 0; i < stretches_.size(); ++i) {
        cut.push_back(stretches_[i].begin);
        cut.push_back(wrap_turn(stretches_[i].begin + stretches_[i].span));
        for (std::size_t j = i + 1; j < stretches_.size(); ++j) {
            append_crossings(stretches_[i], stretches_[j], cut);
        }
    }
    std::sort(cut.begin(), cut.end());
    const auto same = [](double a, double b) { return b - a < kSameCut; };
    cut.erase(std::unique(cut.begin(), cut.end(), same), cut.end());
    if (cut.size() > 1 && cut.front() + kTurn - cut.back() < kSameCut) {
        cut.pop_back();
    }
    if (cut.empty()) {
        cut.push_back(0.0);
    }
    return cut;
}

void Bands::add_slot(double begin, double span) {
    Slot slot{};
    slot.begin = begin;
    slot.span = span;
    slot.first_ray = direction(begin);
    slot.middle_ray = direction(begin + 0.5 * span);
    slot.first_active = active_.size();
    const double middle = wrap_turn(begin + 0.5 * span);
    for (std::size_t i = 0; i < stretches_.size(); ++i) {
        if (stretches_[i].offset(middle) < stretches_[i].span) {
            active_.push_back(static_cast<int>(i));
        }
    }
    slot.last_active = active_.size();
    slots_.push_back(slot);
}

double Bands::high_at(const Slot& slot, int stretch, double part) const {
    const Stretch& s = stretches_[static_cast<std::size_t>(stretch)];
    const Vec ray = part == 0.0 ? slot.first_ray : part == 1.0 ? slot.last_ray : slot.middle_ray;
    // From the middle outward, so that an end of the slot at an end of the stretch is not taken a
    // turn too far.
    const double middle = s.offset(wrap_turn(slot.begin + 0.5 * slot.span));
    return s.high.at(ray, middle + (part - 0.5) * slot.span);
}

void Bands::add_bands(Slot& slot) {
    slot.first_band = bands_.size();
    double reach = 0.0;
    int inner = -1;
    for (const int* i = begin_active(slot); i != end_active(slot); ++i) {
        const double low = stretches_[static_cast<std::size_t>(*i)].low;
        const double high = high_at(slot, *i, 0.5);
        if (high - low <= kThin) {
            continue;
        }
        if (low - reach > kThin) {
            add_band(slot, inner, low);
        }
        if (high > reach) {
            reach = high;
            inner = *i;
        }
    }
    if (1.0 - reach > kThin) {
        add_band(slot, inner, 1.0);
    }
    slot.last_band = bands_.size();
}

void Bands::add_band(const Slot& slot, int inner, double outer) {
    Band band{static_cast<int>(&slot - slots_.data()), inner, outer, 0.0, 0.0};
    if (inner >= 0) {
        band.inner_first = std::min(high_at(slot, inner, 0.0), outer);
        band.inner_last = std::min(high_at(slot, inner, 1.0), outer);
    }
    bands_.push_back(band);
}

Moments Bands::moments_of(const Band& band) const {
    const Slot& slot = slots_[static_cast<std::size_t>(band.slot)];
    Moments m = under_arc(band.outer, slot.first_ray, slot.last_ray, slot.span);
    if (band.inner < 0) {
        return m;
    }
    const Stretch& s = stretches_[static_cast<std::size_t>(band.inner)];
    switch (s.high.kind) {
        case Curve::Kind::arc:
            m -= under_arc(s.high.size, slot.first_ray, slot.last_ray, slot.span);
            break;
        case Curve::Kind::edge:
            m -= under_edge(band.inner_first * slot.first_ray, band.inner_last * slot.last_ray);
            break;
        case Curve::Kind::spiral:
            m -= under_spiral(band.inner_first,
                              (band.inner_last - band.inner_first) / slot.span,
                              slot.begin,
                              slot.span);
            break;
    }
    return m;
}

}  // namespace linewood::polar
