/// A pantograph that fails on the road: what the driver is told agrees with what the card's table
/// says of that place, over all trains of the demo's day.

#include <gtest/gtest.h>

#include <algorithm>

#include "day/plan_day.h"
#include "driving/drive.h"
#include "failed/failed_report.h"
#include "files/read_day.h"
#include "requests/plan_input.h"

namespace panup {
namespace {

double reached_km(const Plan& plan) {
  const auto none = std::ranges::find(plan.sections, Answer::none, &PlannedSection::answer);
  return none == plan.sections.end() ? plan.sections.back().to_km : none->from_km;
}

/// Whether something that lies on the route begins or ends under the train.
bool has_border_under(const Plan& plan, double front_km) {
  const double rear_km = front_km - length_m(plan.train) / 1000;
  return std::ranges::any_of(plan.route.sections, [&](const Section& section) {
    return section.from_km > rear_km && section.from_km <= front_km;
  });
}

/// The driver of the plan from there could not start with what the table names: a stretch without
/// power is too near, or a pantograph would stand where none may.
bool is_said_of_the_stand(const PlannedSection& first) {
  return std::ranges::any_of(first.findings, [](const Finding& finding) {
    return finding.text.find("could not start with it") != std::string::npos ||
           finding.text.find("where no raised pantograph may stand") != std::string::npos;
  });
}

/// The table tells one thing for a stretch, by what is best from where the stretch begins; joins
/// few metres to their neighbours where the same is permitted on them; and leaves out a lower speed
/// of wire that the train has left before it can be so fast. So from a place in it others may be
/// the best, no worse in the answer and as far; and the speed may be lower while some of the train
/// is under other wire.
TEST(AFailureOnTheRoad, IsAnsweredAsTheCardsTableDoes) {
  const FileSource disk = files_on_disk();
  FilesReadOnce read(disk);
  ParsedFiles parsed;
  Diagnostics diagnostics;
  const auto day =
      read_day_file(PANUP_DEMO_FOLDER "/days/tuesday.toml", diagnostics, read.source());
  ASSERT_TRUE(day);
  std::size_t all = 0;
  std::size_t stranded = 0;
  std::size_t alike = 0;
  for (const DayTrain& train : day->trains) {
    auto input = read_plan_input(paths_of_train(*day, train), SpeedFrom::tables, read.source(),
                                 diagnostics, &parsed);
    if (!input) {
      continue;
    }
    const auto plan = make_plan(input->request);
    for (const Contingency& contingency : plan->contingencies) {
      for (const RoadFailure& row : contingency.on_the_road) {
        for (const double share : {0.02, 0.5, 0.98}) {
          const double km = row.from_km + share * (row.to_km - row.from_km);
          const auto there =
              make_driven_plan(request_from_there(input->request, {contingency.failed, km}));
          const PlannedSection& first = there->sections.front();
          const std::string where =
              train.number + ", " + to_string(contingency.failed) + " at km " + std::to_string(km);
          ++all;
          ASSERT_EQ(first.from_km, km);
          if (row.stranded) {
            ++stranded;
            EXPECT_EQ(first.answer, Answer::none) << where;
            continue;
          }
          if (first.answer == Answer::none) {
            EXPECT_TRUE(is_said_of_the_stand(first)) << where;
            continue;
          }
          EXPECT_LE(first.answer, row.answer) << where;
          EXPECT_EQ(reached_km(*there), row.reaches_km) << where;
          const bool others = first.raised != row.raised;
          const bool slower = first.permitted_speed_kmh < row.speed_kmh;
          EXPECT_TRUE(others || !slower || has_border_under(*there, km)) << where;
          EXPECT_TRUE(others || first.permitted_speed_kmh <= row.speed_kmh) << where;
          EXPECT_TRUE(others || first.put_dead_in_tow == row.put_dead_in_tow) << where;
          alike += others || slower ? 0U : 1U;
        }
      }
    }
  }
  EXPECT_GT(all, 300U);
  EXPECT_GT(stranded, 10U);
  EXPECT_GT(alike, (all - stranded) * 95 / 100) << "of " << all - stranded;
}

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
  EXPECT_EQ(vehicle_of(there.train, 1).defective, std::vector{1});
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
        std::string("km 20.000"), std::string("Raise 1.2"),
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
  EXPECT_LT(asked, message.find("Raise 1.2")) << message;
  EXPECT_NE(message.find("Two are too many."), std::string::npos);
  EXPECT_NE(message.find("Without it: 1.2 up, 40 km/h."), std::string::npos);
}

}  // namespace
}  // namespace panup
