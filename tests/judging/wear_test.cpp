#include "judging/wear.h"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

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

}  // namespace

}  // namespace panup
