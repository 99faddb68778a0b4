#include "src/corridor/corridors_run.hpp"

#include <algorithm>
#include <numeric>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "geo/io/column_plan.hpp"
#include "geo/io/feature_reader.hpp"
#include "src/corridor/corridor_output.hpp"
#include "src/corridor/corridor_page.hpp"
#include "src/corridor/corridor_rows.hpp"
#include "src/corridor/corridor_set.hpp"
#include "src/corridor/corridor_text.hpp"
#include "src/corridor/sheet_folder.hpp"
#include "src/corridor/station_table.hpp"
#include "src/pipeline/open_layer.hpp"
#include "src/report/figures.hpp"
#include "src/style/stored_styles.hpp"

namespace linewood {
namespace {

constexpr GeometryType kLines{GeometryKind::line, true, false, false};

std::string_view name_of(RunGrouping by) {
    switch (by) {
        case RunGrouping::run:
            return "run";
        case RunGrouping::chain:
            return "chain";
        case RunGrouping::circuit:
            return "circuit";
    }
    return "";
}

class CorridorsRun {
public:
    CorridorsRun(const CorridorsJob& job, RunMonitor& monitor)
        : job_{job}, monitor_{monitor}, data_{read(job, findings_, monitor)} {
        std::vector<std::filesystem::path> more;
        if (job.drawn()) {
            more = open_layer(job.polygons.empty() ? job.lines : job.polygons, "corridors")
                       .source.files();
        }
        output_.emplace(job, data_, "corridors", more);
    }

    CorridorSummary run() {
        monitor_.stage("cut the line into runs", -1);
        line_.emplace(data_);
        monitor_.advance(0);
        monitor_.stage("sum up corridors", -1);
        set_ = job_.drawn() ? corridors_of_layer(*line_, job_) : corridors_of_runs(*line_, job_.by);
        const std::vector<PoleCondition> poles = pole_conditions(*line_);
        conditions_ = corridor_conditions(set_.of_pole, poles, set_.km);
        if (job_.stretches) {
            stretches_ = bad_stretches(line_->runs(), poles);
        }
        monitor_.advance(0);
        write_layers();
        if (output_->sheets() != nullptr) {
            write_sheets(*output_->sheets());
        }
        CorridorSummary summary = summarize();
        output_->finish([this] { return document(); }, monitor_, summary);
        return summary;
    }

private:
    static AssessedData read(const CorridorsJob& job, Findings& findings, RunMonitor& monitor) {
        AssessedReading wanted;
        wanted.plane_metres_per_unit = job.plane_metres_per_unit;
        return read_assessed(job.input, wanted, findings, monitor);
    }

    std::vector<Cell> cells(std::uint32_t corridor) const {
        return corridor_cells(*line_, set_, conditions_[corridor], corridor);
    }
    std::vector<Field> fields() const { return corridor_fields(!job_.drawn()); }

    void write_layers() {
        monitor_.stage("write layers", -1);
        LayerWriter& corridors = job_.drawn() ? write_drawn() : write_runs();
        monitor_.advance(0);
        std::vector<const std::string*> of_pole(data_.poles.size(), nullptr);
        for (std::uint32_t pole = 0; pole < of_pole.size(); ++pole) {
            const std::uint32_t corridor = set_.of_pole[pole];
            of_pole[pole] = corridor == kNone ? nullptr : &set_.ids[corridor];
        }
        std::vector<LayerCount> written{{"corridors", corridors.count()}};
        written.push_back({"stations", write_stations(output_->dataset(), *line_, &of_pole)});
        monitor_.advance(0);
        if (job_.stretches) {
            written.push_back({"bad_stretches", write_stretches()});
        }
        output_->write_end(settings(), std::move(written), findings_, monitor_, set_.doubts);
    }

    LayerWriter& write_runs() {
        LayerWriter& out = output_->dataset().add_layer(
            own_layer("corridors", fields(), kLines, data_, "Condition by corridor"));
        for (std::uint32_t i = 0; i < set_.ids.size(); ++i) {
            LineParts parts;
            for (const std::uint32_t run : set_.groups[i].runs) {
                parts.push_back(line_->to_layer(line_->run_path(run)));
            }
            out.append_line(cells(i), parts);
        }
        out.complete();
        return out;
    }

