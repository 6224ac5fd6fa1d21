/// The whole way: a train and a route in one text, parted by a line, are read, checked against each
/// other and planned.

#include <algorithm>
#include <string_view>

#include "demo_stock.h"
#include "files/read_route.h"
#include "files/read_rule_book.h"
#include "files/read_train.h"
#include "harness.h"
#include "plan/make_plan.h"

namespace panup {

namespace {

constexpr std::string_view parting = "\n#--- route ---\n";

RuleBook demo_rules() {
  Diagnostics diagnostics;
  auto book = add_rule_book(built_in_rule_book(), data_file("demo/rules/nordvale-freight.toml"),
                            std::nullopt, diagnostics);
  require_sound(book.has_value(), diagnostics);
  return std::move(*book);
}

bool is_defective(const Train& train, PantographRef ref) {
  return std::ranges::any_of(train.consist, [ref](const ConsistItem& item) {
    const auto* const vehicle = std::get_if<Vehicle>(&item);
    return vehicle != nullptr && vehicle->number == ref.vehicle &&
           (vehicle->dead_in_tow ||
            std::ranges::find(vehicle->defective, ref.pantograph) != vehicle->defective.end());
  });
}

void require_safe(const Plan& plan) {
  if (plan.sections.empty() || plan.cautions.empty()) {
    fail("a plan has sections and cautions");
  }
  for (const PlannedSection& planned : plan.sections) {
    for (const Section& section : plan.route.sections) {
      const bool overlaps =
          section.from_km < planned.to_km - 1e-6 && section.to_km > planned.from_km + 1e-6;
      if (overlaps && !(planned.speed_kmh <= section.line_speed_kmh)) {
        fail("a section is planned faster than its line speed");
      }
    }
    if (std::ranges::any_of(planned.raised,
                            [&plan](PantographRef ref) { return is_defective(plan.train, ref); })) {
      fail("a pantograph that must stay down is up");
    }
    if (!planned.lowered_for.empty() && !planned.raised.empty()) {
      fail("a pantograph is up where all are lowered");
    }
    if (planned.answer == Answer::none && planned.speed_kmh != 0) {
      fail("a speed is stated where nothing is permitted");
    }
  }
}

}  // namespace

}  // namespace panup

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace panup;
  static const Stock stock = demo_stock();
  static const RuleBook rules = demo_rules();
  const SourceText whole = fuzzed_source(data, size);
  const std::size_t at = whole.text.find(parting);
  if (at == std::string::npos) {
    return 0;
  }
  Diagnostics diagnostics;
  const auto train =
      read_train({.file = "train", .text = whole.text.substr(0, at)}, stock, diagnostics);
  const auto route =
      read_route({.file = "route", .text = whole.text.substr(at + parting.size())}, diagnostics);
  require_sound(train && route, diagnostics);
  if (!train || !route) {
    return 0;
  }
  for (const bool iced : {false, true}) {
    PlanRequest request{.train = *train,
                        .route = *route,
                        .conditions = {},
                        .rules = rules,
                        .speed_from = SpeedFrom::tables,
                        .mechanics = {},
                        .computed_speeds = nullptr,
                        .jobs = 1};
    if (iced) {
      request.conditions.ice = {{route->sections.front().from_km, route->sections.back().to_km}};
    }
    if (cross_check(request).empty()) {
      require_safe(*make_plan(request));
    }
  }
  return 0;
}
