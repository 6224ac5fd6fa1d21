#include <fmt/format.h>

#include <algorithm>

#include "base/toml_table.h"
#include "judging/limited_rules.h"
#include "plan/make_plan.h"
#include "plan/planning_case.h"

namespace panup {

namespace {

/// Rules of a kind that state a speed, and whether there is one for every case.
struct SpeedRules {
  const Rule* first = nullptr;            ///< that is in force; null if none is
  std::vector<const Rule*> with_a_speed;  ///< in force

  bool cover(const Train& train, const Vehicle& vehicle, const Section& section) const {
    return std::ranges::any_of(with_a_speed, [&](const Rule* rule) {
      return holds_on(rule->only_for, section) && holds_for_load(rule->only_for, train) &&
             holds_for_class(rule->only_for, vehicle);
    });
  }
};

SpeedRules speed_rules(const RuleBook& book, RuleKind kind) {
  SpeedRules rules;
  for (const Rule& rule : book.rules) {
    if (rule.on && rule.kind == kind) {
      rules.first = rules.first == nullptr ? &rule : rules.first;
      if (number_of(rule, "speed_kmh")) {
        rules.with_a_speed.push_back(&rule);
      }
    }
  }
  return rules;
}

/// The first of the sections on which the vehicle has no speed; null if there is none.
const Section* first_uncovered(const SpeedRules& rules, const Train& train, const Vehicle& vehicle,
                               const std::vector<const Section*>& sections) {
  const auto found = std::ranges::find_if(
      sections, [&](const Section* section) { return !rules.cover(train, vehicle, *section); });
  return found == sections.end() ? nullptr : *found;
}

std::vector<const Vehicle*> working_vehicles(const Train& train) {
  std::vector<const Vehicle*> working;
  for (const ConsistItem& item : train.consist) {
    const auto* const vehicle = std::get_if<Vehicle>(&item);
    if (vehicle != nullptr && !vehicle->dead_in_tow) {
      working.push_back(vehicle);
    }
  }
  return working;
}

std::vector<const Section*> iced_sections(const PlanRequest& request) {
  std::vector<const Section*> iced;
  for (const Section& section : request.route.sections) {
    if (std::ranges::any_of(request.conditions.ice, [&](const IceStretch& ice) {
          return ice.from_km < section.to_km && section.from_km < ice.to_km;
        })) {
      iced.push_back(&section);
    }
  }
  return iced;
}

void check_ice(const PlanRequest& request, Diagnostics& diagnostics) {
  if (request.conditions.ice.empty()) {
    return;
  }
  const SpeedRules rules = speed_rules(request.rules, RuleKind::ice_speed);
  if (rules.first == nullptr) {
    diagnostics.push_back({request.conditions.place,
                           "the contact wire is iced, but no rule of kind 'ice-speed' is in force; "
                           "turn it on and give it a speed_kmh in a rule book"});
    return;
  }
  if (rules.with_a_speed.empty()) {
    diagnostics.push_back(
        {request.conditions.place,
         fmt::format("the contact wire is iced, but rule '{}' states no ice speed; add a [[rule]] "
                     "with id = \"{}\" and speed_kmh to the operator's rule book",
                     rules.first->id, rules.first->id)});
    return;
  }
  const std::vector<const Section*> iced = iced_sections(request);
  for (const Vehicle* const vehicle : working_vehicles(request.train)) {
    if (const Section* const section = first_uncovered(rules, request.train, *vehicle, iced)) {
      diagnostics.push_back(
          {request.conditions.place,
           fmt::format("the contact wire is iced on section '{}', but no ice speed holds there for "
                       "vehicle {}, a {}; state speed_kmh in a rule of kind 'ice-speed' that holds "
                       "for it",
                       section->id, vehicle->number, vehicle->type->id)});
    }
  }
}

bool has_single_strips(const Vehicle& vehicle) {
  return std::ranges::any_of(vehicle.type->pantographs, [](const RoofPantograph& pantograph) {
    return pantograph.type->strip_count == 1;
  });
}

void check_single_strips(const PlanRequest& request, Diagnostics& diagnostics) {
  const SpeedRules rules = speed_rules(request.rules, RuleKind::single_contact_speed);
  if (rules.first == nullptr) {
    return;
  }
  std::vector<const Section*> sections;
  for (const Section& section : request.route.sections) {
    sections.push_back(&section);
  }
  for (const Vehicle* const vehicle : working_vehicles(request.train)) {
    const Section* const section = has_single_strips(*vehicle)
                                       ? first_uncovered(rules, request.train, *vehicle, sections)
                                       : nullptr;
    if (section == nullptr) {
      continue;
    }
    if (rules.with_a_speed.empty()) {
      diagnostics.push_back(
          {vehicle->place,
           fmt::format("vehicle {} has single-strip pantographs, but rule '{}' states no speed for "
                       "a single contact strip; add a [[rule]] with id = \"{}\" and speed_kmh to "
                       "the operator's rule book",
                       vehicle->number, rules.first->id, rules.first->id)});
      return;
    }
    diagnostics.push_back(
        {vehicle->place,
         fmt::format("vehicle {}, a {}, has single-strip pantographs, but on section '{}' no speed "
                     "for a single contact strip holds for it; state speed_kmh in a rule of kind "
                     "'single-contact-speed' that holds for it",
                     vehicle->number, vehicle->type->id, section->id)});
  }
}

/// Whether a rule that is limited to lines holds on a section hangs on the section's line.
void check_lines(const PlanRequest& request, Diagnostics& diagnostics) {
  for (const Section& section : request.route.sections) {
    const auto rule = std::ranges::find_if(request.rules.rules, [&](const Rule& candidate) {
      OnlyFor elsewhere = candidate.only_for;
      elsewhere.lines.clear();
      return candidate.on && !candidate.only_for.lines.empty() && holds_on(elsewhere, section) &&
             holds_for(elsewhere, request.train);
    });
    if (section.line.empty() && rule != request.rules.rules.end()) {
      diagnostics.push_back(
          {section.place,
           fmt::format("rule '{}' is {}, and section '{}' does not say which line it belongs to; "
                       "state its 'line'",
                       rule->id, only_for_words(rule->only_for), section.id)});
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

void check_departure(const PlanRequest& request, Diagnostics& diagnostics) {
  const Route& route = request.route;
  if (route.departs_km && (*route.departs_km < route.sections.front().from_km ||
                           *route.departs_km >= route.sections.back().to_km)) {
    diagnostics.push_back(
        {route.place, fmt::format("the train cannot depart at km {:g}: the route runs from km {:g} "
                                  "to {:g}",
                                  *route.departs_km, route.sections.front().from_km,
                                  route.sections.back().to_km)});
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
    if (!consent.file.empty() && !consents_somewhere(consent, request.route)) {
      continue;  // a file for many trains has consents for other routes
    }
    for (const std::string& id : consent.sections) {
      if (consent.file.empty() && std::ranges::find(request.route.sections, id, &Section::id) ==
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
  check_departure(request, diagnostics);
  check_ice_extent(request, diagnostics);
  check_single_strips(request, diagnostics);
  check_lines(request, diagnostics);
  check_mechanics(request, diagnostics);
  check_strips(request, diagnostics);
  return diagnostics;
}

}  // namespace panup
