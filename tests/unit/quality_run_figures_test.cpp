#include <gtest/gtest.h>

#include "dynamics_sample_line.h"
#include "quality/run_figures.h"

namespace panup {
namespace {

TEST(RunFigures, AreThoseOfTheRunFirstPantographInFront) {
  SimulationResult result;
  PantographRun first;
  first.mean_n = 101;
  first.std_n = 12;
  first.max_n = 140;
  first.min_n = 61;
  first.contact_loss_percent = 0.2;
  first.longest_contact_loss_ms = 7;
  first.least_unfiltered_n = -3;
  PantographRun second;
  second.mean_n = 99;
  result.pantographs = {first, second};
  result.wave_speed_kmh = 430;
  result.max_support_uplift_mm = 44;
  result.max_span_uplift_mm = 55;
  SimulationOutcome outcome;
  outcome.result = result;
  const RunFigures figures = figures_of(outcome);
  ASSERT_EQ(figures.pantographs.size(), 2U);
  EXPECT_EQ(figures.pantographs[0], (PantographFigures{.mean_n = 101,
                                                       .std_n = 12,
                                                       .max_n = 140,
                                                       .min_n = 61,
                                                       .contact_loss_percent = 0.2,
                                                       .longest_contact_loss_ms = 7,
                                                       .least_unfiltered_n = -3}));
  EXPECT_EQ(figures.pantographs[1].mean_n, 99);
  EXPECT_EQ(figures.wave_speed_kmh, 430);
  EXPECT_EQ(figures.max_support_uplift_mm, 44);
  EXPECT_EQ(figures.max_span_uplift_mm, 55);
  EXPECT_TRUE(figures.refusals.empty());
}

TEST(RunFigures, OfARefusedRunAreTheRefusals) {
  SimulationOutcome outcome;
  outcome.refusals = {Sentence("too short"), Sentence("too fast")};
  const RunFigures figures = figures_of(outcome);
  EXPECT_TRUE(figures.pantographs.empty());
  EXPECT_EQ(figures.refusals, outcome.refusals);
}

TEST(RunFigures, ThatAreComputedComeInTheOrderOfTheRequests) {
  const ContactLine line = sample_line(20);
  SimulationRequest light = sample_request(line, 100);
  SimulationRequest heavy = light;
  heavy.pantographs.front().static_force_n = 110;
  const auto figures = computed_runs(1)({light, heavy});
  ASSERT_TRUE(figures);
  ASSERT_EQ(figures->size(), 2U);
  EXPECT_NEAR(figures->at(1).pantographs.at(0).mean_n - figures->at(0).pantographs.at(0).mean_n, 30,
              1);
}

}  // namespace
}  // namespace panup
