#include <fmt/format.h>

#include <algorithm>

#include "base/toml_table.h"
#include "plan/make_plan.h"
#include "plan/planning_case.h"

namespace panup {

namespace {

constexpr std::size_t most_candidates = 100'000;
constexpr std::ptrdiff_t most_working_vehicles = 10;

void check_ice(const PlanRequest& request, Diagnostics& diagnostics) {
  if (request.conditions.ice.empty()) {
    return;
  }
  const Rule* const rule = rule_in_force(request.rules, RuleKind::ice_speed);
  if (rule == nullptr) {
    diagnostics.push_back({request.conditions.place,
                           "the contact wire is iced, but no rule of kind 'ice-speed' is in force; "
                           "turn it on and give it a speed_kmh in a rule book"});
  } else if (!number_of(*rule, "speed_kmh")) {
    diagnostics.push_back(
        {request.conditions.place,
         fmt::format("the contact wire is iced, but rule '{}' states no ice speed; add a [[rule]] "
                     "with id = \"{}\" and speed_kmh to the operator's rule book",
                     rule->id, rule->id)});
  }
}

void check_single_strips(const PlanRequest& request, Diagnostics& diagnostics) {
  const Rule* const rule = rule_in_force(request.rules, RuleKind::single_contact_speed);
  if (rule == nullptr || number_of(*rule, "speed_kmh")) {
    return;
  }
  for (const ConsistItem& item : request.train.consist) {
    const auto* const vehicle = std::get_if<Vehicle>(&item);
    if (vehicle == nullptr || vehicle->dead_in_tow) {
      continue;
    }
    for (const RoofPantograph& pantograph : vehicle->type->pantographs) {
      if (pantograph.type->strip_count == 1) {
        diagnostics.push_back(
            {vehicle->place,
             fmt::format(
                 "vehicle {} has single-strip pantographs, but rule '{}' states no speed for "
                 "a single contact strip; add a [[rule]] with id = \"{}\" and speed_kmh to "
                 "the operator's rule book",
                 vehicle->number, rule->id, rule->id)});
        return;
      }
    }
  }
}

/// A stretch that pantographs are lowered for, with its place in the file.
struct LoweredFor {
  std::string name;
  double from_km = 0;
  double to_km = 0;
  SourcePlace place;
};

std::vector<LoweredFor> lowered_for(const Route& route) {
  std::vector<LoweredFor> all;
  for (const SeparationSection& separation : route.separations) {
    if (separation.pantograph_lowered) {
      const SeparationExtent extent = extent_of(separation);
      all.push_back({separation.name, extent.from_km, extent.to_km, separation.place});
    }
  }
  for (const LoweredStretch& stretch : route.lowered) {
    all.push_back({stretch.name, stretch.from_km, stretch.to_km, stretch.place});
  }
  return all;
}

void check_lowering(const PlanRequest& request, Diagnostics& diagnostics) {
  const std::vector<LoweredFor> all = lowered_for(request.route);
  if (all.empty()) {
    return;
  }
  const auto rule =
      std::ranges::find(request.rules.rules, RuleKind::change_while_lowered, &Rule::kind);
  for (const char* const key : {"lowering_speed_kmh", "raising_speed_kmh"}) {
    if (rule == request.rules.rules.end() || !number_of(*rule, key)) {
      diagnostics.push_back(
          {all.front().place,
           fmt::format(
               "'{}' is passed with pantographs down, but rule 'change-while-lowered' states "
               "no {}; state it in the operator's rule book",
               all.front().name, key)});
    }
  }
  for (const LoweredFor& stretch : all) {
    if (stretch.from_km <= request.route.sections.front().from_km ||
        stretch.to_km >= request.route.sections.back().to_km) {
      diagnostics.push_back(
          {stretch.place,
           fmt::format("'{}' is passed with pantographs down, so the route can neither "
                       "begin nor end in it",
                       stretch.name)});
    }
  }
}

void check_ice_extent(const PlanRequest& request, Diagnostics& diagnostics) {
  const double from = request.route.sections.front().from_km;
  const double to = request.route.sections.back().to_km;
  for (const IceStretch& ice : request.conditions.ice) {
    if (ice.to_km <= from || ice.from_km >= to) {
      diagnostics.push_back(
          {request.conditions.place,
           fmt::format("ice from km {:g} to {:g} lies outside the route, which runs "
                       "from km {:g} to {:g}",
                       ice.from_km, ice.to_km, from, to)});
    }
  }
}

/// A consent by rule is for rules of these kinds that ask for one.
void check_rule_of(const Consent& consent, const RuleBook& rules, Diagnostics& diagnostics) {
  std::vector<std::string> known;
  for (const Rule& rule : rules.rules) {
    const bool may = rule.kind == RuleKind::separation_unknown || rule.kind == RuleKind::coasting ||
                     rule.kind == RuleKind::standing_place;
    if (may && rule.on && rule.strength == Strength::consent_needed) {
      known.push_back(rule.id);
    }
  }
  if (!consent.rule.empty() && std::ranges::find(known, consent.rule) == known.end()) {
    diagnostics.push_back(
        {consent.place,
         fmt::format("consent '{}' is for the rule '{}'; a consent can be for {}",
                     consent.reference, consent.rule,
                     known.empty() ? "no rule of these books" : quoted_list(known))});
  }
}

void check_consents(const PlanRequest& request, Diagnostics& diagnostics) {
  for (const Consent& consent : request.train.consents) {
    for (const std::string& id : consent.sections) {
      if (std::ranges::find(request.route.sections, id, &Section::id) ==
          request.route.sections.end()) {
        diagnostics.push_back(
            {consent.place, fmt::format("consent '{}' names section '{}', which the "
                                        "route does not have",
                                        consent.reference, id)});
      }
    }
    check_rule_of(consent, request.rules, diagnostics);
  }
}

void check_size(const PlanRequest& request, Diagnostics& diagnostics) {
  std::ptrdiff_t working = 0;
  for (const ConsistItem& item : request.train.consist) {
    const auto* const vehicle = std::get_if<Vehicle>(&item);
    working += vehicle != nullptr && !vehicle->dead_in_tow ? 1 : 0;
  }
  if (working > most_working_vehicles) {
    diagnostics.push_back(
        {request.train.place, fmt::format("{} working vehicles; at most {} can be planned", working,
                                          most_working_vehicles)});
    return;
  }
  const Judge judge(request.rules, request.train, false);
  for (const Section& section : request.route.sections) {
    if (candidate_count(judge, section) > most_candidates) {
      diagnostics.push_back(
          {request.train.place,
           fmt::format(
               "on section '{}' the train has more than {} configurations to judge; mark "
               "pantographs or vehicles that are not to be used as defective or dead in tow",
               section.id, most_candidates)});
      return;
    }
  }
}

/// Strips that alone reach over a whole zone: one of the two lengths is wrong. Insulators may be
/// shorter.
void check_strips(const PlanRequest& request, Diagnostics& diagnostics) {
  const PantographType* longest = nullptr;
  for (const ConsistItem& item : request.train.consist) {
    if (const auto* const vehicle = std::get_if<Vehicle>(&item)) {
      for (const RoofPantograph& pantograph : vehicle->type->pantographs) {
        const auto& length = pantograph.type->strip_length_along_track_mm;
        if (length && (longest == nullptr || *length > *longest->strip_length_along_track_mm)) {
          longest = pantograph.type.get();
        }
      }
    }
  }
  for (const SeparationSection& separation : request.route.separations) {
    for (const SeparationZone& zone : separation.zones) {
      const double zone_m = zone.to_m - zone.from_m;
      if (longest != nullptr && zone.kind != ZoneKind::insulator &&
          zone_m * 1000 <= *longest->strip_length_along_track_mm) {
        diagnostics.push_back(
            {zone.place,
             fmt::format("{} of '{}' is {:g} m long, but the contact strips of pantograph type "
                         "'{}' reach over {:g} m along the track; one of the two is wrong",
                         name_of(zone), separation.name, zone_m, longest->id,
                         *longest->strip_length_along_track_mm / 1000)});
      }
    }
  }
}

void check_mechanics(const PlanRequest& request, Diagnostics& diagnostics) {
  if (request.speed_from != SpeedFrom::tables &&
      rule_in_force(request.rules, RuleKind::speed_by_mechanics) == nullptr) {
    diagnostics.push_back(
        {request.train.place,
         fmt::format(
             "the speed is to come from the mechanics, but no rule of kind '{}' is in force; "
             "turn it on in a rule book",
             spec_of(RuleKind::speed_by_mechanics).name)});
  }
}

}  // namespace

Diagnostics cross_check(const PlanRequest& request) {
  Diagnostics diagnostics;
  check_consents(request, diagnostics);
  check_lowering(request, diagnostics);
  check_ice(request, diagnostics);
  check_ice_extent(request, diagnostics);
  check_single_strips(request, diagnostics);
  check_mechanics(request, diagnostics);
  check_strips(request, diagnostics);
  check_size(request, diagnostics);
  return diagnostics;
}

}  // namespace panup
