#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "assess/record/finding.hpp"
#include "geo/corridor/projects.hpp"
#include "src/corridor/line_model.hpp"
#include "src/corridor/projects_job.hpp"

namespace linewood {

/// The work that the verdicts ask for. Every pole of verdict `replace`, `stub` or `treat` is counted
/// once: as a job, as treatment, as treated already, or as repeated.
struct WorkList {
    std::vector<Job> jobs;                 ///< `replace` and `stub`
    std::vector<std::uint32_t> price_row;  ///< of each job: in the costs, kNone = none fits
    std::vector<std::uint32_t> treat;      ///< poles to be treated, not yet done
    std::vector<std::uint32_t>
        repeated;                       ///< work poles whose id an earlier pole has, or without one
    std::int64_t treated = 0;           ///< `treat`, done at the last visit: no open work
    std::int64_t without_strength = 0;  ///< jobs that have no strength: their risk is the greatest
    std::int64_t without_consequence = 0;  ///< jobs for which none is recorded
    std::int64_t unread_consequence = 0;   ///< jobs for which something else than a figure is
    std::string unread_example;            ///< the least of these texts
    std::vector<std::int64_t> used;        ///< of each price row: jobs priced by it
};

/// The columns of the poles layer that the work list and the sheets read besides the usual ones.
std::vector<std::string> work_attributes(const Source& source, const ProjectsJob& job);

/// Texts of a pole's column, or empty ones where the layer has it not.
class PoleTexts {
public:
    PoleTexts(const AssessedPoles& poles, std::string_view column);
    std::string_view of(std::uint32_t pole) const {
        return column_ == nullptr ? std::string_view{} : column_->text(pole);
    }
    const TextColumn* column() const { return column_; }

private:
    const TextColumn* column_ = nullptr;
};

/// @param limit_pct the least strength that passes, of the criteria the dataset was assessed by.
/// @param findings gets every consequence of a job that is no figure.
/// @throws JobError where the consequence field holds texts only, none of them a figure.
WorkList list_work(const LineModel& line,
                   const CostsFile& costs,
                   double limit_pct,
                   Findings& findings);

/// A number as recorded, or yes and no as 1 and 0; nothing for any other text.
std::optional<double> read_consequence(std::string_view text);

}  // namespace linewood
