#include "driving/drive.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <set>
#include <stdexcept>

#include "driving/driven_course.h"
#include "plan/run_plan.h"

namespace panup {

namespace {

/// Less than a contact strip is wide: rounding.
constexpr double nothing_km = 0.0005;

/// A stretch of wire, by chainage.
struct WireStretch {
  double from_km = 0;
  double to_km = 0;
};

/// What a collector head that stands `from_front_m` behind the front runs along. After a reversal
/// the new front stands at the stop's chainage, and the wire over the train is the one that it came
/// under.
std::vector<WireStretch> wire_over(const DrivenLeg& leg, double from_front_m, FrontStretch front) {
  const double from_km = front.from_km - from_front_m / 1000;
  const double to_km = front.to_km - from_front_m / 1000;
  const double start_km = leg.start_km;
  std::vector<WireStretch> stretches;
  if (to_km > start_km + (leg.turned_at_start ? nothing_km : -nothing_km)) {
    stretches.push_back({std::max(from_km, start_km), to_km});
  }
  if (leg.turned_at_start && from_km < start_km) {
    const double mirror_km = 2 * start_km - leg.layout.length_m / 1000;
    stretches.push_back({mirror_km - std::min(to_km, start_km), mirror_km - from_km});
  } else if (from_km < start_km) {
    stretches.push_back({from_km, std::min(to_km, start_km)});
  }
  return stretches;
}

bool overlap(WireStretch wire, double from_km, double to_km) {
  return wire.from_km < to_km - nothing_km && wire.to_km > from_km + nothing_km;
}

std::string stretch_words(double from_km, double to_km, const Words& words) {
  return words.say("km {:.3f} to {:.3f}", from_km, to_km);
}

/// Why the pantograph may not touch this section's wire; empty if it may.
std::string misfit(const PantographType& type, const VehicleType& vehicle, const Section& section,
                   const Words& words) {
  if (!section.supply || supply_of(type, *section.supply) == nullptr) {
    return words.say("it is not for the section's energy supply system");
  }
  if (!is_for(vehicle, *section.supply)) {
    return words.say("its vehicle is not built for the section's energy supply system");
  }
  const auto& heads = section.permitted_heads;
  if (heads && (!type.head_type || std::ranges::find(*heads, *type.head_type) == heads->end())) {
    return words.say("its type of head is not permitted there");
  }
  if ((!heads && !section.permitted_head_widths_mm) ||
      (section.permitted_head_widths_mm &&
       std::ranges::find(*section.permitted_head_widths_mm, type.head_width_mm) ==
           section.permitted_head_widths_mm->end())) {
    return words.say("its head is not permitted there");
  }
  if (!section.permitted_strip_materials ||
      std::ranges::find(*section.permitted_strip_materials, type.strip_material) ==
          section.permitted_strip_materials->end()) {
    return words.say("its contact strips are not permitted there");
  }
  if (section.greatest_metallic_content_percent &&
      metallic_content_percent(type).value_or(100) > *section.greatest_metallic_content_percent) {
    return words.say("its contact strips have more metal than is permitted there");
  }
  if (section.greatest_static_force_n &&
      supply_of(type, *section.supply)->static_force_n > *section.greatest_static_force_n) {
    return words.say("its static force is more than is permitted there");
  }
  if (section.current_limitation_required.value_or(false) &&
      !vehicle.current_limitation.value_or(false)) {
    return words.say("its vehicle does not limit its current, which is required there");
  }
  if (section.automatic_dropping_device_required.value_or(true) &&
      !type.automatic_dropping_device) {
    return words.say("it has no automatic dropping device");
  }
  if (section.wire_height_min_m.value_or(type.working_height_min_m) < type.working_height_min_m ||
      section.wire_height_max_m.value_or(type.working_height_max_m) > type.working_height_max_m) {
    return words.say("it does not reach the wire there");
  }
  return {};
}

/// Holds what was driven against route and train.
class Inspector {
 public:
  Inspector(const DrivenOrders& driven, const DrivenRules& rules, const DrivenCourse& course)
      : driven_(driven), rules_(rules), course_(course) {
    faults_ = course.faults;
  }

