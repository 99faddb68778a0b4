#include "src/corridor/corridor_set.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <utility>

#include <fmt/format.h>

#include "geo/corridor/drawn_corridors.hpp"
#include "geo/corridor/run_id.hpp"
#include "geo/io/data_error.hpp"
#include "geo/io/feature_reader.hpp"
#include "src/job/job_error.hpp"
#include "src/job/nearest_word.hpp"
#include "src/pipeline/open_layer.hpp"

namespace linewood {
namespace {

constexpr double kNan = std::numeric_limits<double>::quiet_NaN();

/// The poles at the two ends of a run.
std::pair<std::uint32_t, std::uint32_t> ends_of(const Runs& runs, std::uint32_t run) {
    const auto stops = runs.stops(run);
    return {stops.front().pole, stops.back().pole};
}

/// The pole next to `end` on its run.
std::uint32_t next_to(const Runs& runs, std::uint32_t run, std::uint32_t end) {
    const auto stops = runs.stops(run);
    if (stops.size() < 2) {
        return end;
    }
    return stops.front().pole == end ? stops[1].pole : stops[stops.size() - 2].pole;
}

std::vector<std::string> circuits_of(const LineModel& line, std::uint32_t run) {
    std::vector<std::string> names;
    for (const std::uint32_t c : line.graph().circuits(line.runs().runs()[run].circuits)) {
        names.emplace_back(line.circuit_names()[c]);
    }
    return names;
}

std::string chain_id(const LineModel& line, const RunGroup& group) {
    const Runs& runs = line.runs();
    const std::uint32_t first = group.runs.front();
    const std::uint32_t last = group.runs.back();
    const auto second = ends_of(runs, group.runs[1]);
    const auto a = ends_of(runs, first);
    const bool forward = a.second == second.first || a.second == second.second;
    const std::uint32_t start = forward ? a.first : a.second;
    const auto before = ends_of(runs, group.runs[group.runs.size() - 2]);
    const auto b = ends_of(runs, last);
    const bool ends_there = b.first == before.first || b.first == before.second;
    const std::uint32_t end = ends_there ? b.second : b.first;
    const bool turned = line.pole_id(end) < line.pole_id(start);
    const std::uint32_t next = turned ? next_to(runs, last, end) : next_to(runs, first, start);
    RunName name;
    name.start = line.pole_id(turned ? end : start);
    name.next = line.pole_id(next);
    name.end = line.pole_id(turned ? start : end);
    name.circuits = circuits_of(line, first);
    return run_id(name);
}

std::string circuit_id(const LineModel& line, const RunGroup& group) {
    std::string_view least = line.pole_id(line.runs().stops(group.runs.front()).front().pole);
    for (const std::uint32_t run : group.runs) {
        for (const Runs::Stop& stop : line.runs().stops(run)) {
            least = std::min(least, line.pole_id(stop.pole));
        }
    }
    return run_id(RunName{std::string{least}, "", "", circuits_of(line, group.runs.front())});
}

std::string_view kind_words(GeometryKind kind) {
    switch (kind) {
        case GeometryKind::none:
            return "no geometry";
        case GeometryKind::point:
            return "points";
        case GeometryKind::line:
            return "lines";
        case GeometryKind::polygon:
            return "polygons";
        case GeometryKind::mixed:
            return "geometries of several kinds";
    }
    return "";
}

/// A user's layer as shapes in metres, in the order of their ids.
class ShapeReader {
public:
    ShapeReader(const LineModel& line, const CorridorsJob& job, Findings& findings)
        : line_{line},
          areas_{!job.polygons.empty()},
          ref_{open_layer(areas_ ? job.polygons : job.lines, "corridors")},
          ground_{line.data().poles_crs_wkt,
                  &ref_.schema().crs_wkt,
                  job.plane_metres_per_unit.value_or(1.0),
                  findings} {
        refuse_other_geometry();
        if (!job.id_field.empty()) {
            id_ = ref_.schema().field_index(job.id_field);
            if (!id_) {
                std::vector<std::string_view> names;
                for (const Field& f : ref_.schema().fields) {
                    names.emplace_back(f.name);
                }
                throw JobError{"--id " + job.id_field + ": layer " + ref_.layer +
                               " has no such field" + did_you_mean(job.id_field, names)};
            }
        }
        place_poles(job.plane_metres_per_unit.value_or(1.0));
    }

    CorridorSet read() {
        FeatureReader reader{ref_.source, ref_.layer, {}};
        FeatureBatch batch;
        while (reader.next(batch)) {
            for (std::size_t row = 0; row < batch.size(); ++row) {
                take(batch, row);
            }
        }
        if (drawn_.empty()) {
            throw DataError{ref_.source.dataset(),
                            ref_.layer,
                            fmt::format("none of its {} rows has a {}; name another layer",
                                        rows_,
                                        areas_ ? "polygon" : "line")};
        }
        return in_order();
    }
    std::vector<DrawnShape> take_shapes() { return std::move(shapes_); }
    /// Of all poles, in the same metres as the shapes.
    const std::vector<Point>& poles() const { return poles_; }

private:
    void refuse_other_geometry() const {
        const GeometryKind wanted = areas_ ? GeometryKind::polygon : GeometryKind::line;
        const GeometryKind kind = ref_.schema().geometry.kind;
        if (kind != wanted && kind != GeometryKind::mixed) {
            throw JobError{fmt::format("{} {}: the layer holds {}, not {}; name another layer",
                                       areas_ ? "--polygons" : "--lines",
                                       ref_.layer,
                                       kind_words(kind),
                                       kind_words(wanted))};
        }
    }

