/// What a run of the mechanics costs, as a multiple of real time: on the reference model (see
/// docs/validation.md) drawn out to 24 spans, with and without damping and bending stiffness,
/// beside a plain implicit scheme on a general-purpose sparse solver; and a sweep of many speeds on
/// one and two threads.

#include <benchmark/benchmark.h>

#include <cmath>

#include "dynamics/evaluation.h"
#include "dynamics/prepared_line.h"
#include "dynamics/run_course.h"
#include "implicit_yardstick.h"

namespace panup::bench {
namespace {

ContactLine reference_line(int spans) {
  ContactLine line;
  line.contact_wire = {.tension_n = 20000, .mass_kg_per_m = 1.35};
  line.messenger_wire = {.tension_n = 16000, .mass_kg_per_m = 1.07};
  Span span;
  span.length_m = 60;
  for (const double at : {5.0, 10.5, 17.0, 23.5, 30.0, 36.5, 43.0, 49.5, 55.0}) {
    span.droppers.push_back({.at_m = at, .stiffness_n_per_m = 1e5});
  }
  Support support;
  support.encumbrance_m = 1.2;
  support.messenger_stiffness_n_per_m = 5e5;
  line.spans.assign(static_cast<std::size_t>(spans), span);
  line.supports.assign(static_cast<std::size_t>(spans) + 1, support);
  return line;
}

PantographModel reference_pantograph() {
  PantographModel model;
  model.masses = {{7.2, 4200, 10}, {15, 50, 90}};
  return model;
}

SimulationRequest request_for(const ContactLine& line, double speed_kmh) {
  SimulationRequest request;
  request.line = &line;
  request.pantographs = {{.model = reference_pantograph(), .static_force_n = 120}};
  request.speed_kmh = speed_kmh;
  return request;
}

void tell(benchmark::State& state, double simulated_s) {
  state.counters["times_real_time"] =
      benchmark::Counter(simulated_s, benchmark::Counter::kIsIterationInvariantRate);
}

/// As lines are: of wires that bend, damped in proportion to mass and stiffness.
ContactLine damped_line(int spans) {
  ContactLine line = reference_line(spans);
  line.contact_wire.bending_stiffness_nm2 = 190;
  line.messenger_wire.bending_stiffness_nm2 = 130;
  line.mass_damping_per_s = 0.0125;
  line.stiffness_damping_s = 1e-4;
  return line;
}

void one_run(benchmark::State& state, const ContactLine& line) {
  const SimulationRequest request = request_for(line, static_cast<double>(state.range(0)));
  const PreparedLine prepared = prepare_line(line, request.settings);
  SimulationResult result;
  for (auto _ : state) {
    result = *simulate_on(prepared, request).result;
  }
  tell(state, result.simulated_s);
  state.counters["sigma_n"] = result.pantographs[0].std_n;
}
BENCHMARK_CAPTURE(one_run, plain, reference_line(24))
    ->Arg(250)
    ->Arg(300)
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime();
BENCHMARK_CAPTURE(one_run, damped_and_bending, damped_line(24))
    ->Arg(250)
    ->Arg(300)
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime();

void yardstick(benchmark::State& state) {
  const ContactLine line = reference_line(24);
  const SimulationRequest request = request_for(line, static_cast<double>(state.range(0)));
  const PreparedLine prepared = prepare_line(line, request.settings);
  const LineGrid grid = std::get<LineGrid>(make_grid(line, prepared.state, default_step_s, 0));
  Yardstick run;
  for (auto _ : state) {
    run = run_yardstick(grid, prepared.state, request, default_step_s);
  }
  tell(state, run.simulated_s);
  // The same stretch as that of `one_run`, so that the two can be seen to agree.
  const RunCourse course = std::get<RunCourse>(plan_course(request));
  const double way = request.speed_kmh / 3.6 * default_step_s;
  const auto row = [&](double at_m) {
    return static_cast<std::size_t>(std::ceil((at_m - course.start_m) / way));
  };
  const std::vector<double> filtered =
      low_pass(run.forces_n, default_step_s, contact_force_cutoff_hz);
  const auto within = [&](const std::vector<double>& values) {
    return std::span(values).subspan(row(course.from_m), row(course.to_m) - row(course.from_m));
  };
  state.counters["sigma_n"] =
      evaluate(within(run.forces_n), within(filtered), default_step_s).std_n;
  state.counters["solves_per_step"] = run.solves_per_step;
}
BENCHMARK(yardstick)
    ->Arg(250)
    ->Arg(300)
    ->Unit(benchmark::kMillisecond)
    ->Iterations(1)
    ->UseRealTime();

void sweep(benchmark::State& state) {
  const ContactLine line = reference_line(static_cast<int>(state.range(1)));
  std::vector<SimulationRequest> requests;
  for (int speed_kmh = 160; speed_kmh < 320; speed_kmh += 4) {
    requests.push_back(request_for(line, speed_kmh));
  }
  double simulated_s = 0;
  for (auto _ : state) {
    simulated_s = 0;
    for (const SimulationOutcome& one : simulate_all(requests, static_cast<int>(state.range(0)))) {
      simulated_s += one.result->simulated_s;
    }
  }
  tell(state, simulated_s);
}
BENCHMARK(sweep)
    ->ArgNames({"threads", "spans"})
    ->ArgsProduct({{1, 2}, {12, 24}})
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime();

}  // namespace
}  // namespace panup::bench

BENCHMARK_MAIN();
