#include "failed/road_failure.h"

#include <fmt/format.h>

#include <algorithm>
#include <exception>

namespace panup {

std::optional<PantographRef> pantograph_called(std::string_view name, const Train& train,
                                               std::string& wrong) {
  if (const auto ref = pantograph_ref_from(name)) {
    if (has_pantograph(train, *ref)) {
      return ref;
    }
    wrong = fmt::format("the train has no pantograph {}", name);
    return std::nullopt;
  }
  const std::size_t dot = name.rfind('.');
  if (dot != std::string_view::npos) {
    for (const ConsistItem& item : train.consist) {
      const auto* const vehicle = std::get_if<Vehicle>(&item);
      if (vehicle == nullptr || vehicle->id != name.substr(0, dot)) {
        continue;
      }
      const auto ref = pantograph_ref_from(fmt::format("{}{}", vehicle->number, name.substr(dot)));
      if (ref && has_pantograph(train, *ref)) {
        return ref;
      }
    }
  }
  wrong = fmt::format(
      "'{}' is no pantograph of the train; expected vehicle.number as in 1.2, or the vehicle's own "
      "number before the dot, as in K41 007.2",
      name);
  return std::nullopt;
}

std::string wrong_with(const RoadFailureAt& failure, const PlanRequest& request) {
  const Vehicle& vehicle = *vehicle_numbered(request.train, failure.failed.vehicle);
  if (std::ranges::find(vehicle.defective, failure.failed.pantograph) != vehicle.defective.end()) {
    return fmt::format("pantograph {} is down already, as defective: the card holds",
                       to_string(failure.failed));
  }
  return wrong_with_stand(failure.at_km, request.route);
}

std::string wrong_with_stand(double at_km, const Route& route) {
  const double from_km = route.sections.front().from_km;
  const double to_km = route.sections.back().to_km;
  return at_km < from_km || at_km >= to_km
             ? fmt::format("km {:g} lies outside the route, which runs from km {:g} to {:g}", at_km,
                           from_km, to_km)
             : std::string();
}

void set_defective(Train& train, PantographRef failed) {
  Vehicle& vehicle = *vehicle_numbered(train, failed.vehicle);
  std::erase(vehicle.kept_up, failed.pantograph);
  if (std::ranges::find(vehicle.defective, failed.pantograph) == vehicle.defective.end()) {
    vehicle.defective.push_back(failed.pantograph);
    std::ranges::sort(vehicle.defective);
  }
}

PlanRequest request_from_there(PlanRequest request, const RoadFailureAt& failure) {
  set_defective(request.train, failure.failed);
  request.route.departs_km = failure.at_km;
  return request;
}

RunInput rest_of_way(const RunInput& input, std::size_t part, const RoadFailureAt& failure) {
  RunInput rest{.id = input.id, .name = input.name, .route_name = input.route_name, .parts = {}};
  for (std::size_t i = part; i < input.parts.size(); ++i) {
    PlanInput& ahead = rest.parts.emplace_back(input.parts[i]);
    if (!input.under_way.empty() && input.under_way[i] && !input.under_way[i]->leave.empty()) {
      // `rest` does not say so any more: nobody leaves on the move after a failure.
      ahead.changes.insert(
          ahead.changes.begin(),
          ahead.request.rules.words.say("Stop here: {} leaves at a stand after a failure",
                                        input.under_way[i]->leave));
    }
    if (i == part) {
      ahead.request = request_from_there(std::move(ahead.request), failure);
    } else if (has_pantograph(ahead.request.train, failure.failed)) {
      set_defective(ahead.request.train, failure.failed);
    }
  }
  return rest;
}

}  // namespace panup
