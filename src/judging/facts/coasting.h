#pragma once
/// A train that runs without power, by its momentum: how fast it is after so many metres, and
/// whether it comes to a stand.
///
///     v dv/ds = −(R(v) + m g i(s)) / (m ρ)
///
/// with the running resistance R(v) = A + B v + C v², the mass m, the rotating mass factor ρ, and
/// the mean gradient i(s) under the train when its front is at s. The mass is taken as spread
/// evenly over the length, so that i(s) follows from the heights at both ends. Curves, wind and
/// brakes are not in it. Source of the equation: any textbook of mechanics.
///
/// It is solved for v², dv²/ds = −2 (R + m g i)/(m ρ), which stays smooth where the train comes to
/// a stand: by the classical Runge-Kutta method with steps of up to ten metres, cut where an end of
/// the train passes a change of gradient. Time follows from the mean speed of each step.
///
///     if (const auto speed = least_entry_ms(train, gradients, off_km, on_km, 0)) {
///       // from *speed on it gets through
///     }

#include <optional>
#include <span>
#include <vector>

#include "line/route.h"
#include "stock/train.h"

namespace panup {

/// What coasts.
struct CoastingTrain {
  double mass_kg = 0;
  double rotating_mass_factor = 1;  ///< 1 or more
  RunningResistance resistance;
  double length_m = 0;
};

/// Masses and resistances added up; nothing where a vehicle or a load does not state its own.
std::optional<CoastingTrain> coasting_train(const Train& train, double rotating_mass_factor);

/// Mean of the gradients between two chainages, in permille, exact; nothing where part of the
/// stretch is covered by none. `gradients` are in order. `from_km` is below `to_km`.
std::optional<double> mean_gradient_permille(std::span<const Gradient> gradients, double from_km,
                                             double to_km);

/// The train at one moment. Place: its front.
struct CoastingMoment {
  double at_km = 0;
  double time_s = 0;
  double speed_ms = 0;
};

/// The run, as far as it goes.
struct CoastingRun {
  std::vector<CoastingMoment> moments;  ///< by rising chainage; the first is where power ends
  bool stands = false;                  ///< it came to a stand at the last moment

  double lowest_ms() const;
  /// Between moments by constant acceleration. Outside the run: nothing.
  std::optional<CoastingMoment> at(double km) const;
};

/// From `from_km` on at `speed_ms` to `to_km`, or to a stand. A train that is at a stand and would
/// roll forward does so. Nothing where the gradient under the train is not known all the way.
std::optional<CoastingRun> coast(const CoastingTrain& train, std::span<const Gradient> gradients,
                                 double from_km, double to_km, double speed_ms);

/// The least speed at `from_km` from which the train reaches `to_km` and is never slower than
/// `lowest_ms`: the same equation, solved backwards. Nothing where the gradient is not known.
std::optional<double> least_entry_ms(const CoastingTrain& train,
                                     std::span<const Gradient> gradients, double from_km,
                                     double to_km, double lowest_ms);

}  // namespace panup
