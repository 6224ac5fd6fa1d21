/// Current decides how many pantographs are up, what power may be drawn, and what goes up for a
/// stand alone.

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "scenario.h"

namespace panup::scenario {
namespace {

using enum EnergySupply;

std::shared_ptr<VehicleType> direct_current_locomotive(double power_kw,
                                                       std::optional<double> auxiliary_kw = {}) {
  auto type = std::make_shared<VehicleType>(*locomotive({.supplies = {dc_1500v}}));
  PowerOnSupply on{};
  on.supply = dc_1500v;
  on.power_kw = power_kw;
  on.efficiency = 1;
  on.auxiliary_kw = auxiliary_kw;
  type->power = {on};
  return type;
}

Scenario on_direct_current(const std::shared_ptr<VehicleType>& type, int permitted = 2) {
  Scenario scenario;
  scenario.add(type).permits(permitted);
  scenario.section().supply = dc_1500v;
  return scenario;
}

const Instruction* first_order(const std::vector<Instruction>& instructions, Action action) {
  const auto found = std::ranges::find(instructions, action, &Instruction::action);
  return found == instructions.end() ? nullptr : &*found;
}

const Finding* finding(const Plan& plan, const std::string& rule) {
  for (const PlannedSection& section : plan.sections) {
    const auto found = std::ranges::find(section.findings, rule, &Finding::rule);
    if (found != section.findings.end()) {
      return &*found;
    }
  }
  return nullptr;
}

std::vector<std::string> orders(const Plan& plan) {
  std::vector<std::string> texts;
  for (const Instruction& instruction : plan.instructions) {
    if (instruction.action != Action::speed) {
      texts.push_back(std::string(name_of(instruction.action)) +
                      (instruction.pantographs.empty()
                           ? ""
                           : " " + to_string(instruction.pantographs.front())));
    }
  }
  return texts;
}

// P25, source: common practice, no published source; the current by computation at 1000 V, the
// lowest permanent voltage of EN 50163. Each pantograph may carry 700 A.
TEST(Current, P25_ByComputation_AsManyAsTheCurrentNeeds) {
  EXPECT_EQ(up_on(on_direct_current(direct_current_locomotive(700)).plan()), "R1");
  const Plan plan = on_direct_current(direct_current_locomotive(701)).plan();
  EXPECT_EQ(up_on(plan), "F1 R1");
  const Finding* const said = finding(plan, "current-carried");
  ASSERT_NE(said, nullptr);
  EXPECT_NE(said->text.find("701 A at full power and 1000 V"), std::string::npos) << said->text;
}

TEST(Current, WhereTheLinePermitsOneTheFindingSaysThePowerAndThatOneMoreWouldHelp) {
  const Plan plan = on_direct_current(direct_current_locomotive(1000), 1).plan();
  EXPECT_EQ(plan.answer, Answer::permitted);
  EXPECT_EQ(up_on(plan), "R1");
  const Finding* const said = finding(plan, "current-carried");
  ASSERT_NE(said, nullptr);
  EXPECT_NE(said->text.find("no more than 700 kW at the wheels"), std::string::npos) << said->text;
  EXPECT_NE(said->text.find("With 1.1 up as well it may draw 1273 A"), std::string::npos)
      << said->text;
}

TEST(Current, BeyondAllPantographsThePowerIsLimitedAndTheTrainRuns) {
  const Plan plan = on_direct_current(direct_current_locomotive(2000)).plan();
  EXPECT_EQ(plan.answer, Answer::permitted);
  EXPECT_EQ(up_on(plan), "F1 R1");
  const Finding* const said = finding(plan, "current-carried");
  ASSERT_NE(said, nullptr);
  EXPECT_NE(said->text.find("One more pantograph does not help"), std::string::npos) << said->text;
}

TEST(Current, OfAStatedDemandThatIsNotCarriedThereIsNoConfiguration) {
  Scenario scenario = on_direct_current(direct_current_locomotive(700));
  scenario.vehicle(1).demand = {{.supply = dc_1500v, .running_a = 1300, .standstill_a = 0}};
  EXPECT_EQ(scenario.plan().answer, Answer::none);
}

TEST(Current, OfTheTrainIsTheSumOfItsVehicles) {
  Scenario scenario = on_direct_current(direct_current_locomotive(600), 4);
  scenario.add(direct_current_locomotive(600));
  scenario.section().greatest_train_current_a = 1200;
  EXPECT_EQ(finding(scenario.plan(), "train-current"), nullptr);
  scenario.section().greatest_train_current_a = 900;
  const Plan plan = scenario.plan();
  const Finding* const said = finding(plan, "train-current");
  ASSERT_NE(said, nullptr);
  EXPECT_NE(said->text.find("1200 A; no more than 900 A"), std::string::npos) << said->text;
  EXPECT_NE(said->text.find("to 75 %"), std::string::npos) << said->text;
}

// 120 kW at 1000 V are 120 A; the pantograph may carry 80 A at a stand.
TEST(Standstill, ASecondPantographGoesUpForTheStandAndComesDownBeforeDeparture) {
  Scenario scenario = on_direct_current(direct_current_locomotive(500, 120), 1);
  scenario.request.route.stops.push_back(
      {.name = "Halt", .at_km = 5, .reversal = false, .place = {}});
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.answer, Answer::permitted);
  EXPECT_EQ(up_on(plan), "R1") << "the line permits one while running";
  const Finding* const said = finding(plan, "standstill-current");
  ASSERT_NE(said, nullptr);
  EXPECT_NE(said->text.find("1.1 goes up as well while it stands"), std::string::npos);
  EXPECT_TRUE(std::ranges::any_of(plan.sections.front().findings, [](const Finding& one) {
    return one.rule == "standstill-current" &&
           one.text.find("at the stop Halt") != std::string::npos;
  }));
  const std::vector<std::string> stand{"raise 1.1", "breaker off", "lower 1.1", "breaker on"};
  std::vector<std::string> expected{"raise 1.2", "breaker on"};  // departure
  expected.insert(expected.end(), stand.begin(), stand.end());
  expected.insert(expected.end(), stand.begin(), stand.end());  // the stop
  expected.push_back("raise 1.1");                              // arrival
  EXPECT_EQ(orders(plan), expected);
}

bool raises(const Plan& plan, PantographRef ref) {
  return std::ranges::any_of(plan.instructions, [ref](const Instruction& instruction) {
    return instruction.action == Action::raise &&
           std::ranges::find(instruction.pantographs, ref) != instruction.pantographs.end();
  });
}

TEST(Standstill, ADefectivePantographIsNoHelp) {
  Scenario scenario = on_direct_current(direct_current_locomotive(500, 120), 1);
  ASSERT_TRUE(raises(scenario.plan(), {1, 1}));
  scenario.defect({1, 1});
  const Plan plan = scenario.plan();
  EXPECT_FALSE(raises(plan, {1, 1}));
  const Finding* const said = finding(plan, "standstill-current");
  ASSERT_NE(said, nullptr);
  EXPECT_NE(said->text.find("No further pantograph of it may help"), std::string::npos)
      << said->text;
}

TEST(Standstill, OneThatHasFailedIsNoHelp) {
  const Plan plan = on_direct_current(direct_current_locomotive(500, 120), 1).plan();
  const auto failed =
      std::ranges::find(plan.contingencies, PantographRef{1, 1}, &Contingency::failed);
  ASSERT_NE(failed, plan.contingencies.end());
  const auto& findings = failed->sections[0].findings;
  const auto said = std::ranges::find(findings, "standstill-current", &Finding::rule);
  ASSERT_NE(said, findings.end());
  EXPECT_NE(said->text.find("No further pantograph of it may help"), std::string::npos)
      << said->text;
}

TEST(Standstill, WhatIsCarriedNeedsNoHelp) {
  const Plan plan = on_direct_current(direct_current_locomotive(500, 80), 1).plan();
  EXPECT_EQ(finding(plan, "standstill-current"), nullptr);
  EXPECT_EQ(orders(plan), (std::vector<std::string>{"raise 1.2", "breaker on"}));
}

TEST(Standstill, WhereNothingHelpsTheFindingSaysHowMuchMayBeDrawn) {
  Scenario scenario = on_direct_current(direct_current_locomotive(500, 120), 1);
  scenario.defect({1, 1});
  const Plan plan = scenario.plan();
  const Finding* const said = finding(plan, "standstill-current");
  ASSERT_NE(said, nullptr);
  EXPECT_NE(said->text.find("1.2 may carry 80 A. No further pantograph of it may help"),
            std::string::npos)
      << said->text;
  EXPECT_EQ(orders(plan), (std::vector<std::string>{"power", "raise 1.2", "breaker on", "power"}))
      << "at departure and on arrival";
  EXPECT_EQ(first_order(plan.instructions, Action::power)->current_a, 80);
}

TEST(Standstill, OverASeparationSectionNothingMoreGoesUp) {
  Scenario scenario = on_direct_current(direct_current_locomotive(500, 120), 1);
  scenario.load(LoadNature::ordinary, 300);
  scenario.request.route.stops.push_back(
      {.name = "Halt", .at_km = 5, .reversal = false, .place = {}});
  SeparationSection section;
  section.name = "The separation";
  section.from_km = 4.9;
  section.length_m = 40;
  scenario.request.route.separations.push_back(section);
  const Plan plan = scenario.plan();
  const auto at_halt = std::ranges::find_if(plan.sections, [](const PlannedSection& planned) {
    return std::ranges::any_of(planned.findings, [](const Finding& said) {
      return said.text.find("It stands over a separation section") != std::string::npos;
    });
  });
  EXPECT_NE(at_halt, plan.sections.end());
  EXPECT_FALSE(std::ranges::any_of(plan.instructions, [](const Instruction& instruction) {
    return instruction.at_km == 5 && instruction.action == Action::raise;
  }));
}

TEST(Standstill, WhatIsNotStatedIsSaidToBeNotChecked) {
  const Plan plan = on_direct_current(direct_current_locomotive(500), 1).plan();
  EXPECT_TRUE(std::ranges::any_of(plan.notes, [](const std::string& note) {
    return note.find("what is drawn at a stand (locomotive 1 on DC 1.5 kV)") != std::string::npos;
  }));
}

// Archard and Holm, from memory.
TEST(StripWear, OfTwoUpIsSaidAgainstOne) {
  const Plan plan = on_direct_current(direct_current_locomotive(1000)).plan();
  const Finding* const said = finding(plan, "strip-wear");
  ASSERT_NE(said, nullptr);
  EXPECT_NE(said->text.find("1.1 and 1.2 against 1.1 alone"), std::string::npos) << said->text;
  EXPECT_NE(said->text.find("rubbing 2.00 times"), std::string::npos);
  EXPECT_NE(said->text.find("current 0.50 times"), std::string::npos);
  EXPECT_EQ(finding(on_direct_current(direct_current_locomotive(500)).plan(), "strip-wear"),
            nullptr);
}

TEST(Current, LoadsOfThePlanShareTheDemandUnequallyAndAddUp) {
  Scenario scenario = on_direct_current(direct_current_locomotive(1200));
  scenario.section().greatest_train_current_a = 1000;
  const Plan plan = scenario.plan();
  ASSERT_EQ(plan.margins.size(), plan.sections.size());
  const CurrentLoads& loads = plan.margins[0].currents;
  ASSERT_EQ(loads.pantographs.size(), 2U);
  const double unequal = *number_of(scenario.rule("current-carried"), "unequal_sharing");
  for (const PantographLoad& load : loads.pantographs) {
    EXPECT_NEAR(load.greatest_a, 1200 * unequal / 2, 1e-9);
    EXPECT_EQ(load.limit_a, 700);
  }
  EXPECT_NEAR(loads.train_a, 1200, 1e-9);
  EXPECT_EQ(loads.train_limit_a, 1000);
  EXPECT_TRUE(loads.complete);
}

TEST(Current, LoadsSayWhereADemandIsNotKnown) {
  const Plan plan = Scenario().add(locomotive()).plan();
  EXPECT_FALSE(plan.margins[0].currents.complete);
  EXPECT_TRUE(plan.margins[0].currents.pantographs.empty());
}

TEST(Current, WhatLimitsThePowerIsOrderedWhereItBegins) {
  Scenario scenario = on_direct_current(direct_current_locomotive(600));
  scenario.section().greatest_train_current_a = 500;
  const Plan plan = scenario.plan();
  ASSERT_NE(finding(plan, "train-current"), nullptr);
  const Instruction* const order = first_order(plan.instructions, Action::power);
  ASSERT_NE(order, nullptr);
  EXPECT_EQ(order->what, "No more than 83 % of power from here");
  EXPECT_EQ(order->power_percent, 83) << "500 of 600 A, rounded down";
  EXPECT_DOUBLE_EQ(order->at_km, scenario.section().from_km);
  EXPECT_TRUE(order->vehicles.empty());
  scenario.section().greatest_train_current_a = 700;
  EXPECT_EQ(finding(scenario.plan(), "train-current"), nullptr);
}

std::vector<std::string> power_orders(const Plan& plan) {
  std::vector<std::string> texts;
  for (const Instruction& order : plan.instructions) {
    if (order.action == Action::power) {
      texts.push_back(fmt::format("{:.3f} {}", order.at_km, order.what));
    }
  }
  return texts;
}

/// 600 A drawn, no more than 500 A permitted from km 10 to 15.
Scenario limited_from_10_to_15() {
  Scenario scenario = on_direct_current(direct_current_locomotive(600), 1);
  scenario.load(LoadNature::ordinary, 300);
  std::vector<Section>& sections = scenario.request.route.sections;
  for (const double from_km : {10.0, 15.0}) {
    Section next = sections.back();
    sections.back().to_km = next.from_km = from_km;
    next.id = "s" + std::to_string(sections.size() + 1);
    next.to_km = 20;
    sections.push_back(next);
  }
  sections[1].greatest_train_current_a = 500;
  return scenario;
}

TEST(Current, FullPowerIsOrderedAgainWhenTheLastPantographHasLeft) {
  // 1.2 is up, 14.5 m behind the front.
  EXPECT_EQ(power_orders(limited_from_10_to_15().plan()),
            (std::vector<std::string>{"10.000 No more than 83 % of power from here",
                                      "15.020 Full power again from here"}));
}

// Each pantograph may carry 700 A; the second locomotive, which draws 1400 A by itself, is limited
// alone.
TEST(Current, OfTwoLocomotivesTheOneThatIsLimitedIsNamed) {
  Scenario scenario = on_direct_current(direct_current_locomotive(600));
  scenario.add(direct_current_locomotive(1400));
  const Plan plan = scenario.plan();
  const std::vector<std::string> orders = power_orders(plan);
  ASSERT_EQ(orders.size(), 1U);
  EXPECT_EQ(orders[0], "0.000 Vehicle 2: no more than 50 % of its power from here");
}

TEST(Standstill, OnArrivalTheSecondGoesUpForTheStand) {
  Scenario scenario = on_direct_current(direct_current_locomotive(500, 120), 1);
  const Plan plan = scenario.plan();
  const auto raise = std::ranges::find_if(plan.instructions, [](const Instruction& order) {
    return order.action == Action::raise && order.at_km == 20;
  });
  ASSERT_NE(raise, plan.instructions.end());
  EXPECT_EQ(raise->what, "Raise 1.1");
}

TEST(Current, AtDepartureALimitBehindTheFrontHoldsAsLongAsAPantographIsUnderIt) {
  Scenario scenario = limited_from_10_to_15();
  scenario.request.route.departs_km = 15.005;  // 1.2 is 9.5 m before km 15
  EXPECT_EQ(power_orders(scenario.plan()),
            (std::vector<std::string>{"15.005 No more than 83 % of power from here",
                                      "15.020 Full power again from here"}));
  scenario.request.route.departs_km = 15.02;
  EXPECT_TRUE(power_orders(scenario.plan()).empty());
  // Also where the train turns round at once, and another goes up, that is under the new wire.
  scenario.request.route.departs_km = 15.005;
  scenario.request.route.stops = {{.name = "Turn", .at_km = 15.01, .reversal = true, .place = {}}};
  const std::vector<std::string> orders = power_orders(scenario.plan());
  ASSERT_FALSE(orders.empty());
  EXPECT_EQ(orders.front(), "15.005 No more than 83 % of power from here");
}

TEST(Current, WhereNothingIsDrawnNoLimitIsOrdered) {
  Scenario scenario = limited_from_10_to_15();
  std::vector<LoweredStretch>& lowered = scenario.request.route.lowered;
  lowered = {{.name = "works", .from_km = 9.9, .to_km = 10.1, .place = {}},
             {.name = "more works", .from_km = 12, .to_km = 12.2, .place = {}},
             {.name = "last works", .from_km = 14.9, .to_km = 15.1, .place = {}}};
  const Plan plan = scenario.plan();
  std::vector<double> on_km;
  for (const Instruction& order : plan.instructions) {
    if (order.action == Action::breaker_on) {
      on_km.push_back(order.at_km);
    }
  }
  ASSERT_EQ(on_km.size(), 4U);
  EXPECT_EQ(power_orders(plan),
            (std::vector<std::string>{
                fmt::format("{:.3f} No more than 83 % of power from here", on_km[1]),
                fmt::format("{:.3f} Full power again from here", on_km[3])}));
}

TEST(Current, ALimitThatIsOverBeforeTheBreakerClosesIsNotOrdered) {
  Scenario scenario = limited_from_10_to_15();
  std::vector<Section>& sections = scenario.request.route.sections;
  sections[1].to_km = sections[2].from_km = 10.03;
  scenario.request.route.separations = {{.name = "separation",
                                         .kind = SeparationKind::phase,
                                         .from_km = 9.99,
                                         .length_m = 150,
                                         .pantograph_lowered = false,
                                         .breaker_off = true,
                                         .place = {}}};
  EXPECT_TRUE(power_orders(scenario.plan()).empty());
}

/// 1.2, which may carry 80 A, is up; soon behind the stop only the head of 1.1 is permitted, which
/// carries so much. 120 A are drawn. What is ordered of power at the stop.
std::vector<std::string> ordered_at_mosk(double new_one_carries_a) {
  auto type = std::make_shared<VehicleType>(*direct_current_locomotive(500, 120));
  auto strong = std::make_shared<PantographType>(*type->pantographs.front().type);
  strong->head_width_mm = 1600;
  for (PantographSupply& rating : strong->supplies) {
    rating.standstill_current_a = new_one_carries_a;
  }
  type->pantographs.front().type = strong;
  Scenario scenario = on_direct_current(type, 1);
  std::vector<Section>& sections = scenario.request.route.sections;
  for (const auto& [from_km, heads_mm] :
       {std::pair(9.9, std::vector<double>{1600, 1950}), {10.5, {1600}}}) {
    Section next = sections.back();
    sections.back().to_km = next.from_km = from_km;
    next.id = "s" + std::to_string(sections.size() + 1);
    next.permitted_head_widths_mm = heads_mm;
    sections.push_back(next);
  }
  scenario.request.route.stops = {{.name = "Mosk", .at_km = 10, .reversal = false, .place = {}}};
  const Plan plan = scenario.plan();
  std::vector<std::string> at_mosk;
  for (const Instruction& order : plan.instructions) {
    if (order.action == Action::power && order.at_km == 10) {
      at_mosk.push_back(order.text);
    }
  }
  return at_mosk;
}

TEST(Current, UntilAnotherGoesUpAtAStopNoMoreIsDrawnThanWhatIsUpCarries) {
  EXPECT_EQ(ordered_at_mosk(200),
            (std::vector<std::string>{"Vehicle 1: draw no more than 80 A at this stand, at "
                                      "Mosk: until the change to 1.1."}));
  EXPECT_TRUE(ordered_at_mosk(100).empty()) << "both are up for the stand, for neither is enough";
}

TEST(Current, WhereOneLimitFollowsOnAnotherEachIsOrdered) {
  Scenario scenario = limited_from_10_to_15();
  scenario.request.route.sections[2].greatest_train_current_a = 300;
  EXPECT_EQ(power_orders(scenario.plan()),
            (std::vector<std::string>{"10.000 No more than 83 % of power from here",
                                      "15.000 No more than 50 % of power from here"}));
}

TEST(Standstill, BeforeASignalAndWhereTheSupplyIsNotStatedNothingIsSaid) {
  Scenario scenario = on_direct_current(direct_current_locomotive(500, 250), 1);
  scenario.request.route.landmarks = {
      {.name = "Signal 7", .at_km = 5, .signal = true, .place = {}}};
  const auto said = [](const Plan& plan) {
    std::vector<std::string> texts;
    for (const PlannedSection& section : plan.sections) {
      for (const Finding& finding : section.findings) {
        if (finding.rule == "standstill-current") {
          texts.push_back(finding.text);
        }
      }
    }
    return texts;
  };
  const std::vector<std::string> texts = said(scenario.plan());
  ASSERT_EQ(texts.size(), 2U) << "at departure and on arrival";
  for (const std::string& text : texts) {
    EXPECT_EQ(text.find("signal"), std::string::npos) << text;
  }
  scenario.section().supply.reset();
  EXPECT_TRUE(said(scenario.plan()).empty());
}

// 250 A at a stand at 1000 V: two carry that where 200 A each are permitted, one does not.
TEST(Current, AStandIsLookedAtAlsoWhenAPantographHasFailed) {
  Scenario scenario = on_direct_current(direct_current_locomotive(500, 250));
  scenario.section().greatest_standstill_current_a = 200;
  const Plan plan = scenario.plan();
  ASSERT_FALSE(plan.contingencies.empty());
  for (const Contingency& contingency : plan.contingencies) {
    const auto& findings = contingency.sections[0].findings;
    const auto found = std::ranges::find(findings, "standstill-current", &Finding::rule);
    ASSERT_NE(found, findings.end()) << to_string(contingency.failed);
    EXPECT_NE(found->text.find("draw no more than that"), std::string::npos) << found->text;
    const Instruction* const order = first_order(contingency.instructions, Action::power);
    ASSERT_NE(order, nullptr);
    EXPECT_EQ(order->what, "Vehicle 1: draw no more than 80 A at this stand");
  }
}

}  // namespace
}  // namespace panup::scenario
