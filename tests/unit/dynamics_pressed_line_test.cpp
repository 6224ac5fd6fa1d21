#include <gtest/gtest.h>

#include <cmath>

#include "dynamics/pressed_line.h"
#include "dynamics_results.h"
#include "dynamics_sample_line.h"

namespace panup {

namespace {

constexpr int points_per_span = 101;

StaticState at_rest(const ContactLine& line) {
  return std::get<StaticState>(static_state(line, {}, points_per_span, true));
}

/// Mean of the elasticity over spans, by the trapezoids between the static state's points.
double mean_elasticity_m_per_n(const StaticState& state, double from_m, double to_m) {
  constexpr double rounding_m = 1e-6;
  double sum = 0;
  for (std::size_t i = 1; i < state.points.size(); ++i) {
    const StaticPoint& a = state.points[i - 1];
    const StaticPoint& b = state.points[i];
    if (a.at_m > from_m - rounding_m && b.at_m < to_m + rounding_m) {
      sum += (b.at_m - a.at_m) * (a.elasticity_mm_per_n + b.elasticity_mm_per_n) / 2;
    }
  }
  return sum / 1000 / (to_m - from_m);
}

double mean_lift_m(const ContactLine& line, const StaticState& state, double force_n, double from_m,
                   double to_m) {
  return mean_heights_pressed(line, state, {{force_n, 0}}, from_m, to_m)[0] -
         mean_heights_pressed(line, state, {{0, 0}}, from_m, to_m)[0];
}

void set_length(Span& span, double length_m) {
  for (Dropper& dropper : span.droppers) {
    dropper.at_m *= length_m / span.length_m;
  }
  span.length_m = length_m;
}

/// Under one newton no dropper slackens, and the lift is the elasticity.
void expect_elasticity(const ContactLine& line, std::size_t first, std::size_t beyond,
                       double share = 0.003) {
  const std::vector<double> supports = support_positions(line);
  const StaticState state = at_rest(line);
  const double elasticity = mean_elasticity_m_per_n(state, supports[first], supports[beyond]);
  EXPECT_NEAR(mean_lift_m(line, state, 1, supports[first], supports[beyond]), elasticity,
              share * elasticity);
}

TEST(PressedLine, IsLiftedByTheMeanElasticity) { expect_elasticity(sample_line(13), 5, 8); }

TEST(PressedLine, IsLiftedLikeItsSpansAsLongAsEachIs) {
  ContactLine line = sample_line(17);
  // Far apart, so that one is not felt in the other.
  set_length(line.spans[5], 30);
  set_length(line.spans[11], 30);
  for (std::size_t i = 13; i < line.spans.size(); ++i) {
    set_length(line.spans[i], 65);
  }
  // One span stands for all that are alike, whatever lies beside them.
  expect_elasticity(line, 4, 12, 0.015);
}

TEST(PressedLine, IsLiftedMoreOnBothSidesOfASoftSupport) {
  ContactLine line = sample_line(17);
  line.supports[8].messenger_stiffness_n_per_m = 10000;
  expect_elasticity(line, 6, 10);
}

/// What a run at a crawl sees under a force that slackens droppers.
TEST(PressedLine, IsLiftedMoreWhereDroppersSlacken) {
  const ContactLine line = sample_line(11);
  SimulationRequest request = sample_request(line, 20);
  request.pantographs[0].model.masses = {{20, 0, 100}};
  request.pantographs[0].static_force_n = 400;
  request.settings.keep_trace = true;
  const SimulationResult run = result_of(request);
  ASSERT_TRUE(run.trace);
  double sum = 0;
  for (const double height_m : run.trace->pantographs[0].wire_height_m) {
    sum += height_m;
  }
  const double mean_m = sum / static_cast<double>(run.trace->pantographs[0].wire_height_m.size());
  const StaticState state = at_rest(line);
  const double pressed_m = mean_heights_pressed(line, state, {{400, 0}}, run.from_m, run.to_m)[0];
  EXPECT_NEAR(pressed_m, mean_m, 0.001);
  EXPECT_GT(mean_lift_m(line, state, 400, run.from_m, run.to_m),
            1.02 * 400 * mean_elasticity_m_per_n(state, run.from_m, run.to_m));
}

}  // namespace

}  // namespace panup
