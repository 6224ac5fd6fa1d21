#include <gtest/gtest.h>

#include "render/plan_json.h"
#include "render/why_not.h"
#include "sample_plan.h"

namespace panup {
namespace {

using Json = nlohmann::ordered_json;

TEST(PlanJson, NamesPantographsByVehicleAndNumber) {
  const Json json = plan_to_json(sample_plan());
  EXPECT_EQ(json["sections"][0]["raised"], (Json{"1.1", "2.1"}));
  EXPECT_EQ(json["sections"][4]["raised"], (Json{"2.2", "1.3"})) << "front first, after a reversal";
  EXPECT_TRUE(json["sections"][4]["reversed"]);
}

TEST(PlanJson, TheVehicleOfAnInstructionIsNullWhereItIsSeveral) {
  Plan plan = sample_plan();
  EXPECT_TRUE(plan_to_json(plan)["instructions"][0]["vehicle"].is_null());
  plan.instructions[0].vehicle = 2;
  EXPECT_EQ(plan_to_json(plan)["instructions"][0]["vehicle"], 2);
}

TEST(PlanJson, OnlyASpeedHasASpeed) {
  const Json json = plan_to_json(sample_plan());
  for (const Json& instruction : json["instructions"]) {
    EXPECT_EQ(instruction["action"] == "speed", instruction["speed_kmh"].is_number());
  }
}

TEST(PlanJson, PlacesVehiclesAndPantographsFromTheFront) {
  const Json train = plan_to_json(sample_plan())["train"];
  ASSERT_EQ(train["vehicles"].size(), 2U);
  const Json& second = train["vehicles"][1];
  EXPECT_EQ(second["front_m"], 19.6);
  EXPECT_EQ(second["leading_cab"], 2);
  EXPECT_EQ(second["pantographs"][0]["name"], "2.1");
  EXPECT_DOUBLE_EQ(second["pantographs"][0]["from_front_m"].get<double>(), 39.2 - 3.0);
  EXPECT_EQ(second["pantographs"][0]["knuckle"], "leading");
  EXPECT_TRUE(second["pantographs"][3]["defective"]);
  EXPECT_EQ(train["loads"][0]["front_m"], 39.2);
  EXPECT_EQ(train["loads"][0]["nature"], "dangerous");
}

TEST(PlanJson, ADiamondHasNoKnuckleDirection) {
  const Json train = plan_to_json(diamond_plan())["train"];
  EXPECT_TRUE(train["vehicles"][0]["pantographs"][0]["knuckle"].is_null());
}

TEST(PlanJson, WhatIsLoweredForIsNamedAndElseNull) {
  const Json json = plan_to_json(sample_plan());
  EXPECT_EQ(json["sections"][2]["lowered_for"], "Hask system separation");
  EXPECT_TRUE(json["sections"][0]["lowered_for"].is_null());
  EXPECT_TRUE(json["sections"][2]["least_distance_m"].is_null());
}

TEST(PlanJson, FailuresOnTheRoadAreThere) {
  const Json json = plan_to_json(sample_plan());
  const Json& strands = json["contingencies"][4];
  EXPECT_EQ(strands["failed"], "2.1");
  EXPECT_EQ(strands["answer"], "no permitted configuration");
  EXPECT_TRUE(strands["on_the_road"][0]["stranded"]);
}

TEST(PlanJson, IsTheSameEveryTime) {
  EXPECT_EQ(plan_to_json(sample_plan()).dump(), plan_to_json(sample_plan()).dump());
}

TEST(WhyNotJson, HasTheAnswerAndTheCautions) {
  const Json json = why_not_to_json(sample_why_not());
  EXPECT_EQ(json["asked"], (Json{"1.4", "2.1"}));
  EXPECT_EQ(json["answer"], "consent needed");
  EXPECT_EQ(json["extra_time_s"], 380);
  EXPECT_FALSE(json["cautions"].empty());
}

}  // namespace
}  // namespace panup
