#include <cstdio>
#include <string>
#include <string_view>
#include <vector>

#include <benchmark/benchmark.h>

#include "geo/corridor/bad_stretches.hpp"
#include "geo/corridor/budget.hpp"
#include "geo/corridor/corridor_condition.hpp"
#include "geo/corridor/projects.hpp"
#include "geo/corridor/runs.hpp"

namespace linewood {
namespace {

/// A country of poles about 40 m apart: feeders with taps, and with `rings` every hundredth tap closed
/// to the feeder beside it. Every eighth pole or so is a job.
struct Country {
    std::vector<std::string> names;
    std::vector<std::string_view> ids;
    std::vector<CorridorSpan> spans;
    std::vector<PoleCondition> conditions;
    std::vector<Job> jobs;
    std::vector<std::uint32_t> treat;

    Country(std::uint32_t poles, bool rings) {
        std::uint64_t state = 88172645463325252U;
        const auto random = [&] {
            state ^= state << 13U;
            state ^= state >> 7U;
            state ^= state << 17U;
            return state;
        };
        names.reserve(poles);
        conditions.resize(poles);
        std::uint32_t feeder = 0;
        for (std::uint32_t i = 0; i < poles; ++i) {
            names.push_back("P-" + std::to_string((std::uint64_t{i} * 7919U) % 10000019U));
            const auto place = i % 1000U;
            feeder = place == 0 ? i : feeder;
            if (place != 0) {
                // 500 poles of feeder, then taps of 10.
                const bool tap = place >= 500 && place % 10U == 0;
                add_span(tap ? feeder + place / 2U : i - 1U,
                         i,
                         35.0 + static_cast<double>(random() % 10U));
                if (rings && tap && place % 100U == 0 && i > 1000U) {
                    add_span(i - 1000U, i, 60.0);
                }
            }
            set_condition(i, random() % 16U);
        }
        ids.assign(names.begin(), names.end());
    }

private:
    void add_span(std::uint32_t from, std::uint32_t to, double length_m) {
        spans.push_back({from, to, length_m, kNone, static_cast<std::uint32_t>(spans.size())});
    }
    void set_condition(std::uint32_t pole, std::uint64_t dice) {
        PoleCondition& c = conditions[pole];
        c.verdict = dice < 2    ? Verdict::replace
                    : dice == 2 ? Verdict::stub
                    : dice < 5  ? Verdict::treat
                                : Verdict::serviceable;
        c.inspected = true;
        c.remaining_pct = 40.0 + static_cast<double>(dice);
        if (is_reject(c.verdict)) {
            jobs.push_back({pole, Money::units(4000.0), 0.75, 1.0, c.verdict, dice == 0});
        } else if (c.verdict == Verdict::treat) {
            treat.push_back(pole);
        }
    }
};

double peak_mb() {
    double kb = 0.0;
    if (std::FILE* status = std::fopen("/proc/self/status", "r")) {
        char line[256];
        while (std::fgets(line, sizeof line, status) != nullptr) {
            const std::string_view text{line};
            if (text.substr(0, 6) == "VmHWM:") {
                kb = std::strtod(line + 6, nullptr);
            }
        }
        std::fclose(status);
    }
    return kb / 1024.0;
}

ProjectCosts prices() {
    ProjectCosts costs;
    costs.mobilisation = 2500.0;
    costs.per_km = 1500.0;
    costs.limits.poles = 25;
    costs.limits.crew_days = 15.0;
    costs.limits.km = 12.0;
    return costs;
}

void corridors(benchmark::State& state) {
    const Country country{static_cast<std::uint32_t>(state.range(0)), state.range(1) != 0};
    const double before = peak_mb();
    double gap = 0.0;
    std::size_t projects = 0;
    for (auto _ : state) {
        const LineGraph graph{country.ids, country.spans};
        const Runs runs{graph};
        std::vector<std::uint32_t> corridor_of;
        std::vector<double> km;
        for (std::uint32_t pole = 0; pole < country.ids.size(); ++pole) {
            corridor_of.push_back(runs.place(pole).run);
        }
        for (const Runs::Run& run : runs.runs()) {
            km.push_back(run.length_m / 1000.0);
        }
        benchmark::DoNotOptimize(corridor_conditions(corridor_of, country.conditions, km));
        const ProjectPlan plan = plan_projects(graph, runs, country.jobs, country.treat, prices());
        gap = 1.0 - plan.grouping_bound.units() / plan.grouping_cost.units();
        projects = plan.projects().size();
    }
    state.counters["mb"] = peak_mb() - before;
    state.counters["gap_pct"] = 100.0 * gap;
    state.counters["projects"] = static_cast<double>(projects);
}
BENCHMARK(corridors)
    ->ArgNames({"poles", "rings"})
    ->Args({100000, 0})
    ->Args({1000000, 0})
    ->Args({1000000, 1})
    ->Unit(benchmark::kMillisecond);

void stretches(benchmark::State& state) {
    const Country country{static_cast<std::uint32_t>(state.range(0)), false};
    const LineGraph graph{country.ids, country.spans};
    const Runs runs{graph};
    StretchSearch search;
    search.relabellings = static_cast<std::uint32_t>(state.range(1));
    for (auto _ : state) {
        benchmark::DoNotOptimize(bad_stretches(runs, country.conditions, search));
    }
}
BENCHMARK(stretches)
    ->ArgNames({"poles", "relabellings"})
    ->Args({1000000, 0})
    ->Args({1000000, 999})
    ->Unit(benchmark::kMillisecond);

void budget(benchmark::State& state) {
    const auto count = static_cast<std::size_t>(state.range(0));
    std::vector<std::string> names;
    std::vector<Purchase> market;
    std::uint64_t dice = 1;
    for (std::size_t i = 0; i < count; ++i) {
        names.push_back("P" + std::to_string(i));
    }
    Money all;
    for (std::size_t i = 0; i < count; ++i) {
        dice = dice * 6364136223846793005U + 1442695040888963407U;
        const Money cost = Money::units(5000.0 + static_cast<double>(dice >> 44U) / 10.0);
        market.push_back(
            {cost, static_cast<double>(dice >> 50U & 0xFFFU), i % 50 == 0, true, names[i]});
        all += cost;
    }
    const std::vector<Money> budgets(3, Money::thousandths(all.thousandths() / 10));
    double gap = 0.0;
    for (auto _ : state) {
        const BudgetPlan plan = plan_budget(market, budgets);
        for (const BudgetYear& year : plan.years) {
            gap = std::max(gap, year.gap());
        }
    }
    state.counters["gap_pct"] = 100.0 * gap;
}
BENCHMARK(budget)->ArgName("projects")->Arg(1000)->Arg(100000)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace linewood
