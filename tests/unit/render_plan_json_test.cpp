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

TEST(PlanJson, ALastResortIsInTheHeadline) {
  Plan plan = sample_plan();
  EXPECT_EQ(plan_to_json(plan)["headline"], "Permitted, last resort accepted");
  EXPECT_EQ(plan_to_json(plan)["last_resort_accepted"], true);
  plan.sections[0].findings.clear();
  EXPECT_EQ(plan_to_json(plan)["headline"], "Permitted");
  EXPECT_EQ(plan_to_json(plan)["last_resort_accepted"], false);
  EXPECT_EQ(plan_to_json(consent_plan())["headline"], "Consent needed, last resort accepted");
  EXPECT_EQ(plan_to_json(refused_plan())["headline"], "No permitted configuration");
}

TEST(PlanJson, AFindingSaysWhetherWhatItWantsIsKept) {
  const Json findings = plan_to_json(sample_plan())["sections"][0]["findings"];
  EXPECT_EQ(findings[0]["kept"], false);
  EXPECT_EQ(findings[1]["kept"], true);
  EXPECT_TRUE(findings.back()["kept"].is_null()) << "a speed is no practice to keep";
}

TEST(PlanJson, NamesTheLoadsThatAreExposed) {
  Plan plan = sample_plan();
  const Json exposed = plan_to_json(plan)["sections"][0]["exposed_loads"];
  ASSERT_EQ(exposed.size(), 1U);
  EXPECT_EQ(exposed[0]["load"], "petrol in tank wagons");
  EXPECT_EQ(exposed[0]["nature"], "dangerous");
  EXPECT_EQ(exposed[0]["pantographs"], Json{"2.1"});
  EXPECT_TRUE(plan_to_json(plan)["sections"][1]["exposed_loads"].empty());
  plan.contingencies[0].on_the_road[0].exposed = plan.sections[0].exposed;
  EXPECT_EQ(plan_to_json(plan)["contingencies"][0]["on_the_road"][0]["exposed_loads"], exposed);
}

TEST(PlanJson, WhatTheOfficeDoesNotStateIsNull) {
  Plan plan = sample_plan();
  for (const char* const key : {"train_number", "date", "days", "issue", "holds_until"}) {
    EXPECT_TRUE(plan_to_json(plan)["release"][key].is_null()) << key;
  }
  plan.train.release.train_number = "60412";
  plan.train.release.days = "Mondays";
  plan.train.release.issue = 3;
  const Json release = plan_to_json(plan)["release"];
  EXPECT_EQ(release["train_number"], "60412");
  EXPECT_EQ(release["days"], "Mondays");
  EXPECT_EQ(release["issue"], 3);
}

TEST(PlanJson, IsTheSameEveryTime) {
  EXPECT_EQ(plan_to_json(sample_plan()).dump(), plan_to_json(sample_plan()).dump());
}

TEST(WhyNotJson, HasTheAnswerAndTheCautions) {
  const Json json = why_not_to_json(sample_plan(), sample_why_not());
  EXPECT_EQ(json["asked"], (Json{"1.4", "2.1"}));
  EXPECT_EQ(json["answer"], "consent needed");
  EXPECT_EQ(json["extra_time_s"], 380);
  EXPECT_FALSE(json["cautions"].empty());
}

}  // namespace
}  // namespace panup
