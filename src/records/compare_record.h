#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/words.h"
#include "dynamics/simulate.h"
#include "records/evaluate_record.h"

namespace panup {

/// A simulation counts as valid where its standard deviation differs from the measured one by no
/// more than this share of it. Source: EN 50318 (from memory).
inline constexpr double valid_deviation = 0.2;

/// A measured pantograph beside the simulated one.
struct ComparedPantograph {
  std::size_t measured = 0;   ///< index into the run's pantographs
  std::size_t simulated = 0;  ///< index into the result's pantographs
  double std_difference = 0;  ///< (simulated − measured) / measured
  bool valid = false;
};

/// A run beside its simulation.
struct ComparedRun {
  std::size_t run = 0;  ///< index into the runs that were evaluated
  std::string nothing;  ///< why there is no comparison, in words; else empty
  ContactLine line;     ///< as the train met it: mirrored where it ran towards falling chainage
  std::vector<RunningPantograph> pantographs;
  std::optional<SimulationResult> result;  ///< at the mean speed measured
  std::vector<ComparedPantograph> compared;
};

/// The line as a train meets it that comes from its other end.
ContactLine mirrored(const ContactLine& line);

/// Where a simulation of these pantographs on the line says something, by the record's chainage;
/// nothing where the record does not say where the line lies, or the line is too short.
std::optional<ComparedStretches> compared_stretches(
    const MeasuredRecord& record, const ContactLine& line,
    const std::vector<RunningPantograph>& pantographs);

/// Simulates the run at its mean speed, over the stretch that was compared, and evaluates it with
/// the cut-off that the record has.
ComparedRun compare_run(const MeasuredRecord& record, const ContactLine& line,
                        const std::vector<RunningPantograph>& pantographs,
                        const std::vector<MeasuredRun>& runs, std::size_t run,
                        const Words& words = {});

/// Chainage of a place on the line of a comparison that lies at a place of the record.
double chainage_on(const MeasuredRecord& record, const ContactLine& line, bool falling,
                   double at_m);

}  // namespace panup
