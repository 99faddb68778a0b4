#include "src/report/pole_elevation_scale.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>

namespace linewood {
namespace {

constexpr double kShareAbove = 0.44;
constexpr double kShareFocus = 0.38;
constexpr double kShareBelow = 0.18;
constexpr std::array kSteps{0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0};

}  // namespace

HeightScale::HeightScale(const Range& range, double top, double bottom) {
    assert(range.low <= range.focus_low && range.focus_low < range.focus_high &&
           range.focus_high <= range.high && top < bottom);
    const double above = range.high > range.focus_high ? kShareAbove : 0.0;
    const double below = range.focus_low > range.low ? kShareBelow : 0.0;
    const double pixels = (bottom - top) / (above + kShareFocus + below);
    double y = top;
    knots_.push_back({range.high, y});
    if (above > 0.0) {
        y += above * pixels;
        knots_.push_back({range.focus_high, y});
    }
    y += kShareFocus * pixels;
    knots_.push_back({range.focus_low, y});
    if (below > 0.0) {
        knots_.push_back({range.low, bottom});
    }
}

double HeightScale::y(Length height) const {
    if (height >= knots_.front().height) {
        return knots_.front().y;
    }
    for (std::size_t i = 1; i < knots_.size(); ++i) {
        const Knot& upper = knots_[i - 1];
        const Knot& lower = knots_[i];
        if (height >= lower.height) {
            const double part = (upper.height - height) / (upper.height - lower.height);
            return upper.y + part * (lower.y - upper.y);
        }
    }
    return knots_.back().y;
}

std::vector<Length> HeightScale::breaks() const {
    std::vector<Length> heights;
    const auto scale = [&](std::size_t i) {
        return (knots_[i].y - knots_[i - 1].y) / (knots_[i - 1].height - knots_[i].height).metres();
    };
    for (std::size_t i = 1; i + 1 < knots_.size(); ++i) {
        const double ratio = scale(i) / scale(i + 1);
        if (ratio < 1.0 / 1.1 || ratio > 1.1) {
            heights.push_back(knots_[i].height);
        }
    }
    return heights;
}

std::vector<Length> HeightScale::ticks(Length unit, double gap) const {
    std::vector<Length> all;
    if (y(Length{}) > knots_.front().y && y(Length{}) < knots_.back().y) {
        all.emplace_back();
    }
    const std::vector<Length> marked = breaks();
    const auto is_free = [&](Length height) {
        const auto clear_by = [&](double room) {
            return [this, height, room](Length other) {
                return std::abs(y(height) - y(other)) >= room;
            };
        };
        return std::all_of(all.begin(), all.end(), clear_by(gap)) &&
               std::all_of(marked.begin(), marked.end(), clear_by(0.6 * gap));
    };
    for (std::size_t i = 1; i < knots_.size(); ++i) {
        const Knot& upper = knots_[i - 1];
        const Knot& lower = knots_[i];
        const double pixels = (lower.y - upper.y) / ((upper.height - lower.height) / unit);
        const auto step = std::find_if(kSteps.begin(), kSteps.end(), [&](double candidate) {
            return candidate * pixels >= gap;
        });
        if (step == kSteps.end()) {
            continue;
        }
        const int first = static_cast<int>(std::ceil(lower.height / (*step * unit) - 1e-9));
        const int last = static_cast<int>(std::floor(upper.height / (*step * unit) + 1e-9));
        for (int k = first; k <= last; ++k) {
            if (is_free(k * *step * unit)) {
                all.push_back(k * *step * unit);
            }
        }
    }
    std::sort(all.begin(), all.end());
    return all;
}

std::vector<double> spread_along(std::vector<double> wanted, double gap, double low, double high) {
    const std::size_t n = wanted.size();
    if (n == 0) {
        return wanted;
    }
    const double room = n > 1 ? std::min(gap, (high - low) / static_cast<double>(n - 1)) : 0.0;
    for (int round = 0; round < 400; ++round) {
        for (std::size_t i = 1; i < n; ++i) {
            const double missing = room - (wanted[i] - wanted[i - 1]);
            if (missing > 0.0) {
                wanted[i - 1] -= missing / 2.0;
                wanted[i] += missing / 2.0;
            }
        }
        wanted.front() = std::max(wanted.front(), low);
        wanted.back() = std::min(wanted.back(), high);
    }
    return wanted;
}

}  // namespace linewood
