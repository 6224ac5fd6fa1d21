/// A day of the demo's trains: what happens around the plans.

#include <gtest/gtest.h>

#include <atomic>
#include <stdexcept>

#include "day/plan_day.h"

namespace panup {
namespace {

class PlanDayTest : public testing::Test {
 protected:
  PlanDayTest() {
    day.date = "2031-05-13";
    add("1", "t26-ore-without-consent", "quintra-dorsa", "09:00:00");
    add("2", "no-such-train", "quintra-dorsa", "07:00:00");
    add("3", "t25-ore", "quintra-dorsa", "08:00:00");
    add("4", "t03-petrol", "harl-tarnholt", "");
    add("5", "no-such-train", "harl-tarnholt", "");
    day.rules = {{folder + "/rules/nordvale-freight.toml", {}}};
  }
  void add(const std::string& number, const std::string& train, const std::string& route,
           const std::string& departure) {
    day.trains.push_back({.number = number,
                          .train = {folder + "/trains/" + train + ".toml", {}},
                          .route = {folder + "/routes/" + route + ".toml", {}},
                          .departure = departure,
                          .place = {},
                          .vehicles_place = {}});
  }
  DayRequest request(int jobs) {
    return {.day = &day, .files = &files, .jobs = jobs, .program_version = "x"};
  }

  const std::string folder = PANUP_DEMO_FOLDER;
  DayFile day;
  const FileSource disk = files_on_disk();
  FilesReadOnce files{disk};
};

TEST_F(PlanDayTest, OutcomesStandInTheOrderOfTheFileAndTrainsArePlannedByDeparture) {
  std::vector<std::size_t> order;
  DayRequest asked = request(1);
  asked.done = [&](std::size_t row) { order.push_back(row); };
  const PlannedDay planned = plan_day(asked);
  EXPECT_EQ(order, (std::vector<std::size_t>{1, 2, 0, 3, 4}));
  EXPECT_FALSE(planned.stopped);
  EXPECT_EQ(planned.planned, 3U);
  ASSERT_EQ(planned.outcomes.size(), 5U);
  EXPECT_EQ(planned.outcomes[0]->decision, Decision::consent_needed);
  EXPECT_EQ(planned.outcomes[1]->decision, Decision::input_mistake);
  EXPECT_EQ(planned.outcomes[2]->train_id, "t25");
  EXPECT_EQ(planned.outcomes[3]->train_id, "t03");
}

TEST_F(PlanDayTest, AFaultOfTheProgramIsTheOutcomeOfItsTrainAndStopsNoOther) {
  DayRequest asked = request(2);
  asked.made = [](std::size_t row, const std::shared_ptr<const RunPlan>&) {
    if (row == 2) {
      throw std::logic_error("orders that must not be driven");
    }
  };
  const PlannedDay planned = plan_day(asked);
  EXPECT_EQ(planned.outcomes[2]->decision, Decision::fault);
  EXPECT_EQ(planned.outcomes[2]->fault, "orders that must not be driven");
  EXPECT_EQ(planned.outcomes[0]->decision, Decision::consent_needed);
  EXPECT_EQ(planned.outcomes[3]->decision, Decision::permitted);
  EXPECT_FALSE(planned.stopped);
}

TEST_F(PlanDayTest, WhatWasDoneWhenItWasStoppedIsThere) {
  std::atomic<int> done = 0;
  DayRequest asked = request(1);
  asked.done = [&](std::size_t) { ++done; };
  asked.stopped = [&] { return done >= 2; };
  const PlannedDay planned = plan_day(asked);
  EXPECT_TRUE(planned.stopped);
  EXPECT_FALSE(planned.outcomes[0]);
  EXPECT_TRUE(planned.outcomes[1] && planned.outcomes[2]);
  EXPECT_FALSE(planned.outcomes[3]);
  EXPECT_FALSE(planned.outcomes[4]) << "what needs no plan is not begun either";
}

TEST_F(PlanDayTest, EveryPlanHasItsInputsAndTheProgramsVersion) {
  DayRequest asked = request(1);
  int plans = 0;
  asked.made = [&](std::size_t, const std::shared_ptr<const RunPlan>& run) {
    ++plans;
    const Plan& plan = run->parts.front();
    EXPECT_EQ(plan.program_version, "x");
    for (const InputFile& input : plan.inputs) {
      EXPECT_EQ(input.sha256.size(), 64U) << input.path;
    }
  };
  plan_day(asked);
  EXPECT_EQ(plans, 3);
}

}  // namespace
}  // namespace panup
