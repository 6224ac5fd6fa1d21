#include "requests/why_question.h"

#include <fmt/format.h>

#include <algorithm>

namespace panup {

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
