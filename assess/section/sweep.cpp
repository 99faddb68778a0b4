#include "assess/section/sweep.hpp"

#include <algorithm>
#include <cmath>

#include "assess/section/parting.hpp"

namespace linewood {

using namespace polar;  // NOLINT(google-build-using-namespace): the geometry of this room

namespace {

constexpr double kSameArea = 1e-9;  // relative
constexpr int kAll = -1;

/// Outline of one piece, or of all of them as one net section.
Outline outline_of(double radius, const Bands& bands, const Pieces& pieces, int which) {
    Moments moments;
    for (int i = 0; i < pieces.count(); ++i) {
        if (which == kAll || i == which) {
            moments += pieces.moments(i);
        }
    }
    Outline outline{radius, moments};
    const auto& all = bands.all();
    for (std::size_t i = 0; i < all.size(); ++i) {
        const int piece = pieces.of_band(i);
        if (piece < 0 || (which != kAll && piece != which)) {
            continue;
        }
        const Band& band = all[i];
        const Slot& slot = bands.slots()[static_cast<std::size_t>(band.slot)];
        outline.add_corner(band.inner_first * slot.first_ray);
        outline.add_corner(band.inner_last * slot.last_ray);
        outline.add_corner(band.outer * slot.first_ray);
        outline.add_corner(band.outer * slot.last_ray);
        outline.add_arc({slot.middle_ray, std::cos(0.5 * slot.span), band.outer});
    }
    return outline;
}

bool is_local(const SectionShape& shape, int cavity) {
    const auto i = static_cast<std::size_t>(cavity);
    return i < shape.pockets.size() ? shape.pockets[i].local : shape.void_local;
}

}  // namespace

Mechanics sweep(const SectionShape& shape) {
    Mechanics result;
    const double radius = shape.radius.metres();
    if (!(radius > 0.0)) {
        return result;
    }
    const std::vector<Stretch> stretches = stretches_of(shape);
    const Bands bands{stretches};
    const Pieces pieces{bands};
    if (pieces.count() == 0) {
        return result;
    }
    double area = 0.0;
    double largest = 0.0;
    for (int i = 0; i < pieces.count(); ++i) {
        area += pieces.moments(i).area;
        largest = std::max(largest, pieces.moments(i).area);
    }
    result.area = area * radius * radius;
    result.pieces = pieces.count();
    if (pieces.count() > 1) {
        const std::vector<int> parting = parting_cavities(stretches, bands, pieces);
        result.acts_together = std::all_of(
            parting.begin(), parting.end(), [&](int cavity) { return is_local(shape, cavity); });
    }
    if (pieces.count() == 1 || result.acts_together) {
        result.outline = outline_of(radius, bands, pieces, kAll);
        return result;
    }
    result.lost_share = (area - largest) / area;
    double weakest = 0.0;
    bool first = true;
    for (int i = 0; i < pieces.count(); ++i) {
        if (pieces.moments(i).area < largest * (1.0 - kSameArea)) {
            continue;
        }
        Outline outline = outline_of(radius, bands, pieces, i);
        const double modulus = outline.weakest().modulus;
        if (first || modulus < weakest * (1.0 - kSameArea)) {
            weakest = modulus;
            result.carrying = i;
            result.outline = std::move(outline);
        }
        first = false;
    }
    return result;
}

}  // namespace linewood
