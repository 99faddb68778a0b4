#pragma once

#include <string>

#include "src/job/network_job.hpp"
#include "src/pipeline/network_run.hpp"

namespace linewood {

/// What a network run came to, in a few lines.
std::string network_summary_text(const NetworkJob& job, const NetworkSummary& summary);
/// The inside of a JSON object, without braces.
std::string network_summary_json(const NetworkJob& job, const NetworkSummary& summary);

/// The table of `--report`: how span ends met their poles, roles, qualities, lengths, suspicious spans.
std::string network_report_text(const NetworkJob& job, const NetworkFigures& figures);
/// The same as one JSON object; lengths in metres, counts as they are.
std::string network_report_json(const NetworkJob& job, const NetworkFigures& figures);

}  // namespace linewood
