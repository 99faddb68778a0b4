#pragma once

#include <array>

#include "assess/condition/condition_findings.hpp"

namespace linewood::finding {

inline constexpr FindingKind kAreaMissing{
    "area_missing", Severity::warning, "the row has no polygon; no pole is counted for it"};
inline constexpr FindingKind kAreaCrossesItself{
    "area_crosses_itself",
    Severity::warning,
    "the border of the polygon crosses or touches itself; poles are counted in the parts that it "
    "encloses once made good"};
inline constexpr FindingKind kAreaWithoutSize{
    "area_without_size", Severity::warning, "the polygon encloses nothing; no pole is in it"};
inline constexpr FindingKind kAreaNotDrawn{
    "area_not_drawn",
    Severity::note,
    "the polygon goes over 3000 km from the poles: its poles are counted, and it is not drawn"};

inline constexpr std::array kAreaKinds{
    kAreaMissing, kAreaCrossesItself, kAreaWithoutSize, kAreaNotDrawn};

}  // namespace linewood::finding
