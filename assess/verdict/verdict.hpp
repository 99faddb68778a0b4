#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

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

/// What the sections and the visit of a pole say together: all that the rules look at.
struct VerdictFacts {
    bool not_wood = false;
    bool not_inspected = false;
    bool zone_fails = false;
    bool above_fails = false;
    bool decay = false;
    bool decay_above = false;
    bool rot_in_zone = false;
    bool bored_above = false;
    bool recorded_above = false;
    bool incomplete = false;
    bool far_below_limit = false;  ///< governing strength under the urgent share of its limit
    bool split = false;
    bool reinforced = false;
    bool extensive = false;
    bool unsafe = false;
    bool below_excavation = false;

    /// Nothing above bars a stub, and the pole has none.
    bool fit_for_stub() const { return !decay_above && !reinforced; }
    /// The zone fails and its limits decide, or decay goes on below.
    bool zone_calls() const { return (zone_fails && !reinforced) || below_excavation; }
};

/// The rules of the verdict in the order in which they are asked. The first that applies decides.
enum class VerdictRule : std::uint8_t {
    not_wood,
    not_inspected,
    fails_above,
    extensive_damage,
    zone_unfit_for_stub,
    unsafe_to_climb,
    zone_fit_for_stub,
    something_missing,
    decay,
    the_rest,
};
inline constexpr std::size_t kVerdictRules = 10;

/// The code of a rule: as its enumerator.
std::string_view name_of(VerdictRule rule);

enum class RuleAnswer : std::uint8_t { applies, does_not_apply, not_reached };

struct AskedRule {
    VerdictRule rule = VerdictRule::not_wood;
    Verdict verdict = Verdict::unassessed;  ///< where it applies
    RuleAnswer answer = RuleAnswer::not_reached;
};

/// Every rule with its answer. The four that say `replace` stand as one step: all are answered.
std::vector<AskedRule> ask_rules(const VerdictFacts& facts);

/// What a decision looks at.
struct DecisionInput {
    const Pole& pole;
    const Visit& visit;
    std::span<const Defect> defects;             ///< all of the pole's
    std::span<const SectionCondition> sections;  ///< of this visit
    bool original_from_tables = false;
};

/// The verdict on an inspected wood pole: the first rule that applies, with every limit that failed
/// and every rule that spoke among the reasons. @param looked_at filled with what it looked at, if not
/// null: ask_rules() of that gives the verdict again, rule by rule.
Decision decide(const DecisionInput& in,
                const Criteria& criteria,
                VerdictFacts* looked_at = nullptr);

}  // namespace linewood
