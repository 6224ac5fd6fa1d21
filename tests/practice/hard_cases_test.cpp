/// Cases in which several rules of practice pull against each other. Source, where none is named:
/// common practice, no published source.

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <regex>

#include "scenario.h"

namespace panup::scenario {
namespace {

using enum EnergySupply;

std::shared_ptr<VehicleType> changed(const std::shared_ptr<const VehicleType>& type) {
  return std::make_shared<VehicleType>(*type);
}

/// A locomotive that draws `power_kw` on AC 15 kV. A pantograph carries 700 A. At 12 kV, the lowest
/// permanent voltage of EN 50163, with the rule book's efficiency of 0.8 and power factor of 0.9,
/// 700 A are 12 · 0.9 · 0.8 · 700 = 6048 kW at the wheels.
std::shared_ptr<VehicleType> with_power(double power_kw) {
  auto type = changed(locomotive());
  PowerOnSupply on{};
  on.supply = ac_15kv;
  on.power_kw = power_kw;
  type->power = {on};
  return type;
}

const Instruction* power_order(const Plan& plan) {
  const auto found = std::ranges::find(plan.instructions, Action::power, &Instruction::action);
  return found == plan.instructions.end() ? nullptr : &*found;
}

bool any_note_says(const Plan& plan, const std::string& words) {
  return std::ranges::any_of(
      plan.notes, [&](const std::string& note) { return note.find(words) != std::string::npos; });
}

// --- The vehicle itself has to be for the system -------------------------------------------------

TEST(BuiltForTheSystem, AVehicleThatIsNotHasNoConfiguration) {
  auto type = changed(locomotive({.supplies = {ac_15kv, ac_25kv}}));
  type->systems = {ac_15kv};
  Scenario scenario = Scenario().add(type);
  EXPECT_EQ(up_on(scenario.plan()), "R1");
  scenario.section().supply = ac_25kv;
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.answer, Answer::none);
  EXPECT_TRUE(says(plan.sections[0], "supply-fit", Strength::forbidden));
}

TEST(BuiltForTheSystem, ByItsPowerAsByItsSystems) {
  auto type = with_power(3000);
  type->systems = {};
  EXPECT_EQ(up_on(Scenario().add(type).plan()), "R1");
  type = changed(locomotive());
  type->systems = {dc_3kv};
  EXPECT_EQ(Scenario().add(type).plan().answer, Answer::none);
}

TEST(BuiltForTheSystem, OneThatStatesNothingIsNotKnownToBeForAny) {
  auto type = changed(locomotive());
  type->systems = {};
  const Plan plan = Scenario().add(type).plan();
  EXPECT_EQ(plan.answer, Answer::none);
  const auto& findings = plan.sections[0].findings;
  EXPECT_TRUE(std::ranges::any_of(findings, [](const Finding& finding) {
    return finding.text.find("does not say for which systems") != std::string::npos;
  }));
}

TEST(BuiltForTheSystem, InADoubleHeadingTheOneThatIsNotGoesDead) {
  auto type = changed(locomotive());
  type->systems = {dc_3kv};
  const Plan plan = Scenario().add(type).add(locomotive()).plan();
  EXPECT_EQ(plan.answer, Answer::permitted);
  EXPECT_EQ(up_on(plan), "R2");
  EXPECT_EQ(plan.sections[0].put_dead_in_tow, std::vector{1});
  const auto& findings = plan.sections[0].findings;
  EXPECT_TRUE(std::ranges::any_of(findings, [](const Finding& finding) {
    return finding.rule == "put-dead" &&
           finding.text.find("is not built for AC 15 kV") != std::string::npos;
  }));
}

TEST(BuiltForTheSystem, AnOrderUpAsksNothingOfAVehicleThatIsNot) {
  auto type = changed(locomotive());
  type->systems = {dc_3kv};
  Scenario scenario = Scenario().add(type).add(locomotive());
  scenario.vehicle(1).kept_up = {1};
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.answer, Answer::permitted);
  EXPECT_EQ(up_on(plan), "R2");
}