  std::vector<DrivenFault> look() {
    for (const Touching& touching : course_.touching) {
      look_at(touching);
    }
    if (rules_.boards) {
      look_at_boards();
    }
    for (std::size_t leg = 0; leg < course_.legs.size(); ++leg) {
      if (rules_.records) {
        look_at_numbers(leg);
      }
      if (rules_.line_speed) {
        look_at_line_speed(course_.legs[leg]);
      }
    }
    std::ranges::stable_sort(faults_, {}, &DrivenFault::at_km);
    return std::move(faults_);
  }

 private:
  const PlacedPantograph& placed(const Touching& touching) const {
    return course_.legs[touching.leg].layout.pantographs[touching.pantograph];
  }

  void look_at(const Touching& touching) {
    const PlacedPantograph& pantograph = placed(touching);
    const std::string name = to_string(pantograph.ref);
    for (const WireStretch wire :
         wire_over(course_.legs[touching.leg], pantograph.from_front_m, touching.front)) {
      const auto fault = [&](double from_km, std::string what) {
        const double front_km = std::max(from_km, wire.from_km) + pantograph.from_front_m / 1000;
        faults_.push_back({front_km, std::move(what)});
      };
      for (const LoweredStretch& lowered : driven_.route.lowered) {
        if (overlap(wire, lowered.from_km, lowered.to_km)) {
          fault(lowered.from_km,
                driven_.words.say("{} touches the wire within '{}', {}", name, lowered.name,
                                  stretch_words(lowered.from_km, lowered.to_km, driven_.words)));
        }
      }
      for (const SeparationSection& separation : driven_.route.separations) {
        const SeparationExtent extent = extent_of(separation);
        if (!overlap(wire, extent.from_km, extent.to_km)) {
          continue;
        }
        if (separation.pantograph_lowered) {
          fault(extent.from_km,
                driven_.words.say("{} touches the wire within '{}', {}", name, separation.name,
                                  stretch_words(extent.from_km, extent.to_km, driven_.words)));
        } else if (separation.breaker_off) {
          look_at_breaker(touching, separation, extent);
        }
      }
      look_at_departure(touching, wire, fault);
      const std::vector<Section>& sections = driven_.route.sections;
      for (auto it = std::ranges::lower_bound(sections, wire.from_km, {}, &Section::to_km);
           it != sections.end() && it->from_km <= wire.to_km; ++it) {
        const Section& section = *it;
        if (!overlap(wire, section.from_km, section.to_km)) {
          continue;
        }
        if (const std::string why = misfit(
                *pantograph.type, *vehicle_numbered(driven_.train, pantograph.ref.vehicle)->type,
                section, driven_.words);
            !why.empty()) {
          fault(section.from_km,
                driven_.words.say("{} touches the wire of '{}': {}", name, section.id, why));
        }
      }
    }
  }

  /// A train that departs from within the route may stand anywhere.
  template <typename Fault>
  void look_at_departure(const Touching& touching, WireStretch wire, const Fault& fault) const {
    const auto& departs_km = driven_.route.departs_km;
    if (!rules_.standing_places || !departs_km ||
        touching.front.from_km > *departs_km + nothing_km) {
      return;
    }
    const DrivenLeg& leg = course_.legs[touching.leg];
    const PlacedPantograph& pantograph = placed(touching);
    for (const WireStretch at :
         wire_over(leg, pantograph.from_front_m, {*departs_km, *departs_km})) {
      for (const SectionInsulator& insulator : driven_.route.section_insulators) {
        const double half_km = insulator.length_m / 2000;
        if (at.from_km <= insulator.at_km + half_km && at.to_km >= insulator.at_km - half_km) {
          fault(wire.from_km, driven_.words.say("{} goes up in '{}', where none may stand",
                                                to_string(pantograph.ref), insulator.name));
        }
      }
    }
  }

  void look_at_breaker(const Touching& touching, const SeparationSection& separation,
                       const SeparationExtent& extent) {
    const PlacedPantograph& pantograph = placed(touching);
    const double behind_km = pantograph.from_front_m / 1000;
    for (const Closed& closed : course_.closed) {
      const double from_km =
          std::max({closed.front.from_km, touching.front.from_km, extent.from_km + behind_km});
      const double to_km =
          std::min({closed.front.to_km, touching.front.to_km, extent.to_km + behind_km});
      if (closed.vehicle == pantograph.ref.vehicle && to_km - from_km > nothing_km) {
        faults_.push_back(
            {from_km,
             driven_.words.say("the breaker of vehicle {} is closed with {} within '{}'",
                               closed.vehicle, to_string(pantograph.ref), separation.name)});
      }
    }
  }

