/// A pantograph that fails on the road: what the driver is told. That it agrees with the card's
/// table is held in tests/driving/.

#include <gtest/gtest.h>

#include <algorithm>

#include "day/plan_day.h"
#include "day/plan_parts.h"
#include "driving/drive.h"
#include "failed/failed_report.h"
#include "files/read_day.h"
#include "requests/plan_input.h"
#include "requests/run_input.h"

namespace panup {
namespace {

RoadFailureAt failed_at(double km) { return {.failed = {1, 1}, .at_km = km}; }

std::string message_of(const Plan& plan, double km) {
  std::string all;
  for (const std::string& sentence : message_to_driver(plan, failed_at(km))) {
    all += sentence + "\n";
  }
  return all;
}

/// The containers' locomotive of the demo, with a file of its own.
PlanRequest demo_request(const std::string& number) {
  const FileSource disk = files_on_disk();
  FilesReadOnce read(disk);
  Diagnostics diagnostics;
  const auto day =
      read_day_file(PANUP_DEMO_FOLDER "/days/tuesday.toml", diagnostics, read.source());
  const auto train = std::ranges::find(day->trains, number, &DayTrain::number);
  return read_plan_input(paths_of_train(*day, *train), SpeedFrom::tables, read.source(),
                         diagnostics)
      ->request;
}

TEST(AFailureOnTheRoad, LeavesTheFailedOneDownAndTheRestOfTheTrainAsItWas) {
  const PlanRequest request = demo_request("41005");
  const PlanRequest there = request_from_there(request, failed_at(20));
  EXPECT_EQ(vehicle_numbered(there.train, 1)->defective, std::vector{1});
  EXPECT_EQ(departure_km(there.route), 20);
  EXPECT_EQ(wrong_with(failed_at(20), request), "");
  EXPECT_NE(wrong_with(failed_at(20), there).find("down already"), std::string::npos);
  EXPECT_NE(wrong_with(failed_at(-1), request).find("outside the route"), std::string::npos);
  EXPECT_NE(wrong_with(failed_at(34.5), request).find("outside the route"), std::string::npos)
      << "where the route ends there is nothing to plan";
}

TEST(AFailureOnTheRoad, IsToldInAFewSentences) {
  const PlanRequest request = request_from_there(demo_request("41005"), failed_at(20));
  const Plan plan = *make_driven_plan(request);
  const std::string message = message_of(plan, 20);
  for (const std::string& words :
       {std::string("Train 41005: pantograph 1.1, which is number 1 of K41 007, is defective"),
        std::string("km 20.000"), std::string("raise 1.2"),
        std::string("Then run at 120 km/h at most, as far as km 27.000"),
        std::string("Next, at km 26.700, at Skarn breaker board: breaker off."),
        std::string("to the end of the route, km 34.500")}) {
    EXPECT_NE(message.find(words), std::string::npos) << words << " in\n" << message;
  }
}

TEST(AFailureOnTheRoad, SaysWhereTheTrainCannotGoOn) {
  Plan plan = *make_driven_plan(request_from_there(demo_request("41005"), failed_at(20)));
  plan.sections.back().answer = Answer::none;
  plan.sections.back().findings = {
      {.rule = "head-fit", .strength = Strength::forbidden, .text = "No head fits.", .source = {}}};
  const std::string last_km = plan.sections.back().from_km == 27 ? "km 27.000" : "km";
  EXPECT_NE(message_of(plan, 20).find("You cannot go beyond " + last_km), std::string::npos);
  EXPECT_NE(message_of(plan, 20).find("No head fits."), std::string::npos);
  plan.sections.front().answer = Answer::none;
  const std::string stranded = message_of(plan, 20);
  EXPECT_NE(stranded.find("Raise nothing"), std::string::npos);
  EXPECT_EQ(stranded.find("Then run"), std::string::npos);
}

TEST(AFailureOnTheRoad, AsksForTheConsentFirst) {
  Plan plan = *make_driven_plan(request_from_there(demo_request("41005"), failed_at(20)));
  plan.sections.back().answer = Answer::consent_needed;
  plan.sections.back().without_consent = "1.2 up, 40 km/h";
  plan.sections.back().findings.insert(plan.sections.back().findings.begin(),
                                       {.rule = "line-record",
                                        .strength = Strength::consent_needed,
                                        .text = "Two are too many.",
                                        .source = {}});
  const std::string message = message_of(plan, 20);
  const std::size_t asked = message.find("only with the consent of the infrastructure manager");
  ASSERT_NE(asked, std::string::npos) << message;
  EXPECT_LT(asked, message.find("raise 1.2")) << message;
  EXPECT_NE(message.find("Two are too many."), std::string::npos);
  EXPECT_NE(message.find("Without it: 1.2 up, 40 km/h."), std::string::npos);
}

/// A run of the demo.
RunInput demo_run(const std::string& name) {
  const FileSource disk = files_on_disk();
  FilesReadOnce read(disk);
  Diagnostics diagnostics;
  return *read_train_input({.train = {},
                            .route = {},
                            .run_file = PANUP_DEMO_FOLDER "/runs/" + name + ".toml",
                            .conditions = {},
                            .rules = {PANUP_DEMO_FOLDER "/rules/nordvale-freight.toml"}},
                           SpeedFrom::tables, read.source(), diagnostics);
}

RunPlan rest_planned(const std::string& name, const RoadFailureAt& failure) {
  const RunInput run = demo_run(name);
  return *plan_parts(rest_of_way(run, part_at(run, failure.at_km), failure), "x");
}

std::string message_of(const RunPlan& run, const RoadFailureAt& failure) {
  std::string all;
  for (const std::string& sentence : message_to_driver(run, failure)) {
    all += sentence + "\n";
  }
  return all;
}

bool says(const std::string& message, const std::string& words) {
  return message.find(words) != std::string::npos;
}

TEST(AFailureOnARun, LiesOnThePartThatThePlaceIsOn) {
  const RunInput run = demo_run("r06-banked");
  ASSERT_EQ(run.parts.size(), 2U);
  EXPECT_EQ(part_at(run, 0), 0U);
  EXPECT_EQ(part_at(run, 13.999), 0U);
  EXPECT_EQ(part_at(run, 14), 1U) << "the vehicles have changed";
  EXPECT_EQ(part_at(run, 34), 1U);
  const Route& beyond = run.parts[part_at(run, 1000)].request.route;
  EXPECT_EQ(wrong_with_stand(1000, beyond),
            "km 1000 lies outside the route, which runs from km 0 to 34.5");
}

TEST(AFailureOnARun, LetsNobodyLeaveOnTheMove) {
  const RunInput run = demo_run("r08-banked-on-the-move");
  const RunPlan as_run = *plan_parts(run, "x");
  EXPECT_EQ(as_run.parts[1].instructions.front().action, Action::shunt) << "it runs on";
  const RunInput rest = rest_of_way(run, 0, {.failed = {2, 1}, .at_km = 10});
  EXPECT_EQ(rest.parts[0].changes.front(),
            "Stop here: vehicle 2 (K41 033) leaves at a stand after a failure");
  const RunPlan after_failure = *plan_parts(rest, "x");
  EXPECT_EQ(after_failure.parts[1].instructions.front().action, Action::raise) << "from a stand";
}

TEST(AFailureOnARun, KeepsThePantographDownWhileItsVehicleIsInTheTrain) {
  const RunInput run = demo_run("r06-banked");
  const RunInput of_train = rest_of_way(run, 0, {.failed = {1, 1}, .at_km = 10});
  ASSERT_EQ(of_train.parts.size(), 2U);
  EXPECT_EQ(departure_km(of_train.parts[0].request.route), 10);
  EXPECT_EQ(departure_km(of_train.parts[1].request.route), 14);
  EXPECT_EQ(of_train.parts[0].changes, run.parts[0].changes);
  for (const PlanInput& part : of_train.parts) {
    EXPECT_EQ(vehicle_numbered(part.request.train, 1)->defective, std::vector{1});
  }
  const RunInput of_banker = rest_of_way(run, 0, {.failed = {2, 1}, .at_km = 10});
  EXPECT_EQ(vehicle_numbered(of_banker.parts[0].request.train, 2)->defective, std::vector{1});
  EXPECT_TRUE(vehicle_numbered(of_banker.parts[1].request.train, 1)->defective.empty());
  EXPECT_EQ(rest_of_way(run, 1, {.failed = {1, 1}, .at_km = 20}).parts.size(), 1U);
}

TEST(AFailureOnARun, IsToldPartByPart) {
  const RoadFailureAt of_train{.failed = {1, 1}, .at_km = 10};
  const std::string message = message_of(rest_planned("r06-banked", of_train), of_train);
  for (const std::string& words :
       {std::string("You stand with the front at km 10.000"),
        std::string("go on to where vehicles of the train change, km 14.000, at Orrendal: all "
                    "breakers off; lower 1.2 and 2.1; detach vehicle 2 (K41 033)."),
        std::string("From there 1.1 stays down too: on km 14.0–34.5 the card no longer holds"),
        std::string("There, before you start: raise 1.2. Breaker on. That leaves 1.2 up."),
        std::string("exposed to dust and sparks of 1.2 on km 14.0–34.5"),
        std::string("So you can go on to the end of the route, km 34.500.")}) {
    EXPECT_TRUE(says(message, words)) << words << " in\n" << message;
  }
  const RoadFailureAt of_banker{.failed = {2, 1}, .at_km = 10};
  const std::string other = message_of(rest_planned("r06-banked", of_banker), of_banker);
  EXPECT_TRUE(says(other,
                   "From there the vehicle of 2.1 is no longer in the train: on km 14.0–34.5 "
                   "the card holds as it is."))
      << other;
  EXPECT_FALSE(says(other, "stays down too")) << other;
}

TEST(AFailureOnARun, SaysOnWhichPartTheTrainCannotGoOn) {
  const RoadFailureAt failure{.failed = {1, 1}, .at_km = 10};
  const RunPlan whole = rest_planned("r06-banked", failure);
  const auto refuse = [](PlannedSection& section) {
    section.answer = Answer::none;
    section.findings = {{.rule = "head-fit",
                         .strength = Strength::forbidden,
                         .text = "No head fits.",
                         .source = {}}};
  };
  RunPlan run = whole;
  refuse(run.parts[1].sections.back());
  std::string message = message_of(run, failure);
  EXPECT_TRUE(says(message, "There, before you start")) << message;
  EXPECT_TRUE(says(message, "You cannot go beyond km 27.000")) << message;
  EXPECT_FALSE(says(message, "end of the route")) << message;
  refuse(run.parts[1].sections.front());
  message = message_of(run, failure);
  EXPECT_FALSE(says(message, "There, before you start")) << message;
  EXPECT_TRUE(says(message, "You cannot go beyond km 14.000")) << message;
  run = whole;
  refuse(run.parts[0].sections.back());
  message = message_of(run, failure);
  EXPECT_TRUE(says(message, "You cannot go beyond")) << message;
  EXPECT_FALSE(says(message, "where vehicles of the train change")) << message;
  const RoadFailureAt of_banker{.failed = {2, 1}, .at_km = 10};
  run = rest_planned("r06-banked", of_banker);
  refuse(run.parts[1].sections.back());
  message = message_of(run, of_banker);
  EXPECT_TRUE(says(message, "You cannot go beyond km 27.000")) << message;
  EXPECT_FALSE(says(message, "end of the route")) << message;
}

TEST(AFailureOnARun, AsksForTheConsentOfALaterPart) {
  const RoadFailureAt failure{.failed = {1, 1}, .at_km = 10};
  RunPlan run = rest_planned("r06-banked", failure);
  PlannedSection& last = run.parts[1].sections.back();
  last.answer = Answer::consent_needed;
  last.findings.insert(last.findings.begin(), {.rule = "line-record",
                                               .strength = Strength::consent_needed,
                                               .text = "Two are too many.",
                                               .source = {}});
  EXPECT_TRUE(says(message_of(run, failure), "Two are too many."));
}

TEST(AFailureOnARun, SaysTheLineWhereTheWayDoesNotGoByItsKilometres) {
  const RoadFailureAt failure{.failed = {1, 2}, .at_km = 50};
  const std::string message = message_of(rest_planned("r07-run-round", failure), failure);
  EXPECT_TRUE(says(message, "You stand with the front at km 50.000, line 4 km 18.468")) << message;
  EXPECT_TRUE(says(message, "to the end of the route, km 68.468, line 4 km 0.000.")) << message;
}

}  // namespace
}  // namespace panup
