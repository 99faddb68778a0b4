#include "assess/section/shell_profile.hpp"

#include <algorithm>
#include <cassert>

namespace linewood {

namespace {

constexpr double kSameAzimuth = 1e-7;  // degrees

}  // namespace

ShellProfile::ShellProfile(const SectionShape& shape) {
    const double radius = shape.radius.metres();
    readings_.reserve(shape.shell.size());
    for (const ShellReading& r : shape.shell) {
        // The radius may be 0: then there is no shell to speak of, whatever was read.
        const double share = radius > 0.0 ? r.thickness.metres() / radius : 0.0;
        readings_.push_back({r.azimuth.degrees(), std::clamp(share, 0.0, 1.0)});
    }
    std::sort(readings_.begin(), readings_.end(), [](const Reading& a, const Reading& b) {
        return a.azimuth < b.azimuth;
    });
    std::vector<Reading> merged;
    merged.reserve(readings_.size());
    for (const Reading& r : readings_) {
        if (!merged.empty() && r.azimuth - merged.back().azimuth < kSameAzimuth) {
            merged.back().thickness = std::min(merged.back().thickness, r.thickness);
        } else {
            merged.push_back(r);
        }
    }
    if (merged.size() > 1 &&
        merged.front().azimuth + 360.0 - merged.back().azimuth < kSameAzimuth) {
        merged.front().thickness = std::min(merged.front().thickness, merged.back().thickness);
        merged.pop_back();
    }
    readings_ = std::move(merged);
}

double ShellProfile::at(double azimuth_degrees) const {
    assert(!readings_.empty());
    const auto next = std::upper_bound(
        readings_.begin(), readings_.end(), azimuth_degrees, [](double azimuth, const Reading& r) {
            return azimuth < r.azimuth;
        });
    const Reading& before = next == readings_.begin() ? readings_.back() : *(next - 1);
    const Reading& after = next == readings_.end() ? readings_.front() : *next;
    const double span = Bearing::wrap(after.azimuth - before.azimuth, 360.0);
    if (span == 0.0) {
        return before.thickness;
    }
    const double along = Bearing::wrap(azimuth_degrees - before.azimuth, 360.0) / span;
    return before.thickness + along * (after.thickness - before.thickness);
}

}  // namespace linewood