TEST(BuiltForTheSystem, ATrailingCarWithPantographsLikewise) {
  auto car = changed(electric_unit());
  car->systems = {dc_3kv};
  const Plan plan = Scenario().add(locomotive()).add(car).plan();
  EXPECT_EQ(up_on(plan), "R1");
  EXPECT_EQ(plan.sections[0].put_dead_in_tow, std::vector{2});
}

// --- A current that is reckoned is a possibility, one that is stated a fact
// -----------------------

TEST(ReckonedCurrent, LimitsThePowerBeforeAFacingPairAndBeforeTheLoad) {
  for (const double power_kw : {6040.0, 6060.0}) {
    const auto type = with_power(power_kw);
    const Plan plan = Scenario().add(type).add(type).load(LoadNature::dangerous).permits(4).plan();
    EXPECT_EQ(up_on(plan), "F1 F2") << power_kw;
    EXPECT_FALSE(says_exposed(plan.sections[0])) << power_kw;
    const Instruction* const order = power_order(plan);
    ASSERT_EQ(order != nullptr, power_kw > 6048) << power_kw;
    if (order != nullptr) {
      EXPECT_EQ(order->power_percent, 99);  // 6048 of 6060 kW, rounded down
    }
  }
}

// Closed form: from a stand to 120 km/h at 0.2 m/s² takes w/(2 a) = 83.3 s longer than to run at
// 120 km/h all the way; at half of the acceleration twice that.
TEST(ReckonedCurrent, TellsWhatTheLimitCosts) {
  const Plan plan = Scenario().add(with_power(12'096)).load(LoadNature::ordinary).permits(1).plan();
  const Instruction* const order = power_order(plan);
  ASSERT_NE(order, nullptr);
  EXPECT_EQ(order->power_percent, 50);
  EXPECT_NE(order->reason.find("it costs 1 min 23 s of running time"), std::string::npos)
      << order->reason;
  const Plan full = Scenario().add(with_power(3000)).load(LoadNature::ordinary).permits(1).plan();
  EXPECT_NEAR(plan.running_time_s - full.running_time_s, 120 / 3.6 / (2 * 0.2), 0.01);
}

TEST(ReckonedCurrent, TellsAllThatLimitsCostAlongTheWay) {
  const auto with = [](double power_kw) {
    Scenario scenario = Scenario().add(with_power(power_kw)).load(LoadNature::ordinary).permits(1);
    Section other = scenario.section();
    scenario.section().to_km = 10;
    other.id = "s2";
    other.from_km = 10;
    other.greatest_train_current_a = 650;
    scenario.request.route.sections.push_back(other);
    scenario.request.route.lowered = {{.name = "Works", .from_km = 9.5, .to_km = 10, .place = {}}};
    return scenario.plan();
  };
  const Plan limited = with(12'096);
  int told_s = 0;
  for (const Instruction& order : limited.instructions) {
    std::smatch costs;
    if (std::regex_search(order.reason, costs,
                          std::regex("it costs (?:([0-9]+) min )?([0-9]+) s"))) {
      told_s += (costs[1].matched ? 60 * std::stoi(costs[1]) : 0) + std::stoi(costs[2]);
    }
  }
  EXPECT_NEAR(told_s, limited.running_time_s - with(3000).running_time_s, 1);
}

TEST(ReckonedCurrent, BuysASecondPantographOnlyWhereThatSavesTime) {
  // With one up the power is halved: 83 s. Both run at 80 km/h in place of 120: on 20 km, 300 s.
  Scenario scenario = Scenario().add(with_power(12'096)).load(LoadNature::ordinary);
  scenario.section().records = {{.number = 2, .distance_m = 5, .speed_kmh = 80},
                                {.number = 1, .distance_m = 0, .speed_kmh = 120}};
  EXPECT_EQ(up_on(scenario.plan()), "R1");
  scenario.section().records[0].speed_kmh = 118;
  EXPECT_EQ(up_on(scenario.plan()), "F1 R1");
}

TEST(ReckonedCurrent, WhereTheLimitCostsNoTimeFullPowerIsStillTheBetter) {
  // Behind the works the line runs at the speed for raising: nothing is accelerated there.
  Scenario scenario = Scenario().add(with_power(8000)).load(LoadNature::ordinary);
  scenario.permits(1);
  Section slow = scenario.section();
  scenario.section().to_km = 10;
  slow.id = "s2";
  slow.from_km = 10;
  slow.line_speed_kmh = 60;
  slow.records = {{.number = 2, .distance_m = 5, .speed_kmh = 60}};
  scenario.request.route.sections.push_back(slow);
  scenario.request.route.lowered = {{.name = "Works", .from_km = 9.5, .to_km = 10, .place = {}}};
  const Plan plan = scenario.plan();
  EXPECT_EQ(up_on(plan, 0), "R1");
  EXPECT_EQ(up_on(plan, plan.sections.size() - 1), "F1 R1");
}

TEST(ReckonedCurrent, IsNoMoreThanTheLineLetsTheTrainDraw) {
  const auto type = with_power(8000);  // 926 A: two pantographs each
  Scenario scenario = Scenario().add(type).add(type).load(LoadNature::ordinary).permits(4);
  EXPECT_NE(up_on(scenario.plan()), "F1 R2");
  scenario.section().greatest_train_current_a = 1400;
  const Plan plan = scenario.plan();
  EXPECT_EQ(up_on(plan), "F1 R2");
  const Instruction* const order = power_order(plan);
  ASSERT_NE(order, nullptr);
  EXPECT_TRUE(order->vehicles.empty()) << "the limit is the train's";
}

TEST(StatedCurrent, StaysAFactAgainstTheLoad) {
  Scenario scenario = Scenario().add(locomotive()).load(LoadNature::dangerous).permits(2);
  scenario.vehicle(1).demand = {{.supply = ac_15kv, .running_a = 900, .standstill_a = 50}};
  const Plan plan = scenario.plan();
  EXPECT_EQ(up_on(plan), "F1 R1");
  EXPECT_TRUE(says_exposed(plan.sections[0]));
  EXPECT_EQ(power_order(plan), nullptr);
}

TEST(ReckonedCurrent, ThatCarriesNotEvenTheAuxiliariesMovesNobody) {
  auto type = with_power(5000);
  type->power[0].auxiliary_kw = 8000;  // 8000 kW / (0.9 · 12 kV) = 741 A
  EXPECT_EQ(Scenario().add(type).permits(1).plan().answer, Answer::none);
}

// At a stand each may carry 80 A. What goes up for the stand alone would be 1.2 directly
// before 2.1, or 2.2 ahead of the load.
TEST(Standstill, HelpNeverCostsAFacingPairNorTheLoad) {
  Scenario scenario =
      Scenario().add(locomotive()).add(locomotive()).load(LoadNature::dangerous).permits(4);
  for (const int number : {1, 2}) {
    scenario.vehicle(number).demand = {{.supply = ac_15kv, .running_a = 500, .standstill_a = 100}};
  }
  const Plan plan = scenario.plan();
  EXPECT_EQ(up_on(plan), "F1 F2");
  for (const Instruction& instruction : plan.instructions) {
    for (const PantographRef ref : instruction.pantographs) {
      EXPECT_EQ(ref.pantograph, 1) << instruction.text;
    }
  }
  EXPECT_TRUE(std::ranges::any_of(plan.instructions, [](const Instruction& instruction) {
    return instruction.action == Action::power && instruction.current_a == 80;
  }));
}

// --- Which locomotive goes dead
// --------------------------------------------------------------------

TEST(PutDead, TheOneWhoseLossKeepsTheLoadProtected) {
  for (const LoadNature nature : {LoadNature::dangerous, LoadNature::sensitive}) {
    for (const bool iced : {false, true}) {
      Scenario scenario = Scenario()
                              .add(locomotive())
                              .add(locomotive({.strips = 1}))
                              .load(nature)
                              .defect({1, 1})
                              .permits(1);
      if (iced) {
        scenario.ice();
      }
      const Plan plan = scenario.plan();
      EXPECT_EQ(up_on(plan), "F2") << iced;
      EXPECT_EQ(plan.sections[0].put_dead_in_tow, std::vector{1}) << iced;
      EXPECT_FALSE(says_exposed(plan.sections[0])) << iced;
    }
  }
}

TEST(PutDead, ElseNotTheLeadingOne) {
  const Plan plan =
      Scenario().add(locomotive()).add(locomotive()).load(LoadNature::ordinary).permits(1).plan();
  EXPECT_EQ(up_on(plan), "R1");
}

TEST(PutDead, WhoIsLeftOverByADefectIsNotChosen) {
  // Vehicle 2 has nothing sound: nobody chooses, and vehicle 1 keeps its two contact points.
  const Plan plan = Scenario()
                        .add(locomotive({.strips = 1}))
                        .add(locomotive())
                        .load(LoadNature::dangerous)
                        .defect({2, 1})
                        .defect({2, 2})
                        .permits(2)
                        .plan();
  EXPECT_EQ(up_on(plan), "F1 R1");
}

TEST(PutDead, OnIceABankerIsNoLeadingLocomotiveAndThePetrolStaysProtected) {
  // The two ahead stand too close to be up together; one of them and the banker do not.
  Scenario scenario = Scenario()
                          .add(locomotive())
                          .add(locomotive())
                          .load(LoadNature::dangerous)
                          .add(locomotive())
                          .ice();
  scenario.section().records = {{.number = 2, .distance_m = 25, .speed_kmh = 80}};
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.answer, Answer::permitted);
  EXPECT_FALSE(says_exposed(plan.sections[0])) << up_on(plan);
}

// --- Consent
// -----------------------------------------------------------------------------------------

/// Nothing is known of what the line is built for: two at once only with consent.
Scenario two_only_with_consent() {
  Scenario scenario = Scenario().add(locomotive()).add(locomotive()).load(LoadNature::ordinary);
  scenario.section().design_type = {};
  return scenario;
}

TEST(RunnableFirst, APlanThatNeedsNoConsentIsTheCard) {
  const Plan plan = two_only_with_consent().plan();
  EXPECT_EQ(plan.answer, Answer::permitted);
  EXPECT_EQ(up_on(plan), "R1");
  EXPECT_EQ(plan.sections[0].put_dead_in_tow, std::vector{2});
}

TEST(RunnableFirst, WhatAConsentWouldGainIsSaidBesideIt) {
  const Plan plan = two_only_with_consent().plan();
  EXPECT_TRUE(any_note_says(plan, "fewer locomotives would go dead in tow"));
  EXPECT_TRUE(std::ranges::any_of(plan.sections[0].findings, [](const Finding& finding) {
    return finding.text.find("With a consent of the infrastructure manager: 1.1 and 2.2 up") == 0;
  }));
}

TEST(RunnableFirst, WhereNothingIsGainedNothingIsSaid) {
  const Plan plan = Scenario().add(locomotive()).load(LoadNature::ordinary).plan();
  EXPECT_FALSE(any_note_says(plan, "consent"));
}

TEST(RunnableFirst, AnOperatorsRuleBookMayTurnItRound) {
  Scenario scenario = two_only_with_consent();
  scenario.rule("runnable-first").on = false;
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.answer, Answer::consent_needed);
  EXPECT_EQ(up_on(plan), "F1 R2");
  EXPECT_FALSE(any_note_says(plan, "would go dead"));
}

// Design types are built for 8 m at least (Regulation (EU) No 1301/2014, table 4.2.13, from
// memory).
TEST(RunnableFirst, OnIceOnePantographRunsWhereTheSecondStandsTooClose) {
  auto type = changed(locomotive({.supplies = {dc_3kv}}));
  type->pantographs[1].from_cab1_m = type->pantographs[0].from_cab1_m + 5.8;
  Scenario scenario = Scenario().add(type).load(LoadNature::ordinary).ice();
  scenario.section().supply = dc_3kv;
  scenario.rule("ice-speed").numbers["speed_kmh"] = 50;
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.answer, Answer::permitted);
  EXPECT_EQ(plan.sections[0].raised.size(), 1U);
  EXPECT_EQ(plan.sections[0].speed_kmh, 50);
}

}  // namespace
}  // namespace panup::scenario
