#include "src/corridor/corridor_set.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numeric>
#include <utility>

#include <fmt/format.h>

#include "geo/corridor/drawn_corridors.hpp"
#include "geo/corridor/run_id.hpp"
#include "geo/io/data_error.hpp"
#include "geo/io/feature_reader.hpp"
#include "geo/shape/carried_path.hpp"
#include "src/assessed/user_polygons.hpp"
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

/// The user's layer of lines or polygons, with ids.
InputLayerRef open_drawn(const CorridorsJob& job) {
    const bool areas = !job.polygons.empty();
    InputLayerRef ref = open_layer(areas ? job.polygons : job.lines, "corridors");
    const GeometryKind wanted = areas ? GeometryKind::polygon : GeometryKind::line;
    const GeometryKind kind = ref.schema().geometry.kind;
    if (kind != wanted && kind != GeometryKind::mixed) {
        throw JobError{fmt::format("{} {}: the layer holds {}, not {}; name another layer",
                                   areas ? "--polygons" : "--lines",
                                   ref.layer,
                                   kind_words(kind),
                                   kind_words(wanted))};
    }
    return ref;
}

std::optional<std::size_t> id_column(const InputLayerRef& ref, const CorridorsJob& job) {
    if (job.id_field.empty()) {
        return std::nullopt;
    }
    const auto id = ref.schema().field_index(job.id_field);
    if (!id) {
        std::vector<std::string_view> names;
        for (const Field& f : ref.schema().fields) {
            names.emplace_back(f.name);
        }
        throw JobError{"--id " + job.id_field + ": layer " + ref.layer + " has no such field" +
                       did_you_mean(job.id_field, names)};
    }
    return id;
}

/// A row of the user's layer that has a shape: the how manieth shape it is, and its corridor's id.
struct DrawnRow {
    std::string id;
    std::uint32_t row = 0;
    std::uint32_t shape = 0;
};

/// Reads the layer row by row. @param take a batch, a row and its id: whether the row has a shape.
template <typename Take>
std::vector<DrawnRow> read_rows(const InputLayerRef& ref,
                                const CorridorsJob& job,
                                CorridorSet& set,
                                Take take) {
    const std::optional<std::size_t> id_field = id_column(ref, job);
    std::vector<DrawnRow> drawn;
    std::uint32_t rows = 0;
    FeatureReader reader{ref.source, ref.layer, {}};
    FeatureBatch batch;
    while (reader.next(batch)) {
        for (std::size_t row = 0; row < batch.size(); ++row, ++rows) {
            std::string id = id_field ? batch.text(row, *id_field) : std::string{};
            if (id.empty()) {
                const std::int64_t fid = batch.fid(row);
                id = std::to_string(fid >= 0 ? fid : static_cast<std::int64_t>(rows) + 1);
            }
            if (take(batch, row, id)) {
                const auto shape = static_cast<std::uint32_t>(drawn.size());
                drawn.push_back({std::move(id), rows, shape});
            } else {
                ++set.without_shape;
            }
        }
    }
    if (drawn.empty()) {
        throw DataError{ref.source.dataset(),
                        ref.layer,
                        fmt::format("none of its {} rows has a {}; name another layer",
                                    rows,
                                    job.polygons.empty() ? "line" : "polygon")};
    }
    set.of_row.assign(rows, kNone);
    return drawn;
}

/// Puts rows into the order of their ids. @return of each shape, its corridor
std::vector<std::uint32_t> put_in_order(std::vector<DrawnRow> drawn, CorridorSet& set) {
    std::stable_sort(drawn.begin(), drawn.end(), [](const DrawnRow& a, const DrawnRow& b) {
        return a.id < b.id;
    });
    std::vector<std::uint32_t> corridor_of(drawn.size());
    for (DrawnRow& d : drawn) {
        corridor_of[d.shape] = static_cast<std::uint32_t>(set.ids.size());
        set.of_row[d.row] = corridor_of[d.shape];
        set.repeated_ids += !set.ids.empty() && set.ids.back() == d.id ? 1 : 0;
        set.ids.push_back(std::move(d.id));
    }
    return corridor_of;
}