  /// Places of the front between which nothing changes, while any of these touches the wire.
  std::vector<double> places_for(const DrivenLeg& leg,
                                 const std::vector<const Touching*>& touching) const {
    if (touching.empty()) {
      return {};
    }
    double from_km = touching.front()->front.from_km;
    double to_km = touching.front()->front.to_km;
    for (const Touching* const one : touching) {
      from_km = std::min(from_km, one->front.from_km);
      to_km = std::max(to_km, one->front.to_km);
    }
    std::set<double> places{from_km, to_km};
    const auto add = [&](double km) {
      if (km > from_km && km < to_km) {
        places.insert(km);
      }
    };
    for (const Touching* const one : touching) {
      add(one->front.from_km);
      add(one->front.to_km);
    }
    for (const OrderedSpeed& speed : course_.speeds) {
      add(speed.from_km);
    }
    const double train_km = leg.layout.length_m / 1000;
    const std::vector<Section>& sections = driven_.route.sections;
    for (auto section = std::ranges::lower_bound(sections, from_km - train_km, {}, &Section::to_km);
         section != sections.end() && section->from_km <= to_km; ++section) {
      for (const PlacedPantograph& pantograph : leg.layout.pantographs) {
        add(section->from_km + pantograph.from_front_m / 1000);
      }
      add(section->from_km);
      add(section->to_km + train_km);
    }
    return {places.begin(), places.end()};
  }

  /// Number, distance and speed against the records of every section that a head touches.
  void look_at_numbers(std::size_t leg_number) {
    const DrivenLeg& leg = course_.legs[leg_number];
    std::vector<const Touching*> coming;  // by where they begin
    for (const Touching& touching : course_.touching) {
      if (touching.leg == leg_number) {
        coming.push_back(&touching);
      }
    }
    std::ranges::stable_sort(coming, {}, [](const Touching* one) { return one->front.from_km; });
    const std::vector<double> places = places_for(leg, coming);
    auto next = coming.begin();
    std::vector<const Touching*> up;
    std::set<std::string> said;
    for (std::size_t i = 0; i + 1 < places.size(); ++i) {
      const FrontStretch front{places[i], places[i + 1]};
      if (front.to_km - front.from_km < nothing_km) {
        continue;
      }
      const double middle_km = (front.from_km + front.to_km) / 2;
      for (; next != coming.end() && (*next)->front.from_km <= middle_km; ++next) {
        up.push_back(*next);
      }
      std::erase_if(up, [&](const Touching* one) { return one->front.to_km < middle_km; });
      std::vector<double> up_m;
      std::set<const Section*> sections;
      for (const Touching* const touching : up) {
        const double from_front_m = placed(*touching).from_front_m;
        up_m.push_back(from_front_m);
        for (const WireStretch wire : wire_over(leg, from_front_m, {middle_km, middle_km})) {
          const std::vector<Section>& all = driven_.route.sections;
          for (auto section = std::ranges::lower_bound(all, wire.from_km, {}, &Section::to_km);
               section != all.end() && section->from_km <= wire.from_km; ++section) {
            sections.insert(&*section);
          }
        }
      }
      std::ranges::sort(up_m);
      double least_m = std::numeric_limits<double>::infinity();
      for (std::size_t p = 1; p < up_m.size(); ++p) {
        least_m = std::min(least_m, up_m[p] - up_m[p - 1]);
      }
      const double speed_kmh = highest_speed_kmh(course_, front);
      for (const Section* const section : sections) {
        if (!may_run(*section, static_cast<int>(up_m.size()), least_m, speed_kmh) &&
            said.insert(section->id).second) {
          faults_.push_back(
              {front.from_km,
               driven_.words.say(
                   "{} up, {:.1f} m apart at {:.0f} km/h: no record of '{}' permits it",
                   up_m.size(), least_m, speed_kmh, section->id)});
        }
      }
    }
  }

  /// No more than what is permitted to fewer pantographs, farther apart.
  static double relied_on_kmh(const Section& section, const RaisedRecord& record) {
    double kmh = record.speed_kmh;
    for (const RaisedRecord& easier : section.records) {
      if (easier.number <= record.number &&
          (easier.number == 1 || easier.distance_m >= record.distance_m)) {
        kmh = std::min(kmh, easier.speed_kmh);
      }
    }
    return kmh;
  }