    void place_poles(double unit) {
        const AssessedData& data = line_.data();
        poles_.reserve(data.poles.size());
        for (std::uint32_t pole = 0; pole < data.poles.size(); ++pole) {
            poles_.push_back(data.layer_point(pole).value_or(Point{kNan, kNan}));
        }
        ground_.poles_to_ground(poles_);
        metric_.emplace(MetricFrame::around(ground_, poles_, unit, ""));
        metric_->from_ground(poles_);
    }

    void take(const FeatureBatch& batch, std::size_t row) {
        Drawn drawn;
        drawn.row = static_cast<std::uint32_t>(rows_++);
        drawn.id = id_ ? batch.text(row, *id_) : std::string{};
        if (drawn.id.empty()) {
            const std::int64_t fid = batch.fid(row);
            drawn.id = std::to_string(fid >= 0 ? fid : static_cast<std::int64_t>(drawn.row) + 1);
        }
        LineParts parts =
            areas_ ? rings_of(batch, row) : batch.path(row).value.value_or(LineParts{});
        if (parts.empty()) {
            ++without_shape_;
            return;
        }
        for (std::vector<Point>& part : parts) {
            ground_.spans_to_ground(part);
            metric_->from_ground(part);
            part.erase(
                std::remove_if(part.begin(),
                               part.end(),
                               [](Point p) { return !std::isfinite(p.x) || !std::isfinite(p.y); }),
                part.end());
        }
        drawn.shape.parts = std::move(parts);
        drawn_.push_back(std::move(drawn));
    }

    static LineParts rings_of(const FeatureBatch& batch, std::size_t row) {
        LineParts rings;
        const auto area = batch.area(row);
        for (const PolygonRings& polygon : area.value.value_or(Polygons{})) {
            rings.insert(rings.end(), polygon.begin(), polygon.end());
        }
        return rings;
    }

    CorridorSet in_order() {
        std::stable_sort(drawn_.begin(), drawn_.end(), [](const Drawn& a, const Drawn& b) {
            return a.id < b.id;
        });
        CorridorSet set;
        set.of_row.assign(rows_, kNone);
        for (Drawn& d : drawn_) {
            set.of_row[d.row] = static_cast<std::uint32_t>(set.ids.size());
            set.repeated_ids += !set.ids.empty() && set.ids.back() == d.id ? 1 : 0;
            set.ids.push_back(std::move(d.id));
            shapes_.push_back(std::move(d.shape));
        }
        set.without_shape = without_shape_;
        set.layer = ref_;
        return set;
    }

    struct Drawn {
        std::string id;
        std::uint32_t row = 0;
        DrawnShape shape;
    };

    const LineModel& line_;
    bool areas_;
    InputLayerRef ref_;
    GroundFrame ground_;
    std::optional<MetricFrame> metric_;
    std::optional<std::size_t> id_;
    std::vector<Point> poles_;
    std::vector<Drawn> drawn_;
    std::vector<DrawnShape> shapes_;
    std::size_t rows_ = 0;
    std::int64_t without_shape_ = 0;
};

}  // namespace

CorridorSet corridors_of_runs(const LineModel& line, RunGrouping by) {
    CorridorSet set;
    std::vector<std::uint32_t> of_run(line.runs().runs().size(), kNone);
    for (RunGroup& group : group_runs(line.graph(), line.runs(), by)) {
        if (!line.run_counts(group.runs.front())) {
            continue;  // of a pole that is none of its own
        }
        for (const std::uint32_t run : group.runs) {
            of_run[run] = static_cast<std::uint32_t>(set.ids.size());
        }
        set.ids.push_back(by == RunGrouping::circuit ? circuit_id(line, group)
                          : group.runs.size() == 1   ? line.run_id(group.runs.front())
                                                     : chain_id(line, group));
        set.km.push_back(group.length_m / 1000.0);
        set.groups.push_back(std::move(group));
    }
    const std::uint32_t poles = line.data().poles.size();
    set.of_pole.assign(poles, kNone);
    for (std::uint32_t pole = 0; pole < poles; ++pole) {
        if (line.counts(pole)) {
            set.of_pole[pole] = of_run[line.runs().place(pole).run];
        }
    }
    return set;
}

CorridorSet corridors_of_layer(const LineModel& line, const CorridorsJob& job, Findings& findings) {
    ShapeReader reader{line, job, findings};
    CorridorSet set = reader.read();
    const DrawnCorridors drawn =
        job.polygons.empty() ? DrawnCorridors::strips(reader.take_shapes(), job.width_m / 2.0)
                             : DrawnCorridors::areas(reader.take_shapes());
    const std::vector<Point>& poles = reader.poles();
    set.of_pole.assign(poles.size(), kNone);
    for (std::uint32_t pole = 0; pole < poles.size(); ++pole) {
        const Point p = poles[pole];
        if (line.counts(pole) && std::isfinite(p.x) && std::isfinite(p.y)) {
            set.of_pole[pole] = drawn.at(p);
            set.in_several += drawn.count_at(p) > 1 ? 1 : 0;
        }
    }
    set.km.assign(set.ids.size(), 0.0);
    for (const LineGraph::Step& step : line.graph().steps()) {
        for (const std::uint32_t node : {step.low, step.high}) {
            const std::uint32_t corridor = set.of_pole[line.graph().pole_of(node)];
            double& km = corridor == kNone ? set.km_outside : set.km[corridor];
            km += step.length_m / 2000.0;
        }
    }
    return set;
}

}  // namespace linewood
