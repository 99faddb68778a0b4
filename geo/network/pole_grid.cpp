#include "geo/network/pole_grid.hpp"

#include <algorithm>
#include <bit>
#include <cassert>
#include <cmath>
#include <tuple>

namespace linewood {
namespace {

/// Shorter than most spans, longer than any tolerance in use: a query touches one to four cells.
constexpr double kCellMetres = 32.0;

/// Where a straight way from (0, 0) to (dx, dy) passes (x, y) nearest: the fraction of the way.
double fraction_nearest(double dx, double dy, double x, double y) {
    const double length2 = dx * dx + dy * dy;
    if (!(length2 > 0.0)) {
        return 0.0;
    }
    return std::clamp((x * dx + y * dy) / length2, 0.0, 1.0);
}

}  // namespace

bool is_place(Point p, const Ground& ground) {
    constexpr double kFurthest = 1e15;
    return std::abs(p.x) <= kFurthest && std::abs(p.y) <= (ground.is_planar() ? kFurthest : 90.0);
}

PoleGrid::PoleGrid(const Ground& ground, std::span<const Point> poles, double reach_m)
    : ground_{ground} {
    choose_cells(poles, reach_m);
    fill(poles);
    merge_same_places();
}

void PoleGrid::choose_cells(std::span<const Point> poles, double reach_m) {
    double sum_y = 0.0;
    std::size_t count = 0;
    double furthest = 0.0;
    for (const Point p : poles) {
        if (is_place(p, ground_)) {
            sum_y += p.y;
            furthest = std::max({furthest, std::abs(p.x), std::abs(p.y)});
            ++count;
        }
    }
    const double middle = count == 0 ? 0.0 : sum_y / static_cast<double>(count);
    const Ground::Scale scale = ground_.scale_at({0.0, middle});
    const double cell_m = std::max(kCellMetres, reach_m);
    // Far from the origin a cell must stay above the spacing of the numbers themselves.
    const double least = furthest * 1e-12;
    cell_x_ = std::max(least, cell_m / std::max(scale.x_m, 1e-6));
    cell_y_ = std::max(least, cell_m / scale.y_m);
}

Point PoleGrid::framed(Point p) const {
    if (!ground_.is_planar() && (p.x < -180.0 || p.x >= 180.0)) {
        p.x -= 360.0 * std::floor((p.x + 180.0) / 360.0);
    }
    return p;
}

PoleGrid::Cell PoleGrid::cell_of(Point p) const {
    // Queries may lie further out than any pole; there every cell is as empty as the last one.
    constexpr double kLast = 4e18;
    return {static_cast<std::int64_t>(std::clamp(std::floor(p.x / cell_x_), -kLast, kLast)),
            static_cast<std::int64_t>(std::clamp(std::floor(p.y / cell_y_), -kLast, kLast))};
}

std::size_t PoleGrid::bucket_of(Cell cell) const {
    std::uint64_t h = static_cast<std::uint64_t>(cell.x) * 0x9E3779B97F4A7C15U;
    h ^= static_cast<std::uint64_t>(cell.y) * 0xC2B2AE3D27D4EB4FU;
    h ^= h >> 32U;
    return h & mask_;
}

void PoleGrid::fill(std::span<const Point> poles) {
    const std::size_t buckets = std::bit_ceil(std::max<std::size_t>(poles.size(), 1));
    mask_ = buckets - 1;
    first_.assign(buckets + 1, 0);
    for (const Point p : poles) {
        if (is_place(p, ground_)) {
            ++first_[bucket_of(cell_of(framed(p)))];
        }
    }
    std::uint32_t sum = 0;
    for (std::uint32_t& first : first_) {
        sum += first;
        first = sum;
    }
    entries_.resize(sum);
    for (std::size_t i = poles.size(); i-- > 0;) {
        if (is_place(poles[i], ground_)) {
            const Point at = framed(poles[i]);
            entries_[--first_[bucket_of(cell_of(at))]] = {at, static_cast<std::uint32_t>(i), false};
        }
    }
}

void PoleGrid::merge_same_places() {
    std::uint32_t kept = 0;
    std::uint32_t begin = 0;
    for (std::size_t bucket = 0; bucket + 1 < first_.size(); ++bucket) {
        const std::uint32_t end = first_[bucket + 1];
        const auto order = [](const Entry& a, const Entry& b) {
            return std::tie(a.at.x, a.at.y, a.pole) < std::tie(b.at.x, b.at.y, b.pole);
        };
        if (end - begin > 1) {
            std::sort(entries_.begin() + begin, entries_.begin() + end, order);
        }
        first_[bucket] = kept;
        for (std::uint32_t i = begin; i < end; ++i) {
            if (i > begin && entries_[i].at == entries_[kept - 1].at) {
                entries_[kept - 1].shared = true;
            } else {
                entries_[kept++] = entries_[i];
            }
        }
        begin = end;
    }
    first_.back() = kept;
    entries_.resize(kept);
}

template <typename Visit>
void PoleGrid::visit_cell(Cell cell, Visit& visit) const {
    const std::size_t bucket = bucket_of(cell);
    for (std::uint32_t i = first_[bucket]; i < first_[bucket + 1]; ++i) {
        if (cell_of(entries_[i].at) == cell) {
            visit(entries_[i]);
        }
    }
}

/// Visits all entries in the cells that the way from `a` to `b`, widened by the reaches, touches
/// (and some beside): column by column, in each only the rows the way passes there.
template <typename Visit>
void PoleGrid::visit_way(Point a, Point b, double x_reach, double y_reach, Visit& visit) const {
    if (a.x > b.x) {
        std::swap(a, b);
    }
    const Cell low = cell_of({a.x - x_reach, std::min(a.y, b.y) - y_reach});
    const Cell high = cell_of({b.x + x_reach, std::max(a.y, b.y) + y_reach});
    const double cells = static_cast<double>(high.x) - static_cast<double>(low.x) +
                         static_cast<double>(high.y) - static_cast<double>(low.y);
    if (cells > static_cast<double>(entries_.size())) {
        for (const Entry& entry : entries_) {
            visit(entry);
        }
        return;
    }
    const double slope = b.x > a.x ? (b.y - a.y) / (b.x - a.x) : 0.0;
    for (std::int64_t x = low.x; x <= high.x; ++x) {
        double y0 = a.y;
        double y1 = b.y;
        if (b.x - a.x > cell_x_) {
            const double left = static_cast<double>(x) * cell_x_ - x_reach;
            const double right = left + cell_x_ + 2.0 * x_reach;
            y0 = a.y + slope * (std::clamp(left, a.x, b.x) - a.x);
            y1 = a.y + slope * (std::clamp(right, a.x, b.x) - a.x);
        }
        const std::int64_t top = cell_of({a.x, std::max(y0, y1) + y_reach}).y;
        for (std::int64_t y = cell_of({a.x, std::min(y0, y1) - y_reach}).y; y <= top; ++y) {
            visit_cell({x, y}, visit);
        }
    }
}

/// Entries near the way, with the shift in x that brings them beside it: on an ellipsoid the same
/// pole may be met one turn further on.
template <typename Visit>
void PoleGrid::visit_around_world(
    Point a, Point b, Ground::Scale scale, double reach_m, Visit&& visit) const {
    if (entries_.empty()) {
        return;
    }
    // A little more than the reach: the scale is that of one place, right to 1e-4 around it.
    const double x_reach = 1.01 * reach_m / std::max(scale.x_m, 1e-9);
    const double y_reach = 1.01 * reach_m / scale.y_m;
    const auto turn_by = [&](double shift) {
        auto shifted = [&](const Entry& entry) { visit(entry, shift); };
        visit_way({a.x - shift, a.y}, {b.x - shift, b.y}, x_reach, y_reach, shifted);
    };
    if (ground_.is_planar()) {
        turn_by(0.0);
        return;
    }
    if (x_reach >= 180.0) {
        // Beside the pole of the earth every meridian is near.
        for (const Entry& entry : entries_) {
            const double step = entry.at.x - a.x;
            visit(entry, std::remainder(step, 360.0) - step);
        }
        return;
    }
    turn_by(0.0);
    if (std::min(a.x, b.x) - x_reach < -180.0) {
        turn_by(-360.0);
    }
    if (std::max(a.x, b.x) + x_reach >= 180.0) {
        turn_by(360.0);
    }
}

PoleGrid::Nearest PoleGrid::nearest(Point at, double tolerance_m) const {
    at = framed(at);
    const Ground::Scale scale = ground_.scale_at(at);
    Nearest found;
    const auto offer = [&](std::uint32_t pole, double distance) {
        const bool nearer = distance < found.distance_m - kSameMetres ||
                            (distance <= found.distance_m + kSameMetres && pole < found.pole);
        found.second_m = std::min(found.second_m, nearer ? found.distance_m : distance);
        if (nearer) {
            found.pole = pole;
            found.distance_m = distance;
        }
    };
    visit_around_world(at, at, scale, tolerance_m, [&](const Entry& entry, double shift) {
        const double distance =
            std::hypot((entry.at.x + shift - at.x) * scale.x_m, (entry.at.y - at.y) * scale.y_m);
        if (distance <= tolerance_m + kSameMetres && entry.pole != found.pole) {
            offer(entry.pole, distance);
            if (entry.shared) {
                found.second_m = std::min(found.second_m, distance);
            }
        }
    });
    return found;
}

void PoleGrid::beside(Point a, Point b, double tolerance_m, std::vector<Beside>& out) const {
    const double step = ground_.x_step(a.x, b.x);
    a = framed(a);
    b.x = a.x + step;
    // The end furthest from the equator has the widest degrees to reach over.
    const Ground::Scale reach_scale = ground_.scale_at(std::abs(a.y) > std::abs(b.y) ? a : b);
    visit_around_world(a, b, reach_scale, tolerance_m, [&](const Entry& entry, double shift) {
        const Ground::Scale scale = ground_.scale_at(entry.at);
        const double dx = (b.x - a.x) * scale.x_m;
        const double dy = (b.y - a.y) * scale.y_m;
        const double x = (entry.at.x + shift - a.x) * scale.x_m;
        const double y = (entry.at.y - a.y) * scale.y_m;
        const double fraction = fraction_nearest(dx, dy, x, y);
        const double distance = std::hypot(x - fraction * dx, y - fraction * dy);
        if (distance <= tolerance_m + kSameMetres) {
            out.push_back({entry.pole, distance, fraction});
        }
    });
}

bool PoleGrid::too_dense(double tolerance_m) const {
    constexpr std::size_t kSample = 64;
    constexpr int kMany = 8;
    const std::size_t stride = std::max<std::size_t>(1, entries_.size() / kSample);
    std::size_t asked = 0;
    std::size_t crowded = 0;
    for (std::size_t i = 0; i < entries_.size(); i += stride) {
        const Point at = entries_[i].at;
        const Ground::Scale scale = ground_.scale_at(at);
        int near = 0;
        visit_around_world(at, at, scale, tolerance_m, [&](const Entry& entry, double shift) {
            near += std::hypot((entry.at.x + shift - at.x) * scale.x_m,
                               (entry.at.y - at.y) * scale.y_m) <= tolerance_m
                        ? 1
                        : 0;
        });
        ++asked;
        crowded += near > kMany ? 1U : 0U;
    }
    return crowded * 2 > asked;
}

}  // namespace linewood
