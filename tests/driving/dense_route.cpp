#include "dense_route.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <random>

namespace panup {

namespace {

using scenario::Scenario;

/// The same on every machine: the distributions of the standard library are not.
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : bits_(seed) {}
  int upto(int most) { return static_cast<int>(bits_() % static_cast<std::uint64_t>(most + 1)); }
  bool one_in(int number) { return upto(number - 1) == 0; }
  /// In steps of 1/1000 of the range.
  double between(double least, double greatest) {
    return least + (greatest - least) * upto(1000) / 1000;
  }
  /// Small ones as often as large ones: each factor of two has the same share.
  double scaled(double least, double greatest) {
    return least * std::pow(greatest / least, upto(1000) / 1000.0);
  }

 private:
  std::mt19937_64 bits_;
};

/// To the metre: what route files state.
double whole_metres(double km) { return std::round(km * 1000) / 1000; }

std::shared_ptr<const VehicleType> with_heads(const std::shared_ptr<const VehicleType>& type,
                                              double second_width_mm) {
  auto changed = std::make_shared<VehicleType>(*type);
  auto second = std::make_shared<PantographType>(*changed->pantographs.back().type);
  second->head_width_mm = second_width_mm;
  changed->pantographs.back().type = second;
  return changed;
}

std::shared_ptr<const VehicleType> any_locomotive(Dice& dice) {
  switch (dice.upto(6)) {
    case 0:
      return scenario::one_pantograph_locomotive();
    case 1:
      return scenario::four_pantograph_locomotive();
    case 2:
      return scenario::one_for_each_system_locomotive();
    case 3:
      return with_heads(scenario::locomotive(), 1600);
    case 4:
      return scenario::locomotive({.strips = 1});
    default:
      return scenario::locomotive();
  }
}

void add_train(Dice& dice, Scenario& scenario) {
  const auto cab = [&] { return dice.one_in(2) ? Cab::cab1 : Cab::cab2; };
  if (dice.one_in(5)) {
    for (int units = 1 + dice.upto(1); units > 0; --units) {
      scenario.add(scenario::electric_unit(), cab());
    }
    return;
  }
  const bool pushes = dice.one_in(8);
  if (pushes) {
    scenario.load(LoadNature::ordinary, dice.between(20, 600));
  }
  for (int locomotives = 1 + dice.upto(1); locomotives > 0; --locomotives) {
    scenario.add(any_locomotive(dice), cab());
  }
  if (!pushes && !dice.one_in(4)) {
    scenario.load(dice.one_in(3) ? LoadNature::dangerous : LoadNature::ordinary,
                  dice.between(20, 640));
    if (dice.one_in(4)) {
      scenario.add(any_locomotive(dice), cab());
    }
  }
}

void add_sections(Dice& dice, Scenario& scenario, double to_km) {
  std::vector<Section>& sections = scenario.request.route.sections;
  sections.front().to_km = to_km;
  sections.front().line_speed_kmh = 60 + 20 * dice.upto(4);
  sections.front().records = {{.number = 4, .distance_m = 5, .speed_kmh = 120}};
  double at_km = 0;
  while (!dice.one_in(4) && at_km + 1 < to_km) {
    at_km = whole_metres(at_km + dice.scaled(0.1, 8));
    if (at_km >= to_km) {
      break;
    }
    Section next = sections.back();
    sections.back().to_km = at_km;
    next.from_km = at_km;
    next.id = fmt::format("s{}", sections.size() + 1);
    next.line_speed_kmh = 40 + 20 * dice.upto(5);
    next.records = {{.number = 1 + dice.upto(3),
                     .distance_m = dice.one_in(3) ? 20.0 : 5.0,
                     .speed_kmh = 40.0 + 20 * dice.upto(4)}};
    if (next.records.front().number > 1) {
      next.records.push_back({.number = 1, .distance_m = 0, .speed_kmh = 140});
    }
    switch (dice.upto(dice.one_in(2) ? 5 : 11)) {
      case 0:
        next.permitted_head_widths_mm = {1600, 1950};
        break;
      case 1:
        next.permitted_head_widths_mm = {dice.one_in(2) ? 1600.0 : 1950.0};
        break;
      case 2:
        next.supply = dice.one_in(2) ? EnergySupply::dc_3kv : EnergySupply::ac_15kv;
        break;
      default:
        break;
    }
    if (next.supply != sections.back().supply && !dice.one_in(3)) {
      scenario.request.route.separations.push_back({.name = "system separation " + next.id,
                                                    .kind = SeparationKind::system,
                                                    .from_km = at_km - 0.02,
                                                    .length_m = 40,
                                                    .pantograph_lowered = true,
                                                    .breaker_off = true,
                                                    .place = {}});
    }
    sections.push_back(next);
  }
}

bool is_free(const Route& route, double from_km, double to_km) {
  return std::ranges::none_of(route.separations, [&](const SeparationSection& other) {
    const SeparationExtent extent = extent_of(other);
    return extent.from_km <= to_km && from_km <= extent.to_km;
  });
}

void add_zones(Dice& dice, Scenario& scenario, double to_km) {
  Route& route = scenario.request.route;
  double at_km = dice.scaled(0.1, 4);
  for (int number = 1; at_km + 0.5 < to_km; ++number) {
    const double from_km = whole_metres(at_km);
    const double length_km = whole_metres(dice.scaled(0.02, 0.6));
    if (dice.one_in(3)) {
      route.lowered.push_back({.name = fmt::format("works {}", number),
                               .from_km = from_km,
                               .to_km = from_km + length_km,
                               .place = {}});
    } else if (is_free(route, from_km, from_km + length_km)) {
      const bool lowered = dice.one_in(3);
      route.separations.push_back({.name = fmt::format("separation {}", number),
                                   .kind = SeparationKind::phase,
                                   .from_km = from_km,
                                   .length_m = 1000 * std::min(length_km, 0.4),
                                   .pantograph_lowered = lowered,
                                   .breaker_off = lowered || !dice.one_in(8),
                                   .place = {}});
    }
    at_km += length_km + dice.scaled(0.1, 8);
  }
  std::ranges::sort(route.separations, {}, &SeparationSection::from_km);
}

bool is_within_lowered(const Route& route, double km) {
  return std::ranges::any_of(route.lowered,
                             [km](const LoweredStretch& lowered) {
                               return lowered.from_km < km && km < lowered.to_km;
                             }) ||
         std::ranges::any_of(route.separations, [km](const SeparationSection& separation) {
           const SeparationExtent extent = extent_of(separation);
           return separation.pantograph_lowered && extent.from_km < km && km < extent.to_km;
         });
}

void add_marks(Dice& dice, Scenario& scenario, double to_km) {
  Route& route = scenario.request.route;
  route.stops = {{.name = "Start", .at_km = 0, .place = {}}};
  for (double at_km = dice.scaled(0.5, 16); at_km + 1 < to_km; at_km += dice.scaled(0.5, 16)) {
    Stop stop{.name = fmt::format("stop {:.1f}", at_km),
              .at_km = whole_metres(at_km),
              .reversal = dice.one_in(3),
              .place = {}};
    if (!is_within_lowered(route, stop.at_km)) {  // route files with such a stop are refused
      route.stops.push_back(std::move(stop));
    }
  }
  route.stops.push_back({.name = "End", .at_km = to_km, .place = {}});
  for (double at_km = dice.scaled(0.1, 1); at_km < to_km; at_km += dice.scaled(0.1, 3)) {
    route.landmarks.push_back({.name = fmt::format("mark {:.1f}", at_km),
                               .at_km = whole_metres(at_km),
                               .change_on_the_move = dice.one_in(3),
                               .place = {}});
  }
}

/// Boards of the line for some stretches, where usual trains need them and elsewhere.
void add_boards(Dice& dice, Scenario& scenario) {
  Route& route = scenario.request.route;
  struct Boarded {
    std::string name;
    SeparationExtent extent;
    bool lowered = false;
  };
  std::vector<Boarded> stretches;
  for (const SeparationSection& separation : route.separations) {
    if (separation.pantograph_lowered || separation.breaker_off) {
      stretches.push_back({separation.name, extent_of(separation), separation.pantograph_lowered});
    }
  }
  for (const LoweredStretch& lowered : route.lowered) {
    stretches.push_back({lowered.name, {lowered.from_km, lowered.to_km}, true});
  }
  const double to_km = route.sections.back().to_km;
  for (const Boarded& stretch : stretches) {
    const auto add = [&](Board board, double km) {
      const double at_km = whole_metres(km);
      if (at_km > 0 && at_km < to_km) {
        route.landmarks.push_back({.name = fmt::format("{}, {}", stretch.name, name_of(board)),
                                   .at_km = at_km,
                                   .board = board,
                                   .board_of = stretch.name,
                                   .place = {}});
      }
    };
    for (int boards = dice.upto(2); boards > 0; --boards) {
      add(Board::breaker_off, stretch.extent.from_km - dice.scaled(0.02, 1.5));
      add(Board::breaker_on, stretch.extent.to_km + dice.scaled(0.005, 1.5));
    }
    for (int boards = stretch.lowered ? dice.upto(2) : 0; boards > 0; --boards) {
      add(Board::lower, stretch.extent.from_km - dice.scaled(0.02, 1));
      add(Board::raise, stretch.extent.to_km + dice.scaled(0.005, 1));
    }
  }
  std::ranges::stable_sort(route.landmarks, {}, &Landmark::at_km);
}

}  // namespace

Scenario dense_route(std::uint64_t seed) {
  Dice dice(seed);
  Scenario scenario;
  const double to_km = 8 + dice.upto(16);
  add_train(dice, scenario);
  add_sections(dice, scenario, to_km);
  add_zones(dice, scenario, to_km);
  add_marks(dice, scenario, to_km);
  if (seed % 3 == 0) {
    add_boards(dice, scenario);
  }
  return scenario;
}

}  // namespace panup
