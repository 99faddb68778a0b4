#pragma once

#include <string>

#include "src/job/network_job.hpp"
#include "src/pipeline/network_run.hpp"

namespace linewood {

/// The first lines of both summary and report: how many of what, and what cannot be known.
std::string network_heading(const NetworkFigures& figures);

/// What a network run came to, in a few lines.
std::string network_summary_text(const NetworkJob& job, const NetworkSummary& summary);
/// The inside of a JSON object, without braces.
std::string network_summary_json(const NetworkJob& job, const NetworkSummary& summary);

/// The table of `--report`, without the heading: how span ends met their poles, roles, qualities, lengths, suspicious spans.
std::string network_report_text(const NetworkJob& job, const NetworkFigures& figures);
/// The same as one JSON object; lengths in metres, counts as they are.
std::string network_report_json(const NetworkJob& job, const NetworkFigures& figures);

}  // namespace linewood
