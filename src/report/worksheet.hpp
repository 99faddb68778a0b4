#pragma once

#include <string>
#include <string_view>

#include "assess/verdict/assessment.hpp"
#include "geo/network/line_quality.hpp"
#include "src/job/worksheet_job.hpp"
#include "src/pipeline/recorded_rows.hpp"
#include "src/report/worksheet_document.hpp"

namespace linewood {

/// What the worksheets of a run share.
struct WorksheetRunInfo {
    const WorksheetJob& job;
    std::string criteria_sha256;
    std::string inputs;  ///< names of the datasets read
    std::string
        criteria_note;  ///< where the dataset was assessed by other criteria; empty otherwise
};

/// What one worksheet shows. Everything referred to must outlive the call.
struct WorksheetInput {
    const WorksheetRunInfo& run;
    std::string_view pole_id;
    PoleFile file;
    LineTrust trust;
    const PoleAssessment& assessment;
    const PoleTrace& trace;
    const RecordedPole& recorded;
    const Findings& findings;  ///< of this pole
    bool duplicate = false;
};

/// One pole, from what was recorded to its verdict, so that a person with a calculator can follow: every
/// figure is the assessment's own (its trace), none is worked out again.
///
/// Digits: girths 0.01 in or 0.1 mm, heights 0.01 ft or m, shares 0.1 % (more where the limit is that
/// near), section properties 6 digits in in or cm.
Worksheet make_worksheet(const WorksheetInput& in);

/// The name of the drawing of a section, counted from 0.
std::string section_picture(std::size_t section);

/// As a page of its own: no scripts, nothing fetched, a Content-Security-Policy that forbids both.
std::string worksheet_html(const Worksheet& sheet, Paper paper);
/// Drawings are links to files where the sheet has them as files (`stem` + `.name.svg`), else left out.
std::string worksheet_markdown(const Worksheet& sheet, std::string_view stem);
/// One object; figures at full precision, keys those of the output layers where they name the same.
std::string worksheet_json(const Worksheet& sheet);

}  // namespace linewood
