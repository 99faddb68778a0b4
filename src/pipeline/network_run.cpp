#include "src/pipeline/network_run.hpp"

#include <utility>

#include "geo/io/data_error.hpp"
#include "src/pipeline/iso_record.hpp"
#include "src/pipeline/line_network.hpp"
#include "src/pipeline/line_pole_writer.hpp"
#include "src/pipeline/output_layers.hpp"
#include "src/pipeline/repaired_texts.hpp"
#include "src/pipeline/run_counts.hpp"
#include "src/pipeline/run_data.hpp"
#include "src/pipeline/run_record.hpp"
#include "src/pipeline/span_writer.hpp"

namespace linewood {

namespace {

/// The tool's own columns are replaced by those of the network: an assessment in place would be lost.
void keep_assessment(const NetworkJob& job, const InputLayers& inputs) {
    const auto& poles = inputs[InputLayer::poles];
    if (job.in_place && poles && poles->written_by_us && poles->source.has_layer("sections")) {
        throw DataError{
            poles->source.dataset(),
            "",
            "it was assessed in place, and its verdicts and sections would be removed; use "
            "linewood assess --in-place, which joins the network too, or --out"};
    }
}

}  // namespace

NetworkSummary run_network(const NetworkJob& job, RunMonitor& monitor) {
    Findings findings;
    const InputLayers inputs = open_inputs(job.inputs, findings);
    keep_assessment(job, inputs);
    OutputDataset dataset = create_output(job, inputs);
    const NetworkLayers out = lay_out_network(dataset, job, inputs, findings);
    FindingLog log{out.findings, monitor, job.max_findings};
    const GroundFrame frame = open_frame(inputs, job, findings);
    RunData data;
    data.given_axis_limit = job.network.given_axis_limit;
    {
        LineNetwork line = read_line_network(inputs, job, nullptr, frame, findings, monitor);
        data.poles = std::move(line.poles);
        data.network = std::move(line.network);
        out.spans.number_pieces_from(line.greatest_span_fid + 1);
    }
    refuse_unknown_codes(inputs);
    log.write(findings);
    data.poles.ids.drop_lookup();

    NetworkSummary summary;
    summary.figures = network_figures(data);
    summary.figures.poles_made = job.poles_from_spans;
    summary.figures.has_spans = inputs[InputLayer::spans].has_value();
    const auto in = network_counts_in(inputs, data);
    write_line_poles(inputs[InputLayer::poles], data, job.threads, out.poles, monitor);
    write_spans(inputs[InputLayer::spans],
                data,
                frame,
                job.threads,
                {out.spans, log, /*with_verdicts=*/false},
                monitor);
    note_repaired_texts(out.poles, InputLayer::poles, &data.poles.ids, log);
    note_repaired_texts(out.spans, InputLayer::spans, nullptr, log);
    for (const auto& [writer, layer] :
         {std::pair{&out.poles, InputLayer::poles}, {&out.spans, InputLayer::spans}}) {
        writer->complete();
        note_losses(*writer, layer, log);
    }
    const std::vector<LayerCount> written{{"poles", out.poles.count()},
                                          {"spans", out.spans.count()},
                                          {"findings", out.findings.count()}};
    check_counts(job.out.string(), in, written);
    auto statements = network_statements(job, inputs, in, written);
    add_unwritten_findings(log.unwritten(), statements);
    write_statements(statements, out.run);
    summary.findings = log.counts();
    summary.findings_unwritten = log.unwritten();
    data = {};
    dataset.describe(iso_record(statements, "Network of wood poles: " + shown_inputs(inputs), ""));
    monitor.stage("index and check", -1);
    monitor.advance(0);
    summary.output = dataset.finish();
    monitor.finish();
    return summary;
}

}  // namespace linewood
