#pragma once

#include <array>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/energy_supply.h"
#include "base/sentence.h"
#include "dynamics/contact_line.h"
#include "dynamics/pantograph_model.h"
#include "dynamics/statics.h"
#include "dynamics/wire_shapes.h"

namespace panup {

/// A pantograph on the road.
struct RunningPantograph {
  PantographModel model;
  double static_force_n = 0;
  Knuckle knuckle = Knuckle::leading;
  double behind_first_m = 0;  ///< its distance behind the first pantograph; 0 for the first
};

/// How finely a run is computed, and what of it is evaluated.
struct SimulationSettings {
  /// Nothing: chosen so that the figures that decide stand still (docs/mechanics.md).
  std::optional<double> step_s;
  std::optional<double> grid_m;  ///< of the contact wire; nothing: the finest that is stable
  std::optional<double> from_m;  ///< evaluated stretch; nothing: all that is clear of the
  std::optional<double> to_m;    ///<   start and of both ends
  LineWeather weather;           ///< only where `weather_given`
  bool weather_given = false;
  bool keep_trace = false;  ///< keep the history of the evaluated stretch
  /// Without it the result's energy stays all zero, and a run on a damped line is a third faster.
  bool balance_energy = true;
  /// A run that may be wrong in its step is held against one in a shorter step. Without it, it is
  /// not: for searches whose answer is run once more.
  bool guarded = true;
  /// Only the line near the pantographs moves: from 150 m behind the last one to 200 m before the
  /// first. Where it is cut off, waves are taken out of it. Several times cheaper on a long line.
  /// Standard deviations are a few per cent off, and on a line with hardly any damping, where waves
  /// come back from afar, up to a sixth: for what is looked at until better is known, or where
  /// others show how far off it is.
  bool near_only = false;
  std::optional<WireShapeSettings> wire_shapes;  ///< nothing: none are kept
  /// Asked now and then, from the thread that runs: where it says yes the run ends, and is refused.
  /// For single runs that somebody waits for; what is refused so says nothing of the line.
  std::function<bool()> stopped = {};
};

/// Within 1 % of the converged standard deviation on the reference model; see
/// docs/validation.md.
inline constexpr double default_step_s = 0.0015;
/// With bending stiffness the wire bends about a contact point within a few decimetres, and the
/// grid must be finer to see it.
inline constexpr double default_step_with_bending_s = 0.001;

struct SimulationRequest {
  const ContactLine* line = nullptr;
  std::vector<RunningPantograph> pantographs;  ///< 1 to 8, first in front
  double speed_kmh = 0;
  SimulationSettings settings;
};

/// Bars of equal width from `from_n` on; all values within.
struct Histogram {
  double from_n = 0;
  double bar_n = 0;
  std::vector<int> counts;
};

/// One pantograph over the evaluated stretch. Contact force is low-pass filtered at 20 Hz, contact
/// loss taken from the unfiltered force.
struct PantographRun {
  double position_m = 0;  ///< behind the first pantograph
  double mean_n = 0;
  double std_n = 0;
  double statistical_max_n = 0;  ///< mean + 3σ
  double statistical_min_n = 0;  ///< mean − 3σ
  double max_n = 0;
  double min_n = 0;
  double least_unfiltered_n = 0;
  double contact_loss_percent = 0;  ///< share of the time
  double longest_contact_loss_ms = 0;
  std::vector<double> contact_losses_ms;  ///< each one, in order
  double highest_head_m = 0;              ///< of the collector head, above its static height
  double lowest_head_m = 0;
  Histogram histogram;
};

struct SupportUplift {
  double at_m = 0;
  double uplift_mm = 0;
};

struct SpanUplift {
  double from_m = 0;
  double to_m = 0;
  double at_m = 0;  ///< where it is greatest
  double uplift_mm = 0;
};

struct DropperSlackening {
  double at_m = 0;
  double slack_ms = 0;  ///< altogether
  int times = 0;
  double greatest_force_n = 0;
};

/// Energy from the start of the run to its end. It is the energy that the central-difference scheme
/// conserves: velocities at half steps, stored energy of the wires as ½ u(n+1)ᵀ K u(n).
struct EnergyBalance {
  double work_of_frames_j = 0;    ///< by static and aerodynamic forces
  double work_of_traction_j = 0;  ///< by the train's motion: F·v·w′
  double stored_j = 0;            ///< change of what is stored
  double peak_stored_j = 0;       ///< greatest change of it during the run
  double dissipated_j = 0;        ///< in dampers and in the line
  double missing_j = 0;           ///< work − stored − dissipated

