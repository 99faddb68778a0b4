#include "src/report/assess_summary.hpp"

#include <numeric>

#include <fmt/format.h>

#include "geo/io/data_error.hpp"
#include "src/job/cautions.hpp"
#include "src/report/figures.hpp"
#include "src/report/log.hpp"

namespace linewood {
namespace {

std::int64_t total_poles(const AssessSummary& s) {
    return std::accumulate(s.by_verdict.begin(), s.by_verdict.end(), std::int64_t{0});
}

void add_verdicts(const AssessSummary& s, std::string& out) {
    const std::int64_t total = total_poles(s);
    out += fmt::format("{} poles\n", grouped(total));
    for (int i = 0; i < kVerdictCount; ++i) {
        const std::int64_t n = s.by_verdict[static_cast<std::size_t>(i)];
        const double share =
            total > 0 ? 100.0 * static_cast<double>(n) / static_cast<double>(total) : 0.0;
        out += fmt::format(
            "  {:<12} {:>9}  {:5.1f} %\n", name_of(static_cast<Verdict>(i)), grouped(n), share);
    }
}

}  // namespace

std::string summary_text(const AssessJob& job, const AssessSummary& summary) {
    std::string out;
    add_verdicts(summary, out);
    out += findings_text(summary.findings, summary.findings_unwritten);
    out += notes_text(summary.output.notes);
    out += fmt::format(
        "written: {} (poles: verdict and reasons; sections: every figure; findings: what to "
        "mend)\n",
        shown_dataset(job.out.string()));
    for (const std::string_view caution : kCautions) {
        out += fmt::format("caution: {}\n", caution);
    }
    return out;
}

std::string summary_json_fields(const AssessJob& job, const AssessSummary& summary) {
    std::string verdicts;
    for (int i = 0; i < kVerdictCount; ++i) {
        verdicts += fmt::format("{}\"{}\":{}",
                                i == 0 ? "" : ",",
                                name_of(static_cast<Verdict>(i)),
                                summary.by_verdict[static_cast<std::size_t>(i)]);
    }
    std::string layers;
    for (const LayerSummary& l : summary.output.layers) {
        layers += fmt::format("{}{}:{}", layers.empty() ? "" : ",", json_string(l.name), l.rows);
    }
    return fmt::format(
        R"("output":{},"poles":{},"verdicts":{{{}}},"findings":{{{}}},"findings_not_written":{},"notes":[{}],"rows":{{{}}})",
        json_string(shown_dataset(job.out.string())),
        total_poles(summary),
        verdicts,
        findings_json(summary.findings),
        summary.findings_unwritten,
        notes_json(summary.output.notes),
        layers);
}

}  // namespace linewood
