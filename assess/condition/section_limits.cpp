#include "assess/condition/section_limits.hpp"

#include "assess/condition/shell_check.hpp"

namespace linewood {
namespace {

constexpr std::array<std::string_view, kSectionLimits> kNames{"governing_strength_min",
                                                              "weakest_strength_min",
                                                              "girth_ratio_min",
                                                              "shell_min",
                                                              "split_loss_max"};
constexpr std::array<Reason, kSectionLimits> kReasons{Reason::strength_below_limit,
                                                      Reason::weakest_below_limit,
                                                      Reason::circumference_below_limit,
                                                      Reason::shell_below_limit,
                                                      Reason::section_split};

LimitOutcome outcome_of(bool meets, bool on_bound) {
    if (!meets) {
        return LimitOutcome::fails;
    }
    return on_bound ? LimitOutcome::unknown : LimitOutcome::meets;
}

CheckedLimit at_least(SectionLimit limit,
                      std::optional<double> value,
                      double bound,
                      bool on_bound,
                      const Criteria& criteria) {
    const LimitOutcome outcome =
        value ? outcome_of(criteria.meets(*value, bound), on_bound) : LimitOutcome::unknown;
    return {limit, outcome, value, bound, on_bound && value.has_value()};
}

/// A share of the sound section. Of nothing left no limit is met, not even one of 0.
CheckedLimit share_check(SectionLimit limit,
                         std::optional<double> share,
                         double bound,
                         bool on_bound,
                         const Criteria& criteria) {
    CheckedLimit check = at_least(limit, share, bound, on_bound, criteria);
    if (share && !(*share > criteria.limit_tolerance)) {
        check.outcome = LimitOutcome::fails;
    }
    return check;
}

/// Of no shell no limit is met either, not even one of 0: rot lies open there.
CheckedLimit shell_check(const SurveyedSection& s, Maybe<Length> least, const Criteria& criteria) {
    const bool on_bound = !s.missing.empty();
    CheckedLimit check = at_least(SectionLimit::shell,
                                  least ? std::optional{least->metres()} : std::nullopt,
                                  criteria.shell_min.metres(),
                                  on_bound,
                                  criteria);
    if (least && !is_shell(*least)) {
        check.outcome = LimitOutcome::fails;
    }
    if (!least && !s.has_internal_rot()) {
        check.outcome = LimitOutcome::not_asked;
    }
    return check;
}

CheckedLimit split_check(std::optional<double> lost, bool on_bound, const Criteria& criteria) {
    const double most = criteria.split_loss_max;
    CheckedLimit check{
        SectionLimit::lost_pieces, LimitOutcome::unknown, lost, most, on_bound && lost};
    if (lost) {
        check.outcome = outcome_of(!(*lost > most * (1.0 + criteria.limit_tolerance)), on_bound);
    }
    return check;
}

}  // namespace

std::string_view name_of(SectionLimit limit) { return kNames[static_cast<std::size_t>(limit)]; }

Reason reason_of(SectionLimit limit) { return kReasons[static_cast<std::size_t>(limit)]; }

CheckedLimits check_limits(const SurveyedSection& s,
                           const LimitFigures& figures,
                           const Criteria& criteria) {
    const bool on_bound = !s.missing.empty();
    const bool girths_known = s.present_known && s.original_known;
    const std::optional<double> girth_ratio =
        figures.governing ? std::optional{*s.present / *s.original} : std::nullopt;
    return {share_check(SectionLimit::governing_strength,
                        figures.governing,
                        criteria.governing_strength_min,
                        on_bound,
                        criteria),
            share_check(SectionLimit::weakest_strength,
                        figures.weakest,
                        criteria.weakest_strength_min,
                        on_bound,
                        criteria),
            share_check(SectionLimit::girth_ratio,
                        girth_ratio,
                        criteria.girth_ratio_min,
                        !girths_known,
                        criteria),
            shell_check(s, figures.shell_min, criteria),
            split_check(figures.lost_share, on_bound, criteria)};
}

ReasonSet failed_limits(const CheckedLimits& checks) {
    ReasonSet reasons;
    for (const CheckedLimit& c : checks) {
        reasons.add_if(c.outcome == LimitOutcome::fails, reason_of(c.limit));
    }
    return reasons;
}

}  // namespace linewood
