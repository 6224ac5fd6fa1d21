#include "plan/run_plan.h"

#include <fmt/format.h>

#include <algorithm>

namespace panup {

namespace {

/// Vehicles whose breaker is closed where the train arrives.
std::vector<int> closed_at_end(const Plan& plan) {
  std::vector<int> closed;
  for (const Instruction& order : plan.instructions) {
    for (const int vehicle : order.vehicles) {
      if (order.action == Action::breaker_on) {
        closed.push_back(vehicle);
      } else if (order.action == Action::breaker_off) {
        std::erase(closed, vehicle);
      }
    }
  }
  std::ranges::sort(closed);
  closed.erase(std::ranges::unique(closed).begin(), closed.end());
  return closed;
}

/// Pantographs that are up where the train arrives.
std::vector<PantographRef> up_at_end(const Plan& plan) {
  std::vector<PantographRef> up;
  for (const Instruction& order : plan.instructions) {
    for (const PantographRef ref : order.pantographs) {
      if (order.action == Action::raise) {
        up.push_back(ref);
      } else if (order.action == Action::lower) {
        std::erase(up, ref);
      }
    }
  }
  return up;
}

}  // namespace

Answer answer_of(const RunPlan& run) {
  Answer worst = Answer::permitted;
  for (const Plan& part : run.parts) {
    worst = std::max(worst, part.answer);
  }
  return worst;
}

std::vector<InputFile> inputs_of(const RunPlan& run) {
  std::vector<InputFile> inputs;
  for (const Plan& part : run.parts) {
    for (const InputFile& input : part.inputs) {
      const bool known = std::ranges::any_of(inputs, [&input](const InputFile& other) {
        return other.role == input.role && other.path == input.path;
      });
      if (!known) {
        inputs.push_back(input);
      }
    }
  }
  return inputs;
}

double running_time_s(const RunPlan& run) {
  double seconds = 0;
  for (const Plan& part : run.parts) {
    seconds += part.running_time_s;
  }
  return seconds;
}

void add_change_orders(const std::vector<std::string>& changes, Plan& plan) {
  const Words& words = plan.words;
  const double at_km = plan.route.sections.back().to_km;
  const auto add = [&](Action action, std::string what, std::string reason) {
    Instruction order;
    order.at_km = at_km;
    order.action = action;
    order.on_line = place_on_line(plan.route, at_km);
    order.landmark = words.say("at {}", plan.route.ends_at);
    if (order.on_line) {
      order.landmark +=
          ", " + words.say("line {} km {:.3f}", order.on_line->line, order.on_line->at_km);
    }
    order.what = std::move(what);
    order.reason = std::move(reason);
    order.text = fmt::format("{}, {}{}", order.what, order.landmark,
                             order.reason.empty() ? "." : ": " + order.reason + ".");
    plan.instructions.push_back(std::move(order));
    return &plan.instructions.back();
  };
  const std::string why = words.say("Nothing is coupled or uncoupled under power");
  if (const std::vector<int> closed = closed_at_end(plan); !closed.empty()) {
    Instruction* const order =
        add(Action::breaker_off,
            closed.size() == 1 ? words.say("Breaker off") : words.say("All breakers off"), why);
    order->vehicles = closed;
    order->vehicle = closed.size() == 1 ? closed.front() : 0;
  }
  if (const std::vector<PantographRef> up = up_at_end(plan); !up.empty()) {
    std::vector<std::string> names;
    for (const PantographRef ref : up) {
      names.push_back(to_string(ref));
    }
    Instruction* const order = add(Action::lower, words.say("Lower {}", words.listed(names)), why);
    order->pantographs = up;
    const bool one = std::ranges::all_of(
        up, [&](PantographRef ref) { return ref.vehicle == up.front().vehicle; });
    order->vehicle = one ? up.front().vehicle : 0;
  }
  for (const std::string& change : changes) {
    add(Action::shunt, change, "");
  }
}

}  // namespace panup
