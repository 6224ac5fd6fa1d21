/// What a plan costs: a triple header of four-pantograph locomotives over routes of growing length,
/// failures included. Growth is reported as a ratio to the shortest route, measured in the same
/// run. And twelve of them over 200 sections, of which not all configurations can be judged.
///
///   build/bench/plan_bench

#include <benchmark/benchmark.h>
#include <fmt/format.h>

#include "scenario.h"

namespace {

using namespace panup;

/// Sections of 2 km that all look different to the rules, a stop every tenth, a system separation
/// section every fiftieth.
PlanRequest long_route(int sections, bool all_for_one_system, int locomotives = 3) {
  scenario::Scenario scenario;
  for (int i = 0; i < locomotives; ++i) {
    scenario.add(scenario::four_pantograph_locomotive(all_for_one_system));
  }
  scenario.load(LoadNature::dangerous);
  Route& route = scenario.request.route;
  const Section model = route.sections.front();
  route.sections.clear();
  bool direct_current = false;
  for (int i = 0; i < sections; ++i) {
    Section section = model;
    section.id = fmt::format("s{}", i);
    section.from_km = 2.0 * i;
    section.to_km = 2.0 * (i + 1);
    section.line_speed_kmh = 60 + i % 90;
    section.design_type = static_cast<DesignType>(i % 3);
    section.greatest_train_current_a = 500 + i;
    if (!all_for_one_system && i % 50 == 49) {
      direct_current = !direct_current;
      route.separations.push_back({.name = fmt::format("Separation {}", i),
                                   .kind = SeparationKind::system,
                                   .from_km = section.from_km - 0.1,
                                   .length_m = 200,
                                   .pantograph_lowered = true,
                                   .breaker_off = true,
                                   .length_meaning = {},
                                   .place = {}});
    }
    section.supply = direct_current ? EnergySupply::dc_3kv : EnergySupply::ac_15kv;
    if (i % 10 == 5) {
      route.stops.push_back({.name = fmt::format("Stop {}", i),
                             .at_km = section.from_km + 1,
                             .reversal = false,
                             .place = {}});
    }
    route.sections.push_back(section);
  }
  return scenario.request;
}

void plan_route(benchmark::State& state, bool all_for_one_system, int locomotives = 3) {
  const PlanRequest request =
      long_route(static_cast<int>(state.range(0)), all_for_one_system, locomotives);
  if (!cross_check(request).empty()) {
    state.SkipWithError("the benchmark's own input has mistakes");
    return;
  }
  for (auto _ : state) {
    benchmark::DoNotOptimize(make_plan(request));
  }
  state.SetComplexityN(state.range(0));
}

void two_pairs(benchmark::State& state) { plan_route(state, false); }
void all_four_for_one_system(benchmark::State& state) { plan_route(state, true); }
void twelve_locomotives(benchmark::State& state) { plan_route(state, true, 12); }

}  // namespace

BENCHMARK(twelve_locomotives)->Arg(200)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime();
BENCHMARK(two_pairs)
    ->RangeMultiplier(2)
    ->Range(250, 2000)
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime()
    ->Complexity(benchmark::oN);
BENCHMARK(all_four_for_one_system)
    ->RangeMultiplier(2)
    ->Range(250, 2000)
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime()
    ->Complexity(benchmark::oN);

BENCHMARK_MAIN();
