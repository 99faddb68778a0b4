#include <cmath>
#include <cstdio>
#include <cstring>
#include <vector>

#include <benchmark/benchmark.h>

#include "geo/network/network_builder.hpp"

namespace linewood {
namespace {

const Ground kEarth = Ground::geodesic(6378137.0, 1.0 / 298.257223563);

/// A town of winding lines: poles about 40 m apart in rows of a thousand, rows 60 m apart.
std::vector<Point> town(std::size_t count) {
    const Point corner{-93.0, 44.0};
    const Ground::Scale scale = kEarth.scale_at(corner);
    std::vector<Point> poles;
    poles.reserve(count);
    for (std::size_t i = 0; i < count; ++i) {
        const std::size_t rows = i / 1000;
        const auto along = static_cast<double>(i % 1000);
        const auto row = static_cast<double>(rows);
        poles.push_back({corner.x + (along * 40.0 + std::sin(along + row)) / scale.x_m,
                         corner.y + (row * 60.0 + 5.0 * std::cos(along)) / scale.y_m});
    }
    return poles;
}

double resident_mb(const char* field) {
    double kb = 0.0;
    if (std::FILE* status = std::fopen("/proc/self/status", "r")) {
        char line[256];
        while (std::fgets(line, sizeof line, status) != nullptr) {
            if (std::strncmp(line, field, std::strlen(field)) == 0) {
                kb = std::strtod(line + std::strlen(field) + 1, nullptr);
            }
        }
        std::fclose(status);
    }
    return kb / 1024.0;
}

Network solve(const std::vector<Point>& poles, bool named, bool circuits) {
    NetworkBuilder builder{kEarth, poles};
    for (std::size_t i = 0; i + 1 < poles.size(); ++i) {
        const Point path[] = {poles[i], poles[i + 1]};
        const std::span<const Point> part{path};
        SpanFeature feature;
        feature.parts = {&part, 1};
        if (i % 1000 == 999) {
            continue;
        }
        if (named) {
            feature.from.index = static_cast<std::uint32_t>(i + 1);
            feature.to.index = static_cast<std::uint32_t>(i);
        }
        if (circuits) {
            feature.circuit = static_cast<std::uint32_t>(i / 1000);
            feature.voltage_kv = 12.47F;
        }
        feature.row = static_cast<std::uint32_t>(i);
        builder.add(feature);
    }
    return builder.finish();
}

/// Two-point spans, snapped by geometry (0), named and drawn backwards (1), with circuits (2).
void network_of_spans(benchmark::State& state) {
    const std::vector<Point> poles = town(static_cast<std::size_t>(state.range(0)));
    const double before = resident_mb("VmRSS:");
    double kept = 0.0;
    for (auto _ : state) {
        const Network network = solve(poles, state.range(1) == 1, state.range(1) == 2);
        kept = resident_mb("VmRSS:") - before;
        benchmark::DoNotOptimize(network.direction(1).axis.value().degrees());
    }
    state.SetItemsProcessed(state.iterations() * state.range(0));
    state.counters["kept_mb"] = kept;
    state.counters["peak_mb"] = resident_mb("VmHWM:") - before;
}
BENCHMARK(network_of_spans)
    ->Args({1'000'000, 0})
    ->Args({1'000'000, 1})
    ->Args({1'000'000, 2})
    ->Iterations(1)
    ->Unit(benchmark::kMillisecond);

/// One route through a thousand poles, each with two plain vertices between.
void network_of_routes(benchmark::State& state) {
    const std::vector<Point> poles = town(100'000);
    for (auto _ : state) {
        NetworkBuilder builder{kEarth, poles};
        std::vector<Point> path;
        for (std::size_t i = 0; i < poles.size(); ++i) {
            path.push_back(poles[i]);
            if (i % 1000 == 999) {
                const std::span<const Point> part{path};
                SpanFeature feature;
                feature.parts = {&part, 1};
                builder.add(feature);
                path.clear();
                continue;
            }
            for (const double t : {0.3, 0.7}) {
                path.push_back(point_between(poles[i], poles[i + 1], t, kEarth));
            }
        }
        benchmark::DoNotOptimize(builder.finish().spans().size());
    }
    state.SetItemsProcessed(state.iterations() * 100'000);
}
BENCHMARK(network_of_routes)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace linewood
