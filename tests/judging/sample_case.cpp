#include "sample_case.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <sstream>

#include "files/read_rule_book.h"

namespace panup {

namespace {

void expect_alike(const Verdict& planned, const Verdict& explained) {
  EXPECT_EQ(planned.forbidden, explained.forbidden);
  if (planned.forbidden) {
    return;  // what follows need not be looked at then
  }
  EXPECT_EQ(planned.consent_needed, explained.consent_needed);
  EXPECT_EQ(planned.missing_current_a, explained.missing_current_a);
  EXPECT_EQ(planned.departures, explained.departures);
  EXPECT_EQ(planned.speed_kmh, explained.speed_kmh);
  EXPECT_EQ(planned.speed_rule, explained.speed_rule);
  EXPECT_EQ(planned.spacing_speed_kmh, explained.spacing_speed_kmh);
  EXPECT_EQ(planned.other_speed_kmh, explained.other_speed_kmh);
}

}  // namespace

std::string Said::of(const std::string& rule) const {
  std::string text;
  for (const Finding& finding : findings) {
    if (finding.rule == rule) {
      text +=
          (text.empty() ? "" : "\n") + std::string(name_of(finding.strength)) + ": " + finding.text;
    }
  }
  return text;
}

const Finding& Said::first(const std::string& rule) const {
  const auto found = std::ranges::find(findings, rule, &Finding::rule);
  if (found == findings.end()) {
    throw std::out_of_range("no finding of " + rule);
  }
  return *found;
}

SampleCase::SampleCase() : book(built_in_rule_book()) {
  train.id = "test-train";
  section.id = "s1";
  section.name = "The line";
  section.to_km = 20;
  section.line_speed_kmh = 120;
  section.supply = EnergySupply::ac_15kv;
  section.permitted_head_widths_mm = {1950};
  section.permitted_strip_materials = {StripMaterial::plain_carbon};
  section.automatic_dropping_device_required = false;
  section.design_type = DesignType::a;
  section.wire_height_min_m = 5;
  section.wire_height_max_m = 6;
}

std::shared_ptr<PantographType> SampleCase::pantograph() {
  auto type = std::make_shared<PantographType>();
  type->id = "test-pantograph";
  type->name = "Test pantograph";
  type->head_width_mm = 1950;
  type->strip_count = 2;
  type->strip_material = StripMaterial::plain_carbon;
  type->frame = PantographFrame::single_arm;
  type->supplies.push_back({.supply = EnergySupply::ac_15kv,
                            .static_force_n = 70,
                            .running_current_a = 700,
                            .standstill_current_a = 80});
  type->highest_speed_kmh = 200;
  type->working_height_min_m = 4.8;
  type->working_height_max_m = 6.5;
  return type;
}

std::shared_ptr<VehicleType> SampleCase::locomotive() {
  const auto type = pantograph();
  return locomotive(type, type);
}

std::shared_ptr<VehicleType> SampleCase::locomotive(
    const std::shared_ptr<const PantographType>& first,
    const std::shared_ptr<const PantographType>& second) {
  auto type = std::make_shared<VehicleType>();
  type->id = "test-type";
  type->name = "Test type";
  type->kind = VehicleKind::locomotive;
  type->length_m = 19;
  type->highest_speed_kmh = 160;
  type->systems = {all_energy_supplies.begin(), all_energy_supplies.end()};
  type->high_voltage_coupler = false;
  type->pantographs = {{.number = 1, .from_cab1_m = 4.5, .type = first, .nearer_cab = Cab::cab1},
                       {.number = 2, .from_cab1_m = 14.5, .type = second, .nearer_cab = Cab::cab2}};
  return type;
}

SampleCase& SampleCase::add(const std::shared_ptr<const VehicleType>& type, Cab leading_cab) {
  Vehicle added;
  added.number = 1 + static_cast<int>(std::ranges::count_if(train.consist, [](const auto& item) {
                   return std::holds_alternative<Vehicle>(item);
                 }));
  added.type = type;
  added.leading_cab = leading_cab;
  train.consist.emplace_back(added);
  return *this;
}

SampleCase& SampleCase::load(LoadNature nature, const std::string& name) {
  LoadGroup group;
  group.name = name;
  group.nature = nature;
  group.length_m = 300;
  train.consist.emplace_back(group);
  return *this;
}

Vehicle& SampleCase::vehicle(int number) {
  return std::get<Vehicle>(*std::ranges::find_if(train.consist, [number](const auto& item) {
    const auto* const vehicle = std::get_if<Vehicle>(&item);
    return vehicle != nullptr && vehicle->number == number;
  }));
}

Rule& SampleCase::rule(const std::string& id) {
  return *std::ranges::find(book.rules, id, &Rule::id);
}

SampleCase& SampleCase::only(const std::vector<std::string>& ids) {
  std::erase_if(book.rules,
                [&](const Rule& rule) { return std::ranges::find(ids, rule.id) == ids.end(); });
  return *this;
}

Judge SampleCase::judge() const {
  return {book, train, reversed, {wind_ms, temperature_c}, computed_speeds};
}

Said SampleCase::with(const std::string& raised) const {
  const Judge judge = this->judge();
  Ground ground = judge.ground(section, iced, low_places);
  ground.separations = separations;
  std::vector<PantographRef> refs;
  std::istringstream words(raised);
  for (std::string word; words >> word;) {
    refs.push_back(*pantograph_ref_from(word));
  }
  const PantographSet up = set_of(judge.train(), refs);
  const PantographSet defective = judge.train().defective | set_of(judge.train(), failed);
  Said said;
  said.verdict = judge.judge(ground, up, defective, &said.findings);
  expect_alike(judge.judge(ground, up, defective), said.verdict);
  return said;
}

}  // namespace panup
