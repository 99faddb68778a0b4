#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace linewood::sample {

struct Xy {
    double x = 0.0;
    double y = 0.0;
};

/// What a pole carries; sets its class and length.
enum class LineKind : std::uint8_t { trunk, tap, tie, service };

/// One row of `poles` (inches, feet, degrees; empty text and empty optionals are written as null),
/// and behind it what the generator knows and nobody recorded.
struct Pole {
    std::string id;
    Xy at;
    bool has_point = true;
    std::string species, pole_class;
    std::optional<double> length, setting_depth;
    std::optional<int> install_year;
    std::string circuit, material;
    std::optional<bool> reinforced;
    std::optional<double> recorded_circumference, given_azimuth;
    std::string given_role;

    LineKind kind = LineKind::trunk;
    double heading = 0.0;      ///< grid azimuth of the line here
    int built = 1980;          ///< the true year
    double sound_girth = 0.0;  ///< the true original girth at the groundline, in
    double wetness = 1.0;      ///< how much faster than usual wood decays at this place
};

/// One row of `spans`.
struct Span {
    std::string id, from, to, circuit;
    std::optional<double> kv;
    std::string kind;
    std::vector<Xy> points;
};

/// One row of `inspections`. Days since 1970-01-01.
struct Inspection {
    std::string pole_id;
    std::optional<int> day;
    std::string method;
    std::optional<double> original_circumference, original_height, present_circumference;
    std::optional<bool> climb_safe;
    std::string aboveground_damage;
    std::optional<bool> decay_below_excavation, treated;
    std::string notes;
};

/// One row of `defects`.
struct Defect {
    std::string pole_id, kind;
    std::optional<int> day;
    std::optional<double> height, azimuth;
    std::string azimuth_ref, position;
    std::optional<double> width, depth, extent, shell_thickness, bore_angle;
    std::string bore_from;
    std::optional<double> present_circumference;
    std::string cause;
};

/// The part of the network that is made, held and written at a time.
struct Area {
    std::vector<Pole> poles;
    std::vector<Span> spans;
    std::vector<Inspection> inspections;
    std::vector<Defect> defects;
};

/// `v` rounded to a multiple of `step`, as people write measurements.
double rounded(double v, double step);
/// Days since 1970-01-01 of a calendar day.
int day_of(int year, unsigned month, unsigned day);
/// `YYYY-MM-DD`.
std::string date_text(int day);

}  // namespace linewood::sample
