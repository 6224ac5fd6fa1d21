/// A pantograph that fails on the road: what the driver is told. That it agrees with the card's
/// table is held in tests/driving/.

#include <gtest/gtest.h>

#include <algorithm>

#include "day/plan_day.h"
#include "driving/drive.h"
#include "failed/failed_report.h"
#include "files/read_day.h"
#include "requests/plan_input.h"

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

}  // namespace
}  // namespace panup