  double relative_error() const;  ///< missing over peak; 0 where nothing was stored
};

/// What is kept of a run for tables and plots, one row a step.
struct Trace {
  double step_s = 0;
  struct OfPantograph {
    std::vector<double> time_s;            ///< since the start of the run
    std::vector<double> at_m;              ///< chainage along the line
    std::vector<double> contact_force_n;   ///< unfiltered
    std::vector<double> filtered_force_n;  ///< 20 Hz
    std::vector<double> head_height_m;     ///< above the contact wire's static height at supports
    std::vector<double> wire_height_m;     ///< of the contact wire at the pantograph, likewise
  };
  std::vector<OfPantograph> pantographs;
};

/// What a reader, or a script, should doubt of a result.
enum class Doubt : std::uint8_t {
  near_wave_speed,    ///< "near-wave-speed"
  not_clear_of_end,   ///< "not-clear-of-end": waves come back from the line's end
  few_spans,          ///< "few-spans": less than two are evaluated
  energy,             ///< "energy": not balanced, though the figures stand still
  contact_lost,       ///< "contact-lost": more than the model is meant for
  mean_force,         ///< "mean-force": far from what presses up
  static_force,       ///< "static-force": outside the published range of the system
  height_not_stated,  ///< "height-not-stated": the line's, for a static force stated at one
  support_stiffness,  ///< "support-stiffness": the line does not state it
};

inline constexpr Doubt last_doubt = Doubt::support_stiffness;

/// As scripts read it.
std::string_view name_of(Doubt doubt);

struct Warning {
  Doubt doubt{};
  Sentence text;  ///< whole sentences

  bool operator==(const Warning&) const = default;
};

/// The published range of the static force on a system; nothing where none is known. AC 60 to 90 N
/// and DC 3 kV 90 to 120 N: Orden TMA/135/2023, annex II (secondary), and EN 50367 (from memory);
/// DC 1.5 kV 70 to 140 N: EN 50367 (from memory).
std::optional<Warning> static_force_warning(EnergySupply supply, double static_force_n);

/// The same run with other messenger supports, where the line does not state how stiff they are.
struct OtherSupports {
  double taken_n_per_m = 0;  ///< in the result itself
  double other_n_per_m = 0;
  std::vector<PantographRun> pantographs;  ///< with the other
  double max_support_uplift_mm = 0;        ///< likewise
};

struct SimulationResult {
  double speed_kmh = 0;
  double wave_speed_kmh = 0;  ///< of the contact wire
  double step_s = 0;
  double contact_grid_m = 0;
  double messenger_grid_m = 0;
  double from_m = 0;  ///< evaluated stretch, by the chainage of each pantograph
  double to_m = 0;
  std::vector<PantographRun> pantographs;
  double max_support_uplift_mm = 0;
  double max_span_uplift_mm = 0;
  std::vector<SupportUplift> support_uplifts;  ///< of supports within the evaluated stretch
  std::vector<SpanUplift> span_uplifts;        ///< of spans that lie within it wholly
  std::vector<DropperSlackening> droppers;     ///< of droppers within it, in order
  EnergyBalance energy;
  double simulated_s = 0;
  double wall_s = 0;
  std::vector<Warning> warnings;
  std::optional<OtherSupports> other_supports;  ///< of `simulate` alone
  std::optional<Trace> trace;
  std::optional<WireShapes> wire_shapes;
};

/// A result, or why there is none, in words.
struct SimulationOutcome {
  std::optional<SimulationResult> result;
  std::vector<Sentence> refusals;
};

/// Runs the pantographs along the line. Refuses what has no answer: a line too short for the
/// train, a speed at or above the wave speed, a step that is not stable, or one with which the
/// figures that decide do not stand still when it is shortened. Same request, same result
/// to the last bit (`wall_s` apart).
SimulationOutcome simulate(const SimulationRequest& request);

/// The same for many requests, on `jobs` threads (0: as many as there are processors); outcomes in
/// the order of the requests, and equal to those of `simulate` to the last bit.
std::vector<SimulationOutcome> simulate_all(const std::vector<SimulationRequest>& requests,
                                            int jobs);

}  // namespace panup
