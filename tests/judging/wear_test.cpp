#include "judging/wear.h"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "sample_case.h"

/// Rubbing after Archard (1953), heating after Holm, Electric Contacts; from memory.

namespace panup {

namespace {

TEST(StripWear, ASecondPantographDoublesRubbingAndHalvesHeating) {
  const StripLoad one{.force_n = 70, .current_a = 400, .speed_kmh = 120};
  const StripLoad half{.force_n = 70, .current_a = 200, .speed_kmh = 120};
  const RelativeWear wear = relative_wear(std::vector{half, half}, std::vector{one});
  EXPECT_DOUBLE_EQ(wear.rubbing, 2);
  EXPECT_DOUBLE_EQ(wear.heating, 0.5);
}

TEST(StripWear, PressingHarderRubsMoreAndHeatsLess) {
  const StripLoad light{.force_n = 70, .current_a = 400, .speed_kmh = 120};
  StripLoad heavy = light;
  heavy.force_n = 140;
  const RelativeWear wear = relative_wear(std::vector{heavy}, std::vector{light});
  EXPECT_DOUBLE_EQ(wear.rubbing, 2);
  EXPECT_DOUBLE_EQ(wear.heating, 1 / std::sqrt(2.0));
}

TEST(StripWear, AtHalfTheSpeedTheSameCurrentHeatsEachKilometreTwiceAsMuch) {
  const StripLoad fast{.force_n = 70, .current_a = 400, .speed_kmh = 120};
  StripLoad slow = fast;
  slow.speed_kmh = 60;
  const RelativeWear wear = relative_wear(std::vector{slow}, std::vector{fast});
  EXPECT_DOUBLE_EQ(wear.rubbing, 1);
  EXPECT_DOUBLE_EQ(wear.heating, 2);
}

TEST(StripWear, WithoutCurrentNothingIsHeated) {
  const StripLoad idle{.force_n = 70, .current_a = 0, .speed_kmh = 120};
  EXPECT_DOUBLE_EQ(relative_wear(std::vector{idle}, std::vector{idle}).heating, 1);
}

TEST(StripWear, IsSaidOfEveryVehicleWithSeveralUp) {
  auto heavy = SampleCase::pantograph();
  heavy->supplies.front().static_force_n = 140;
  SampleCase sample;
  sample.section.records = {{4, 5, 120}};
  sample.add(SampleCase::locomotive()).add(SampleCase::locomotive(SampleCase::pantograph(), heavy));
  // Half the current through each: two quarters of the heat. With 70 N and 140 N: three times the
  // force of the one of 70 N, and (1 + 1 / sqrt 2) / 4 of its heat.
  EXPECT_EQ(sample.with("1.1 1.2 2.1 2.2").of("strip-wear"),
            "note: Strip wear per kilometre of 1.1 and 1.2 against 1.1 alone at the same speed: by "
            "rubbing 2.00 times as much in all, by heating from the current 0.50 times. A "
            "comparison, no prediction.\n"
            "note: Strip wear per kilometre of 2.1 and 2.2 against 2.1 alone at the same speed: by "
            "rubbing 3.00 times as much in all, by heating from the current 0.43 times. A "
            "comparison, no prediction.");
  EXPECT_EQ(sample.with("1.1 2.2").of("strip-wear"), "") << "one each";
  sample.section.supply = EnergySupply::dc_3kv;
  EXPECT_EQ(sample.with("1.1 1.2").of("strip-wear"), "") << "they are not for it";
  sample.section.supply.reset();
  EXPECT_EQ(sample.with("1.1 1.2").of("strip-wear"), "");
}

}  // namespace

}  // namespace panup