  bool may_run(const Section& section, int number, double least_m, double speed_kmh) const {
    // Records of several say nothing against one alone. Design types are asked elsewhere.
    const auto is_for_one = [](const RaisedRecord& record) { return record.number == 1; };
    if (number == 0 || section.records.empty() ||
        (number == 1 && std::ranges::none_of(section.records, is_for_one))) {
      return true;
    }
    const auto permits = [&](int of, double distance_m, double kmh) {
      return (number == 1 ? of == 1 : of >= number) && distance_m <= least_m + 0.01 &&
             (!rules_.record_speeds || kmh >= speed_kmh - 0.01);
    };
    return std::ranges::any_of(section.records,
                               [&](const RaisedRecord& record) {
                                 return permits(record.number, record.distance_m,
                                                relied_on_kmh(section, record));
                               }) ||
           std::ranges::any_of(driven_.train.consents, [&](const Consent& consent) {
             return (consent.sections.empty() ||
                     std::ranges::find(consent.sections, section.id) != consent.sections.end()) &&
                    permits(consent.number, consent.distance_m, consent.speed_kmh);
           });
  }

  bool stands_from_to(double from_km, double to_km) const {
    return from_km <= departure_km(driven_.route) || course_.end_km <= to_km ||
           std::ranges::any_of(driven_.route.stops, [&](const Stop& stop) {
             return stop.at_km >= from_km - nothing_km && stop.at_km <= to_km + nothing_km;
           });
  }

  /// Whether the breaker cannot open between the last stand and this place.
  bool has_hardly_started(double km) const {
    double stand_km = departure_km(driven_.route);
    for (const Stop& stop : driven_.route.stops) {
      stand_km = stop.at_km < km ? std::max(stand_km, stop.at_km) : stand_km;
    }
    const double run_m = 1000 * (km - stand_km);
    const double speed_ms = std::sqrt(2 * driven_.train.acceleration_ms2 * run_m);
    constexpr double rounding_m = 10;
    return run_m < speed_ms * (rules_.reaction_s + rules_.breaker_s) + rounding_m;
  }

  /// The boards of one kind for a stretch, rising.
  std::vector<double> boards_for(const std::string& name, Board board) const {
    std::vector<double> kms;
    for (const Landmark& landmark : driven_.route.landmarks) {
      if (landmark.board == board && landmark.board_of == name) {
        kms.push_back(landmark.at_km);
      }
    }
    std::ranges::sort(kms);
    return kms;
  }

  /// Before a stretch: past the last board, what it asks for has been ordered, and nothing against
  /// it; unless the train stands once more before it comes there.
  void look_before(const std::string& name, WireStretch stretch, Board board, Action does,
                   Action undoes) {
    const std::vector<double> boards = boards_for(name, board);
    const double train_km = course_.legs.front().layout.length_m / 1000;
    if (boards.empty() || stands_from_to(boards.back(), stretch.to_km + train_km) ||
        (board == Board::lower && has_hardly_started(boards.back()))) {
      return;
    }
    const double last_km = boards.back();
    std::set<int> vehicles;
    std::set<PantographRef> pantographs;
    for (const Instruction& order : driven_.orders) {
      if (order.at_km > last_km + nothing_km && order.at_km < stretch.from_km) {
        if (order.action == undoes) {
          faults_.push_back(
              {order.at_km, driven_.words.say("'{}' past the board \"{}\" for '{}'", order.what,
                                              driven_.words.named(name_of(board)), name)});
        }
      } else if (order.at_km <= last_km + nothing_km && order.action == undoes) {
        vehicles.insert(order.vehicles.begin(), order.vehicles.end());
        pantographs.insert(order.pantographs.begin(), order.pantographs.end());
      } else if (order.at_km <= last_km + nothing_km && order.action == does) {
        std::erase_if(vehicles, [&](int vehicle) {
          return std::ranges::find(order.vehicles, vehicle) != order.vehicles.end();
        });
        std::erase_if(pantographs, [&](PantographRef ref) {
          return std::ranges::find(order.pantographs, ref) != order.pantographs.end();
        });
      }
    }
    if (!vehicles.empty() || !pantographs.empty()) {
      faults_.push_back(
          {last_km, driven_.words.say("the board \"{}\" for '{}', km {:.3f}, is not obeyed",
                                      driven_.words.named(name_of(board)), name, last_km)});
    }
  }

