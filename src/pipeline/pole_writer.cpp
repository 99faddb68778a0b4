#include "src/pipeline/pole_writer.hpp"

#include <algorithm>

#include "geo/io/data_error.hpp"
#include "src/pipeline/layer_pass.hpp"
#include "src/pipeline/pole_rows.hpp"

namespace linewood {
namespace {

/// One batch of poles, assessed.
struct AssessedBatch {
    FeatureBatch batch;
    std::vector<PoleCells> poles;
    std::vector<SectionCells> sections;
    std::vector<std::uint32_t> section_rows;  ///< row in the batch of each section's pole
    Findings findings;
};

class BatchAssessor {
public:
    BatchAssessor(const AssessJob& job, RunData& data) : job_{job}, data_{data} {}

    AssessedBatch assess(FeatureBatch batch) const {
        AssessedBatch result;
        result.batch = std::move(batch);
        const std::size_t rows = result.batch.size();
        const auto first = static_cast<std::uint32_t>(result.batch.first_row());
        if (first + rows > data_.poles.size()) {
            throw DataError{"", "poles", "the layer grew while it was read; run again"};
        }
        result.poles.reserve(rows);
        result.sections.reserve(rows);
        for (std::size_t row = 0; row < rows; ++row) {
            assess_row(
                first + static_cast<std::uint32_t>(row), static_cast<std::uint32_t>(row), result);
        }
        return result;
    }

private:
    void assess_row(std::uint32_t pole, std::uint32_t row, AssessedBatch& result) const {
        const std::size_t before = result.findings.size();
        const LineDirection line = data_.direction(pole);
        const PoleAssessment a = assess_one(pole, line, result.findings);
        name_findings(pole, before, result.findings);
        result.poles.push_back(pole_cells(a, line, job_.units));
        for (const SectionCondition& s : a.sections) {
            result.sections.push_back(section_cells(data_.poles.ids.id(pole), s, job_.units));
            result.section_rows.push_back(row);
        }
        // Each pole has places of its own in these, so batches do not meet.
        data_.verdicts[pole] = a.verdict;
        const std::uint32_t first_defect = data_.defects.first_slot(pole);
        for (const DefectShell& shell : a.shells) {
            data_.defect_shells[first_defect + shell.defect] = shell.shell;
        }
    }

    PoleAssessment assess_one(std::uint32_t pole,
                              const LineDirection& line,
                              Findings& findings) const {
        if (data_.poles.duplicate[pole]) {
            PoleAssessment a;
            a.reasons.add(Reason::duplicate_pole_id);
            return a;
        }
        const PoleFile file{
            data_.poles.poles[pole], line, data_.inspections.of(pole), data_.defects.of(pole)};
        return assess_pole(file, job_.tables, job_.criteria, findings);
    }

    void name_findings(std::uint32_t pole, std::size_t from, Findings& findings) const {
        for (std::size_t i = from; i < findings.size(); ++i) {
            if (findings[i].layer == InputLayer::poles) {
                findings[i].feature = std::string{data_.poles.ids.id(pole)};
            }
            findings[i].place = data_.poles.place(pole);
        }
    }

    const AssessJob& job_;
    RunData& data_;
};

}  // namespace

void assess_and_write_poles(const InputLayerRef& layer,
                            const AssessJob& job,
                            RunData& data,
                            PoleOutputs out,
                            RunMonitor& monitor) {
    data.verdicts.assign(data.poles.size(), Verdict::unassessed);
    data.defect_shells.assign(data.defects.sorted_size(), {});
    monitor.stage("assess poles", static_cast<std::int64_t>(data.poles.size()));
    const BatchAssessor assessor{job, data};
    pass_over<AssessedBatch>(
        layer,
        job.threads,
        [&](FeatureBatch batch) { return assessor.assess(std::move(batch)); },
        [&](AssessedBatch result) {
            for (std::size_t row = 0; row < result.batch.size(); ++row) {
                out.poles.append(result.batch, row, result.poles[row]);
            }
            for (std::size_t i = 0; i < result.sections.size(); ++i) {
                out.sections.append(result.sections[i],
                                    result.batch.point(result.section_rows[i]).value);
            }
            out.findings.write(result.findings);
            monitor.advance(static_cast<std::int64_t>(result.batch.size()));
        });
}

}  // namespace linewood
