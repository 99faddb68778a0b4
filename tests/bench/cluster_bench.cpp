#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <vector>

#include <benchmark/benchmark.h>

#include "geo/cluster/decay_hot_spots.hpp"
#include "geo/cluster/getis_ord.hpp"
#include "geo/cluster/plane_neighbours.hpp"
#include "geo/cluster/scan.hpp"
#include "geo/cluster/span_neighbours.hpp"
#include "geo/stats/replicate_random.hpp"

namespace linewood {
namespace {

constexpr std::size_t kRow = 1000;

/// Lines of a thousand poles about 40 m apart, 60 m beside each other; one pole in ten decayed.
struct Town {
    std::vector<Point> poles;
    std::vector<std::uint8_t> decayed;
    std::vector<std::uint32_t> stratum;
    std::vector<std::uint32_t> all;
    std::vector<SpanEdge> edges;

    explicit Town(std::size_t count) {
        ReplicateRandom random{7, 0};
        const auto off = [&] { return random.below(20000) * 1e-3 - 10.0; };
        for (std::uint32_t i = 0; i < count; ++i) {
            const std::uint32_t row = i / kRow;
            poles.push_back({i % kRow * 40.0 + off(), row * 60.0 + off()});
            stratum.push_back(random.below(5));
            decayed.push_back(random.below(50) < 3 + stratum.back() ? 1 : 0);
            all.push_back(i);
            if (i % kRow > 0) {
                join(i - 1, i);
            }
            // A branch to the next line at every tenth pole.
            if (row > 0 && i % 10 == 0) {
                join(i - kRow, i);
            }
        }
    }

    void join(std::size_t a, std::size_t b) {
        edges.push_back({static_cast<std::uint32_t>(a),
                         static_cast<std::uint32_t>(b),
                         std::hypot(poles[a].x - poles[b].x, poles[a].y - poles[b].y)});
    }
};

double peak_mb() {
    double kb = 0.0;
    if (std::FILE* status = std::fopen("/proc/self/status", "r")) {
        char line[256];
        while (std::fgets(line, sizeof line, status) != nullptr) {
            if (std::strncmp(line, "VmHWM:", 6) == 0) {
                kb = std::strtod(line + 6, nullptr);
            }
        }
        std::fclose(status);
    }
    return kb / 1024.0;
}

/// Poles, most poles in a window, model (0 Bernoulli, 1 Poisson), along the spans or not; 999
/// replicates, two threads. CPU time is that of all threads.
void scan(benchmark::State& state) {
    const Town town{static_cast<std::size_t>(state.range(0))};
    const PlaneNeighbours plane{town.poles};
    const SpanNeighbours spans{town.poles.size(), town.edges, town.all};
    ScanSettings settings;
    settings.max_poles = static_cast<std::size_t>(state.range(1));
    settings.max_share = 0.5;
    settings.max_radius_m = 1e6;
    const bool poisson = state.range(2) == 1;
    settings.model = poisson ? ScanModel::poisson : ScanModel::bernoulli;
    ScanPoles poles{town.decayed, {}, {}};
    if (poisson) {
        poles.stratum = town.stratum;
    }
    const NeighbourSource& source =
        state.range(3) == 1 ? static_cast<const NeighbourSource&>(spans) : plane;
    double windows = 0.0;
    for (auto _ : state) {
        const auto result = scan_for_clusters(source, poles, settings);
        windows = static_cast<double>(result->windows);
        benchmark::DoNotOptimize(result->clusters.size());
    }
    state.counters["windows"] = windows;
    state.counters["peak_mb"] = peak_mb();
}
BENCHMARK(scan)
    ->ArgNames({"poles", "most", "poisson", "spans"})
    ->Args({10'000, 1'000, 0, 0})
    ->Args({100'000, 250, 0, 0})
    ->Args({100'000, 1'000, 0, 0})
    ->Args({100'000, 1'000, 1, 0})
    ->Args({100'000, 1'000, 0, 1})
    ->Args({100'000, 10'000, 0, 0})
    ->Iterations(1)
    ->MeasureProcessCPUTime()
    ->UseRealTime()
    ->Unit(benchmark::kMillisecond);

void nearest_twelve(benchmark::State& state) {
    const Town town{100'000};
    const PlaneNeighbours plane{town.poles};
    const SpanNeighbours spans{town.poles.size(), town.edges, town.all};
    for (auto _ : state) {
        benchmark::DoNotOptimize(
            (state.range(0) == 1 ? nearest_rows(spans, 11) : nearest_rows(plane, 11)).size());
    }
    state.SetItemsProcessed(state.iterations() * 100'000);
}
BENCHMARK(nearest_twelve)->ArgName("spans")->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond);

void gi_star(benchmark::State& state) {
    const Town town{100'000};
    const NeighbourRows rows = nearest_rows(PlaneNeighbours{town.poles}, 11);
    std::vector<double> strength;
    for (const Point p : town.poles) {
        strength.push_back(std::fmod(p.x * 7.3, 100.0));
    }
    for (auto _ : state) {
        benchmark::DoNotOptimize(getis_ord(strength, rows).size());
    }
    state.SetItemsProcessed(state.iterations() * 100'000);
}
BENCHMARK(gi_star)->Unit(benchmark::kMillisecond);

/// All of it: the twelve nearest of each pole found, then their scores. Wanted: 1,000,000 poles in 8 s.
void gi_star_with_search(benchmark::State& state) {
    const Town town{static_cast<std::size_t>(state.range(0))};
    std::vector<double> strength;
    for (const Point p : town.poles) {
        strength.push_back(std::fmod(p.x * 7.3, 100.0));
    }
    for (auto _ : state) {
        const NeighbourRows rows = nearest_rows(PlaneNeighbours{town.poles}, 11);
        benchmark::DoNotOptimize(getis_ord(strength, rows).size());
    }
    state.SetItemsProcessed(state.iterations() * state.range(0));
    state.counters["peak_mb"] = peak_mb();
}
BENCHMARK(gi_star_with_search)
    ->ArgName("poles")
    ->Arg(1'000'000)
    ->Iterations(1)
    ->MeasureProcessCPUTime()
    ->UseRealTime()
    ->Unit(benchmark::kMillisecond);

/// Without strata (0) and with five (1).
void hot_spots(benchmark::State& state) {
    const Town town{100'000};
    const NeighbourRows rows = nearest_rows(PlaneNeighbours{town.poles}, 11);
    std::span<const std::uint32_t> stratum;
    if (state.range(0) == 1) {
        stratum = town.stratum;
    }
    for (auto _ : state) {
        benchmark::DoNotOptimize(decay_hot_spots(town.decayed, stratum, rows).size());
    }
    state.SetItemsProcessed(state.iterations() * 100'000);
}
BENCHMARK(hot_spots)->ArgName("strata")->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace linewood
