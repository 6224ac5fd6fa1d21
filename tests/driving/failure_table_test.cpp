/// A pantograph that fails on the road: what the driver is told agrees with what the card's table
/// says of that place, over all trains of the demo's day.

#include <gtest/gtest.h>

#include <algorithm>

#include "day/plan_day.h"
#include "driving/drive.h"
#include "failed/road_failure.h"
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

}  // namespace
}  // namespace panup
