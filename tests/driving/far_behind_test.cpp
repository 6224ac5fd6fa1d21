/// A pantograph far behind the front comes under wire that the front has left long before.

#include <gtest/gtest.h>

#include <algorithm>

#include "driving/drive.h"
#include "scenario.h"

namespace panup {

namespace {

using scenario::locomotive;
using scenario::Scenario;

/// A locomotive with a wide head (1.1, 1950 mm) and a narrow one (1.2, 1600 mm).
std::shared_ptr<const VehicleType> two_heads() {
  auto type = std::make_shared<VehicleType>(*locomotive());
  auto narrow = std::make_shared<PantographType>(*type->pantographs.back().type);
  narrow->head_width_mm = 1600;
  type->pantographs.back().type = narrow;
  return type;
}

/// A section from `from_km`, appended; where the last one ends is not touched.
Section& add_section(Scenario& scenario, double from_km, std::vector<double> heads_mm) {
  std::vector<Section>& sections = scenario.request.route.sections;
  Section section = sections.back();
  section.id = "s" + std::to_string(sections.size() + 1);
  section.from_km = from_km;
  section.to_km = 20;
  section.permitted_head_widths_mm = std::move(heads_mm);
  sections.back().to_km = from_km;
  sections.push_back(section);
  return sections.back();
}

bool is_up(const Plan& plan, PantographRef ref, double km) {
  return std::ranges::any_of(plan.sections, [&](const PlannedSection& section) {
    return section.from_km <= km && km < section.to_km &&
           std::ranges::find(section.raised, ref) != section.raised.end();
  });
}

/// The train is driven from the wagons' end where that leads.
void end_in_control_car(Scenario& scenario) {
  for (ConsistItem& item : scenario.request.train.consist) {
    if (auto* const load = std::get_if<LoadGroup>(&item)) {
      load->control_car = true;
    }
  }
}

/// The locomotive pushes 400 m of wagons: its pantographs are some 410 m behind the front.
Scenario pushing() {
  Scenario scenario;
  scenario.load(LoadNature::ordinary, 400).add(two_heads());
  end_in_control_car(scenario);
  scenario.section().permitted_head_widths_mm = {1600, 1950};
  return scenario;
}

void expect_driven_well(const Scenario& scenario, const Plan& plan) {
  for (const DrivenFault& fault : drive(plan, driven_rules(scenario.request.rules))) {
    ADD_FAILURE() << "km " << fault.at_km << ": " << fault.what;
  }
}

TEST(FarBehind, AHeadThatAShortSectionDoesNotAdmitIsNotUpWhenItComesThereThoughTheFrontHasLeft) {
  // Two hundred metres admit the narrow head alone, and the train stops in their middle: the
  // locomotive is then still before them.
  Scenario scenario = pushing();
  add_section(scenario, 10, {1600});
  add_section(scenario, 10.2, {1600, 1950});
  scenario.request.route.stops = {{.name = "Stop", .at_km = 10.1, .reversal = false, .place = {}}};
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.answer, Answer::permitted);
  EXPECT_FALSE(is_up(plan, {1, 1}, 10.5));
  expect_driven_well(scenario, plan);
}

TEST(FarBehind, ATrainThatHasTurnedComesUnderTheSectionThatItBeginsWithLast) {
  // It turns at km 10, the locomotive then last; fifty metres behind the stop admit the narrow head
  // alone.
  Scenario scenario;
  scenario.add(two_heads()).load(LoadNature::ordinary, 400);
  end_in_control_car(scenario);
  scenario.section().permitted_head_widths_mm = {1600, 1950};
  add_section(scenario, 10, {1600});
  add_section(scenario, 10.05, {1600, 1950});
  scenario.request.route.stops = {{.name = "Turn", .at_km = 10, .reversal = true, .place = {}}};
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.answer, Answer::permitted);
  EXPECT_FALSE(is_up(plan, {1, 1}, 10.3));
  EXPECT_FALSE(is_up(plan, {1, 1}, 10.43));
  expect_driven_well(scenario, plan);
}

TEST(FarBehind, WhenOneFailsOnTheRoadTheOtherGoesUpOnlyUnderWireThatAdmitsIt) {
  // The wide head alone is admitted up to km 10, both behind; the wide one fails.
  Scenario scenario = pushing();
  scenario.section().permitted_head_widths_mm = {1950};
  add_section(scenario, 10, {1600, 1950});
  const Plan plan = scenario.plan();
  ASSERT_TRUE(is_up(plan, {1, 1}, 9));
  const auto failed =
      std::ranges::find(plan.contingencies, PantographRef{1, 1}, &Contingency::failed);
  const auto at = [&](double km) -> const RoadFailure& {
    return *std::ranges::find_if(failed->on_the_road, [km](const RoadFailure& failure) {
      return failure.from_km <= km && km < failure.to_km;
    });
  };
  EXPECT_TRUE(at(9).stranded);
  EXPECT_TRUE(at(10.3).stranded) << "the locomotive stands at km 9.9";
  EXPECT_TRUE(at(10.41).stranded) << "the narrow head is 414.5 m behind the front";
  if (is_up(plan, {1, 1}, 10.42)) {
    EXPECT_FALSE(at(10.42).stranded);
    EXPECT_EQ(at(10.42).raised, std::vector<PantographRef>({{1, 2}}));
  }
  expect_driven_well(scenario, plan);
}

TEST(FarBehind, WhatIsToldOfAFailureIsLookedAtByTheDriverToo) {
  Scenario scenario = pushing();
  scenario.section().permitted_head_widths_mm = {1950};
  add_section(scenario, 10, {1600, 1950});
  Plan plan = scenario.plan();
  for (Contingency& contingency : plan.contingencies) {
    for (RoadFailure& failure : contingency.on_the_road) {
      failure.stranded = false;
      failure.raised = {{1, 2}};
    }
  }
  const auto faults = drive(plan, driven_rules(scenario.request.rules));
  ASSERT_FALSE(faults.empty());
  EXPECT_EQ(faults.front().what,
            "1.1 fails on the road: 1.2 touches the wire of 's1': its head is not permitted there");
}

TEST(FarBehind, NothingGoesUpInWorksWhenOneFailsShortlyBehindThem) {
  Scenario scenario;
  scenario.add(locomotive()).load(LoadNature::ordinary, 300).add(locomotive());
  scenario.request.route.lowered = {{.name = "works", .from_km = 9, .to_km = 9.5, .place = {}}};
  const Plan plan = scenario.plan();
  expect_driven_well(scenario, plan);
  for (const Contingency& contingency : plan.contingencies) {
    for (const RoadFailure& failure : contingency.on_the_road) {
      // What fails has been up: the last one is past the works then.
      EXPECT_FALSE(failure.from_km >= 9 && failure.from_km < 9.8) << failure.text;
    }
  }
}

}  // namespace

}  // namespace panup
