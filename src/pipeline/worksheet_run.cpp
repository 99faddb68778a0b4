#include "src/pipeline/worksheet_run.hpp"

#include <algorithm>
#include <fstream>
#include <iterator>
#include <optional>
#include <set>
#include <unordered_map>

#include "geo/io/data_error.hpp"
#include "geo/io/output_place.hpp"
#include "src/job/checksum.hpp"
#include "src/job/file_names.hpp"
#include "src/job/job_error.hpp"
#include "src/pipeline/earlier_run.hpp"
#include "src/pipeline/findings_by_pole.hpp"
#include "src/pipeline/line_network.hpp"
#include "src/pipeline/ordered_pipeline.hpp"
#include "src/pipeline/output_layers.hpp"
#include "src/pipeline/pole_rows.hpp"
#include "src/pipeline/pole_selection.hpp"
#include "src/pipeline/run_reader.hpp"
#include "src/pipeline/run_record.hpp"
#include "src/report/section_drawing_parts.hpp"
#include "src/report/worksheet.hpp"
#include "src/report/worksheet_index.hpp"

namespace linewood {
namespace {

namespace fs = std::filesystem;

/// One worksheet in every form that is wanted.
struct WrittenSheet {
    struct File {
        std::string name;
        std::string content;
    };
    std::vector<File> files;
    IndexEntry entry;
};

struct WantedSheet {
    std::uint32_t pole = 0;
    std::string stem;
};

void write_file(const fs::path& path, const std::string& content) {
    std::ofstream out{path, std::ios::binary | std::ios::trunc};
    out.write(content.data(), static_cast<std::streamsize>(content.size()));
    out.close();
    if (!out) {
        throw DataError{path.parent_path().string(),
                        "",
                        "a worksheet cannot be written; check the space on the disk"};
    }
}

/// The files of a folder of worksheets, as its index lists them.
OutputPlace::IsOwn own_files(const fs::path& folder) {
    std::ifstream in{folder / "index.json", std::ios::binary};
    const std::string json{std::istreambuf_iterator<char>{in}, {}};
    std::set<std::string> own;
    for (std::string& name : files_of_index(json)) {
        own.insert(std::move(name));
    }
    if (!own.empty() || !json.empty()) {
        own.insert("index.json");
        own.insert("index.html");
    }
    return [own](const fs::path& file) { return own.count(file.filename().string()) > 0; };
}

class WorksheetRun {
public:
    WorksheetRun(const WorksheetJob& job, RunMonitor& monitor)
        : job_{job},
          monitor_{monitor},
          inputs_{open_inputs(job.inputs, findings_)},
          frame_{open_frame(inputs_, job, findings_)},
          info_{job, sha256_of(job.criteria_json), shown_inputs(inputs_), ""} {
        if (!job.out.empty()) {
            refuse_place_of_input(job, inputs_);
            place_.emplace(job.out,
                           OutputPlace::Form::folder,
                           job.overwrite,
                           summary_.notes,
                           own_files(job.out));
        }
        compare_criteria();
    }

    WorksheetSummary run() {
        data_ = read_run_data(inputs_, job_, frame_, findings_, RunReading{}, monitor_);
        const PoleSelection selection = select_poles(inputs_, job_, data_, monitor_);
        summary_.without_id = selection.without_id;
        if (!place_ && selection.poles.size() != 1) {
            throw JobError{"without --out there is one worksheet, and " +
                           std::to_string(selection.poles.size()) +
                           " poles are wanted; name a folder with --out"};
        }
        monitor_.stage("read what was recorded", -1);
        recorded_ = read_recorded(inputs_, data_, selection.poles);
        by_pole_.emplace(findings_, data_, selection.poles);
        write_all(wanted_sheets(selection.poles));
        if (place_) {
            write_index();
        }
        monitor_.finish();
        return std::move(summary_);
    }

private:
    void compare_criteria() {
        const auto earlier = earlier_criteria(inputs_);
        if (earlier && earlier->sha256 != info_.criteria_sha256) {
            info_.criteria_note = "The dataset was assessed by other criteria (" + earlier->name +
                                  ", " + earlier->sha256.substr(0, 12) +
                                  ") than these worksheets (" + job_.criteria.name + ", " +
                                  info_.criteria_sha256.substr(0, 12) +
                                  "): their figures and verdicts may differ from its columns.";
            summary_.criteria_note = info_.criteria_note;
        }
    }

    std::vector<WantedSheet> wanted_sheets(const std::vector<std::uint32_t>& poles) const {
        FileNames names;
        std::vector<WantedSheet> wanted;
        wanted.reserve(poles.size());
        for (const std::uint32_t pole : poles) {
            wanted.push_back({pole, names.name_for(data_.poles.ids.id(pole))});
        }
        return wanted;
    }

