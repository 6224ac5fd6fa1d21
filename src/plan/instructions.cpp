#include "plan/instructions.h"

#include <fmt/format.h>

#include <algorithm>

#include "plan/landmarks.h"
#include "plan/section_findings.h"

namespace panup {

namespace {

std::string numbers_of(const std::vector<int>& vehicles, const Words& words) {
  std::vector<std::string> numbers;
  for (const int number : vehicles) {
    numbers.push_back(std::to_string(number));
  }
  return words.listed(numbers);
}

/// Whose breaker is said where the train has several.
struct WhoseBreaker {
  bool only = false;  ///< the train has no other
  bool all = false;
  std::size_t count = 0;
  std::string numbers;
};

WhoseBreaker whose_breaker(const PlanningCase& planning, const Order& order) {
  const auto& vehicles = planning.judge(order.piece).train().vehicles;
  const auto working = std::ranges::count(vehicles, false, &RunningVehicle::dead);
  return {.only = working == 1,
          .all = std::ssize(order.vehicles) == working,
          .count = order.vehicles.size(),
          .numbers = numbers_of(order.vehicles, planning.words())};
}

std::string breaker_off_words(const PlanningCase& planning, const Order& order) {
  const WhoseBreaker whose = whose_breaker(planning, order);
  const Words& words = planning.words();
  return whose.only  ? words.say("Breaker off")
         : whose.all ? words.say("All breakers off")
                     : words.say_of(whose.count, "Breaker off, vehicle {}",
                                    "Breakers off, vehicles {}", whose.numbers);
}

std::string breaker_on_words(const PlanningCase& planning, const Order& order) {
  const WhoseBreaker whose = whose_breaker(planning, order);
  const Words& words = planning.words();
  return whose.only  ? words.say("Breaker on")
         : whose.all ? words.say("All breakers on")
                     : words.say_of(whose.count, "Breaker on, vehicle {}",
                                    "Breakers on, vehicles {}", whose.numbers);
}

std::string power_words(const Order& order, const Words& words) {
  if (order.current_a) {
    return words.say("Vehicle {}: draw no more than {:.0f} A at this stand",
                     numbers_of(order.vehicles, words), *order.current_a);
  }
  const int percent = order.power_percent.value_or(0);
  if (order.vehicles.empty()) {
    return percent < 100 ? words.say("No more than {} % of power from here", percent)
                         : words.say("Full power again from here");
  }
  const std::string who = numbers_of(order.vehicles, words);
  return percent < 100
             ? words.say("Vehicle {}: no more than {} % of its power from here", who, percent)
             : words.say("Vehicle {}: full power again from here", who);
}

std::string action_words(const PlanningCase& planning, const Order& order) {
  const Words& words = planning.words();
  const auto which = [&] {
    return list_of(planning.judge(order.piece).train(), order.pantographs);
  };
  switch (order.action) {
    case Action::raise:
      return words.say("Raise {}", which());
    case Action::lower:
      return words.say("Lower {}", which());
    case Action::breaker_off:
      return breaker_off_words(planning, order);
    case Action::breaker_on:
      return breaker_on_words(planning, order);
    case Action::speed:
      return order.speed_kmh > 0 ? words.say("{:g} km/h from here", order.speed_kmh)
                                 : words.say("Stop here at the latest");
    case Action::power:
      return power_words(order, words);
    case Action::stop_short:
      return order.what;
    case Action::tow:
      return words.say_of(order.vehicles.size(), "Vehicle {} goes dead in tow, pantographs down",
                          "Vehicles {} go dead in tow, pantographs down",
                          numbers_of(order.vehicles, words));
    case Action::reverse:
      return words.say("Reverse: the train leaves in the other direction");
    case Action::shunt:
      return order.what;
  }
  return {};
}

/// Why an order is given: in one clause, and as it stands in the whole instruction.
struct Reason {
  std::string clause;
  std::string sentences;
};

/// The reason of a speed that the rules permit is what they say on its piece.
Reason reason_of(const PlanningCase& planning, const Way& way, const Order& order) {
  if (order.action != Action::speed || !order.because.empty()) {
    return {.clause = order.because, .sentences = order.because + "."};
  }
  std::vector<Finding> findings;
  const Verdict verdict =
      planning.judge(order.piece)
          .judge(planning.ground(order.piece), *way.raised[order.piece], {}, &findings);
  const Finding* const deciding = deciding_finding(verdict, findings);
  return deciding == nullptr ? Reason()
                             : Reason{.clause = deciding->reason, .sentences = deciding->text};
}

/// What the driver sees at an order: a landmark, and what the post reads where that is not the
/// chainage of the route.
std::string place_words(const NamedPlaces& places, double km,
                        const std::optional<LinePlace>& on_line, const Words& words) {
  std::string place = landmark_words(places, km, words);
  if (on_line) {
    place +=
        (place.empty() ? "" : ", ") + words.say("line {} km {:.3f}", on_line->line, on_line->at_km);
  }
  return place;
}

/// The vehicle that all of them stand on; 0 where there are several, or none.
int one_vehicle(const std::vector<PantographRef>& pantographs) {
  const bool one = !pantographs.empty() && std::ranges::all_of(pantographs, [&](PantographRef ref) {
    return ref.vehicle == pantographs.front().vehicle;
  });
  return one ? pantographs.front().vehicle : 0;
}

}  // namespace

std::vector<Instruction> write_instructions(const PlanningCase& planning, const Way& way,
                                            const std::vector<Order>& orders) {
  const PlanRequest& request = *planning.request;
  const NamedPlaces places =
      named_places(request.route, driver_times(request.rules).landmark_within_m);
  std::vector<Instruction> instructions;
  for (const Order& order : orders) {
    Instruction instruction;
    instruction.at_km = order.at_km;
    instruction.action = order.action;
    instruction.pantographs = refs_of(planning.judge(order.piece).train(), order.pantographs);
    instruction.vehicle =
        order.vehicles.size() == 1 ? order.vehicles.front() : one_vehicle(instruction.pantographs);
    instruction.vehicles = order.vehicles;
    instruction.speed_kmh = order.speed_kmh;
    instruction.power_percent = order.power_percent;
    instruction.current_a = order.current_a;
    instruction.on_line = place_on_line(request.route, order.at_km);
    instruction.landmark = place_words(places, order.at_km, instruction.on_line, planning.words());
    instruction.if_not_possible = order.if_not_possible;
    instruction.what = action_words(planning, order);
    const Reason reason = reason_of(planning, way, order);
    instruction.reason = reason.clause;
    instruction.text =
        fmt::format("{}{}{}{}", instruction.what, instruction.landmark.empty() ? "" : ", ",
                    instruction.landmark, reason.clause.empty() ? "." : ": " + reason.sentences);
    instructions.push_back(std::move(instruction));
  }
  return instructions;
}

}  // namespace panup