void take_areas(const LineModel& line, const CorridorsJob& job, CorridorSet& set) {
    const AssessedData& data = line.data();
    UserPolygons areas{data, set.layer->schema(), job.plane_metres_per_unit.value_or(1.0)};
    const auto take = [&](const FeatureBatch& batch, std::size_t row, const std::string& id) {
        const auto area = batch.area(row);
        if (!area.value || area.value->empty()) {
            areas.note_missing(id);
            return false;
        }
        areas.add(*area.value, id);
        return true;
    };
    const auto corridor_of = put_in_order(read_rows(*set.layer, job, set, take), set);
    areas.complete();
    set.of_pole.assign(data.poles.size(), kNone);
    for (std::uint32_t pole = 0; pole < data.poles.size(); ++pole) {
        if (line.counts(pole)) {
            const std::vector<std::uint32_t> found = areas.areas_of(pole);
            for (const std::uint32_t area : found) {
                set.of_pole[pole] = std::min(set.of_pole[pole], corridor_of[area]);
            }
            set.in_several += found.size() > 1 ? 1 : 0;
        }
    }
    set.doubts = areas.doubts();
}

void take_strips(const LineModel& line, const CorridorsJob& job, CorridorSet& set) {
    constexpr double kTolerance = 0.01;  // metres
    const AssessedData& data = line.data();
    const double unit = job.plane_metres_per_unit.value_or(1.0);
    Findings findings;
    const GroundFrame ground{data.poles_crs_wkt, &set.layer->schema().crs_wkt, unit, findings};
    set.doubts = doubts_of_layer(findings, set.layer->layer);
    std::vector<Point> poles;
    for (std::uint32_t pole = 0; pole < data.poles.size(); ++pole) {
        poles.push_back(data.layer_point(pole).value_or(Point{kNan, kNan}));
    }
    ground.poles_to_ground(poles);
    const MetricFrame metric = MetricFrame::around(ground, poles, unit, "");
    metric.from_ground(poles);
    const auto to_metres = [&](Point p) {
        std::array<Point, 1> one{p};
        ground.spans_to_ground(one);
        metric.from_ground(one);
        return one[0];
    };
    std::vector<DrawnShape> shapes;
    const auto take = [&](const FeatureBatch& batch, std::size_t row, const std::string& /*id*/) {
        DrawnShape shape;
        for (const auto& part : batch.path(row).value.value_or(LineParts{})) {
            shape.parts.push_back(carried_path(part, false, kTolerance, to_metres));
        }
        const bool some = !shape.parts.empty();
        if (some) {
            shapes.push_back(std::move(shape));
        }
        return some;
    };
    const auto corridor_of = put_in_order(read_rows(*set.layer, job, set, take), set);
    std::vector<DrawnShape> in_order(shapes.size());
    for (std::size_t i = 0; i < shapes.size(); ++i) {
        in_order[corridor_of[i]] = std::move(shapes[i]);
    }
    const DrawnCorridors drawn{in_order, job.width_m / 2.0};
    set.of_pole.assign(poles.size(), kNone);
    for (std::uint32_t pole = 0; pole < poles.size(); ++pole) {
        const Point p = poles[pole];
        if (line.counts(pole) && std::isfinite(p.x) && std::isfinite(p.y)) {
            set.of_pole[pole] = drawn.at(p);
            set.in_several += drawn.count_at(p) > 1 ? 1 : 0;
        }
    }
}

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

CorridorSet corridors_of_layer(const LineModel& line, const CorridorsJob& job) {
    CorridorSet set;
    set.layer = open_drawn(job);
    job.polygons.empty() ? take_strips(line, job, set) : take_areas(line, job, set);
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
