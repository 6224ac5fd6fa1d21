#include <gtest/gtest.h>

#include "sample_plan.h"
#include "wording/stretches.h"

namespace panup {
namespace {

Instruction speed_order(double at_km, double speed_kmh) {
  Instruction order;
  order.at_km = at_km;
  order.action = Action::speed;
  order.speed_kmh = speed_kmh;
  return order;
}

Stretch stretch(double from_km, double to_km, double speed_kmh) {
  Stretch made;
  made.from_km = from_km;
  made.to_km = to_km;
  made.first.speed_kmh = speed_kmh;
  return made;
}

TEST(Stretches, NeighboursThatLookTheSameAreOne) {
  Plan plan = sample_plan();
  const std::size_t before = stretches_of(plan).size();
  PlannedSection twin = plan.sections[3];
  twin.from_km = 30;
  plan.sections[3].to_km = 30;
  plan.sections.insert(plan.sections.begin() + 4, twin);
  EXPECT_EQ(stretches_of(plan).size(), before);
  plan.sections[4].speed_kmh -= 10;
  EXPECT_EQ(stretches_of(plan).size(), before + 1);
}

TEST(Stretches, ASystemSeparationSectionIsOneThingThoughTheSystemChangesInIt) {
  Plan plan = sample_plan();
  PlannedSection second_half = plan.sections[2];
  second_half.from_km = 20.0;
  second_half.supply = EnergySupply::ac_25kv;
  plan.sections[2].to_km = 20.0;
  plan.sections.insert(plan.sections.begin() + 3, second_half);
  const std::vector<Stretch> stretches = stretches_of(plan);
  EXPECT_EQ(stretches[2].to_km, 20.12);
  EXPECT_EQ(stretches[2].leaves_for, EnergySupply::ac_25kv);
}

TEST(ShownSpeed, IsTheStretchsOwnWhereItIsOrderedAtItsBeginning) {
  const ShownSpeed shown = shown_speed({speed_order(5, 80)}, stretch(5, 10, 80));
  EXPECT_EQ(shown.speed_kmh, 80);
  EXPECT_FALSE(shown.from_km);
  EXPECT_FALSE(shown.stretch_permits_kmh);
}

TEST(ShownSpeed, SaysFromWhereWhileALowerOrderStillHolds) {
  const ShownSpeed shown =
      shown_speed({speed_order(0, 60), speed_order(5.4, 80)}, stretch(5, 10, 80));
  EXPECT_EQ(shown.speed_kmh, 80);
  EXPECT_EQ(shown.from_km, 5.4);
}

TEST(ShownSpeed, IsTheLowerOrderWhereThatHoldsToTheEnd) {
  const ShownSpeed shown =
      shown_speed({speed_order(0, 60), speed_order(12, 80)}, stretch(5, 10, 80));
  EXPECT_EQ(shown.speed_kmh, 60);
  EXPECT_EQ(shown.stretch_permits_kmh, 80);
}

TEST(ShownSpeed, NeverExceedsWhatTheStretchPermits) {
  const ShownSpeed shown = shown_speed({speed_order(0, 120)}, stretch(5, 10, 80));
  EXPECT_EQ(shown.speed_kmh, 80);
}

TEST(ShownSpeed, WithoutOrdersItIsTheStretchsOwn) {
  EXPECT_EQ(shown_speed({}, stretch(5, 10, 80)).speed_kmh, 80);
}

}  // namespace
}  // namespace panup
