#include "quality/run_figures.h"

#include <ctime>
#include <utility>

namespace panup {

RunFigures figures_of(const SimulationOutcome& outcome) {
  RunFigures figures;
  figures.refusals = outcome.refusals;
  if (!outcome.result) {
    return figures;
  }
  const SimulationResult& result = *outcome.result;
  for (const PantographRun& run : result.pantographs) {
    figures.pantographs.push_back({.mean_n = run.mean_n,
                                   .std_n = run.std_n,
                                   .max_n = run.max_n,
                                   .min_n = run.min_n,
                                   .contact_loss_percent = run.contact_loss_percent,
                                   .longest_contact_loss_ms = run.longest_contact_loss_ms,
                                   .least_unfiltered_n = run.least_unfiltered_n});
  }
  figures.wave_speed_kmh = result.wave_speed_kmh;
  figures.max_support_uplift_mm = result.max_support_uplift_mm;
  figures.warnings = result.warnings;
  figures.max_span_uplift_mm = result.max_span_uplift_mm;
  return figures;
}

double core_seconds() {
  timespec time{};
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &time);
  return static_cast<double>(time.tv_sec) + 1e-9 * static_cast<double>(time.tv_nsec);
}

RunSource metered(RunSource source, RunsSpent& spent) {
  return [source = std::move(source), &spent](const std::vector<SimulationRequest>& requests) {
    const double began_s = core_seconds();
    auto figures = source(requests);
    spent.core_s += core_seconds() - began_s;
    spent.runs += figures ? requests.size() : 0;
    return figures;
  };
}

RunSource computed_runs(int jobs) {
  return [jobs](const std::vector<SimulationRequest>& requests) {
    std::vector<RunFigures> figures;
    figures.reserve(requests.size());
    for (const SimulationOutcome& outcome : simulate_all(requests, jobs)) {
      figures.push_back(figures_of(outcome));
    }
    return std::optional(std::move(figures));
  };
}

}  // namespace panup
