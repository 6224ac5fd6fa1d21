#include "requests/why_question.h"

#include <fmt/format.h>

#include <algorithm>

namespace panup {

namespace {

std::string outside_words(double at_km, double from_km, double to_km) {
  return at_km >= from_km && at_km <= to_km
             ? std::string()
             : fmt::format("km {:g} lies outside the route, which runs from km {:g} to {:g}", at_km,
                           from_km, to_km);
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
  return outside_words(at_km, departure_km(route), route.sections.back().to_km);
}

std::string wrong_with_place(double at_km, const RunInput& run) {
  return outside_words(at_km, departure_km(run.parts.front().request.route),
                       run.parts.back().request.route.sections.back().to_km);
}

}  // namespace panup