    /// The user's features with their columns, the figures behind.
    LayerWriter& write_drawn() {
        LayerPlan plan;
        plan.name = "corridors";
        plan.source = set_.layer->schema();
        plan.geometry = plan.source.geometry;
        plan.crs_wkt = plan.source.crs_wkt;
        plan.added = fields();
        plan.keep_fids = set_.layer->source.driver() == "GPKG";
        plan.description = "Condition by corridor";
        std::vector<std::string> names;
        for (const Field& f : plan.added) {
            names.push_back(f.name);
        }
        plan.carried = plan_columns(plan.source.fields, names).carried;
        plan.styles = stored_styles(plan.name, plan);
        LayerWriter& out = output_->dataset().add_layer(plan);
        FeatureReader reader{set_.layer->source, set_.layer->layer, {}};
        FeatureBatch batch;
        std::size_t next = 0;
        while (reader.next(batch)) {
            for (std::size_t row = 0; row < batch.size(); ++row) {
                const std::uint32_t corridor = set_.of_row[next++];
                out.append(
                    batch,
                    row,
                    corridor == kNone ? std::vector<Cell>(plan.added.size()) : cells(corridor));
            }
        }
        out.complete();
        return out;
    }

    std::int64_t write_stretches() {
        LayerWriter& out = output_->dataset().add_layer(
            own_layer("bad_stretches",
                      stretch_fields(),
                      {GeometryKind::line, false, false, false},
                      data_,
                      "Where rejected poles stand closer together than on the rest of the line"));
        for (const BadStretch& s : stretches_) {
            std::vector<Point> path;
            for (const Runs::Stop& stop : line_->runs().stops(s.run)) {
                if (stop.step != kNone && stop.station_m >= s.from_m && stop.station_m < s.to_m) {
                    const std::vector<Point> next = line_->path(stop.step, stop.pole);
                    path.insert(path.end(), next.begin() + (path.empty() ? 0 : 1), next.end());
                }
            }
            out.append_line(stretch_cells(*line_, s), {line_->to_layer(std::move(path))});
        }
        return out.count();
    }

    CorridorOutput::Settings settings() const {
        CorridorOutput::Settings s;
        if (job_.drawn()) {
            s.emplace_back(job_.polygons.empty() ? "job_lines" : "job_polygons", set_.layer->layer);
            if (job_.polygons.empty()) {
                s.emplace_back("job_width_m", fmt::format("{}", job_.width_m));
            }
            s.emplace_back("job_id_field", job_.id_field.empty() ? "FID" : job_.id_field);
        } else {
            s.emplace_back("job_by", name_of(job_.by));
        }
        s.emplace_back("km_outside", fmt::format("{:.6f}", set_.km_outside));
        s.emplace_back("poles_outside", std::to_string(outside()));
        return s;
    }

    std::int64_t outside() const {
        return std::count(set_.of_pole.begin(), set_.of_pole.end(), kNone);
    }

    std::vector<std::uint32_t> by_rank() const {
        std::vector<std::uint32_t> order(conditions_.size());
        for (std::uint32_t i = 0; i < order.size(); ++i) {
            order[conditions_[i].rank - 1] = i;
        }
        return order;
    }

    void write_sheets(SheetFolder& sheets) {
        const std::vector<std::uint32_t> order = by_rank();
        sheets.write(
            "index.html",
            corridor_page(*line_, set_, conditions_, order, job_.paper, made_by_text(data_)));
        sheets.write_csv("corridors.csv", fields(), [&](CsvWriter& csv) {
            for (const std::uint32_t i : order) {
                csv.write_row(cells(i));
            }
        });
    }