    void write_all(const std::vector<WantedSheet>& wanted) {
        monitor_.stage("write worksheets", static_cast<std::int64_t>(wanted.size()));
        std::size_t next = 0;
        run_in_order<std::size_t, WrittenSheet>(
            [&]() -> std::optional<std::size_t> {
                return next < wanted.size() ? std::optional{next++} : std::nullopt;
            },
            [&](std::size_t i) { return make(wanted[i]); },
            [&](WrittenSheet sheet) {
                take(std::move(sheet));
                monitor_.advance(1);
            },
            job_.threads);
    }

    WrittenSheet make(const WantedSheet& wanted) const {
        const std::uint32_t pole = wanted.pole;
        const LineDirection line = data_.direction(pole);
        const std::vector<Inspection> inspections = data_.inspections.of(pole);
        const std::vector<Defect> defects = data_.defects.of(pole);
        Findings doubts = by_pole_->of(pole);
        PoleTrace trace;
        const PoleAssessment a = assess_pole_of(data_, job_, pole, line, doubts, &trace);
        const WorksheetInput in{info_,
                                data_.poles.ids.id(pole),
                                {data_.poles.poles[pole], line, inspections, defects},
                                data_.trust(pole),
                                a,
                                trace,
                                recorded_.at(pole),
                                doubts,
                                data_.poles.duplicate[pole]};
        return render(make_worksheet(in), a, wanted.stem);
    }

    WrittenSheet render(const Worksheet& sheet,
                        const PoleAssessment& a,
                        const std::string& stem) const {
        WrittenSheet written;
        for (const SheetFormat format : job_.formats) {
            switch (format) {
                case SheetFormat::html:
                    written.files.push_back({stem + ".html", worksheet_html(sheet, job_.paper)});
                    break;
                case SheetFormat::markdown:
                    written.files.push_back({stem + ".md", worksheet_markdown(sheet, stem)});
                    break;
                case SheetFormat::json:
                    written.files.push_back({stem + ".json", worksheet_json(sheet)});
                    break;
                case SheetFormat::svg:
                    for (const SheetPart& part : sheet.parts) {
                        add_drawings(part, a, stem, written);
                    }
                    break;
            }
        }
        written.entry = entry_of(sheet, a);
        for (const auto& file : written.files) {
            written.entry.files.push_back(file.name);
        }
        return written;
    }

    void add_drawings(const SheetPart& part,
                      const PoleAssessment& a,
                      const std::string& stem,
                      WrittenSheet& to) const {
        for (const SheetItem& item : part.items) {
            const auto* picture = std::get_if<SheetPicture>(&item);
            if (picture == nullptr || picture->document.empty()) {
                continue;
            }
            if (!job_.worst_section_only) {
                to.files.push_back({stem + "." + picture->name + ".svg", picture->document});
            } else if (a.worst_section && picture->name == section_picture(*a.worst_section)) {
                to.files.push_back({stem + ".svg", picture->document});
            }
        }
        for (const SheetPart& inner : part.parts) {
            add_drawings(inner, a, stem, to);
        }
    }

    IndexEntry entry_of(const Worksheet& sheet, const PoleAssessment& a) const {
        IndexEntry entry;
        entry.pole_id = sheet.pole_id;
        entry.verdict = name_of(a.verdict);
        entry.urgency = name_of(a.urgency);
        entry.inspected_on = a.inspected_on ? a.inspected_on->to_string() : std::string{};
        if (const auto share = known_worst_strength(a)) {
            entry.remaining = share_text(*share, job_.criteria.governing_strength_min);
        }
        return entry;
    }

    void take(WrittenSheet sheet) {
        ++summary_.worksheets;
        summary_.files += sheet.files.size();
        if (!place_) {
            summary_.text = std::move(sheet.files.front().content);
            return;
        }
        for (const auto& file : sheet.files) {
            write_file(place_->work() / file.name, file.content);
        }
        index_.push_back(std::move(sheet.entry));
    }

    void write_index() {
        write_file(place_->work() / "index.html", worksheet_index_html(info_, index_));
        write_file(place_->work() / "index.json", worksheet_index_json(info_, index_));
        monitor_.stage("flush to the disk", -1);
        place_->publish();
    }

    const WorksheetJob& job_;
    RunMonitor& monitor_;
    Findings findings_;
    WorksheetSummary summary_;
    InputLayers inputs_;
    GroundFrame frame_;
    WorksheetRunInfo info_;
    std::optional<OutputPlace> place_;
    RunData data_;
    std::unordered_map<std::uint32_t, RecordedPole> recorded_;
    std::optional<FindingsByPole> by_pole_;
    std::vector<IndexEntry> index_;
};

}  // namespace

WorksheetSummary run_worksheets(const WorksheetJob& job, RunMonitor& monitor) {
    return WorksheetRun{job, monitor}.run();
}

}  // namespace linewood
