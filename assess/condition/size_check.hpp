#pragma once

#include <cstddef>
#include <cstdint>
#include <string_view>

#include "assess/condition/condition_findings.hpp"
#include "assess/condition/section_survey.hpp"
#include "assess/record/finding.hpp"

namespace linewood {

/// Asks whether the sizes of a visit fit its pole. What does not is a finding, in `findings` if that
/// is not null; the sizes are used as recorded all the same.
class SizeCheck {
public:
    SizeCheck(const SurveyInput& in, Findings* findings) : in_{in}, findings_{findings} {}

    /// Girths of the inspection and of the pole's record, and the height the original was measured at.
    /// @return whether all those in use fit: a record that a measurement overrides does not count.
    bool visit_fits(const OriginalGirth& original);
    /// Height and girth of one defect. @param i position in the pole's defects
    bool defect_fits(std::size_t i);

private:
    bool girth_fits(Maybe<Length> girth,
                    InputLayer layer,
                    std::int64_t fid,
                    std::string_view field);
    bool height_fits(Length height, InputLayer layer, std::int64_t fid, std::string_view field);
    bool note(const FindingKind& kind,
              InputLayer layer,
              std::int64_t fid,
              std::string_view field,
              double value);

    const SurveyInput& in_;
    Findings* findings_;
};

}  // namespace linewood
