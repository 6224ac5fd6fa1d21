#include "requests/why_question.h"

#include <fmt/format.h>

#include <algorithm>

namespace panup {

namespace {

bool has_pantograph(const Train& train, PantographRef ref) {
  return std::ranges::any_of(train.consist, [ref](const ConsistItem& item) {
    const auto* const vehicle = std::get_if<Vehicle>(&item);
    return vehicle != nullptr && vehicle->number == ref.vehicle &&
           ref.pantograph <= static_cast<int>(vehicle->type->pantographs.size());
  });
}

}  // namespace

std::string ask_for(std::string_view name, const Train& train, WhyQuestion& question) {
  const auto ref = pantograph_ref_from(name);
  if (!ref) {
    return fmt::format("'{}' is not a pantograph; expected vehicle.number, as in 1.2", name);
  }
  if (!has_pantograph(train, *ref)) {
    return fmt::format("the train has no pantograph {}", name);
  }
  question.asked.push_back(*ref);
  return {};
}

std::string wrong_with_place(double at_km, const Route& route) {
  const double from = departure_km(route);
  const double to = route.sections.back().to_km;
  if (at_km >= from && at_km <= to) {
    return {};
  }
  return fmt::format("km {:g} lies outside the route, which runs from km {:g} to {:g}", at_km, from,
                     to);
}

}  // namespace panup
