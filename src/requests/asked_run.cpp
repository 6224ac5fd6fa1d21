#include "requests/asked_run.h"

#include <algorithm>

namespace panup {

SimulationRequest request_of(const AskedRun& asked, const SimulationInput& input,
                             std::string_view with_system, std::vector<std::string>& mistakes) {
  SimulationRequest request;
  request.line = &input.line;
  request.pantographs =
      running_pantographs(input.models, asked.raised, asked.supply, with_system, mistakes);
  request.speed_kmh = asked.speed_kmh;
  request.settings.weather = weather_on(input.line, asked.temperature_c, asked.ice_kg_per_m);
  request.settings.weather_given = asked.temperature_c || asked.ice_kg_per_m;
  return request;
}

SimulationReport report_of(const AskedRun& asked, const SimulationInput& input,
                           const SimulationRequest& request, SimulationResult result,
                           std::string_view program_version) {
  SimulationReport report;
  report.line = input.line;
  report.pantographs = request.pantographs;
  report.supply = asked.supply;
  report.knuckles_stated = asked.knuckles_stated;
  report.weather = request.settings.weather;
  report.result = std::move(result);
  for (const RunningPantograph& one : report.pantographs) {
    auto warning =
        asked.supply ? static_force_warning(*asked.supply, one.static_force_n) : std::nullopt;
    if (warning &&
        std::ranges::find(report.result.warnings, *warning) == report.result.warnings.end()) {
      report.result.warnings.push_back(std::move(*warning));
    }
  }
  report.inputs = input.files;
  report.program_version = program_version;
  report.words = asked.words;
  return report;
}

EnvelopeReport report_of(const EnvelopeInput& input, Envelope envelope,
                         std::string_view program_version) {
  EnvelopeReport report;
  report.envelope = std::move(envelope);
  report.inputs = input.files;
  report.rule_books = input.rules.names;
  report.program_version = program_version;
  report.words = input.rules.words;
  return report;
}

}  // namespace panup
