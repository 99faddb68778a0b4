#include "src/clusters/cluster_writer.hpp"

#include <array>
#include <cmath>

#include "src/clusters/cluster_fields.hpp"
#include "src/job/unit_system.hpp"
#include "src/pipeline/output_fields.hpp"
#include "src/pipeline/pole_rows.hpp"
#include "src/style/stored_styles.hpp"

namespace linewood {
namespace {

LayerWriter& add(OutputDataset& dataset,
                 const std::string& crs,
                 std::string name,
                 std::vector<Field> fields,
                 GeometryKind kind,
                 std::string description) {
    LayerPlan plan;
    plan.name = std::move(name);
    plan.added = std::move(fields);
    plan.geometry = {kind, kind == GeometryKind::polygon, false, false};
    plan.crs_wkt = kind == GeometryKind::none ? "" : crs;
    plan.description = std::move(description);
    plan.styles = stored_styles(plan.name, plan);
    return dataset.add_layer(plan);
}

Cell count_cell(std::uint32_t n) { return Cell{static_cast<std::int64_t>(n)}; }
/// Null where the pole is in none.
Cell group_cell(std::uint32_t group) {
    Cell cell;
    if (group != 0) {
        cell = static_cast<std::int64_t>(group);
    }
    return cell;
}

/// Nine significant decimals hide the last digits of sums.
Cell number_cell(double v) {
    Cell cell;
    if (std::isfinite(v)) {
        cell = rounded(v);
    }
    return cell;
}
Cell number_cell(std::optional<double> v) { return number_cell(v.value_or(std::nan(""))); }
/// Of p, which may be tiny: as it is.
Cell p_cell(std::optional<double> v) {
    Cell cell;
    if (v) {
        cell = *v;
    }
    return cell;
}
Cell percent_cell(std::optional<double> share) {
    return p_cell(share ? std::optional{percent_figure(*share)} : std::nullopt);
}

void add_rate(std::vector<Cell>& cells, const RateFigures& f) {
    cells.push_back(count_cell(f.poles));
    cells.push_back(count_cell(f.inspected));
    cells.push_back(count_cell(f.decayed));
    cells.push_back(percent_cell(f.rate));
    cells.push_back(percent_cell(f.interval ? std::optional{f.interval->low} : std::nullopt));
    cells.push_back(percent_cell(f.interval ? std::optional{f.interval->high} : std::nullopt));
}

Polygons in_layer(const Polygons& metric, const AssessedData& data) {
    Polygons out = metric;
    for (PolygonRings& rings : out) {
        for (auto& ring : rings) {
            for (Point& p : ring) {
                p = data.frame->to_layer(p);
            }
        }
    }
    return out;
}

class ClusterWriting {
public:
    ClusterWriting(const AssessedData& data,
                   const Population& population,
                   const ClusterJob& job,
                   const ClusterResults& results)
        : data_{data}, population_{population}, job_{job}, results_{results} {}

    void write_cluster(const FoundCluster& c, const ClusterLayers& out) const {
        std::vector<Cell> cells{text_cell(c.name),
                                text_cell(name_of(c.kind)),
                                id_cell(c.centre),
                                number_cell(c.radius_m)};
        add_rate(cells, c.figures);
        cells.push_back(number_cell(c.expected));
        cells.push_back(number_cell(c.times_elsewhere));
        cells.push_back(number_cell(c.llr));
        cells.push_back(p_cell(c.p));
        cells.emplace_back(c.significant);
        cells.push_back(count_cell(c.near_limit));
        cells.push_back(text_cell(caution_of(c)));
        out.clusters.append_area(cells, in_layer(c.outline, data_));
        for (std::size_t i = 0; i < c.members.size(); ++i) {
            const std::uint32_t member = c.members[i];
            const std::uint32_t pole = population_.pole(member);
            const std::array<Cell, 6> row{text_cell(c.name),
                                          id_cell(member),
                                          number_cell(c.distances_m[i]),
                                          Cell{population_.decayed[member] != 0},
                                          text_cell(name_of(data_.poles.verdicts[pole])),
                                          number_cell(data_.poles.remaining_pct[pole])};
            out.members.append(row, data_.layer_point(pole));
        }
    }

