#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "dynamics/simulate.h"
#include "dynamics_results.h"
#include "dynamics_sample_line.h"

namespace panup {
namespace {

SimulationRequest two_pantographs(const ContactLine& line) {
  SimulationRequest request = sample_request(line, 160);
  request.pantographs.push_back(request.pantographs.front());
  request.pantographs.back().behind_first_m = 40;
  request.settings.wire_shapes.emplace();
  return request;
}

/// Between the two places beside it.
double value_at(const std::vector<double>& at_m, const std::vector<double>& values, double at) {
  const auto after = std::ranges::upper_bound(at_m, at);
  const auto i = static_cast<std::size_t>(after - at_m.begin());
  if (i == 0 || i == at_m.size()) {
    return i == 0 ? values.front() : values.back();
  }
  const double share = (at - at_m[i - 1]) / (at_m[i] - at_m[i - 1]);
  return values[i - 1] + share * (values[i] - values[i - 1]);
}

TEST(WireShapes, AreNotKeptUnlessAskedFor) {
  const ContactLine line = sample_line(11);
  EXPECT_FALSE(result_of(sample_request(line, 160)).wire_shapes);
}

TEST(WireShapes, CoverTheEvaluatedStretchWhileAnyPantographIsInIt) {
  const ContactLine line = sample_line(11);
  const SimulationRequest request = two_pantographs(line);
  const SimulationResult result = result_of(request);
  const WireShapes& shapes = *result.wire_shapes;
  ASSERT_EQ(shapes.wires.size(), 2U);
  EXPECT_EQ(name_of(shapes.wires[0].wire), "contact wire");
  EXPECT_EQ(name_of(shapes.wires[1].wire), "messenger wire");
  for (const WireShape& shape : shapes.wires) {
    EXPECT_DOUBLE_EQ(shape.at_m.front(), result.from_m);
    EXPECT_DOUBLE_EQ(shape.at_m.back(), result.to_m);
    EXPECT_LE(shape.at_m[1] - shape.at_m[0], 0.5 + 1e-9);
    EXPECT_EQ(shape.rest_m.size(), shape.at_m.size());
    ASSERT_EQ(shape.lift_m.size(), shapes.times_s.size());
    for (const auto& lifts : shape.lift_m) {
      ASSERT_EQ(lifts.size(), shape.at_m.size());
    }
  }
  EXPECT_NEAR(shapes.pantographs_at_m.front()[0], result.from_m, 0.1);
  EXPECT_NEAR(shapes.pantographs_at_m.back()[1], result.to_m, 1.0) << "within one interval";
  for (std::size_t t = 0; t < shapes.times_s.size(); ++t) {
    EXPECT_NEAR(shapes.pantographs_at_m[t][0] - shapes.pantographs_at_m[t][1], 40, 1e-9);
    if (t > 0) {
      EXPECT_NEAR(shapes.times_s[t] - shapes.times_s[t - 1], 0.02, result.step_s / 2);
    }
  }
}

TEST(WireShapes, AgreeWithTheTraceUnderEachPantograph) {
  ContactLine line = sample_line_with_everything(11);
  add_stitch_wires(line);
  SimulationRequest request = two_pantographs(line);
  request.settings.keep_trace = true;
  request.settings.wire_shapes->every_m = 0.3;
  const SimulationResult result = result_of(request);
  const WireShapes& shapes = *result.wire_shapes;
  const WireShape& contact = shapes.wires[0];
  int compared = 0;
  for (std::size_t p = 0; p < 2; ++p) {
    const Trace::OfPantograph& trace = result.trace->pantographs[p];
    for (std::size_t t = 0; t < shapes.times_s.size(); ++t) {
      const double at = shapes.pantographs_at_m[t][p];
      if (at < result.from_m + 1 || at > result.to_m - 1) {
        continue;
      }
      ++compared;
      const double wire_m = value_at(contact.at_m, contact.rest_m, at) +
                            value_at(contact.at_m, contact.lift_m[t], at);
      // The bend under a force of some 100 N is less than this.
      EXPECT_NEAR(wire_m, value_at(trace.time_s, trace.wire_height_m, shapes.times_s[t]), 0.003);
      EXPECT_NEAR(shapes.head_height_m[t][p],
                  value_at(trace.time_s, trace.head_height_m, shapes.times_s[t]), 1e-6);
      EXPECT_NEAR(at, value_at(trace.time_s, trace.at_m, shapes.times_s[t]), 1e-6);
    }
  }
  EXPECT_GT(compared, 100);
}

TEST(WireShapes, LiftsReachTheGreatestUplift) {
  const ContactLine line = sample_line(11);
  const SimulationResult result = result_of(two_pantographs(line));
  double greatest = 0;
  for (const auto& lifts : result.wire_shapes->wires[0].lift_m) {
    greatest = std::max(greatest, *std::ranges::max_element(lifts));
  }
  EXPECT_GT(1000 * greatest, 0.9 * result.max_span_uplift_mm);
  EXPECT_LT(1000 * greatest, 1.01 * result.max_span_uplift_mm);
}

TEST(WireShapes, AWireThatNothingHasReachedIsAtRest) {
  const ContactLine line = sample_line(40);
  SimulationRequest request = sample_request(line, 250);
  request.settings.wire_shapes.emplace();
  const SimulationResult result = result_of(request);
  const WireShapes& shapes = *result.wire_shapes;
  const double waves_ran_m = shapes.times_s.front() * result.wave_speed_kmh / 3.6;
  ASSERT_LT(waves_ran_m, 0.5 * result.to_m) << "or there is nothing to be seen";
  for (const WireShape& shape : shapes.wires) {
    EXPECT_GT(std::ranges::max(shape.lift_m.front()), 1e-3) << "about the pantograph";
    EXPECT_EQ(shape.lift_m.front().back(), 0);
    EXPECT_NE(shape.lift_m.back().back(), 0) << "now it has been reached";
  }
}

TEST(WireShapes, RestIsTheStaticShape) {
  const ContactLine line = sample_line_with_everything(11);
  SimulationRequest request = two_pantographs(line);
  request.settings.weather_given = true;
  request.settings.weather = {.temperature_c = line.reference_temperature_c,
                              .ice_on_contact_wire_kg_per_m = 0.3};
  const SimulationResult result = result_of(request);
  const auto hung = static_state(line, request.settings.weather, 51, false);
  const auto& points = std::get<StaticState>(hung).points;
  int compared = 0;
  for (const StaticPoint& point : points) {
    if (point.at_m >= result.from_m && point.at_m <= result.to_m) {
      ++compared;
      const auto& wires = result.wire_shapes->wires;
      EXPECT_NEAR(value_at(wires[0].at_m, wires[0].rest_m, point.at_m), point.contact_wire_m, 1e-3);
      EXPECT_NEAR(value_at(wires[1].at_m, wires[1].rest_m, point.at_m), point.messenger_wire_m,
                  1e-3);
    }
  }
  EXPECT_GT(compared, 50);
}

TEST(WireShapes, AreNoFinerThanTheirBounds) {
  const ContactLine line = sample_line(30);
  SimulationRequest request = sample_request(line, 80);
  request.settings.wire_shapes = WireShapeSettings{.every_s = 1e-9, .every_m = 1e-9};
  const SimulationResult result = result_of(request);
  const WireShapes& shapes = *result.wire_shapes;
  EXPECT_EQ(shapes.wires[0].at_m.size(), most_shape_places);
  EXPECT_LE(shapes.times_s.size(), most_shape_times);
  EXPECT_GT(shapes.times_s.size(), most_shape_times / 2);
  EXPECT_DOUBLE_EQ(shapes.wires[0].at_m.back(), result.to_m);
}

TEST(WireShapes, AreRefusedAtSenselessIntervals) {
  const ContactLine line = sample_line(11);
  SimulationRequest request = two_pantographs(line);
  request.settings.wire_shapes->every_m = 0;
  EXPECT_FALSE(simulate(request).result);
  request.settings.wire_shapes = WireShapeSettings{.every_s = std::nan(""), .every_m = 1};
  EXPECT_FALSE(simulate(request).result);
}

TEST(WireShapes, AreKeptEveryStepWhereThatIsAskedFor) {
  const ContactLine line = sample_line(11);
  SimulationRequest request = sample_request(line, 250);
  request.settings.step_s = 0.004;
  request.settings.from_m = 250;
  request.settings.to_m = 300;
  request.settings.wire_shapes = WireShapeSettings{.every_s = 0.004, .every_m = 50};
  const SimulationResult result = result_of(request);
  const WireShapes& shapes = *result.wire_shapes;
  // 50 m at 69.4 m/s are 0.72 s: 180 steps.
  EXPECT_NEAR(static_cast<double>(shapes.times_s.size()), 181, 1);
  for (std::size_t t = 1; t < shapes.times_s.size(); ++t) {
    EXPECT_NEAR(shapes.times_s[t] - shapes.times_s[t - 1], 0.004, 1e-12);
  }
  EXPECT_NEAR(shapes.pantographs_at_m.back()[0], 300, 0.28) << "a step is 0.278 m";
  EXPECT_EQ(shapes.wires[0].at_m, (std::vector<double>{250, 300}));
}

TEST(WireShapes, LiftsAtASupportReachItsUplift) {
  const ContactLine line = sample_line(12);
  SimulationRequest request = sample_request(line, 250);
  request.settings.step_s = 0.004;
  request.settings.wire_shapes = WireShapeSettings{.every_s = 0.004, .every_m = 50};
  const SimulationResult result = result_of(request);
  const WireShape& contact = result.wire_shapes->wires[0];
  ASSERT_GT(result.support_uplifts.size(), 3U);
  ASSERT_EQ(contact.at_m.size(), result.support_uplifts.size());
  double greatest_mm = 0;
  // The pantograph lifts the first one on its way in, when nothing is kept yet.
  for (std::size_t i = 1; i + 1 < contact.at_m.size(); ++i) {
    double lift_m = 0;
    for (const auto& lifts : contact.lift_m) {
      lift_m = std::max(lift_m, lifts[i]);
    }
    EXPECT_EQ(contact.at_m[i], result.support_uplifts[i].at_m);
    EXPECT_NEAR(result.support_uplifts[i].uplift_mm, 1000 * lift_m, 1e-9);
    greatest_mm = std::max(greatest_mm, result.support_uplifts[i].uplift_mm);
  }
  EXPECT_GE(result.max_support_uplift_mm, greatest_mm);
}

TEST(WireShapes, TimesAndPlacesAboveNothingAreNeeded) {
  const ContactLine line = sample_line(11);
  SimulationRequest request = sample_request(line, 160);
  for (const WireShapeSettings settings : {WireShapeSettings{.every_s = 0, .every_m = 1},
                                           WireShapeSettings{.every_s = 1, .every_m = -1}}) {
    request.settings.wire_shapes = settings;
    const SimulationOutcome outcome = simulate(request);
    ASSERT_EQ(outcome.refusals.size(), 1U);
    EXPECT_EQ(outcome.refusals[0].said(),
              "shapes of the wires are kept every so many seconds and metres above 0");
  }
}

}  // namespace
}  // namespace panup
