#pragma once

#include <array>
#include <string>
#include <string_view>

#include "assess/record/finding.hpp"
#include "assess/units/length.hpp"

namespace linewood {

/// A kind of doubt: its stable code, how grave, and its meaning for lists and documentation.
struct FindingKind {
    std::string_view code;
    Severity severity;
    std::string_view meaning;
};

/// The doubts that the pole itself raises, found while its sections are worked out.
namespace finding {
inline constexpr FindingKind kPocketDeep{
    "pocket_deeper_than_radius",
    Severity::warning,
    "an external pocket is deeper than the pole's radius; cut as far as the geometry allows"};
inline constexpr FindingKind kPocketWide{
    "width_over_diameter",
    Severity::warning,
    "an external pocket is wider than the pole; cut as far as the geometry allows"};
inline constexpr FindingKind kShellThick{
    "shell_thicker_than_radius",
    Severity::warning,
    "a shell is thicker than the pole's radius; the radius was used"};
inline constexpr FindingKind kGirthDoubtful{
    "girth_out_of_range",
    Severity::warning,
    "a girth is so small or so large that its unit is doubtful; used as recorded"};
inline constexpr FindingKind kHeightBeyond{
    "height_beyond_pole", Severity::warning, "a height is above the tip or below the butt"};
inline constexpr FindingKind kBoreAngle{
    "bore_angle_out_of_range",
    Severity::warning,
    "a bore angle is not between 0 and 90 degrees; the shell counts as not measured"};
inline constexpr FindingKind kBorePocket{
    "bore_pocket_unknown",
    Severity::warning,
    "a bore was made from a pocket, but no pocket is recorded at its section; no depth was added"};
inline constexpr FindingKind kBoreUnplaced{
    "bore_without_azimuth",
    Severity::note,
    "a bore that found sound wood has no azimuth; it was left out among bores that have one"};
inline constexpr FindingKind kNoWoodLeft{
    "no_wood_left",
    Severity::warning,
    "the shell rot recorded leaves no wood; the section counts as empty"};
inline constexpr FindingKind kOriginalBelow{
    "original_below_present",
    Severity::warning,
    "the original girth is smaller than the pole is now; the present girth stands for it"};
inline constexpr FindingKind kNoTableLength{
    "length_without_table_row",
    Severity::warning,
    "the tables have no row for this length; no original girth was taken from them"};
inline constexpr FindingKind kNoTableClass{
    "class_without_table_value",
    Severity::warning,
    "the tables have no girth for this class at this length; none was taken from them"};
inline constexpr FindingKind kNoTaper{
    "taper_unknown",
    Severity::note,
    "neither a table nor the species gives a taper; a girth was used at another height unchanged"};
inline constexpr FindingKind kPositionConflict{
    "position_conflict",
    Severity::warning,
    "the position recorded and the azimuth disagree; the worse of the two was used"};
inline constexpr FindingKind kRecovered{
    "recovered",
    Severity::warning,
    "an earlier inspection found it worse than the latest; decay does not heal"};
inline constexpr FindingKind kDefectUnjoined{
    "defect_without_inspection",
    Severity::warning,
    "a dated defect has no inspection near its date and is older than the latest; not used"};
inline constexpr FindingKind kVisitMade{
    "inspection_from_defects",
    Severity::note,
    "defects without an inspection were taken as an inspection of their own"};

inline constexpr std::array kConditionKinds{kPocketDeep,
                                            kPocketWide,
                                            kShellThick,
                                            kGirthDoubtful,
                                            kHeightBeyond,
                                            kBoreAngle,
                                            kBorePocket,
                                            kBoreUnplaced,
                                            kNoWoodLeft,
                                            kOriginalBelow,
                                            kNoTableLength,
                                            kNoTableClass,
                                            kNoTaper,
                                            kPositionConflict,
                                            kRecovered,
                                            kDefectUnjoined,
                                            kVisitMade};
}  // namespace finding

/// A finding of `kind` about one feature.
Finding make_finding(const FindingKind& kind,
                     InputLayer layer,
                     std::int64_t fid,
                     std::string_view field,
                     std::string value);

/// The shortest text of a number as a person would have written it: 12 significant digits.
std::string plain_number(double v);

}  // namespace linewood
