#include "reference.h"

#include <stdexcept>

namespace panup::validation {

ContactLine reference_line(int spans) {
  ContactLine line;
  line.id = "reference";
  line.contact_wire.tension_n = 20000;
  line.contact_wire.mass_kg_per_m = 1.35;
  line.messenger_wire.tension_n = 16000;
  line.messenger_wire.mass_kg_per_m = 1.07;
  Span span;
  span.length_m = 60;
  for (const double at_m : {5.0, 10.5, 17.0, 23.5, 30.0, 36.5, 43.0, 49.5, 55.0}) {
    Dropper dropper;
    dropper.at_m = at_m;
    dropper.stiffness_n_per_m = 1e5;
    span.droppers.push_back(dropper);
  }
  Support support;
  support.encumbrance_m = 1.2;
  support.messenger_stiffness_n_per_m = 5e5;
  line.spans.assign(static_cast<std::size_t>(spans), span);
  line.supports.assign(static_cast<std::size_t>(spans) + 1, support);
  return line;
}

PantographModel reference_pantograph() {
  PantographModel model;
  model.id = "reference";
  model.masses = {{7.2, 4200, 10}, {15, 50, 90}};
  return model;
}

SimulationRequest reference_request(const ContactLine& line, double speed_kmh, double force_n,
                                    const std::vector<double>& behind_m) {
  SimulationRequest request;
  request.line = &line;
  request.speed_kmh = speed_kmh;
  RunningPantograph pantograph;
  pantograph.model = reference_pantograph();
  pantograph.static_force_n = force_n;
  request.pantographs.push_back(pantograph);
  for (const double behind : behind_m) {
    pantograph.behind_first_m = behind;
    request.pantographs.push_back(pantograph);
  }
  return request;
}

SimulationResult result_of(const SimulationRequest& request) {
  SimulationOutcome outcome = simulate(request);
  if (!outcome.result) {
    throw std::logic_error(outcome.refusals.front().said());
  }
  return std::move(*outcome.result);
}

}  // namespace panup::validation
