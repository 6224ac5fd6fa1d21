#pragma once

#include <string>
#include <variant>
#include <vector>

#include "dynamics/simulate.h"

namespace panup {

/// Where a run begins, where it is evaluated and where it ends; by the chainage of the first
/// pantograph, and of each for the evaluated stretch.
struct RunCourse {
  double start_m = 0;  ///< of the first; the last starts in the middle of the first span
  double ramp_m = 0;   ///< over which the force on the frames rises
  double from_m = 0;
  double to_m = 0;
  double end_m = 0;
  std::vector<Warning> warnings;
};

/// The frames' force rises from nothing over this many spans, with slope and curvature steady at
/// both ends, so that the wire is not struck.
inline constexpr double ramp_spans = 2.5;
/// What is evaluated begins this many spans after it has risen.
inline constexpr double clear_spans = 1;
/// And ends this many spans before the line does, because its end throws waves back; as in the
/// reference model of EN 50318:2002 (from memory), where spans 5 and 6 of ten are evaluated.
inline constexpr double clear_end_spans = 4;
/// Where only what is near the pantographs moves, the end of the line throws little back, but the
/// first pantograph must not come where waves are taken out.
inline constexpr double near_clear_end_spans = 2;

/// Share of the force on the frames when a pantograph has run so far since the start.
double risen_share(double run_m, double ramp_m);

/// Fails, in words, where the line is too short for the train, or the stretch asked for is not
/// clear of the start or runs out of the line. One that is not clear of the end has a warning.
std::variant<RunCourse, Sentence> plan_course(const SimulationRequest& request);

}  // namespace panup
