#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "assess/condition/criteria.hpp"
#include "assess/condition/original_girth.hpp"
#include "assess/condition/reason.hpp"
#include "assess/condition/visits.hpp"
#include "assess/record/defect.hpp"
#include "assess/record/finding.hpp"
#include "assess/wood/table_girth.hpp"

namespace linewood {

/// Whether a defect is decay by its kind or its cause: shell rot, internal rot, or a pocket of decay,
/// of insects or of no stated cause.
bool is_decay(const Defect& d);

/// How the original girth of a section came about.
enum class OriginalBasis : std::uint8_t {
    unknown,
    groundline,      ///< what was found for the groundline
    carried,         ///< that, carried to the section by the taper
    uncarried,       ///< that, unchanged for want of a taper
    before_rot,      ///< at least the girth now and the depth of the shell rot that came off
    present_stands,  ///< raised to the girth now: wood does not grow on a standing pole
};

/// How the present girth of a section came about.
enum class PresentBasis : std::uint8_t {
    unknown,
    measured,         ///< the least girth given
    less_rot,         ///< the original less the depth of the shell rot
    as_groundline,    ///< the original, shrunk as the groundline's has
    original_stands,  ///< the original: nothing took any off
};

/// A pocket of a section whose two sizes are known; where it sits may not be.
struct SurveyedPocket {
    std::size_t defect = 0;  ///< position in the pole's defects
    Length width;
    Length depth;
    Maybe<Bearing> azimuth;
    FacePosition position = FacePosition::not_recorded;
    bool local = false;  ///< its vertical extent is known to be under one diameter
};

/// A bore of a section.
struct SurveyedBore {
    std::size_t defect = 0;
    Maybe<Bearing> azimuth;
    Maybe<Length> shell;  ///< effective; absent where it was not measured, or the bore found no rot
    FacePosition position = FacePosition::not_recorded;
    bool sound = false;  ///< bored and found sound
    bool local = false;
    double factor = 1.0;  ///< recorded thickness to effective
    Maybe<Length> added;  ///< the depth of the pocket it was bored from
};

/// One section as recorded: girths brought to its height, defects sorted into pockets and bores.
///
/// Where the original girth is not known, `original` is a lower bound of it (the wood that is or was
/// certainly there), and where the present girth is not known, `present` is an upper bound of it (the
/// original girth): whatever fails on such bounds fails on the truth. `missing` says so.
struct SurveyedSection {
    Length height;
    Maybe<Length> original;
    Maybe<Length> present;
    bool original_known = false;
    bool present_known = false;
    OriginalBasis original_basis = OriginalBasis::unknown;
    PresentBasis present_basis = PresentBasis::unknown;
    Maybe<Length> original_brought;  ///< of the groundline, brought here, before anything raised it
    Maybe<Length> girth_measured;    ///< the least girth given here
    Maybe<Length> rot_depth;         ///< the greatest depth of shell rot given all round
    std::vector<SurveyedPocket> pockets;
    std::vector<SurveyedBore> bores;
    std::vector<std::size_t> defects;  ///< all of them, positions in the pole's defects
    ReasonSet missing;                 ///< what a pass would need and the record lacks
    bool impossible = false;           ///< a recorded size does not fit the pole
    bool decay = false;                ///< decay is recorded here, or the girth has shrunk

    bool has_internal_rot() const;
};

/// What a survey works on: one visit to one pole.
struct SurveyInput {
    const Pole& pole;
    const Visit& visit;
    std::span<const Defect> defects;  ///< all of the pole's
    const PoleEnds& ends;
    const Criteria& criteria;
};

/// The sections of a visit: first one at the groundline, then the others in order of height (those
/// below the groundline sort before it). `original` is completed: raised to what the groundline
/// shows, or taken from the present girth where the criteria allow it.
/// Doubts go to `findings` (may be null).
std::vector<SurveyedSection> survey_sections(const SurveyInput& in,
                                             OriginalGirth& original,
                                             Findings* findings);

}  // namespace linewood