    nlohmann::ordered_json totals() const {
        double km = set_.km_outside;
        std::int64_t rejects = 0;
        std::int64_t poles = 0;
        for (const CorridorCondition& c : conditions_) {
            km += c.km;
            rejects += c.rejects();
            poles += c.poles;
        }
        return {{"poles", data_.pole_rows},
                {"poles_in_corridors", poles},
                {"poles_outside", outside()},
                {"poles_in_several", set_.in_several},
                {"corridors", set_.ids.size()},
                {"rejects_in_corridors", rejects},
                {"km", km},
                {"km_outside", set_.km_outside}};
    }

    nlohmann::ordered_json document() const {
        nlohmann::ordered_json doc{{"read_from", made_by_text(data_)}, {"totals", totals()}};
        doc["corridors"] = nlohmann::ordered_json::array();
        const std::vector<Field> columns = fields();
        for (const std::uint32_t i : by_rank()) {
            doc["corridors"].push_back(row_json(columns, cells(i)));
        }
        return doc;
    }

    CorridorSummary summarize() const {
        const nlohmann::ordered_json t = totals();
        CorridorSummary summary;
        const std::string object = t.dump();
        summary.json = object.substr(1, object.size() - 2);
        summary.text = fmt::format(
            "{}: {} of {} and {} of {} km of the line; {}\n",
            count_words(static_cast<std::int64_t>(set_.ids.size()), "corridor", "corridors"),
            grouped(t["poles_in_corridors"].get<std::int64_t>()),
            count_words(data_.pole_rows, "pole", "poles"),
            plain_text(t["km"].get<double>() - set_.km_outside, 1),
            plain_text(t["km"].get<double>(), 1),
            count_words(t["rejects_in_corridors"].get<std::int64_t>(), "reject", "rejects"));
        add_worst(summary.text);
        summary.text += output_->written_text(job_);
        add_warnings(summary.warnings);
        return summary;
    }

    void add_worst(std::string& text) const {
        constexpr std::size_t kShown = 5;
        const std::vector<std::uint32_t> order = by_rank();
        for (std::size_t i = 0; i < std::min(order.size(), kShown); ++i) {
            const CorridorCondition& c = conditions_[order[i]];
            if (c.rejects() > 0) {
                text += fmt::format("  {}. {}: {} of {} assessed, {} km\n",
                                    i + 1,
                                    set_.ids[order[i]],
                                    count_words(c.rejects(), "reject", "rejects"),
                                    grouped(c.assessed()),
                                    plain_text(c.km, 2));
            }
        }
    }

    void add_warnings(std::vector<std::string>& warnings) const {
        warnings = layer_warnings(set_.doubts);
        if (set_.without_shape > 0) {
            warnings.push_back(fmt::format("{} of {} without a usable {}, and so without figures",
                                           count_words(set_.without_shape, "row", "rows"),
                                           set_.layer->layer,
                                           job_.polygons.empty() ? "line" : "polygon"));
        }
        if (set_.repeated_ids > 0) {
            warnings.push_back(fmt::format(
                "{} of {} with an id that another one has; name a field of different ids with "
                "--id",
                count_words(set_.repeated_ids, "row", "rows"),
                set_.layer->layer));
        }
        if (set_.in_several > 0) {
            warnings.push_back(
                fmt::format("{} in several corridors, counted in one: {}",
                            count_words(set_.in_several, "pole", "poles"),
                            job_.polygons.empty() ? "the nearest" : "that of the least id"));
        }
        const auto repeated =
            std::count(data_.poles.repeated.begin(), data_.poles.repeated.end(), true);
        if (repeated > 0) {
            warnings.push_back(
                fmt::format("{} in no corridor and without a station: an earlier pole has the id, "
                            "or there is none (findings of the assessment)",
                            count_words(repeated, "pole", "poles")));
        }
    }

    const CorridorsJob& job_;
    RunMonitor& monitor_;
    Findings findings_;
    AssessedData data_;
    std::optional<CorridorOutput> output_;
    std::optional<LineModel> line_;
    CorridorSet set_;
    std::vector<CorridorCondition> conditions_;
    std::vector<BadStretch> stretches_;
};

}  // namespace

CorridorSummary run_corridors(const CorridorsJob& job, RunMonitor& monitor) {
    return CorridorsRun{job, monitor}.run();
}

}  // namespace linewood