    void write_score(std::size_t i, LayerWriter& out) const {
        const PoleScore& s = results_.scores[i];
        const auto discovered = [&](const std::optional<double>& p) {
            return p && *p <= job_.discovery_rate;
        };
        const char* const strength = !discovered(s.strength_adjusted) ? ""
                                     : *s.strength.z < 0.0            ? "low"
                                                                      : "high";
        const std::array<Cell, 15> row{
            id_cell(i),
            Cell{population_.decayed[i] != 0},
            population_.stratum.empty() ? Cell{} : Cell{population_.strata[population_.stratum[i]]},
            count_cell(s.decay.poles),
            count_cell(s.decay.decayed),
            number_cell(s.decay.expected),
            number_cell(s.decay.z),
            p_cell(s.decay.p),
            p_cell(s.decay_adjusted),
            text_cell(discovered(s.decay_adjusted) ? "hot" : ""),
            number_cell(s.strength.z),
            p_cell(s.strength.p),
            p_cell(s.strength_adjusted),
            text_cell(strength),
            group_cell(s.group)};
        out.append(row, data_.layer_point(population_.pole(i)));
    }

    void write_rate(const AreaRate& a, LayerWriter& out) const {
        std::vector<Cell> cells{text_cell(a.kind), Cell{a.name}};
        add_rate(cells, a.figures);
        cells.push_back(percent_cell(a.smoothed));
        cells.emplace_back(a.thin);
        out.append_area(cells, in_layer(a.outline, data_));
    }

    void write_group(std::size_t i, LayerWriter& out) const {
        const DrawnGroup& g = results_.groups[i];
        std::vector<Cell> cells{count_cell(static_cast<std::uint32_t>(i + 1)), Cell{g.name}};
        add_rate(cells, g.figures);
        cells.push_back(count_cell(static_cast<std::uint32_t>(g.members.size())));
        out.append_area(cells, in_layer(g.outline, data_));
    }

private:
    Cell id_cell(std::size_t counted) const {
        return Cell{std::string{data_.poles.ids.id(population_.pole(counted))}};
    }

    const AssessedData& data_;
    const Population& population_;
    const ClusterJob& job_;
    const ClusterResults& results_;
};

}  // namespace

std::string caution_of(const FoundCluster& cluster) {
    const RateFigures& f = cluster.figures;
    std::string out;
    if (2 * f.inspected < f.poles) {
        out =
            "under half of the poles there were inspected: if the suspect ones were chosen, the "
            "rate is too high";
    }
    if (4 * cluster.near_limit > f.inspected) {
        out += out.empty() ? "" : "; ";
        out +=
            "over a quarter of the poles are within 5 points of the strength limit: another "
            "limit may change the picture";
    }
    return out;
}

ClusterLayers lay_out_clusters(OutputDataset& dataset, const AssessedData& data) {
    const std::string& crs = data.poles_crs_wkt;
    // One after the other: the order of the layers in the file.
    LayerWriter& clusters = add(dataset,
                                crs,
                                "clusters",
                                cluster_fields(),
                                GeometryKind::polygon,
                                "Where more inspected poles are decayed than chance has it");
    LayerWriter& members = add(dataset,
                               crs,
                               "cluster_members",
                               cluster_member_fields(),
                               GeometryKind::point,
                               "The inspected poles of each cluster");
    LayerWriter& scores = add(dataset,
                              crs,
                              "pole_scores",
                              pole_score_fields(),
                              GeometryKind::point,
                              "Inspected poles and what stands around them");
    LayerWriter& rates = add(dataset,
                             crs,
                             "rates",
                             rate_fields(),
                             GeometryKind::polygon,
                             "Decayed of inspected poles by area");
    LayerWriter& groups = add(dataset,
                              crs,
                              "groups",
                              group_fields(),
                              GeometryKind::polygon,
                              "Decayed poles that stand densely: for drawing, no test");
    LayerWriter& findings = add(dataset,
                                crs,
                                "findings",
                                finding_fields(),
                                GeometryKind::point,
                                "What is doubtful in the input");
    LayerWriter& run = add(dataset,
                           crs,
                           "run",
                           run_fields(),
                           GeometryKind::none,
                           "What made this dataset, settings, and cautions");
    return {clusters, members, scores, rates, groups, findings, run};
}

void write_clusters(const AssessedData& data,
                    const Population& population,
                    const ClusterJob& job,
                    const ClusterResults& results,
                    const ClusterLayers& out,
                    RunMonitor& monitor) {
    const ClusterWriting writing{data, population, job, results};
    monitor.stage("write", static_cast<std::int64_t>(results.scores.size()));
    for (const ScanOutcome& scan : results.scans) {
        for (const FoundCluster& c : scan.clusters) {
            writing.write_cluster(c, out);
        }
    }
    constexpr std::size_t kBetween = 1024;
    for (std::size_t i = 0; i < results.scores.size(); ++i) {
        writing.write_score(i, out.scores);
        if (i % kBetween == kBetween - 1) {
            monitor.advance(kBetween);
        }
    }
    for (const AreaRate& a : results.areas) {
        writing.write_rate(a, out.rates);
    }
    for (std::size_t i = 0; i < results.groups.size(); ++i) {
        writing.write_group(i, out.groups);
    }
    monitor.advance(0);
}

}  // namespace linewood
