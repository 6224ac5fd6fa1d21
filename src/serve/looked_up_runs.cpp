#include "serve/looked_up_runs.h"

#include <algorithm>
#include <thread>
#include <utility>

#include "plan/mechanics_answers.h"

namespace panup {

namespace {

/// One that cannot be opened any more is gone without: the answer does not hang on it.
std::optional<RunStore> opened(const std::optional<std::string>& path) {
  if (!path) {
    return std::nullopt;
  }
  auto opened = RunStore::open(*path);
  auto* const store = std::get_if<RunStore>(&opened);
  return store != nullptr ? std::optional(std::move(*store)) : std::nullopt;
}

}  // namespace

LookedUpRuns::LookedUpRuns(const PlanningPlace& place, RunsWatch watch)
    : store_(place.store), jobs_(place.jobs), watch_(std::move(watch)) {}

RunSource LookedUpRuns::source() {
  if (!keeper_) {
    keeper_.emplace(opened(store_), [](const std::string&) {});
  }
  RunSource computed = [compute = computed_runs(jobs_),
                        &watch = watch_](const std::vector<SimulationRequest>& requests)
      -> std::optional<std::vector<RunFigures>> {
    if (watch.stopped && watch.stopped()) {
      return std::nullopt;
    }
    auto figures = compute(requests);
    if (figures && watch.did) {
      watch.did(requests.size());
    }
    return figures;
  };
  const unsigned threads =
      jobs_ > 0 ? static_cast<unsigned>(jobs_) : std::max(1U, std::thread::hardware_concurrency());
  return kept_runs(*keeper_, std::move(computed), threads, [&watch = watch_](std::size_t runs) {
    if (watch.expect) {
      watch.expect(runs);
    }
  });
}

void make_ready(RunInput& input, LookedUpRuns& runs, const Stopped& stopped) {
  for (PlanInput& part : input.parts) {
    part.request.stopped = stopped;
    if (part.request.speed_from != SpeedFrom::tables) {
      part.request.mechanics =
          mechanics_answers(part.mechanics.data, part.request.rules, runs.source());
    }
  }
}

}  // namespace panup
