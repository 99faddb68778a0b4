#include "src/pipeline/pole_writer.hpp"

#include <algorithm>
#include <array>

#include "geo/io/data_error.hpp"
#include "src/pipeline/layer_pass.hpp"
#include "src/pipeline/pole_rows.hpp"
#include "src/pipeline/run_reader.hpp"

namespace linewood {
namespace {

/// One batch of poles, assessed.
struct AssessedBatch {
    FeatureBatch batch;  ///< empty where the poles were made
    std::uint32_t first = 0;
    std::vector<PoleCells> poles;
    std::vector<SectionCells> sections;
    std::vector<std::uint32_t> section_poles;  ///< the pole of each section
    Findings findings;
};

class BatchAssessor {
public:
    BatchAssessor(const AssessJob& job, RunData& data) : job_{job}, data_{data} {}

    AssessedBatch assess(FeatureBatch batch) const {
        const std::size_t rows = batch.size();
        const auto first = static_cast<std::uint32_t>(batch.first_row());
        if (first + rows > data_.poles.size()) {
            throw DataError{"", "poles", "the layer grew while it was read; run again"};
        }
        AssessedBatch result = assess_poles(first, rows, &batch);
        result.batch = std::move(batch);
        return result;
    }

    /// @param batch their features; null where the poles were made.
    AssessedBatch assess_poles(std::uint32_t first,
                               std::size_t rows,
                               const FeatureBatch* batch = nullptr) const {
        AssessedBatch result;
        result.first = first;
        result.poles.reserve(rows);
        result.sections.reserve(rows);
        for (std::size_t row = 0; row < rows; ++row) {
            const std::size_t before = result.findings.size();
            assess_row(first + static_cast<std::uint32_t>(row), result);
            for (std::size_t i = before; batch != nullptr && i < result.findings.size(); ++i) {
                if (result.findings[i].feature.empty()) {
                    result.findings[i].feature = std::to_string(batch->fid(row));  // has no id
                }
            }
        }
        return result;
    }

private:
    void assess_row(std::uint32_t pole, AssessedBatch& result) const {
        const LineDirection line = data_.direction(pole);
        const PoleAssessment a = assess_pole_of(data_, job_, pole, line, result.findings);
        result.poles.push_back(pole_cells(a, line_cells(line, data_.trust(pole)), job_.units));
        for (const SectionCondition& s : a.sections) {
            result.sections.push_back(section_cells(data_.poles.ids.id(pole), s, job_.units));
            result.section_poles.push_back(pole);
        }
        // Each pole has places of its own in these, so batches do not meet.
        data_.verdicts[pole] = a.verdict;
        const std::uint32_t first_defect = data_.defects.first_slot(pole);
        for (const DefectShell& shell : a.shells) {
            data_.defect_shells[first_defect + shell.defect] = shell.shell;
        }
    }

    const AssessJob& job_;
    RunData& data_;
};

/// Writes assessed batches; one thread.
class PoleWriting {
public:
    PoleWriting(const PoleStore& poles, PoleOutputs out, RunMonitor& monitor)
        : poles_{poles}, out_{out}, monitor_{monitor} {}

    void write(AssessedBatch result) {
        for (std::size_t row = 0; row < result.poles.size(); ++row) {
            if (result.batch.size() > 0) {
                out_.poles.append(result.batch, row, result.poles[row]);
            } else {
                write_made(result.first + static_cast<std::uint32_t>(row), result.poles[row]);
            }
        }
        for (std::size_t i = 0; i < result.sections.size(); ++i) {
            out_.sections.append(result.sections[i], poles_.point(result.section_poles[i]));
        }
        out_.findings.write(result.findings);
        monitor_.advance(static_cast<std::int64_t>(result.poles.size()));
    }

private:
    void write_made(std::uint32_t pole, const PoleCells& cells) {
        std::array<Cell, kPoleColumns + 1> with_id;
        with_id[0] = text_cell(poles_.ids.id(pole));
        std::copy(cells.begin(), cells.end(), with_id.begin() + 1);
        out_.poles.append(with_id, poles_.point(pole));
    }

    const PoleStore& poles_;
    PoleOutputs out_;
    RunMonitor& monitor_;
};

}  // namespace

void assess_and_write_poles(const std::optional<InputLayerRef>& layer,
                            const AssessJob& job,
                            RunData& data,
                            PoleOutputs out,
                            RunMonitor& monitor) {
    data.verdicts.assign(data.poles.size(), Verdict::unassessed);
    data.defect_shells.assign(data.defects.sorted_size(), {});
    monitor.stage("assess poles", static_cast<std::int64_t>(data.poles.size()));
    const BatchAssessor assessor{job, data};
    PoleWriting writing{data.poles, out, monitor};
    const auto write = [&](AssessedBatch result) { writing.write(std::move(result)); };
    if (layer) {
        pass_over<AssessedBatch>(
            *layer,
            job.threads,
            [&](FeatureBatch batch) { return assessor.assess(std::move(batch)); },
            write);
        return;
    }
    constexpr std::size_t kRows = 1024;
    std::size_t next = 0;
    run_in_order<std::size_t, AssessedBatch>(
        [&]() -> std::optional<std::size_t> {
            const std::size_t first = next;
            next += kRows;
            return first < data.poles.size() ? std::optional{first} : std::nullopt;
        },
        [&](std::size_t first) {
            return assessor.assess_poles(static_cast<std::uint32_t>(first),
                                         std::min(kRows, data.poles.size() - first));
        },
        write,
        job.threads);
}

}  // namespace linewood
