#include "assess/condition/reason.hpp"

namespace linewood {
namespace {

constexpr std::array<ReasonText, kReasonCount> kTexts{{
    {"already_reinforced",
     "the pole is reinforced: limits in the groundline zone are reported but do not decide"},
    {"circumference_below_limit", "the present girth is under its limit"},
    {"confirm_above_groundline",
     "a stub needs sound wood above: look above the groundline zone before it is ordered"},
    {"decay_above_groundline", "decay is recorded above the groundline zone"},
    {"decay_below_excavation", "decay goes on below the depth that was excavated"},
    {"decay_present", "decay is recorded, or the girth has shrunk"},
    {"duplicate_pole_id", "another pole earlier in the layer has this pole_id and stands for it"},
    {"extensive_damage", "extensive damage above ground"},
    {"geometry_impossible", "a recorded size does not fit the pole: measure again"},
    {"minor_damage", "minor damage above ground"},
    {"not_inspected", "no inspection is recorded"},
    {"not_wood", "the pole is not of wood"},
    {"nothing_measured", "the inspection measured nothing"},
    {"original_circumference_missing", "the original girth is not known"},
    {"original_from_tables",
     "the original girth is the least of its class: a stouter pole has lost more than shown"},
    {"pocket_size_missing", "an external pocket has no width or no depth"},
    {"present_circumference_missing", "the present girth is not known"},
    {"section_split", "the section falls apart"},
    {"shell_below_limit", "the sound shell is thinner than its limit"},
    {"shell_thickness_missing", "internal rot is recorded without a shell thickness"},
    {"strength_below_limit", "the governing remaining strength is under its limit"},
    {"treated", "remedial treatment was done at this visit: no open work"},
    {"unsafe_to_climb", "recorded as unsafe to climb"},
    {"value_unreadable", "a value was recorded that cannot be read: mend it and run again"},
    {"weakest_below_limit", "the remaining strength in the weakest direction is under its limit"},
}};

}  // namespace

ReasonText text_of(Reason r) { return kTexts[static_cast<std::size_t>(r)]; }

std::string ReasonSet::to_string() const {
    std::string text;
    for (int i = 0; i < kReasonCount; ++i) {
        if (has(static_cast<Reason>(i))) {
            if (!text.empty()) {
                text += ';';
            }
            text += kTexts[static_cast<std::size_t>(i)].code;
        }
    }
    return text;
}

}  // namespace linewood
