#pragma once

#include <cstdint>
#include <optional>

#include "assess/units/angle.hpp"
#include "assess/units/date.hpp"
#include "assess/units/length.hpp"
#include "assess/units/maybe.hpp"

namespace linewood {

enum class DefectKind : std::uint8_t { external_pocket, internal_rot, shell_rot, bore };
enum class DefectCause : std::uint8_t {
    not_recorded,
    decay,
    insect,
    mechanical,
    woodpecker,
    fire,
    check,
    bolt_hole,
};
/// What the inspector wrote down about the side of the pole.
enum class FacePosition : std::uint8_t { not_recorded, in_line, out_of_line, oblique };
enum class BoreFrom : std::uint8_t { surface, pocket };

/// One defect, or one bore, as recorded. Sizes that were not measured are absent.
struct Defect {
    std::int64_t fid = -1;
    Maybe<Length> height;    ///< above the groundline; absent = groundline
    Maybe<Bearing> azimuth;  ///< true; readers resolve `azimuth_ref` before this
    Maybe<Length> width;     ///< straight across the mouth
    Maybe<Length> depth;     ///< greatest, from the present surface
    Maybe<Length> extent;    ///< vertical
    Maybe<Length> shell_thickness;
    Maybe<Angle> bore_angle;  ///< between bore and horizontal; absent = already effective
    Maybe<Length> present_circumference;  ///< at `height`
    std::optional<Date> inspected_on;
    DefectKind kind = DefectKind::external_pocket;
    DefectCause cause = DefectCause::not_recorded;
    FacePosition position = FacePosition::not_recorded;
    BoreFrom bore_from = BoreFrom::surface;
    bool unreadable = false;  ///< as Inspection::unreadable
};

}  // namespace linewood
