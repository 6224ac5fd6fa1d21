/// What a permitted speed costs, and what an envelope does: 25 distances and 40 speeds, two
/// pantographs on a regular line; computed, and found in a store.

#include <benchmark/benchmark.h>

#include <cstdlib>
#include <filesystem>

#include "files/read_contact_line.h"
#include "files/read_pantograph_model.h"
#include "files/read_rule_book.h"
#include "quality/envelope.h"
#include "quality/scan_rounds.h"
#include "runs/run_keeper.h"

namespace panup {
namespace {

template <typename Data, typename Read>
Data read(const char* path, const Read& read_file) {
  Diagnostics diagnostics;
  auto data = read_file(std::string(PANUP_DATA_FOLDER "/") + path, diagnostics, files_on_disk());
  if (!data) {
    std::abort();
  }
  return std::move(*data);
}

struct Case {
  ContactLine line = read<ContactLine>("lines/reference-en50318-2002.toml", read_contact_line_file);
  RuleBook rules = built_in_rule_book();
  EnvelopeRequest request;

  Case() {
    request.line = &line;
    request.pantograph =
        read<PantographModel>("demo/pantographs/ur-1950.toml", read_pantograph_model_file);
    request.supply = EnergySupply::ac_25kv;
    request.static_force_n = static_force_of(request.pantograph, request.supply).value();
    request.knuckles = {Knuckle::leading};
    for (int i = 0; i < 25; ++i) {
      request.spacings_m.push_back(8.0 * (i + 1));
    }
    for (int i = 0; i < 40; ++i) {
      request.speeds_kmh.push_back(80 + 5.0 * i);
    }
    request.rules = &rules;
  }
};

void Computed(benchmark::State& state) {
  const Case envelope;
  std::size_t runs = 0;
  for (auto _ : state) {
    const RunSource counted = [&runs, source = computed_runs(0)](const auto& requests) {
      runs += requests.size();
      return source(requests);
    };
    benchmark::DoNotOptimize(compute_envelope(envelope.request, counted));
  }
  state.counters["runs"] = static_cast<double>(runs);
}
BENCHMARK(Computed)->Unit(benchmark::kSecond)->Iterations(1)->UseRealTime();

/// The scan for one permitted speed on one thread, beside the plain sweep that it stands for: every
/// whole km/h up to the first that fails, each in the step of the rule book. `times_real` is the
/// simulated time of that sweep over the time that either takes.
void scan(benchmark::State& state) {
  const bool plain = state.range(0) == 1;
  const Case envelope;
  SpeedQuestion question;
  question.line = &envelope.line;
  question.supply = envelope.request.supply;
  question.to_kmh = 300;
  for (const double behind_m : {0.0, 40.0}) {
    question.pantographs.push_back({.model = envelope.request.pantograph,
                                    .static_force_n = envelope.request.static_force_n,
                                    .behind_first_m = behind_m});
  }
  const RunSource runs = computed_runs(1);
  const PermittedSpeed permitted = permitted_speeds({question}, envelope.rules, runs)->front();
  const double last_kmh = permitted.fails_at_kmh.value_or(permitted.looked_to_kmh);
  EvaluatedLines lines(5);
  CoarseRunsByLine not_asked;
  std::vector<AskedSpeed> asked;
  double simulated_s = 0;
  for (double speed = permitted.looked_from_kmh; speed <= last_kmh; ++speed) {
    asked.push_back({&question, speed, true});
  }
  SimulationRequest request{.line = lines.line_for(envelope.line, 40),
                            .pantographs = question.pantographs,
                            .speed_kmh = 100,
                            .settings = {}};
  const SimulationOutcome one = simulate(request);
  for (const AskedSpeed& each : asked) {
    simulated_s += one.result->simulated_s * request.speed_kmh / each.speed_kmh;
  }
  for (auto _ : state) {
    if (plain) {
      benchmark::DoNotOptimize(judge_speeds({envelope.rules, lines, runs, not_asked}, asked));
    } else {
      benchmark::DoNotOptimize(permitted_speeds({question}, envelope.rules, runs));
    }
  }
  state.counters["permitted_kmh"] = permitted.speed_kmh;
  state.counters["times_real"] =
      benchmark::Counter(simulated_s, benchmark::Counter::kIsIterationInvariantRate);
}
BENCHMARK(scan)->ArgName("plain")->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond)->UseRealTime();

void FromTheStore(benchmark::State& state) {
  const Case envelope;
  const std::string path =
      (std::filesystem::temp_directory_path() / "panup-envelope-bench.sqlite").string();
  std::filesystem::remove(path);
  auto opened = RunStore::open(path);
  RunKeeper keeper(std::get<RunStore>(std::move(opened)), [](const std::string&) {});
  const RunSource source = kept_runs(keeper, computed_runs(0), 16, [](std::size_t) {});
  compute_envelope(envelope.request, source);
  for (auto _ : state) {
    benchmark::DoNotOptimize(compute_envelope(envelope.request, source));
  }
  std::filesystem::remove(path);
}
BENCHMARK(FromTheStore)->Unit(benchmark::kSecond)->Iterations(5)->UseRealTime();

}  // namespace
}  // namespace panup

BENCHMARK_MAIN();
