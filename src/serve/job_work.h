#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "day/kept_answers.h"
#include "requests/asked_run.h"
#include "serve/jobs.h"
#include "serve/plan_requests.h"

namespace panup {

/// Where work finds its files and keeps what came of it.
struct WorkPlace {
  PlanningPlace planning;
  std::shared_ptr<KeptAnswers> answers;  ///< of the trains of days; null: none are kept
};

/// One run of the mechanics.
struct AskedSimulation {
  std::string line;
  std::vector<std::string> models;
  AskedRun run;
  std::vector<SourceText> texts;
  bool wire_shapes = false;
};

struct AskedEnvelope {
  std::string line;
  std::string pantograph;
  std::vector<SourceText> texts;
  int count = 2;
  std::vector<double> spacings_m;
  std::vector<double> speeds_kmh;
  std::optional<EnergySupply> supply;
  std::string knuckle;  ///< "leading", "trailing", "both"
  Words words = {};     ///< in which it is said
};

/// Permitted speed over the distance of one raised pantograph to the one before it.
struct AskedSpeedCurve {
  AskedSimulation stands;    ///< as the pantographs stand; its speed is the greatest of interest
  std::size_t drawn_at = 1;  ///< the one that is drawn, counted from 0
  std::vector<double> distances_m;  ///< also of interest, the nearest first
};

/// Each reads its input at once, and gives the work that is left; nothing, and diagnostics, where
/// the input has mistakes.
std::optional<JobWork> simulation_work(const AskedSimulation& asked, const WorkPlace& place,
                                       Diagnostics& diagnostics);
std::optional<JobWork> envelope_work(const AskedEnvelope& asked, const WorkPlace& place,
                                     Diagnostics& diagnostics);
std::optional<JobWork> speed_curve_work(const AskedSpeedCurve& asked, const WorkPlace& place,
                                        Diagnostics& diagnostics);
std::optional<JobWork> plan_work(const AskedPlan& asked, const WorkPlace& place,
                                 Diagnostics& diagnostics);

}  // namespace panup
