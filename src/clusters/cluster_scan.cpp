#include "src/clusters/cluster_scan.hpp"

#include <cmath>
#include <memory>
#include <numeric>

#include "geo/cluster/plane_neighbours.hpp"
#include "geo/cluster/scan.hpp"
#include "geo/cluster/span_neighbours.hpp"
#include "src/clusters/outlines.hpp"
#include "src/clusters/stage_progress.hpp"

namespace linewood {
namespace {

std::unique_ptr<NeighbourSource> counted_source(const Population& p, WindowKind kind) {
    if (kind == WindowKind::straight) {
        return std::make_unique<PlaneNeighbours>(p.places);
    }
    return std::make_unique<SpanNeighbours>(p.pole_of.size(), p.edges, p.counted);
}

ScanSettings scan_settings(const ClusterJob& job, WindowKind kind) {
    ScanSettings s;
    // With strata the expected number is their sum: Poisson finds more.
    s.model = job.strata.empty() ? ScanModel::bernoulli : ScanModel::poisson;
    s.max_share = job.window_share;
    if (job.window_poles) {
        s.max_poles = *job.window_poles;
    }
    s.max_radius_m = kind == WindowKind::straight ? job.radius_m : job.network_radius_m;
    s.replicates = job.replicates;
    s.seed = job.seed;
    s.threads = job.threads;
    return s;
}

/// Counts all poles, inspected or not, in a window.
class WindowCensus {
public:
    WindowCensus(const AssessedData& data, const Population& population, WindowKind kind)
        : index_(population.pole_of.size(), Population::kNoNode) {
        std::vector<std::uint32_t> nodes;
        std::vector<Point> places;
        for (std::uint32_t node = 0; node < population.pole_of.size(); ++node) {
            const std::uint32_t pole = population.pole_of[node];
            if (kind == WindowKind::network || data.poles.has_place(pole)) {
                index_[node] = static_cast<std::uint32_t>(nodes.size());
                nodes.push_back(node);
                places.push_back(data.poles.places[pole]);
            }
        }
        if (kind == WindowKind::straight) {
            source_ = std::make_unique<PlaneNeighbours>(places);
        } else {
            source_ = std::make_unique<SpanNeighbours>(
                population.pole_of.size(), population.edges, nodes);
        }
        search_ = source_->search();
    }

    std::uint32_t poles(std::uint32_t node, double radius_m) {
        search_->nearest(index_[node], Reach{.um = to_micrometres(radius_m)}, found_);
        return static_cast<std::uint32_t>(found_.size());
    }

private:
    std::vector<std::uint32_t> index_;
    std::unique_ptr<NeighbourSource> source_;
    std::unique_ptr<NeighbourSearch> search_;
    std::vector<Near> found_;
};

FoundCluster found_cluster(const ScanCluster& scanned,
                           const AssessedData& data,
                           const Population& population,
                           const ClusterJob& job,
                           NeighbourSearch& search) {
    FoundCluster c;
    c.centre = scanned.centre;
    c.radius_m = scanned.radius_m;
    c.members = scanned.places;
    std::vector<Near> near;
    search.nearest(scanned.centre, Reach{.count = scanned.places.size()}, near);
    for (const Near& n : near) {
        c.distances_m.push_back(to_metres(n.um));
    }
    c.figures.inspected = scanned.poles;
    c.figures.decayed = scanned.decayed;
    c.expected = scanned.expected;
    c.times_elsewhere = scanned.relative_risk;
    c.llr = scanned.llr;
    c.p = scanned.p;
    c.significant = scanned.p <= job.significance;
    const auto limit = strength_limit(data, job);
    for (const std::uint32_t member : c.members) {
        const double strength = data.poles.remaining_pct[population.pole(member)];
        c.near_limit += limit && std::abs(strength - *limit) <= kNearLimitPoints ? 1U : 0U;
    }
    return c;
}

}  // namespace

std::optional<double> strength_limit(const AssessedData& data, const ClusterJob& job) {
    return job.strength_below_pct ? job.strength_below_pct : data.run.strength_limit_pct;
}

ScanOutcome scan_population(const AssessedData& data,
                            const Population& population,
                            const ClusterJob& job,
                            WindowKind kind,
                            RunMonitor& monitor) {
    ScanOutcome out;
    out.kind = kind;
    if (population.decayed_count == 0 || population.decayed_count == population.counted.size()) {
        return out;
    }
    const auto source = counted_source(population, kind);
    StageProgress progress{
        monitor,
        kind == WindowKind::straight ? "look for clusters" : "look for clusters along the spans"};
    const auto result = scan_for_clusters(*source,
                                          {population.decayed, population.stratum, {}},
                                          scan_settings(job, kind),
                                          progress.keep_going());
    if (!result) {
        throw Interrupted{};
    }
    out.centres = result->centres;
    out.stride = result->stride;
    out.windows = result->windows;
    const auto search = source->search();
    WindowCensus census{data, population, kind};
    for (const ScanCluster& scanned : result->clusters) {
        FoundCluster c = found_cluster(scanned, data, population, job, *search);
        c.kind = kind;
        c.name =
            (kind == WindowKind::straight ? "S" : "N") + std::to_string(out.clusters.size() + 1);
        c.figures.poles = census.poles(population.counted[c.centre], c.radius_m);
        work_out(c.figures);
        out.clusters.push_back(std::move(c));
    }
    Outliner{data, population}.outline(out.clusters);
    return out;
}

}  // namespace linewood
