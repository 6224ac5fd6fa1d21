#include "dynamics/step_choice.h"

#include <algorithm>
#include <cmath>

namespace panup {

namespace {

/// Seen on the reference model with contacts of 50 to 500 kN/m: below 0.7 of Z/k, contact loss is
/// within 0.01 points of a run in a twelfth of the step; at 0.9 it is 0.3 points off, at 1.5 nine.
constexpr double contact_share = 0.7;
/// Of the time in which a dropper's force follows two wires. Usual droppers stay below even on
/// light wires in steps of 2 ms; with ten times their stiffness, figures move by less than 1 %.
constexpr double dropper_share = 5;
/// Of a radian of the fastest of a pantograph's own swings.
constexpr double swing_share = 0.4;
/// Of what was stored at most and of what was dissipated.
constexpr double missing_share = 0.04;

double impedance(const Wire& wire, double tension_n) {
  return 2 * std::sqrt(tension_n * wire.mass_kg_per_m);
}

double contact_rate(const SimulationRequest& request, const ContactLine& line,
                    const StaticState& state) {
  double stiffest = 0;
  for (const RunningPantograph& one : request.pantographs) {
    stiffest = std::max(stiffest, one.model.contact_stiffness_n_per_m);
  }
  return stiffest / impedance(combined_contact_wire(line), state.contact_tension_n);
}

double dropper_rate(const ContactLine& line, const StaticState& state) {
  double stiffest = 0;
  for (const Span& span : line.spans) {
    for (const Dropper& dropper : span.droppers) {
      stiffest = std::max(stiffest, dropper.stiffness_n_per_m);
    }
  }
  const double below = impedance(combined_contact_wire(line), state.contact_tension_n);
  const double above = impedance(line.messenger_wire, state.messenger_tension_n);
  return stiffest * (1 / below + 1 / above);
}

double swing_rate(const SimulationRequest& request) {
  double fastest = 0;
  for (const RunningPantograph& one : request.pantographs) {
    const auto& masses = one.model.masses;
    for (std::size_t i = 0; i < masses.size(); ++i) {
      const double below = i + 1 < masses.size() ? 1 / masses[i + 1].mass_kg : 0;
      fastest = std::max(fastest,
                         std::sqrt(masses[i].stiffness_n_per_m * (1 / masses[i].mass_kg + below)));
    }
  }
  return fastest;
}

struct Tolerance {
  double least = 0;
  double share = 0;
};

constexpr Tolerance of_mean{1, 0.01};
constexpr Tolerance of_deviation{0.5, 0.03};
constexpr Tolerance of_loss{0.3, 0.1};
constexpr Tolerance of_uplift{2, 0.04};

bool moved(double a, double b, const Tolerance& tolerance) {
  return std::abs(a - b) > std::max(tolerance.least, tolerance.share * std::abs(b));
}

}  // namespace

double step_by_contact(const SimulationRequest& request, const ContactLine& line,
                       const StaticState& state) {
  const bool bends =
      line.contact_wire.bending_stiffness_nm2 > 0 || line.messenger_wire.bending_stiffness_nm2 > 0;
  const double usual = bends ? default_step_with_bending_s : default_step_s;
  return std::clamp(contact_share / contact_rate(request, line, state), shortest_chosen_step_s,
                    usual);
}

bool is_doubtful(const SimulationRequest& request, const ContactLine& line,
                 const StaticState& state, double step_s) {
  constexpr double rounding = 1 + 1e-9;
  return step_s * contact_rate(request, line, state) > contact_share * rounding ||
         step_s * dropper_rate(line, state) > dropper_share ||
         step_s * swing_rate(request) > swing_share;
}

bool is_doubtful(const EnergyBalance& energy) {
  return std::abs(energy.missing_j) > missing_share * (energy.peak_stored_j + energy.dissipated_j);
}

std::optional<Sentence> moved_figures(const SimulationResult& before,
                                      const SimulationResult& after) {
  std::optional<Sentence> all;
  const auto compare = [&](const Sentence& what, const char* unit, double a, double b,
                           const Tolerance& tolerance) {
    if (moved(a, b, tolerance)) {
      const Sentence one =
          to_say("{} {:.1f} {} in a step of {:g} ms, {:.1f} {} in one of {:g} ms", what, a, unit,
                 1000 * before.step_s, b, unit, 1000 * after.step_s);
      all = all ? to_say("{}; {}", *all, one) : one;
    }
  };
  const bool several = before.pantographs.size() > 1;
  for (std::size_t i = 0; i < before.pantographs.size(); ++i) {
    const PantographRun& a = before.pantographs[i];
    const PantographRun& b = after.pantographs[i];
    compare(several ? to_say("mean contact force of pantograph {}", i + 1)
                    : to_say("mean contact force"),
            "N", a.mean_n, b.mean_n, of_mean);
    compare(several ? to_say("standard deviation of pantograph {}", i + 1)
                    : to_say("standard deviation"),
            "N", a.std_n, b.std_n, of_deviation);
    compare(several ? to_say("contact loss of pantograph {}", i + 1) : to_say("contact loss"), "%",
            a.contact_loss_percent, b.contact_loss_percent, of_loss);
  }
  compare(to_say("uplift at supports"), "mm", before.max_support_uplift_mm,
          after.max_support_uplift_mm, of_uplift);
  return all;
}

}  // namespace panup
