#include "assess/condition/sectors.hpp"

#include <string_view>

namespace linewood {
namespace {

constexpr double kEdge = 1e-9;

/// From `low` to `high` in whole degrees, both ends included.
void add_range(double base, double low, double high, std::vector<Bearing>& out) {
    for (int step = 0; low + step < high - kEdge; ++step) {
        out.push_back(Bearing::degrees(base + low + step));
    }
    if (low <= high + kEdge) {
        out.push_back(Bearing::degrees(base + high));
    }
}

}  // namespace

FacePosition sector_of(Bearing azimuth, Axis axis, const Criteria& criteria) {
    const double off = angle_off(azimuth, axis).degrees();
    if (off <= criteria.in_line_sector.degrees() + kEdge) {
        return FacePosition::in_line;
    }
    if (90.0 - off <= criteria.out_of_line_sector.degrees() + kEdge) {
        return FacePosition::out_of_line;
    }
    return FacePosition::oblique;
}

bool is_in_sector(Bearing azimuth, Axis axis, FacePosition position, const Criteria& criteria) {
    constexpr double kOnEdge = 1e-6;
    const double off = angle_off(azimuth, axis).degrees();
    const double in = criteria.in_line_sector.degrees();
    const double out = 90.0 - criteria.out_of_line_sector.degrees();
    if (position == FacePosition::in_line) {
        return off <= in + kOnEdge;
    }
    if (position == FacePosition::out_of_line) {
        return off >= out - kOnEdge;
    }
    return off >= in - kOnEdge && off <= out + kOnEdge;
}

std::vector<Bearing> directions_of(FacePosition position, Axis axis, const Criteria& criteria) {
    const double in = criteria.in_line_sector.degrees();
    const double out = criteria.out_of_line_sector.degrees();
    std::vector<Bearing> directions;
    for (const double half_turn : {0.0, 180.0}) {
        const double base = axis.degrees() + half_turn;
        if (position == FacePosition::in_line) {
            add_range(base, -in, in, directions);
        } else if (position == FacePosition::out_of_line) {
            add_range(base + 90.0, -out, out, directions);
        } else {
            add_range(base, in, 90.0 - out, directions);
            add_range(base, 90.0 + out, 180.0 - in, directions);
        }
    }
    return directions;
}

std::vector<Bearing> all_directions(double start_degrees) {
    std::vector<Bearing> directions;
    directions.reserve(360);
    for (int step = 0; step < 360; ++step) {
        directions.push_back(Bearing::degrees(start_degrees + step));
    }
    return directions;
}

bool transverse_governs(const LineDirection& line, const Criteria& criteria) {
    if (!line.axis) {
        return false;
    }
    if (line.role == LineRole::tangent) {
        return true;
    }
    return line.role == LineRole::angle && line.deflection &&
           line.deflection->degrees() <= criteria.governing_deflection_max.degrees() + kEdge;
}

std::string_view name_of(FacePosition p) {
    switch (p) {
        case FacePosition::not_recorded:
            return "";
        case FacePosition::in_line:
            return "in_line";
        case FacePosition::out_of_line:
            return "out_of_line";
        case FacePosition::oblique:
            return "oblique";
    }
    return "";
}

}  // namespace linewood
