#include "scenario.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "files/read_rule_book.h"
#include "stock/layout.h"

namespace panup::scenario {

namespace {

std::shared_ptr<const VehicleType> vehicle_type(
    VehicleKind kind, double length_m,
    const std::vector<std::pair<double, std::shared_ptr<const PantographType>>>& roof) {
  auto type = std::make_shared<VehicleType>();
  type->id = "test-type";
  type->name = "Test type";
  type->kind = kind;
  type->length_m = length_m;
  type->highest_speed_kmh = 160;
  type->systems = {all_energy_supplies.begin(), all_energy_supplies.end()};
  type->high_voltage_coupler = false;
  int number = 0;
  for (const auto& [from_cab1_m, pantograph_type] : roof) {
    const Cab nearer = from_cab1_m < length_m / 2 ? Cab::cab1 : Cab::cab2;
    type->pantographs.push_back({.number = ++number,
                                 .from_cab1_m = from_cab1_m,
                                 .type = pantograph_type,
                                 .knuckle_towards = other(nearer),
                                 .nearer_cab = nearer});
  }
  return type;
}

/// Of a section without a system every pantograph counts.
bool is_for(const PantographType& type, std::optional<EnergySupply> supply) {
  return !supply || std::ranges::find(type.supplies, *supply, &PantographSupply::supply) !=
                        type.supplies.end();
}

}  // namespace

std::shared_ptr<const PantographType> pantograph(const Roof& roof) {
  auto type = std::make_shared<PantographType>();
  type->id = "test-pantograph";
  type->name = "Test pantograph";
  type->head_width_mm = 1950;
  type->strip_count = roof.strips;
  type->strip_material = StripMaterial::plain_carbon;
  type->frame = roof.frame;
  for (const EnergySupply supply : roof.supplies) {
    type->supplies.push_back({.supply = supply,
                              .static_force_n = 70,
                              .running_current_a = 700,
                              .standstill_current_a = 80});
  }
  type->highest_speed_kmh = 200;
  type->working_height_min_m = 4.8;
  type->working_height_max_m = 6.5;
  type->raising_time_s = 6;
  type->lowering_time_s = 4;
  return type;
}

std::shared_ptr<const VehicleType> locomotive(const Roof& roof) {
  const auto type = pantograph(roof);
  return vehicle_type(VehicleKind::locomotive, 19, {{4.5, type}, {14.5, type}});
}

std::shared_ptr<const VehicleType> one_pantograph_locomotive(const Roof& roof) {
  return vehicle_type(VehicleKind::locomotive, 19, {{4.5, pantograph(roof)}});
}

std::shared_ptr<const VehicleType> four_pantograph_locomotive(bool all_for_one_system) {
  const auto ac = pantograph({});
  const auto inner = all_for_one_system ? ac : pantograph({.supplies = {EnergySupply::dc_3kv}});
  return vehicle_type(VehicleKind::locomotive, 19, {{3, ac}, {5, inner}, {14, inner}, {16, ac}});
}

std::shared_ptr<const VehicleType> one_for_each_system_locomotive() {
  return vehicle_type(
      VehicleKind::locomotive, 19,
      {{4.5, pantograph({})}, {14.5, pantograph({.supplies = {EnergySupply::dc_3kv}})}});
}

std::shared_ptr<const VehicleType> electric_unit() {
  const auto type = pantograph({});
  return vehicle_type(VehicleKind::electric_unit, 75, {{15, type}, {60, type}});
}

Scenario::Scenario() {
  request.train.id = "test-train";
  request.train.name = "Test train";
  request.train.acceleration_ms2 = 0.2;
  request.train.braking_ms2 = 0.5;
  Section only;
  only.id = "s1";
  only.name = "The line";
  only.from_km = 0;
  only.to_km = 20;
  only.line_speed_kmh = 120;
  only.supply = EnergySupply::ac_15kv;
  only.permitted_head_widths_mm = {1950};
  only.permitted_strip_materials = {StripMaterial::plain_carbon};
  only.automatic_dropping_device_required = false;
  only.design_type = DesignType::a;
  only.wire_height_min_m = 5;
  only.wire_height_max_m = 6;
  request.route.id = "test-route";
  request.route.name = "Test route";
  request.route.sections.push_back(only);
  request.rules = built_in_rule_book();
  rule("ice-speed").numbers["speed_kmh"] = 60;
  rule("single-strip-speed").numbers["speed_kmh"] = 40;
  rule("change-while-lowered").numbers["lowering_speed_kmh"] = 80;
  rule("change-while-lowered").numbers["raising_speed_kmh"] = 60;
  rule("change-on-the-move").numbers["speed_kmh"] = 60;
}

Scenario& Scenario::add(const std::shared_ptr<const VehicleType>& type, Cab leading_cab) {
  const auto vehicles = std::ranges::count_if(request.train.consist, [](const ConsistItem& item) {
    return std::holds_alternative<Vehicle>(item);
  });
  Vehicle added;
  added.number = static_cast<int>(vehicles) + 1;
  added.id = fmt::format("vehicle {}", added.number);
  added.type = type;
  added.leading_cab = leading_cab;
  request.train.consist.emplace_back(added);
  return *this;
}

Scenario& Scenario::load(LoadNature nature, double length_m) {
  LoadGroup group;
  group.name = "load";
  group.nature = nature;
  group.length_m = length_m;
  request.train.consist.emplace_back(group);
  return *this;
}

Vehicle& Scenario::vehicle(int number) {
  const auto found = std::ranges::find_if(request.train.consist, [number](const ConsistItem& item) {
    const auto* const vehicle = std::get_if<Vehicle>(&item);
    return vehicle != nullptr && vehicle->number == number;
  });
  return std::get<Vehicle>(*found);
}

Scenario& Scenario::dead(int number) {
  vehicle(number).dead_in_tow = true;
  return *this;
}

Scenario& Scenario::defect(PantographRef ref) {
  vehicle(ref.vehicle).defective.push_back(ref.pantograph);
  return *this;
}

Scenario& Scenario::ice() {
  request.conditions.ice = {
      {request.route.sections.front().from_km, request.route.sections.back().to_km}};
  return *this;
}

Section& Scenario::section() { return request.route.sections.front(); }

Section& Scenario::cut_at(double km) {
  std::vector<Section>& sections = request.route.sections;
  Section behind = sections.back();
  sections.back().to_km = behind.from_km = km;
  behind.id = fmt::format("s{}", sections.size() + 1);
  sections.push_back(behind);
  return sections.back();
}

Scenario& Scenario::permits(int number) {
  section().records = {{.number = number, .distance_m = 5, .speed_kmh = section().line_speed_kmh}};
  if (number == 1) {
    section().records.front().distance_m = 0;
  }
  return *this;
}

Rule& Scenario::rule(const std::string& id) {
  return *std::ranges::find(request.rules.rules, id, &Rule::id);
}

Plan Scenario::plan() const {
  const Diagnostics diagnostics = cross_check(request);
  for (const Diagnostic& diagnostic : diagnostics) {
    ADD_FAILURE() << to_line(diagnostic);
  }
  return *make_plan(request);
}

Consent consent_for(int number, double distance_m, double speed_kmh) {
  Consent consent;
  consent.reference = "C-1";
  consent.given_by = "the manager";
  consent.number = number;
  consent.distance_m = distance_m;
  consent.speed_kmh = speed_kmh;
  return consent;
}

SeparationZone zone(ZoneKind kind, double from_m, double to_m, const std::string& phase) {
  return {.kind = kind,
          .from_m = from_m,
          .to_m = to_m,
          .phase = phase,
          .supply = std::nullopt,
          .place = {}};
}

std::string up_on(const Plan& plan, std::size_t section) {
  const PlannedSection& planned = plan.sections.at(section);
  const Layout layout = lay_out(plan.train, planned.reversed);
  std::string text;
  int count = 0;
  for (const PlacedItem& item : layout.items) {
    const auto* const vehicle = std::get_if<Vehicle>(&plan.train.consist[item.consist_index]);
    if (vehicle == nullptr || vehicle->dead_in_tow) {
      continue;
    }
    ++count;
    std::vector<PantographRef> own;
    for (const PlacedPantograph& placed : layout.pantographs) {
      if (placed.ref.vehicle == vehicle->number && is_for(*placed.type, planned.supply)) {
        own.push_back(placed.ref);
      }
    }
    for (const PantographRef ref : own) {
      if (std::ranges::find(planned.raised, ref) == planned.raised.end()) {
        continue;
      }
      const char* const where = own.size() == 1      ? "U"
                                : ref == own.front() ? "F"
                                : ref == own.back()  ? "R"
                                                     : "M";
      text += (text.empty() ? "" : " ") + std::string(where) + std::to_string(count);
    }
  }
  return text.empty() ? "none" : text;
}

bool says(const PlannedSection& section, const std::string& rule) {
  return std::ranges::find(section.findings, rule, &Finding::rule) != section.findings.end();
}

bool says(const PlannedSection& section, const std::string& rule, Strength strength) {
  return std::ranges::any_of(section.findings, [&](const Finding& finding) {
    return finding.rule == rule && finding.strength == strength;
  });
}

bool says_exposed(const PlannedSection& section) {
  return std::ranges::any_of(section.findings, [](const Finding& finding) {
    return finding.rule == "load-protected" && finding.text.find("exposed") != std::string::npos;
  });
}

}  // namespace panup::scenario
