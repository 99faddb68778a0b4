#include "src/pipeline/assess_run.hpp"

#include <malloc.h>

#include "geo/io/grid_turn.hpp"
#include "src/pipeline/input_findings.hpp"
#include "src/pipeline/iso_record.hpp"
#include "src/pipeline/line_network.hpp"
#include "src/pipeline/output_layers.hpp"
#include "src/pipeline/pole_writer.hpp"
#include "src/pipeline/record_writer.hpp"
#include "src/pipeline/repaired_texts.hpp"
#include "src/pipeline/run_counts.hpp"
#include "src/pipeline/run_reader.hpp"
#include "src/pipeline/run_record.hpp"
#include "src/pipeline/span_writer.hpp"

namespace linewood {
namespace {

/// Between the stages: what they freed in small pieces goes back to the system.
void give_memory_back() {
#ifdef __GLIBC__
    malloc_trim(0);
#endif
}

class AssessRun {
public:
    AssessRun(const AssessJob& job, RunMonitor& monitor)
        : job_{job},
          monitor_{monitor},
          inputs_{open_inputs(job.inputs, findings_)},
          dataset_{create_output(job, inputs_)},
          out_{lay_out(dataset_, job, inputs_, findings_)},
          log_{out_.findings, monitor, job.max_findings},
          frame_{open_frame(inputs_, job, findings_)} {}

    AssessSummary run() {
        read();
        give_memory_back();
        const auto in = counts_in();
        assess_and_write_poles(
            inputs_[InputLayer::poles], job_, data_, {out_.poles, out_.sections, log_}, monitor_);
        // What is not needed any more is given back at once, for the layers that follow.
        data_.inspections = {};
        note_repaired_texts(out_.poles, InputLayer::poles, &data_.poles.ids, log_);
        out_.poles.complete();
        note_losses(out_.poles, InputLayer::poles, log_);
        out_.sections.complete();
        const std::size_t threads = job_.threads;
        write_spans(
            inputs_[InputLayer::spans], data_, frame_, threads, {out_.spans, log_}, monitor_);
        note_repaired_texts(out_.spans, InputLayer::spans, nullptr, log_);
        out_.spans.complete();
        note_losses(out_.spans, InputLayer::spans, log_);
        write_inspections(inputs_[InputLayer::inspections], threads, out_.inspections, monitor_);
        note_repaired_texts(out_.inspections, InputLayer::inspections, nullptr, log_);
        out_.inspections.complete();
        note_losses(out_.inspections, InputLayer::inspections, log_);
        write_defects(inputs_[InputLayer::defects],
                      {data_, job_.criteria, job_.units, defects_go_to_poles(inputs_)},
                      threads,
                      out_.defects,
                      monitor_);
        note_repaired_texts(out_.defects, InputLayer::defects, nullptr, log_);
        out_.defects.complete();
        note_losses(out_.defects, InputLayer::defects, log_);
        return finish(in);
    }

private:
    /// Everything but the features themselves, layer by layer.
    void read() {
        const auto write_findings = [&] { log_.write(findings_); };
        // Inspections are written as read: which row is whose is not asked again.
        data_ = read_run_data(inputs_, job_, frame_, findings_, {write_findings, false}, monitor_);
        note_grid_left_behind();
        out_.spans.number_pieces_from(data_.greatest_span_fid + 1);
        data_.poles.ids.drop_lookup();
        data_.network.drop_neighbours();
    }

    /// Recorded azimuths stay as they are, and so does what they are counted from.
    void note_grid_left_behind() {
        const auto& poles =
            inputs_[InputLayer::poles] ? inputs_[InputLayer::poles] : inputs_[InputLayer::spans];
        if (data_.grid_azimuths > 0 && poles && !job_.in_place &&
            turns_grid(job_.format, job_.crs, poles->schema().crs_wkt)) {
            log_.write(make_finding(finding::kGridLeftBehind,
                                    InputLayer::defects,
                                    -1,
                                    "azimuth",
                                    std::to_string(data_.grid_azimuths)));
        }
    }

    /// What came in: the rows read of each layer that was there.
    std::vector<LayerCount> counts_in() const {
        std::vector<LayerCount> counts = network_counts_in(inputs_, data_);
        if (inputs_[InputLayer::inspections]) {
            counts.push_back({"inspections", static_cast<std::int64_t>(data_.inspections.rows())});
        }
        if (inputs_[InputLayer::defects]) {
            counts.push_back({"defects", static_cast<std::int64_t>(data_.defects.rows())});
        }
        return counts;
    }

    std::vector<LayerCount> counts_out() const {
        return {{"poles", out_.poles.count()},
                {"spans", out_.spans.count()},
                {"inspections", out_.inspections.count()},
                {"defects", out_.defects.count()},
                {"sections", out_.sections.count()},
                {"findings", out_.findings.count()}};
    }

    AssessSummary finish(const std::vector<LayerCount>& in) {
        const auto out = counts_out();
        check_counts(job_.out.string(), in, out);
        auto statements = run_statements(job_, inputs_, in, out);
        add_unwritten_findings(log_.unwritten(), statements);
        write_statements(statements, out_.run);
        AssessSummary summary;
        for (const Verdict v : data_.verdicts) {
            ++summary.by_verdict[static_cast<std::size_t>(v)];
        }
        summary.findings = log_.counts();
        summary.findings_unwritten = log_.unwritten();
        data_ = {};
        dataset_.describe(iso_record(statements,
                                     "Condition of wood poles: " + shown_inputs(inputs_),
                                     job_.today ? job_.today->to_string() : ""));
        monitor_.stage("index and check", -1);
        monitor_.advance(0);
        summary.output = dataset_.finish();
        monitor_.finish();
        return summary;
    }

    const AssessJob& job_;
    RunMonitor& monitor_;
    Findings findings_;
    InputLayers inputs_;
    OutputDataset dataset_;
    OutputLayers out_;
    FindingLog log_;
    GroundFrame frame_;
    RunData data_;
};

}  // namespace

AssessSummary run_assessment(const AssessJob& job, RunMonitor& monitor) {
    return AssessRun{job, monitor}.run();
}

}  // namespace linewood