  /// Whether a pantograph of the vehicles that an order speaks of has come to the stretch.
  bool has_come_to(const Instruction& order, WireStretch stretch) const {
    const auto leg = std::ranges::find_if(course_.legs, [&](const DrivenLeg& candidate) {
      return order.at_km <= candidate.front.to_km;
    });
    return order.at_km > stretch.to_km && leg != course_.legs.end() &&
           std::ranges::any_of(leg->layout.pantographs, [&](const PlacedPantograph& placed) {
             const bool is_of_it =
                 std::ranges::find(order.vehicles, placed.ref.vehicle) != order.vehicles.end() ||
                 std::ranges::find(order.pantographs, placed.ref) != order.pantographs.end();
             return is_of_it && order.at_km - placed.from_front_m / 1000 > stretch.from_km;
           });
  }

  /// Behind a stretch: nothing is done before the first board, unless the train stands there.
  void look_behind(const std::string& name, WireStretch stretch, Board board, Action does) {
    const std::vector<double> boards = boards_for(name, board);
    for (const Instruction& order : driven_.orders) {
      if (!boards.empty() && order.action == does && has_come_to(order, stretch) &&
          order.at_km < boards.front() - nothing_km &&
          !stands_from_to(stretch.from_km, order.at_km)) {
        faults_.push_back(
            {order.at_km,
             driven_.words.say("'{}' before the board \"{}\" for '{}', km {:.3f}", order.what,
                               driven_.words.named(name_of(board)), name, boards.front())});
      }
    }
  }

  void look_at_boards() {
    const auto look = [&](const std::string& name, WireStretch stretch) {
      look_before(name, stretch, Board::breaker_off, Action::breaker_off, Action::breaker_on);
      look_before(name, stretch, Board::lower, Action::lower, Action::raise);
      look_behind(name, stretch, Board::raise, Action::raise);
      look_behind(name, stretch, Board::breaker_on, Action::breaker_on);
    };
    for (const SeparationSection& separation : driven_.route.separations) {
      const SeparationExtent extent = extent_of(separation);
      look(separation.name, {extent.from_km, extent.to_km});
    }
    for (const LoweredStretch& lowered : driven_.route.lowered) {
      look(lowered.name, {lowered.from_km, lowered.to_km});
    }
  }

  void look_at_line_speed(const DrivenLeg& leg) {
    for (const Section& section : driven_.route.sections) {
      const FrontStretch over{
          std::max(section.from_km, leg.front.from_km),
          std::min(section.to_km + leg.layout.length_m / 1000, leg.front.to_km)};
      if (over.to_km - over.from_km < nothing_km) {
        continue;
      }
      const double speed_kmh =
          highest_speed_kmh(course_, {over.from_km + nothing_km, over.to_km - nothing_km});
      if (speed_kmh > section.line_speed_kmh + 0.01) {
        faults_.push_back(
            {over.from_km, driven_.words.say("{:.0f} km/h ordered over '{}' of {:.0f} km/h",
                                             speed_kmh, section.id, section.line_speed_kmh)});
      }
    }
  }

