#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string_view>

#include "assess/condition/criteria.hpp"
#include "assess/condition/reason.hpp"
#include "assess/condition/section_survey.hpp"

namespace linewood {

/// The limits asked of every section.
enum class SectionLimit : std::uint8_t {
    governing_strength,  ///< a share, at least
    weakest_strength,    ///< a share, at least
    girth_ratio,         ///< a share, at least
    shell,               ///< metres, at least
    lost_pieces,         ///< a share of the area, at most
};
inline constexpr std::size_t kSectionLimits = 5;

/// The criteria's name of a limit: `governing_strength_min` ...
std::string_view name_of(SectionLimit limit);
/// The reason that a section gives where it does not meet the limit.
Reason reason_of(SectionLimit limit);

enum class LimitOutcome : std::uint8_t {
    meets,
    fails,
    unknown,    ///< something it needs is missing, and what is known does not fail it
    not_asked,  ///< there is nothing to ask it of: no internal rot, no wood
};

/// One limit of one section with the figure it was asked of.
struct CheckedLimit {
    SectionLimit limit = SectionLimit::governing_strength;
    LimitOutcome outcome = LimitOutcome::not_asked;
    /// Absent where there is none. With `on_bound` no value of the section: what it is at best.
    std::optional<double> value;
    double bound = 0.0;  ///< of the criteria
    bool on_bound = false;
};
using CheckedLimits = std::array<CheckedLimit, kSectionLimits>;

/// The figures that the limits of a section are asked of; absent where they could not be worked out.
struct LimitFigures {
    std::optional<double> governing;
    std::optional<double> weakest;
    std::optional<double> lost_share;  ///< of the area, with pieces that do not carry
    Maybe<Length> shell_min;
};

/// Asks every limit. What fails on a bound fails; what meets a limit on a bound is unknown.
CheckedLimits check_limits(const SurveyedSection& s,
                           const LimitFigures& figures,
                           const Criteria& criteria);

/// The reasons of those that fail.
ReasonSet failed_limits(const CheckedLimits& checks);

}  // namespace linewood
