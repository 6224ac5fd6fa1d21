/// The line at rest.
/// Sources: statics; closed forms of the tensioned beam on two supports; midspan elasticity from
/// Kiessling, Puschmann, Schmieder, Contact Lines for Electric Railways (from memory).

#include <fmt/format.h>

#include <cmath>
#include <stdexcept>

#include "agreement.h"
#include "dynamics/beam_system.h"
#include "dynamics/statics.h"
#include "reference.h"

namespace panup::validation {
namespace {

constexpr double gravity_ms2 = 9.80665;

StaticState at_rest(const ContactLine& line, bool with_elasticity) {
  auto state =
      static_state(line, {.temperature_c = line.reference_temperature_c}, 21, with_elasticity);
  if (auto* refusals = std::get_if<std::vector<Sentence>>(&state)) {
    throw std::logic_error(refusals->front().said());
  }
  return std::get<StaticState>(std::move(state));
}

/// Deflection in the middle of a beam of 10 m on two supports.
double middle(double load_n_per_m, double point_n, double bending_stiffness_nm2) {
  Wire wire;
  wire.tension_n = 10000;
  wire.mass_kg_per_m = 1;
  wire.bending_stiffness_nm2 = bending_stiffness_nm2;
  BeamSystem system;
  const BeamNodes nodes = system.add_wire(wire, load_n_per_m, {0, 5, 10});
  system.add_force(nodes.lift[node_at(nodes, 5)], -point_n);
  system.solve({{nodes.lift.front(), 0}, {nodes.lift.back(), 0}});
  return -system.value(nodes.lift[node_at(nodes, 5)]);
}

}  // namespace

Agreement sag_and_elasticity() {
  Agreement agreement;
  agreement.title = "Sag, dropper forces, elasticity";
  agreement.statement =
      "A wire sags by p l²/8T; droppers, terminations and steady arms carry the weight of the "
      "contact "
      "wire; beams bend as their closed forms say; midspan elasticity is about l/(4(T + Tm)).";
  agreement.source =
      "statics; closed forms of the tensioned beam; elasticity: Kiessling, Puschmann, Schmieder, "
      "Contact Lines for Electric Railways (from memory), an approximation";
  ContactLine bare = reference_line(1);
  bare.spans[0].droppers.clear();
  const StaticState hung = at_rest(bare, false);
  const double contact_sag = 1.35 * gravity_ms2 * 3600 / (8 * 20000);
  const double messenger_sag = 1.07 * gravity_ms2 * 3600 / (8 * 16000);
  agreement.rows.push_back(figure("sag of a contact wire over 60 m", "mm",
                                  1000 * hung.contact_sag_m[0], 1000 * contact_sag, 0.01));
  agreement.rows.push_back(figure("sag of a messenger wire over 60 m", "mm",
                                  1000 * hung.messenger_sag_m[0], 1000 * messenger_sag, 0.01));

  const ContactLine line = reference_line(10);
  const StaticState state = at_rest(line, true);
  double carried = state.termination_force_n + state.steady_arm_force_n;
  for (const StaticDropper& dropper : state.droppers) {
    carried += dropper.force_n;
  }
  agreement.rows.push_back(figure("weight of the reference model's contact wire, 600 m", "N",
                                  carried, 1.35 * gravity_ms2 * 600, 0.01));
  agreement.rows.push_back(figure("dropper in midspan: half of both fields, 6.5 m", "N",
                                  state.droppers[9 * 5 + 4].force_n, 1.35 * gravity_ms2 * 6.5,
                                  0.01));
  const double theirs = 1000 * 60 / (4 * 36000.0);
  agreement.rows.push_back(figure("elasticity in midspan of the reference model", "mm/N",
                                  state.points[5 * 20 + 10].elasticity_mm_per_n, theirs,
                                  0.15 * theirs));

  const double t = 10000;
  for (const double ei : {0.0, 100.0, 10000.0}) {
    const double arm = std::sqrt(t / std::max(ei, 1e-9)) * 5;  // λ L/2
    const double kink = ei > 0 ? std::tanh(arm) / arm : 0;
    const double bend = ei > 0 ? ei / t * (1 - 1 / std::cosh(std::min(arm, 700.0))) : 0;
    const std::string with = fmt::format(", EI = {:g} N·m²", ei);
    const double point = 100 * 10 / (4 * t) * (1 - kink);
    const double even = 20.0 * 100 / (8 * t) - 20 * bend / t;
    agreement.rows.push_back(figure("beam of 10 m, 10 kN, 100 N in its middle" + with, "mm",
                                    1000 * middle(0, 100, ei), 1000 * point, 2e-3 * 1000 * point));
    agreement.rows.push_back(figure("the same under 20 N/m" + with, "mm", 1000 * middle(20, 0, ei),
                                    1000 * even, 1e-3 * 1000 * even));
  }
  return agreement;
}

}  // namespace panup::validation
