#include "sample_simulation.h"

#include <algorithm>
#include <stdexcept>

#include "dynamics_sample_line.h"

namespace panup {

namespace {

StaticReport at_rest(const ContactLine& line) {
  StaticReport report;
  report.line = line;
  report.weather.temperature_c = line.reference_temperature_c;
  auto state = static_state(line, report.weather, 11, true);
  if (!std::holds_alternative<StaticState>(state)) {
    throw std::runtime_error("the sample line does not hang");
  }
  report.state = std::get<StaticState>(std::move(state));
  report.points = report.state.points;
  report.points_to_span = line.spans.size();
  report.inputs = {{"line", "sample.toml"}};
  report.program_version = "0.1.0";
  return report;
}

ContactLine named(ContactLine line) {
  line.id = "MO-160";
  line.name = "Mosk upland line";
  line.source = "invented";
  return line;
}

}  // namespace

SimulationReport sample_simulation(int pantographs) {
  SimulationReport report;
  report.line = named(sample_line(20));  // a line of strings: a run of it takes little time
  for (int i = 0; i < pantographs; ++i) {
    RunningPantograph one{.model = sample_pantograph(), .static_force_n = 80};
    one.model.id = "k-2";
    one.model.name = "K 2";
    one.model.aerodynamic_knuckle_leading_n_per_kmh2 = 0.0004;
    one.model.aerodynamic_knuckle_trailing_n_per_kmh2 = 0.0006;
    one.behind_first_m = 20.0 * i;
    report.pantographs.push_back(one);
  }
  report.supply = EnergySupply::ac_15kv;
  report.inputs = {{"line", "sample.toml"}, {"pantograph", "k-2.toml"}};
  report.program_version = "0.1.0";
  SimulationRequest request;
  request.line = &report.line;
  request.pantographs = report.pantographs;
  request.speed_kmh = 150;
  request.settings.keep_trace = true;
  SimulationOutcome outcome = simulate(request);
  if (!outcome.result) {
    throw std::runtime_error(outcome.refusals.front().said());
  }
  report.result = std::move(*outcome.result);
  return report;
}

SimulationReport rough_simulation() {
  SimulationReport report = sample_simulation(8);
  const std::string endless(300, 'W');
  report.line.name = "Line of " + endless + "\n\x1b[31m";
  report.weather = {-12.5, 0.4, 0.7};
  SimulationResult& result = report.result;
  result.energy.missing_j = 0.2 * result.energy.peak_stored_j;
  result.warnings = {{Doubt::near_wave_speed, Sentence("The speed is close to something.")},
                     {Doubt::energy, Sentence(endless + " " + endless)}};
  for (std::size_t i = 0; i < report.pantographs.size(); ++i) {
    report.pantographs[i].model.name = "Pantograph of " + endless;
    PantographRun& run = result.pantographs[i];
    run.statistical_min_n = -140.4;
    run.contact_loss_percent = 12.34;
    run.longest_contact_loss_ms = 86;
    run.contact_losses_ms = {86, 4};
    auto& force = result.trace->pantographs[i].contact_force_n;
    std::fill(force.begin() + 100, force.begin() + 130, 0.0);
  }
  for (DropperSlackening& dropper : result.droppers) {
    dropper.times = 3;
    dropper.slack_ms = dropper.at_m;
  }
  return report;
}

StaticReport sample_statics() {
  ContactLine line = named(sample_line_with_everything(9));
  add_stitch_wires(line);
  return at_rest(line);
}

StaticReport rough_statics() {
  StaticReport report = at_rest(named(sample_line_with_everything(5)));
  report.line.name = std::string(300, 'W');
  report.weather = {-20, 0.5, 0.5};
  for (const std::size_t i : {3U, 11U}) {
    report.state.droppers[i].force_n = 0;
    report.state.droppers[i].slack_m = 0.0042;
  }
  return report;
}

}  // namespace panup
