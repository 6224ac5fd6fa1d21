#include <gtest/gtest.h>

#include "sample_plan.h"
#include "wording/stretches.h"

namespace panup {
namespace {

TEST(Stretches, NeighboursThatLookTheSameAreOne) {
  Plan plan = sample_plan();
  const std::size_t before = stretches_of(plan).size();
  PlannedSection twin = plan.sections[3];
  twin.from_km = 30;
  plan.sections[3].to_km = 30;
  plan.sections.insert(plan.sections.begin() + 4, twin);
  EXPECT_EQ(stretches_of(plan).size(), before);
  plan.sections[4].permitted_speed_kmh -= 10;
  EXPECT_EQ(stretches_of(plan).size(), before + 1);
}

TEST(Stretches, ASystemSeparationSectionIsOneThingThoughTheSystemChangesInIt) {
  Plan plan = sample_plan();
  PlannedSection second_half = plan.sections[2];
  second_half.from_km = 20.0;
  second_half.supply = EnergySupply::ac_25kv;
  second_half.permitted_speed_kmh += 20;
  plan.sections[2].to_km = 20.0;
  plan.sections.insert(plan.sections.begin() + 3, second_half);
  const std::vector<Stretch> stretches = stretches_of(plan);
  EXPECT_EQ(stretches[2].to_km, 20.12);
  EXPECT_EQ(stretches[2].leaves_for, EnergySupply::ac_25kv);
}

/// One stretch for 80 km/h, cut at km 6 and 8, with these speeds ordered in its parts.
Stretch stretch_with(double first_kmh, double second_kmh, double third_kmh) {
  Plan plan;
  double from_km = 5;
  for (const auto& [to_km, speed_kmh] :
       {std::pair(6.0, first_kmh), std::pair(8.0, second_kmh), std::pair(9.0, third_kmh)}) {
    PlannedSection section;
    section.from_km = from_km;
    section.to_km = from_km = to_km;
    section.raised = {{1, 1}};
    section.permitted_speed_kmh = 80;
    section.speed_kmh = speed_kmh;
    section.speed_reason = speed_kmh < 80 ? "the train is not past" : "line speed 80 km/h";
    plan.sections.push_back(section);
  }
  const std::vector<Stretch> stretches = stretches_of(plan);
  EXPECT_EQ(stretches.size(), 1U);
  return stretches.front();
}

TEST(Stretches, ShowTheHighestSpeedThatIsOrderedInThem) {
  const Stretch at_once = stretch_with(80, 80, 60);
  EXPECT_EQ(at_once.speed_kmh, 80);
  EXPECT_FALSE(at_once.speed_from_km);
  EXPECT_EQ(at_once.reasons, "line speed 80 km/h");
}

TEST(Stretches, SayFromWhereASpeedHoldsThatDoesNotAtTheirBeginning) {
  const Stretch later = stretch_with(60, 80, 80);
  EXPECT_EQ(later.speed_kmh, 80);
  EXPECT_EQ(later.speed_from_km, 6);
  EXPECT_EQ(later.reasons, "line speed 80 km/h");
}

TEST(Stretches, ShowALowerSpeedThatHoldsToTheirEnd) {
  const Stretch held = stretch_with(60, 60, 60);
  EXPECT_EQ(held.speed_kmh, 60);
  EXPECT_FALSE(held.speed_from_km);
  EXPECT_EQ(held.first.permitted_speed_kmh, 80);
  EXPECT_EQ(held.reasons, "the train is not past");
}

}  // namespace
}  // namespace panup
