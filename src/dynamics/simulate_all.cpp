#include <tbb/parallel_for.h>
#include <tbb/task_arena.h>

#include <map>
#include <optional>

#include "dynamics/prepared_line.h"

namespace panup {

namespace {

/// What the static state of a line hangs on.
struct Place {
  const ContactLine* line;
  std::optional<double> temperature_c;  ///< nothing: as built
  double contact_ice;
  double messenger_ice;

  auto operator<=>(const Place&) const = default;
};

Place place_of(const SimulationRequest& request) {
  const SimulationSettings& settings = request.settings;
  if (!settings.weather_given) {
    return {request.line, std::nullopt, 0, 0};
  }
  return {request.line, settings.weather.temperature_c,
          settings.weather.ice_on_contact_wire_kg_per_m,
          settings.weather.ice_on_messenger_wire_kg_per_m};
}

}  // namespace

PreparedLine prepare_line(const ContactLine& line, const SimulationSettings& settings) {
  LineWeather weather = settings.weather;
  if (!settings.weather_given) {
    weather = {.temperature_c = line.reference_temperature_c};
  }
  auto state = static_state(line, weather, 2, false);
  if (auto* refusals = std::get_if<std::vector<Sentence>>(&state)) {
    return {{}, std::move(*refusals)};
  }
  return {std::get<StaticState>(std::move(state)), {}};
}

std::vector<SimulationOutcome> simulate_all(const std::vector<SimulationRequest>& requests,
                                            int jobs) {
  std::map<Place, PreparedLine> prepared;
  for (const SimulationRequest& request : requests) {
    const auto [found, is_new] = prepared.try_emplace(place_of(request));
    if (is_new) {
      found->second = prepare_line(*request.line, request.settings);
    }
  }
  std::vector<SimulationOutcome> outcomes(requests.size());
  tbb::task_arena arena(jobs > 0 ? jobs : tbb::task_arena::automatic);
  arena.execute([&] {
    tbb::parallel_for(std::size_t{0}, requests.size(), [&](std::size_t i) {
      outcomes[i] = simulate_on(prepared.find(place_of(requests[i]))->second, requests[i]);
    });
  });
  return outcomes;
}

}  // namespace panup
