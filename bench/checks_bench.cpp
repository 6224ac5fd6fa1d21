/// What the checks beside practice and mechanics (separation sections, coasting, stands, current,
/// wire and head, wear) add to a plan: every demo train on every demo route it can be planned on,
/// with them and without, side by side in one run. `share` is what they add to the time without
/// them from files to plan, `share_of_planning` the same with the reading left out.
///
///   build/bench/checks_bench

#include <benchmark/benchmark.h>

#include <algorithm>
#include <array>
#include <ctime>
#include <filesystem>

#include "files/read_conditions.h"
#include "files/read_route.h"
#include "files/read_rule_book.h"
#include "files/read_train.h"
#include "plan/make_plan.h"

namespace {

using namespace panup;
namespace fs = std::filesystem;

std::vector<fs::path> files_in(const char* folder) {
  std::vector<fs::path> paths;
  for (const auto& entry : fs::directory_iterator(fs::path(PANUP_DATA_FOLDER) / "demo" / folder)) {
    paths.push_back(entry.path());
  }
  std::ranges::sort(paths);
  return paths;
}

constexpr std::array checks{
    RuleKind::zones_joined,     RuleKind::separation_length,  RuleKind::separation_unknown,
    RuleKind::current_demand,   RuleKind::standstill_current, RuleKind::strip_wear,
    RuleKind::lateral_position, RuleKind::coasting,           RuleKind::standing_place};

/// With the rules of these kinds off, but for the kind at `kept` in the list.
RuleBook without_checks(RuleBook rules, std::size_t kept = checks.size()) {
  for (Rule& rule : rules.rules) {
    const auto* const check = std::ranges::find(checks, rule.kind);
    const bool is_kept = static_cast<std::size_t>(check - checks.begin()) == kept;
    rule.on = rule.on && (check == checks.end() || is_kept);
  }
  return rules;
}

struct Pair {
  std::string route_path;
  std::string train_path;
  PlanRequest with;
  PlanRequest without;
};

/// The files of a pair, as the command reads them.
std::optional<PlanRequest> read(const std::string& route_path, const std::string& train_path) {
  Diagnostics said;
  auto rules = add_rule_book(
      built_in_rule_book(), *load_text(PANUP_DATA_FOLDER "/demo/rules/nordvale-freight.toml", said),
      std::nullopt, said);
  auto route = read_route(*load_text(route_path, said), said);
  auto day = read_conditions(*load_text(PANUP_DATA_FOLDER "/demo/conditions/windy-day.toml", said),
                             &*route, said);
  auto train = read_train_file(train_path, said);
  if (!said.empty()) {
    return std::nullopt;
  }
  PlanRequest request;
  request.train = std::move(train->train);
  request.route = std::move(*route);
  request.conditions = std::move(*day);
  request.rules = std::move(*rules);
  request.jobs = 1;
  return request;
}

/// `kept`: the one check that is asked; all of them where it is none of the list.
std::vector<Pair> demo(std::size_t kept) {
  std::vector<Pair> pairs;
  for (const fs::path& route_path : files_in("routes")) {
    for (const fs::path& train_path : files_in("trains")) {
      const auto request = read(route_path.string(), train_path.string());
      if (!request) {
        continue;
      }
      Pair pair{route_path.string(), train_path.string(), *request, *request};
      if (kept < checks.size()) {
        pair.with.rules = without_checks(pair.with.rules, kept);
      }
      pair.without.rules = without_checks(pair.without.rules);
      if (cross_check(pair.with).empty() && cross_check(pair.without).empty()) {
        pairs.push_back(std::move(pair));
      }
    }
  }
  return pairs;
}

/// Of the processor: other work on the machine is not in it.
template <typename Work>
double seconds_for(const Work& work) {
  const std::clock_t begin = std::clock();
  benchmark::DoNotOptimize(work());
  return static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC;
}

void plans_of_the_demo(benchmark::State& state, std::size_t kept) {
  const std::vector<Pair> pairs = demo(kept);
  double with = 0;
  double without = 0;
  double reading = 0;
  for (auto _ : state) {
    for (const Pair& pair : pairs) {
      reading += seconds_for([&] { return read(pair.route_path, pair.train_path); });
      without += seconds_for([&] { return make_plan(pair.without); });
      with += seconds_for([&] { return make_plan(pair.with); });
    }
  }
  const auto plans = static_cast<double>(pairs.size()) * static_cast<double>(state.iterations());
  state.counters["plans"] = static_cast<double>(pairs.size());
  state.counters["with_ms"] = 1000 * with / plans;
  state.counters["without_ms"] = 1000 * without / plans;
  state.counters["reading_ms"] = 1000 * reading / plans;
  state.counters["share"] = (with - without) / (reading + without);
  state.counters["share_of_planning"] = with / without - 1;
}

void all_checks(benchmark::State& state) { plans_of_the_demo(state, checks.size()); }
void one_check(benchmark::State& state) {
  const auto kept = static_cast<std::size_t>(state.range(0));
  state.SetLabel(std::string(spec_of(checks.at(kept)).name));
  plans_of_the_demo(state, kept);
}

}  // namespace

BENCHMARK(all_checks)->Unit(benchmark::kMillisecond)->Iterations(5);
BENCHMARK(one_check)
    ->DenseRange(0, checks.size() - 1)
    ->Unit(benchmark::kMillisecond)
    ->Iterations(3);
BENCHMARK_MAIN();
