/// What an envelope costs: 25 distances and 40 speeds, two pantographs on a regular line; computed,
/// and found in a store.

#include <benchmark/benchmark.h>

#include <cstdlib>
#include <filesystem>

#include "files/read_contact_line.h"
#include "files/read_pantograph_model.h"
#include "files/read_rule_book.h"
#include "quality/envelope.h"
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
