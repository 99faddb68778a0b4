#include "src/pipeline/coordinate_step.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

namespace linewood {
namespace {

constexpr std::size_t kFewest = 20;
constexpr std::size_t kMost = 2000;
constexpr int kGreatestPower = 2;
constexpr int kLeastPower = -7;
/// One odd coordinate among many that are rounded does not hide it.
constexpr double kShare = 0.99;

bool multiple_of(double value, double step) {
    const double steps = value / step;
    // Decimal fractions are stored to about 16 digits.
    return std::abs(steps - std::round(steps)) <= std::max(1e-6, std::abs(steps) * 1e-14);
}

bool rounded_to(const std::vector<Point>& sample, double step) {
    const auto fits = std::count_if(sample.begin(), sample.end(), [&](Point p) {
        return multiple_of(p.x, step) && multiple_of(p.y, step);
    });
    return static_cast<double>(fits) >= kShare * static_cast<double>(sample.size());
}

}  // namespace

Length coordinate_step(std::span<const Point> places, const GroundFrame& frame) {
    std::vector<Point> sample;
    const std::size_t stride = places.size() / kMost + 1;
    for (std::size_t i = 0; i < places.size(); i += stride) {
        if (std::isfinite(places[i].x) && std::isfinite(places[i].y)) {
            sample.push_back(places[i]);
        }
    }
    if (sample.size() < kFewest) {
        return {};
    }
    for (int power = kGreatestPower; power >= kLeastPower; --power) {
        const double step = std::pow(10.0, power);
        if (!rounded_to(sample, step)) {
            continue;
        }
        std::array<Point, 2> ends{sample.front(), {sample.front().x, sample.front().y + step}};
        frame.poles_to_ground(ends);
        const double metres = frame.ground().course(ends[0], ends[1]).length_m;
        return Length::metres(std::isfinite(metres) ? metres : 0.0);
    }
    return {};
}

}  // namespace linewood
