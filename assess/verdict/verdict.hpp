#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string_view>

#include "assess/condition/criteria.hpp"
#include "assess/condition/section_condition.hpp"
#include "assess/condition/visits.hpp"
#include "assess/record/pole.hpp"

namespace linewood {

/// What is to be done with the pole. In the order in which a span shows the worst of its two poles.
enum class Verdict : std::uint8_t { replace, stub, unassessed, treat, serviceable };
inline constexpr int kVerdictCount = 5;

enum class Urgency : std::uint8_t { none, now, soon, routine };

std::string_view name_of(Verdict v);
std::string_view name_of(Urgency u);  ///< empty for `none`

struct Decision {
    Verdict verdict = Verdict::unassessed;
    Urgency urgency = Urgency::none;
    ReasonSet reasons;
};

/// What a decision looks at.
struct DecisionInput {
    const Pole& pole;
    const Visit& visit;
    std::span<const Defect> defects;             ///< all of the pole's
    std::span<const SectionCondition> sections;  ///< of this visit
    bool original_from_tables = false;
};

/// The verdict on an inspected wood pole: the first rule that applies, with every limit that failed
/// and every rule that spoke among the reasons.
Decision decide(const DecisionInput& in, const Criteria& criteria);

}  // namespace linewood
