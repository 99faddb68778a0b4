#include "src/pipeline/run_reader.hpp"

#include "src/pipeline/defect_reader.hpp"
#include "src/pipeline/inspection_reader.hpp"
#include "src/pipeline/line_network.hpp"

namespace linewood {

RunData read_run_data(const InputLayers& inputs,
                      const AssessJob& job,
                      const GroundFrame& frame,
                      Findings& findings,
                      const RunReading& reading,
                      RunMonitor& monitor) {
    const std::function<void()> take = [&] {
        if (reading.take_findings) {
            reading.take_findings();
        }
    };
    RunData data;
    data.given_axis_limit = job.network.given_axis_limit;
    LineNetwork line = read_line_network(inputs, job, &job.tables, frame, findings, monitor);
    data.poles = std::move(line.poles);
    data.network = std::move(line.network);
    data.greatest_span_fid = line.greatest_span_fid;
    take();
    monitor.stage("read inspections and defects", -1);
    data.inspections = read_inspections(inputs, data.poles, job.today, findings, take);
    if (!reading.keep_inspection_rows) {
        data.inspections.drop_rows();
    }
    take();
    const AzimuthResolver resolver{data.network, data.poles, frame, job.declination};
    ReadDefects read =
        read_defects(inputs, data.poles, data.inspections, resolver, job.today, findings, take);
    data.defects = std::move(read.store);
    data.grid_azimuths = read.grid_azimuths;
    refuse_unknown_codes(inputs);
    take();
    return data;
}

PoleAssessment assess_pole_of(const RunData& data,
                              const AssessJob& job,
                              std::uint32_t pole,
                              const LineDirection& line,
                              Findings& findings,
                              PoleTrace* trace) {
    if (data.poles.duplicate[pole]) {
        PoleAssessment a;
        a.reasons.add(Reason::duplicate_pole_id);
        return a;
    }
    const std::size_t before = findings.size();
    const std::vector<Inspection> inspections = data.inspections.of(pole);
    const std::vector<Defect> defects = data.defects.of(pole);
    const PoleFile file{data.poles.poles[pole], line, inspections, defects};
    PoleAssessment a = assess_pole(file, job.tables, job.criteria, findings, trace);
    for (std::size_t i = before; i < findings.size(); ++i) {
        if (findings[i].layer == InputLayer::poles) {
            findings[i].feature = std::string{data.poles.ids.id(pole)};
        }
        findings[i].place = data.poles.place(pole);
    }
    return a;
}

}  // namespace linewood
