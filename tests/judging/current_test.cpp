#include "judging/current.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "files/read_rule_book.h"
#include "judging/judge.h"

/// Currents by their closed forms: I = P / (η λ U). Voltages: EN 50163, lowest permanent.

namespace panup {

namespace {

using enum EnergySupply;

struct CurrentTest : testing::Test {
  RuleBook book = built_in_rule_book();
  CurrentRules rules = current_rules(book);
  std::shared_ptr<VehicleType> type = std::make_shared<VehicleType>();
  Vehicle vehicle;

  CurrentTest() { vehicle.type = type; }

  PowerOnSupply& power(EnergySupply supply, double kw) {
    PowerOnSupply on{};
    on.supply = supply;
    on.power_kw = kw;
    return type->power.emplace_back(on);
  }
  double running_a(EnergySupply supply) const {
    return running_demand(vehicle, supply, rules)->current_a;
  }
};

TEST_F(CurrentTest, IsPowerOverEfficiencyPowerFactorAndTheLowestPermanentVoltage) {
  PowerOnSupply& on = power(ac_15kv, 6000);
  on.efficiency = 0.84;
  on.power_factor = 0.98;
  EXPECT_NEAR(running_a(ac_15kv), 6e6 / (0.84 * 0.98 * 12000), 1e-9);
  power(ac_25kv, 6000).efficiency = 0.84;
  type->power.back().power_factor = 1;
  EXPECT_NEAR(running_a(ac_25kv), 6e6 / (0.84 * 19000), 1e-9);
  power(dc_3kv, 4000).efficiency = 0.9;
  EXPECT_NEAR(running_a(dc_3kv), 4e6 / (0.9 * 2000), 1e-9);
  power(dc_1500v, 2000).efficiency = 0.9;
  EXPECT_NEAR(running_a(dc_1500v), 2e6 / (0.9 * 1000), 1e-9);
}

TEST_F(CurrentTest, AuxiliariesComeOnTopAndTheControlLimitsTheSum) {
  PowerOnSupply& on = power(dc_3kv, 4000);
  on.efficiency = 0.8;
  on.auxiliary_kw = 200;
  EXPECT_NEAR(running_a(dc_3kv), 2500 + 100, 1e-9);
  EXPECT_NEAR(standstill_demand(vehicle, dc_3kv, rules)->current_a, 100, 1e-9);
  on.greatest_current_a = 1600;
  EXPECT_NEAR(running_a(dc_3kv), 1600, 1e-9);
}

TEST_F(CurrentTest, WhatTheTrainFileStatesGoesBeforeWhatIsComputed) {
  power(dc_3kv, 4000).auxiliary_kw = 200;
  vehicle.demand.push_back({.supply = dc_3kv, .running_a = 900, .standstill_a = 40});
  EXPECT_EQ(running_a(dc_3kv), 900);
  EXPECT_FALSE(running_demand(vehicle, dc_3kv, rules)->computed);
  EXPECT_EQ(standstill_demand(vehicle, dc_3kv, rules)->current_a, 40);
}

TEST_F(CurrentTest, IsUnknownWhereNeitherIsThere) {
  EXPECT_FALSE(running_demand(vehicle, dc_3kv, rules));
  power(dc_3kv, 4000);
  EXPECT_TRUE(running_demand(vehicle, dc_3kv, rules));
  EXPECT_FALSE(standstill_demand(vehicle, dc_3kv, rules)) << "auxiliaries are not stated";
  rules.demand = nullptr;
  EXPECT_FALSE(running_demand(vehicle, dc_3kv, rules));
}

// What the limit allows, put back into the closed form, draws the limit.
TEST_F(CurrentTest, ThePowerThatMayBeDrawnIsTheInverse) {
  PowerOnSupply& on = power(dc_1500v, 3900);
  on.efficiency = 0.85;
  on.auxiliary_kw = 170;
  const double allowed_kw = *power_allowed_kw(vehicle, dc_1500v, 1500, rules);
  EXPECT_NEAR(1000 * allowed_kw / (0.85 * 1000) + 170, 1500, 1e-9);
  EXPECT_EQ(*power_allowed_kw(vehicle, dc_1500v, 9000, rules), 3900);
  EXPECT_EQ(*power_allowed_kw(vehicle, dc_1500v, 100, rules), 0)
      << "the auxiliaries alone are more";
}

TEST_F(CurrentTest, OfAPantographIsLimitedByItsRatingAndItsStrips) {
  PantographType pantograph;
  pantograph.strip_count = 2;
  pantograph.supplies = {
      {.supply = dc_3kv, .running_current_a = 1600, .standstill_current_a = 250}};
  EXPECT_EQ(running_limit_a(pantograph, dc_3kv, rules), 1600);
  EXPECT_EQ(running_limit_a(pantograph, ac_15kv, rules), 0);
  pantograph.greatest_current_per_strip_a = 700;
  EXPECT_EQ(running_limit_a(pantograph, dc_3kv, rules), 1400);
}

// Regulation (EU) No 1301/2014, table 4.2.5: 300 A at 1.5 kV, 200 A at 3 kV; EN 50367: 80 A on AC;
// all from memory.
TEST_F(CurrentTest, AtAStandIsLimitedByTheLineAndThePantograph) {
  PantographType pantograph;
  for (const EnergySupply supply : all_energy_supplies) {
    pantograph.supplies.push_back(
        {.supply = supply, .running_current_a = 2000, .standstill_current_a = 1000});
  }
  Section section;
  const auto limit_on = [&](EnergySupply supply) {
    section.supply = supply;
    return standstill_limit_a(pantograph, section, rules);
  };
  EXPECT_EQ(limit_on(dc_1500v), 300);
  EXPECT_EQ(limit_on(dc_3kv), 200);
  EXPECT_EQ(limit_on(ac_15kv), 80);
  EXPECT_EQ(limit_on(ac_25kv), 80);
  section.greatest_standstill_current_a = 450;
  EXPECT_EQ(limit_on(dc_3kv), 450) << "the line's own record goes before";
  pantograph.supplies[2].standstill_current_a = 250;
  EXPECT_EQ(limit_on(dc_3kv), 250);
}

TEST_F(CurrentTest, SharesUnequallyAmongSeveralSoThatTheWeakestDecides) {
  const double unequal = *number_of(*rules.per_pantograph, "unequal_sharing");
  EXPECT_GT(unequal, 1);
  EXPECT_EQ(carried_together_a({}, rules), 0);
  EXPECT_EQ(carried_together_a({1500}, rules), 1500);
  EXPECT_NEAR(carried_together_a({1500, 1500}, rules), 3000 / unequal, 1e-9);
  EXPECT_NEAR(carried_together_a({1500, 600}, rules), 1200 / unequal, 1e-9);
}

TEST_F(CurrentTest, WhatIsComputedSaysSoWithItsVoltageAndPower) {
  power(dc_3kv, 4000).auxiliary_kw = 200;
  const Demand running = *running_demand(vehicle, dc_3kv, rules);
  EXPECT_TRUE(running.computed);
  EXPECT_EQ(running.voltage_v, 2000);
  EXPECT_EQ(running.power_kw, 4000);
  const Demand standing = *standstill_demand(vehicle, dc_3kv, rules);
  EXPECT_TRUE(standing.computed);
  EXPECT_EQ(standing.voltage_v, 2000);
  EXPECT_EQ(standing.power_kw, 200);
}

TEST_F(CurrentTest, RulesAreThoseInForceAndWhatTheyDoNotStateChangesNothing) {
  const auto named = [&](const std::string& id) -> Rule& {
    return *std::ranges::find(book.rules, id, &Rule::id);
  };
  EXPECT_EQ(rules.train, &named("train-current"));
  EXPECT_EQ(rules.demand, &named("current-demand"));
  EXPECT_EQ(rules.standstill, &named("standstill-current"));
  named("current-carried").numbers["share_of_rating"] = 0.9;
  EXPECT_EQ(current_rules(book).share_of_rating, 0.9);
  named("current-carried").numbers.clear();
  EXPECT_EQ(current_rules(book).share_of_rating, 1);
  EXPECT_EQ(current_rules(book).unequal_sharing, 1);
}

TEST_F(CurrentTest, AtAStandNothingMayBeDrawnWhereNobodySaysHowMuch) {
  PantographType pantograph;
  pantograph.supplies = {
      {.supply = dc_3kv, .running_current_a = 2000, .standstill_current_a = 1000}};
  Section section;
  EXPECT_EQ(standstill_limit_a(pantograph, section, rules), 0) << "no system is stated";
  section.supply = ac_15kv;
  EXPECT_EQ(standstill_limit_a(pantograph, section, rules), 0) << "it is not for it";
  section.supply = dc_3kv;
  std::ranges::find(book.rules, std::string("standstill-current"), &Rule::id)->numbers.clear();
  EXPECT_EQ(standstill_limit_a(pantograph, section, rules), 0) << "the book states no limit";
  rules.standstill = nullptr;
  EXPECT_EQ(standstill_limit_a(pantograph, section, rules), 0) << "nor is there a rule";
}

}  // namespace

}  // namespace panup
