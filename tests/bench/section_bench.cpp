// Cost of one section as the assessment asks for it: construction, two directions and the weakest.

#include <benchmark/benchmark.h>

#include "assess/section/remaining_section.hpp"

namespace linewood {
namespace {

SectionShape one_pocket_shape() {
    SectionShape s;
    s.radius = Length::inches(6.0);
    s.pockets.push_back({Bearing::degrees(70.0), Length::inches(4.0), Length::inches(2.0), false});
    return s;
}

SectionShape hollow_with_pocket() {
    SectionShape s = one_pocket_shape();
    s.shell.push_back({Bearing::degrees(0.0), Length::inches(3.0)});
    return s;
}

SectionShape three_bores_and_a_pocket() {
    SectionShape s = one_pocket_shape();
    s.shell.push_back({Bearing::degrees(10.0), Length::inches(3.0)});
    s.shell.push_back({Bearing::degrees(130.0), Length::inches(2.0)});
    s.shell.push_back({Bearing::degrees(250.0), Length::inches(6.0)});
    return s;
}

SectionShape four_pockets_and_five_bores() {
    SectionShape s = three_bores_and_a_pocket();
    s.shell.push_back({Bearing::degrees(190.0), Length::inches(1.5)});
    s.shell.push_back({Bearing::degrees(310.0), Length::inches(2.5)});
    s.pockets.push_back({Bearing::degrees(80.0), Length::inches(3.0), Length::inches(3.0), false});
    s.pockets.push_back({Bearing::degrees(200.0), Length::inches(5.0), Length::inches(7.0), false});
    s.pockets.push_back({Bearing::degrees(290.0), Length::inches(2.0), Length::inches(1.0), false});
    return s;
}

void assess(benchmark::State& state, const SectionShape& shape) {
    const Bearing transverse = Bearing::degrees(33.0);
    const Bearing longitudinal = Bearing::degrees(123.0);
    for ([[maybe_unused]] auto _ : state) {
        const RemainingSection section{shape};
        benchmark::DoNotOptimize(section.modulus(transverse));
        benchmark::DoNotOptimize(section.modulus(longitudinal));
        benchmark::DoNotOptimize(section.weakest());
    }
}

void two_directions(benchmark::State& state, const SectionShape& shape) {
    const Bearing transverse = Bearing::degrees(33.0);
    const Bearing longitudinal = Bearing::degrees(123.0);
    for ([[maybe_unused]] auto _ : state) {
        const RemainingSection section{shape};
        benchmark::DoNotOptimize(section.modulus(transverse));
        benchmark::DoNotOptimize(section.modulus(longitudinal));
    }
}

BENCHMARK_CAPTURE(assess, solid, SectionShape{Length::inches(6.0), {}, {}, false});
BENCHMARK_CAPTURE(assess, one_pocket, one_pocket_shape());
BENCHMARK_CAPTURE(two_directions, one_pocket, one_pocket_shape());
BENCHMARK_CAPTURE(assess, hollow_with_pocket, hollow_with_pocket());
BENCHMARK_CAPTURE(assess, three_bores_and_a_pocket, three_bores_and_a_pocket());
BENCHMARK_CAPTURE(assess, four_pockets_and_five_bores, four_pockets_and_five_bores());

}  // namespace
}  // namespace linewood
