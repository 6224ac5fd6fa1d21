#include "dynamics_sample_line.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace panup {

ContactLine sample_line(int spans) {
  ContactLine line;
  line.id = "sample";
  line.invented = true;
  line.contact_wire.tension_n = 20000;
  line.contact_wire.mass_kg_per_m = 1.35;
  line.messenger_wire.tension_n = 16000;
  line.messenger_wire.mass_kg_per_m = 1.07;
  Span span;
  span.length_m = 50;
  for (const double at : {5.0, 15.0, 25.0, 35.0, 45.0}) {
    span.droppers.push_back({.at_m = at, .stiffness_n_per_m = 100000});
  }
  line.spans.assign(static_cast<std::size_t>(spans), span);
  Support support;
  support.encumbrance_m = 1.2;
  support.messenger_stiffness_n_per_m = 500000;
  line.supports.assign(static_cast<std::size_t>(spans) + 1, support);
  return line;
}

ContactLine sample_line_with_everything(int spans) {
  ContactLine line = sample_line(spans);
  line.contact_wire.bending_stiffness_nm2 = 130;
  line.messenger_wire.bending_stiffness_nm2 = 60;
  for (Span& span : line.spans) {
    span.pre_sag_m = 0.02;
    for (Dropper& dropper : span.droppers) {
      dropper.mass_on_contact_wire_kg = 0.3;
      dropper.mass_on_messenger_kg = 0.25;
    }
  }
  for (Support& support : line.supports) {
    support.messenger_mass_kg = 2;
    support.steady_arm_mass_kg = 0.8;
    support.steady_arm_stiffness_n_per_m = 200;
  }
  return line;
}

void add_stitch_wires(ContactLine& line) {
  StitchWire stitch;
  stitch.wire.tension_n = 2800;
  stitch.wire.mass_kg_per_m = 0.31;
  stitch.length_m = 14;
  for (std::size_t i = 1; i + 1 < line.supports.size(); ++i) {
    line.supports[i].stitch_wire = stitch;
  }
}

PantographModel sample_pantograph() {
  PantographModel model;
  model.id = "sample";
  model.invented = true;
  model.masses = {{7, 6000, 30}, {14, 60, 80}};
  model.static_force_n = 80;
  return model;
}

SimulationRequest sample_request(const ContactLine& line, double speed_kmh) {
  SimulationRequest request;
  request.line = &line;
  request.pantographs.push_back({.model = sample_pantograph(), .static_force_n = 80});
  request.speed_kmh = speed_kmh;
  return request;
}

void add_pantograph(SimulationRequest& request, double behind_first_m) {
  request.pantographs.push_back(request.pantographs.front());
  request.pantographs.back().behind_first_m = behind_first_m;
}

std::string refusal_of(const SimulationRequest& request) {
  const SimulationOutcome outcome = simulate(request);
  if (outcome.result.has_value() != outcome.refusals.empty()) {
    return "a result and a refusal, or neither";
  }
  return fmt::format("{}", fmt::join(said(outcome.refusals), "\n"));
}

}  // namespace panup