  const DrivenOrders& driven_;
  DrivenRules rules_;
  const DrivenCourse& course_;
  std::vector<DrivenFault> faults_;
};

/// What nobody may do where a pantograph fails on the road, the train stops, and others go up
/// instead: wherever it stands on the stretch, each is looked at under the wire over it.
std::vector<DrivenFault> stand_faults(const Plan& plan, const DrivenRules& on_the_way) {
  DrivenRules rules = on_the_way;
  rules.line_speed = rules.boards = false;  // nothing moves, nothing is ordered
  const std::vector<Instruction> none;
  const DrivenOrders standing{plan.train, plan.route, none};
  std::vector<DrivenFault> faults;
  for (const DrivenLeg& leg : driven_legs(standing)) {
    for (const Contingency& contingency : plan.contingencies) {
      for (const RoadFailure& failure : contingency.on_the_road) {
        const FrontStretch front{std::max(failure.from_km, leg.front.from_km),
                                 std::min(failure.to_km, leg.front.to_km)};
        if (failure.stranded || front.to_km - front.from_km < 2 * nothing_km) {
          continue;
        }
        DrivenCourse course;
        course.legs = {leg};
        for (std::size_t p = 0; p < leg.layout.pantographs.size(); ++p) {
          if (std::ranges::find(failure.raised, leg.layout.pantographs[p].ref) !=
              failure.raised.end()) {
            course.touching.push_back({0, p, front});
          }
        }
        for (DrivenFault& fault : Inspector(standing, rules, course).look()) {
          fault.what =
              fmt::format("{} fails on the road: {}", to_string(contingency.failed), fault.what);
          faults.push_back(std::move(fault));
        }
      }
    }
  }
  return faults;
}

}  // namespace

DrivenRules driven_rules(const RuleBook& rules, SpeedFrom speed_from) {
  DrivenRules driven{.line_speed = rule_in_force(rules, RuleKind::line_speed) != nullptr,
                     .records = rule_in_force(rules, RuleKind::raised_record) != nullptr,
                     .record_speeds = speed_from != SpeedFrom::mechanics,
                     .boards = rule_in_force(rules, RuleKind::line_boards) != nullptr,
                     .standing_places = std::ranges::any_of(rules.rules, [](const Rule& rule) {
                       return rule.on && rule.kind == RuleKind::standing_place &&
                              rule.words.at("place") == "stop";
                     })};
  if (const Rule* const rule = rule_in_force(rules, RuleKind::driver_times)) {
    driven.reaction_s = number_of(*rule, "reaction_time_s").value_or(0);
    driven.breaker_s = number_of(*rule, "breaker_time_s").value_or(0);
  }
  return driven;
}

std::vector<DrivenFault> drive(const DrivenOrders& driven, const DrivenRules& rules) {
  return Inspector(driven, rules, follow_orders(driven, rules)).look();
}

std::vector<DrivenFault> drive(const Plan& plan, const DrivenRules& rules) {
  std::vector<DrivenFault> faults = drive({plan.train, plan.route, plan.instructions}, rules);
  for (const Contingency& contingency : plan.contingencies) {
    for (DrivenFault& fault :
         drive({plan.train, plan.route, contingency.instructions, contingency.failed}, rules)) {
      fault.what = fmt::format("with {} failed: {}", to_string(contingency.failed), fault.what);
      faults.push_back(std::move(fault));
    }
  }
  for (DrivenFault& fault : stand_faults(plan, rules)) {
    faults.push_back(std::move(fault));
  }
  return faults;
}

void must_hold_when_driven(const Plan& plan, const DrivenRules& rules) {
  const std::vector<DrivenFault> faults = drive(plan, rules);
  if (!faults.empty()) {
    throw std::logic_error(
        fmt::format("The orders of this plan must not be driven, so it is not handed out. At km "
                    "{:.3f}: {}.",
                    faults.front().at_km, faults.front().what));
  }
}

void must_stand_dead_at_end(const Plan& plan) {
  std::set<PantographRef> up;
  std::set<int> closed;
  for (const Instruction& order : plan.instructions) {
    for (const PantographRef ref : order.pantographs) {
      if (order.action == Action::raise) {
        up.insert(ref);
      } else if (order.action == Action::lower) {
        up.erase(ref);
      }
    }
    for (const int vehicle : order.vehicles) {
      if (order.action == Action::breaker_on) {
        closed.insert(vehicle);
      } else if (order.action == Action::breaker_off) {
        closed.erase(vehicle);
      }
    }
  }
  if (!up.empty() || !closed.empty()) {
    throw std::logic_error(
        fmt::format("where the vehicles change, {}",
                    up.empty() ? fmt::format("the breaker of vehicle {} is closed", *closed.begin())
                               : to_string(*up.begin()) + " is up"));
  }
}

std::optional<Plan> make_driven_plan(const PlanRequest& request) {
  std::optional<Plan> plan = make_plan(request);
  if (plan) {
    must_hold_when_driven(*plan, driven_rules(request.rules, request.speed_from));
  }
  return plan;
}

std::optional<Plan> make_driven_part(const PlanRequest& request,
                                     const std::vector<std::string>& changes) {
  std::optional<Plan> plan = make_driven_plan(request);
  if (plan && !changes.empty()) {
    add_change_orders(changes, *plan);
    must_hold_when_driven(*plan, driven_rules(request.rules, request.speed_from));
    must_stand_dead_at_end(*plan);
  }
  return plan;
}

}  // namespace panup
