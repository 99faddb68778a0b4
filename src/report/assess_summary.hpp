#pragma once

#include <string>

#include "src/job/assess_job.hpp"
#include "src/pipeline/assess_run.hpp"

namespace linewood {

/// The summary of a run for people: poles by verdict, findings by code, where to look, cautions.
std::string summary_text(const AssessJob& job, const AssessSummary& summary);

/// The same as the inside of a JSON object.
std::string summary_json_fields(const AssessJob& job, const AssessSummary& summary);

}  // namespace linewood
