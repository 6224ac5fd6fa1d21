#pragma once

#include <cstddef>
#include <cstdint>
#include <deque>
#include <optional>
#include <span>
#include <vector>

#include "base/energy_supply.h"
#include "quality/evaluated_line.h"
#include "quality/permitted_speed.h"
#include "quality/speed_scan.h"
#include "quality/support_cases.h"
#include "quality/tolerances.h"

namespace panup {

/// So many pantographs of one type on one line, evenly spaced: permitted speeds are asked for over
/// the distance between them.
struct EvenlySpaced {
  const ContactLine* line = nullptr;
  PantographModel pantograph;
  double static_force_n = 0;
  std::optional<EnergySupply> supply;  ///< nothing: what hangs on the system is not judged
  int count = 2;                       ///< of raised pantographs, 1 to 8
  std::vector<Knuckle> knuckles;       ///< directions of running; the worst one counts
  std::vector<double> spacings_m;      ///< rising, between adjacent ones
  SimulationSettings settings;
};

/// One at a distance, in a direction of running; its line is that of the file.
SpeedQuestion question_of(const EvenlySpaced& spaced, double spacing_m, Knuckle knuckle);

/// The questions for each distance, each direction of running and each case of the line's supports.
/// Those of one distance stand together, and of them those of one direction.
struct SpacedQuestions {
  std::vector<SpeedQuestion> all;
  std::size_t cases = 1;        ///< of supports
  std::size_t of_distance = 1;  ///< directions times cases

  std::size_t direction(std::size_t question) const { return question % of_distance / cases; }
};

SpacedQuestions questions_of(const EvenlySpaced& spaced, SupportCases& supports);

/// The permitted speed at one distance, and the direction of running that decides it.
struct WorstDirection {
  PermittedSpeed permitted;
  std::size_t direction = 0;
};

/// Of the scans of one distance: the worst direction of running in each case of supports, and the
/// worst case.
WorstDirection worst_of(std::span<const SpeedScan> of_distance, const SpacedQuestions& questions);

/// Lines and pantographs that were drawn, for questions that live no longer than this object.
class DrawnSamples {
 public:
  /// What becomes of a question in sample `number` of the series `seed`, drawn from the line as it
  /// would be run.
  SpeedQuestion question(const SpeedQuestion& of_data, EvaluatedLines& lines,
                         const Tolerances& tolerances, std::uint64_t seed, std::uint64_t number);

 private:
  std::deque<Sample> samples_;  // questions point into it
};

}  // namespace panup
