/// Drives random routes from one seed to another by their orders, and says what went wrong.
///
///     drive_dense_routes 1 10000
///     drive_dense_routes 42        route 42 with its orders

#include <fmt/format.h>

#include <cstdio>
#include <cstdlib>
#include <iterator>
#include <span>

#include "dense_route.h"
#include "driving/drive.h"

namespace panup {

namespace {

void print_orders(const std::vector<Instruction>& orders) {
  for (const Instruction& order : orders) {
    fmt::print("km {:.3f} {} [{}]\n", order.at_km, order.what, order.reason);
  }
}

void print_route(const Plan& plan) {
  const Layout layout = lay_out(plan.train, false);
  fmt::print("train of {:.0f} m:", layout.length_m);
  for (const PlacedPantograph& placed : layout.pantographs) {
    fmt::print(" {} at {:.1f}", to_string(placed.ref), placed.from_front_m);
  }
  fmt::print("\n");
  for (const Section& section : plan.route.sections) {
    fmt::print("section {} {:.3f}-{:.3f}, {} km/h\n", section.id, section.from_km, section.to_km,
               section.line_speed_kmh);
  }
  for (const SeparationSection& separation : plan.route.separations) {
    const SeparationExtent extent = extent_of(separation);
    fmt::print("{} {:.3f}-{:.3f}{}{}\n", separation.name, extent.from_km, extent.to_km,
               separation.pantograph_lowered ? ", lowered" : "",
               separation.breaker_off ? ", breaker off" : "");
  }
  for (const LoweredStretch& lowered : plan.route.lowered) {
    fmt::print("{} {:.3f}-{:.3f}\n", lowered.name, lowered.from_km, lowered.to_km);
  }
  for (const Stop& stop : plan.route.stops) {
    fmt::print("{} km {:.3f}{}\n", stop.name, stop.at_km, stop.reversal ? ", reversal" : "");
  }
  for (const Landmark& landmark : plan.route.landmarks) {
    if (landmark.board) {
      fmt::print("board km {:.3f} {}\n", landmark.at_km, landmark.name);
    }
  }
  for (const PlannedSection& section : plan.sections) {
    fmt::print("{:.3f}-{:.3f} {}", section.from_km, section.to_km, name_of(section.answer));
    for (const PantographRef ref : section.raised) {
      fmt::print(" {}", to_string(ref));
    }
    fmt::print(" {} km/h\n", section.speed_kmh);
    if (section.answer == Answer::none) {
      for (const Finding& finding : section.findings) {
        fmt::print("    {}\n", finding.text);
      }
    }
  }
  print_orders(plan.instructions);
  for (const Contingency& contingency : plan.contingencies) {
    fmt::print("with {} failed:\n", to_string(contingency.failed));
    print_orders(contingency.instructions);
  }
}

/// Returns whether the driver did something wrong.
bool drive_one(std::uint64_t seed, bool print, std::uint64_t& refused) {
  const scenario::Scenario scenario = dense_route(seed);
  if (!cross_check(scenario.request).empty()) {
    return false;
  }
  const Plan plan = scenario.plan();
  if (print) {
    print_route(plan);
  }
  refused += plan.answer == Answer::none ? 1U : 0U;
  const std::vector<DrivenFault> faults = drive(plan, driven_rules(scenario.request.rules));
  for (const DrivenFault& fault : faults) {
    fmt::print("route {}, km {:.3f}: {}\n", seed, fault.at_km, fault.what);
  }
  return !faults.empty();
}

}  // namespace

}  // namespace panup

int main(int count, char** arguments) {
  const std::span<char*> given(arguments, static_cast<std::size_t>(count));
  const std::uint64_t from = count > 1 ? std::strtoull(given[1], nullptr, 10) : 1;
  const std::uint64_t to = count > 2 ? std::strtoull(given[2], nullptr, 10) : from;
  std::uint64_t wrong = 0;
  std::uint64_t refused = 0;
  for (std::uint64_t seed = from; seed <= to; ++seed) {
    wrong += panup::drive_one(seed, from == to, refused) ? 1U : 0U;
  }
  fmt::print("{} routes, {} of them refused by the plan, {} driven wrongly\n", to - from + 1,
             refused, wrong);
  return wrong == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
