#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "pictures/train_drawing.h"
#include "sample_plan.h"

namespace panup {
namespace {

TrainDrawing drawing_of(const Plan& plan, bool reversed, bool labelled = true) {
  const TextSetter setter;
  const Layout layout = lay_out(plan.train, reversed);
  TrainDrawingStyle style;
  style.width = labelled ? 460 : 160;
  style.labelled = labelled;
  const auto section = std::ranges::find(plan.sections, reversed, &PlannedSection::reversed);
  const PlannedSection& shown = section == plan.sections.end() ? plan.sections.front() : *section;
  return arrange_train(setter, plan.train, layout, shown.raised, shown.put_dead_in_tow, style);
}

const DrawnPantograph& pantograph(const TrainDrawing& drawing, PantographRef ref) {
  return *std::ranges::find(drawing.pantographs, ref, &DrawnPantograph::ref);
}

TEST(TrainDrawing, RaisedPantographsTouchTheWireAndLoweredOnesDoNot) {
  for (const auto& [name, plan] : all_sample_plans()) {
    for (const bool labelled : {true, false}) {
      for (const bool reversed : {false, true}) {
        const TrainDrawing drawing = drawing_of(plan, reversed, labelled);
        ASSERT_FALSE(drawing.pantographs.empty());
        for (const DrawnPantograph& drawn : drawing.pantographs) {
          SCOPED_TRACE(name + ", " + to_string(drawn.ref));
          if (drawn.raised) {
            EXPECT_DOUBLE_EQ(drawn.head.y, drawing.heights.wire);
          } else {
            EXPECT_GT(drawn.head.y, drawing.heights.wire + 2) << "at a distance that can be seen";
          }
          EXPECT_LT(drawn.head.y, drawing.heights.roof) << "above the roof";
        }
      }
    }
  }
}

TEST(TrainDrawing, TheKnucklePointsTheRightWayInBothDirections) {
  // The sample's first locomotive runs with cab 1 ahead at departure, with cab 2 after the
  // reversal; its number 1 has the knuckle towards cab 2, its number 4 towards cab 1. The front is
  // at the left.
  const Plan plan = sample_plan();
  for (const bool reversed : {false, true}) {
    const TrainDrawing drawing = drawing_of(plan, reversed);
    const double towards_cab2 = reversed ? -1 : 1;
    const DrawnPantograph& first = pantograph(drawing, {1, 1});
    const DrawnPantograph& fourth = pantograph(drawing, {1, 4});
    ASSERT_EQ(first.knuckles.size(), 1U);
    EXPECT_GT((first.knuckles[0].x - first.head.x) * towards_cab2, 3) << reversed;
    EXPECT_LT((fourth.knuckles[0].x - fourth.head.x) * towards_cab2, -3) << reversed;
  }
}

TEST(TrainDrawing, TheKnuckleAgreesWithTheLayout) {
  for (const auto& [name, plan] : all_sample_plans()) {
    for (const bool reversed : {false, true}) {
      const Layout layout = lay_out(plan.train, reversed);
      const TrainDrawing drawing = drawing_of(plan, reversed);
      for (const PlacedPantograph& placed : layout.pantographs) {
        const DrawnPantograph& drawn = pantograph(drawing, placed.ref);
        if (placed.type->frame == PantographFrame::single_arm) {
          EXPECT_EQ(drawn.knuckles[0].x < drawn.head.x, placed.knuckle_leading)
              << name << ' ' << to_string(placed.ref);
        }
      }
    }
  }
}

TEST(TrainDrawing, ADiamondHasAKnuckleOnEitherSide) {
  const TrainDrawing drawing = drawing_of(diamond_plan(), false);
  for (const DrawnPantograph& drawn : drawing.pantographs) {
    ASSERT_EQ(drawn.knuckles.size(), 2U);
    EXPECT_LT(drawn.knuckles[0].x, drawn.head.x);
    EXPECT_GT(drawn.knuckles[1].x, drawn.head.x);
    EXPECT_EQ(drawn.strip_count, 1);
  }
}

TEST(TrainDrawing, ArmsKeepTheirLength) {
  const TrainDrawing drawing = drawing_of(sample_plan(), false);
  const auto arm = [](const DrawnPantograph& drawn) {
    return std::hypot(drawn.knuckles[0].x - drawn.foot.x, drawn.knuckles[0].y - drawn.foot.y);
  };
  EXPECT_NEAR(arm(pantograph(drawing, {1, 1})), arm(pantograph(drawing, {1, 2})), 1e-9)
      << "a raised one and a folded one";
}

TEST(TrainDrawing, VehiclesAreToScale) {
  const Plan plan = sample_plan();
  const Layout layout = lay_out(plan.train, false);
  const TrainDrawing drawing = drawing_of(plan, false);
  const double distance_m = layout.pantographs[4].from_front_m - layout.pantographs[0].from_front_m;
  const double distance = pantograph(drawing, layout.pantographs[4].ref).head.x -
                          pantograph(drawing, layout.pantographs[0].ref).head.x;
  EXPECT_NEAR(distance, distance_m * drawing.points_per_m, 1e-9);
}

TEST(TrainDrawing, TheFrontIsAtTheLeftInEitherDirection) {
  const Plan plan = sample_plan();
  const TrainDrawing departure = drawing_of(plan, false);
  const TrainDrawing reversed = drawing_of(plan, true);
  EXPECT_EQ(departure.vehicles.front().number, 1);
  EXPECT_EQ(reversed.vehicles.front().number, 2);
  EXPECT_LT(departure.vehicles[0].body.x, departure.vehicles[1].body.x);
  EXPECT_LT(reversed.loads[0].body.x, reversed.vehicles[0].body.x) << "it is pushed";
  EXPECT_LT(departure.arrow.right(), departure.vehicles[0].body.x);
  EXPECT_LT(reversed.arrow.right(), reversed.loads[0].body.x);
}

TEST(TrainDrawing, LongLoadsAreShortenedAndSaySo) {
  const TrainDrawing banked = drawing_of(banking_plan(), false);
  ASSERT_EQ(banked.loads.size(), 1U);
  EXPECT_TRUE(banked.loads[0].shortened);
  EXPECT_EQ(banked.loads[0].nature, LoadNature::dangerous);
  EXPECT_LT(banked.loads[0].body.right(), banked.vehicles[1].body.x);
  Plan plan = banking_plan();
  std::get<LoadGroup>(plan.train.consist[1]).length_m = 12;
  EXPECT_FALSE(drawing_of(plan, false).loads[0].shortened);
}

TEST(TrainDrawing, VehiclesDeadInTowAreMarked) {
  const TrainDrawing drawing = drawing_of(diamond_plan(), false);
  EXPECT_FALSE(drawing.vehicles[0].dead);
  EXPECT_TRUE(drawing.vehicles[1].dead);
  EXPECT_TRUE(drawing.vehicles[1].dead_by_plan);
  EXPECT_TRUE(drawing.vehicles[2].dead);
  EXPECT_FALSE(drawing.vehicles[2].dead_by_plan);
}

TEST(TrainDrawing, EverythingLiesWithinItsWidth) {
  for (const auto& [name, plan] : all_sample_plans()) {
    const TrainDrawing drawing = drawing_of(plan, false);
    EXPECT_LE(drawing.rear_x, 460.001) << name;
    for (const PlacedText& text : drawing.texts) {
      EXPECT_GE(text.at.x, -0.001) << name;
      EXPECT_LE(text.at.x + text.text.width(), 460.001) << name;
    }
  }
}

}  // namespace
}  // namespace panup
