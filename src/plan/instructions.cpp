#include "plan/instructions.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/listed.h"
#include "plan/landmarks.h"
#include "plan/section_findings.h"

namespace panup {

namespace {

std::string numbers_of(const std::vector<int>& vehicles) {
  std::vector<std::string> numbers;
  for (const int number : vehicles) {
    numbers.push_back(std::to_string(number));
  }
  return listed(numbers);
}

std::string tow_words(const std::vector<int>& vehicles) {
  return fmt::format("{} {} {} dead in tow, pantographs down",
                     vehicles.size() == 1 ? "Vehicle" : "Vehicles", numbers_of(vehicles),
                     vehicles.size() == 1 ? "goes" : "go");
}

/// Whose breaker is said where the train has several.
std::string breaker_words(const PlanningCase& planning, const Order& order, std::string_view how) {
  const auto& vehicles = planning.judge(order.piece).train().vehicles;
  const auto working = std::ranges::count(vehicles, false, &RunningVehicle::dead);
  if (working == 1) {
    return fmt::format("Breaker {}", how);
  }
  if (static_cast<std::ptrdiff_t>(order.vehicles.size()) == working) {
    return fmt::format("All breakers {}", how);
  }
  return fmt::format("{} {}, vehicle{} {}", order.vehicles.size() == 1 ? "Breaker" : "Breakers",
                     how, order.vehicles.size() == 1 ? "" : "s", numbers_of(order.vehicles));
}

std::string power_words(const Order& order) {
  if (order.current_a) {
    return fmt::format("Vehicle {}: draw no more than {:.0f} A at this stand",
                       numbers_of(order.vehicles), *order.current_a);
  }
  const int percent = order.power_percent.value_or(0);
  if (order.vehicles.empty()) {
    return percent < 100 ? fmt::format("No more than {} % of power from here", percent)
                         : "Full power again from here";
  }
  const std::string who = "Vehicle " + numbers_of(order.vehicles);
  return percent < 100 ? fmt::format("{}: no more than {} % of its power from here", who, percent)
                       : who + ": full power again from here";
}

std::string action_words(const PlanningCase& planning, const Order& order) {
  const auto which = [&] {
    return list_of(planning.judge(order.piece).train(), order.pantographs);
  };
  switch (order.action) {
    case Action::raise:
      return "Raise " + which();
    case Action::lower:
      return "Lower " + which();
    case Action::breaker_off:
      return breaker_words(planning, order, "off");
    case Action::breaker_on:
      return breaker_words(planning, order, "on");
    case Action::speed:
      return order.speed_kmh > 0 ? fmt::format("{:g} km/h from here", order.speed_kmh)
                                 : "Stop here at the latest";
    case Action::power:
      return power_words(order);
    case Action::stop_short:
      return order.what;
    case Action::tow:
      return tow_words(order.vehicles);
    case Action::reverse:
      return "Reverse: the train leaves in the other direction";
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
                        const std::optional<LinePlace>& on_line) {
  std::string words = landmark_words(places, km);
  if (on_line) {
    words += fmt::format("{}line {} km {:.3f}", words.empty() ? "" : ", ", on_line->line,
                         on_line->at_km);
  }
  return words;
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
    instruction.landmark = place_words(places, order.at_km, instruction.on_line);
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
