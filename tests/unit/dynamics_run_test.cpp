#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstring>

#include "dynamics/simulate.h"
#include "dynamics_results.h"
#include "dynamics_sample_line.h"

namespace panup {

namespace {

void append(std::vector<double>& all, const std::vector<double>& more) {
  all.insert(all.end(), more.begin(), more.end());
}

/// Every figure of a result but the time that it took.
std::vector<double> figures_of(const SimulationResult& result) {
  std::vector<double> all{result.speed_kmh,
                          result.wave_speed_kmh,
                          result.step_s,
                          result.contact_grid_m,
                          result.messenger_grid_m,
                          result.from_m,
                          result.to_m,
                          result.max_support_uplift_mm,
                          result.max_span_uplift_mm,
                          result.energy.work_of_frames_j,
                          result.energy.work_of_traction_j,
                          result.energy.stored_j,
                          result.energy.peak_stored_j,
                          result.energy.dissipated_j,
                          result.energy.missing_j,
                          result.simulated_s};
  for (const PantographRun& run : result.pantographs) {
    append(all,
           {run.position_m, run.mean_n, run.std_n, run.statistical_max_n, run.statistical_min_n,
            run.max_n, run.min_n, run.contact_loss_percent, run.longest_contact_loss_ms,
            run.highest_head_m, run.lowest_head_m, run.histogram.from_n, run.histogram.bar_n});
    append(all, run.contact_losses_ms);
    append(all, {run.histogram.counts.begin(), run.histogram.counts.end()});
  }
  for (const SupportUplift& one : result.support_uplifts) {
    append(all, {one.at_m, one.uplift_mm});
  }
  for (const SpanUplift& one : result.span_uplifts) {
    append(all, {one.from_m, one.to_m, one.at_m, one.uplift_mm});
  }
  for (const DropperSlackening& one : result.droppers) {
    append(all, {one.at_m, one.slack_ms, static_cast<double>(one.times), one.greatest_force_n});
  }
  if (result.trace) {
    for (const Trace::OfPantograph& one : result.trace->pantographs) {
      append(all, one.at_m);
      append(all, one.contact_force_n);
      append(all, one.filtered_force_n);
      append(all, one.head_height_m);
      append(all, one.wire_height_m);
    }
  }
  return all;
}

bool same_bits(const SimulationResult& a, const SimulationResult& b) {
  const std::vector<double> of_a = figures_of(a);
  const std::vector<double> of_b = figures_of(b);
  return of_a.size() == of_b.size() && a.warnings == b.warnings &&
         std::memcmp(of_a.data(), of_b.data(), of_a.size() * sizeof(double)) == 0;
}

SimulationRequest two_pantographs(const ContactLine& line, double speed_kmh, double distance_m) {
  SimulationRequest request = sample_request(line, speed_kmh);
  request.pantographs.push_back(request.pantographs.front());
  request.pantographs.back().behind_first_m = distance_m;
  return request;
}

TEST(Run, GivesTheSameBitsEachTime) {
  ContactLine line = sample_line_with_everything(11);
  add_stitch_wires(line);
  line.mass_damping_per_s = 0.02;
  line.stiffness_damping_s = 0.0001;
  SimulationRequest request = two_pantographs(line, 200, 30);
  request.settings.keep_trace = true;
  EXPECT_TRUE(same_bits(result_of(request), result_of(request)));
}

TEST(Run, GivesTheSameBitsOnOneJobAndOnTwoAndInOrder) {
  const ContactLine line = sample_line(11);
  const ContactLine other = sample_line_with_everything(9);
  std::vector<SimulationRequest> requests;
  for (const double speed : {250.0, 160.0}) {
    requests.push_back(two_pantographs(line, speed, 20));
    requests.push_back(sample_request(other, speed));
    requests.push_back(sample_request(line, speed));
  }
  requests[2].settings.weather_given = true;
  requests[2].settings.weather.ice_on_contact_wire_kg_per_m = 0.3;
  requests.push_back(sample_request(line, -1));
  const std::vector<SimulationOutcome> one = simulate_all(requests, 1);
  const std::vector<SimulationOutcome> two = simulate_all(requests, 2);
  ASSERT_EQ(one.size(), requests.size());
  ASSERT_EQ(two.size(), requests.size());
  for (std::size_t i = 0; i + 1 < requests.size(); ++i) {
    ASSERT_TRUE(one[i].result) << i;
    ASSERT_TRUE(two[i].result) << i;
    const SimulationResult alone = result_of(requests[i]);
    EXPECT_EQ(alone.speed_kmh, requests[i].speed_kmh);
    EXPECT_TRUE(same_bits(*one[i].result, alone)) << i;
    EXPECT_TRUE(same_bits(*two[i].result, alone)) << i;
  }
  EXPECT_FALSE(one.back().result);
  EXPECT_EQ(one.back().refusals, simulate(requests.back()).refusals);
  EXPECT_EQ(two.back().refusals, one.back().refusals);
}

TEST(Run, GivesTheSameBitsWhetherOrNotShapesOfTheWiresAreKept) {
  ContactLine line = sample_line_with_everything(11);
  add_stitch_wires(line);
  SimulationRequest request = two_pantographs(line, 200, 30);
  request.settings.keep_trace = true;
  const SimulationResult without = result_of(request);
  request.settings.wire_shapes.emplace();
  const SimulationResult with = result_of(request);
  EXPECT_TRUE(with.wire_shapes);
  EXPECT_TRUE(same_bits(without, with));
}

TEST(Run, TakesNoRequestsForNoOutcomes) { EXPECT_TRUE(simulate_all({}, 2).empty()); }

TEST(Run, DoesNotHangOnWhetherATraceIsKept) {
  const ContactLine line = sample_line(11);
  SimulationRequest request = sample_request(line, 160);
  const SimulationResult without = result_of(request);
  EXPECT_FALSE(without.trace);
  request.settings.keep_trace = true;
  SimulationResult with = result_of(request);
  ASSERT_TRUE(with.trace);
  with.trace.reset();
  EXPECT_TRUE(same_bits(with, without));
}

TEST(Run, PressesLessTheHigherItRisesAboveTheHeightOfItsStaticForce) {
  const ContactLine line = sample_line(14);
  SimulationRequest request = sample_request(line, 120);
  request.pantographs[0].model.aerodynamic_knuckle_leading_n_per_kmh2 = 0.001;
  request.settings.keep_trace = true;
  for (const Knuckle knuckle : {Knuckle::leading, Knuckle::trailing}) {
    request.pantographs[0].knuckle = knuckle;
    const SimulationResult result = result_of(request);
    double height_m = 0;
    for (const double height : result.trace->pantographs[0].head_height_m) {
      height_m += height;
    }
    height_m /= static_cast<double>(result.trace->pantographs[0].head_height_m.size());
    EXPECT_GT(height_m, 0.01);
    // The lowest spring, of 60 N/m, has its length at the mean height at a crawl with 80 N. The
    // lowest mass stands higher than the head by what the force shortens the head's spring. Over
    // whole spans the masses rise as much as they sink.
    SimulationRequest slow = request;
    slow.speed_kmh = 8;
    slow.settings.step_s = 0.002;
    slow.pantographs[0].model.aerodynamic_knuckle_leading_n_per_kmh2 = 0;
    slow.settings.from_m = result.from_m;
    slow.settings.to_m = result.to_m;
    double crawling_m = 0;
    const SimulationResult crawl = result_of(slow);
    for (const double height : crawl.trace->pantographs[0].head_height_m) {
      crawling_m += height;
    }
    crawling_m /= static_cast<double>(crawl.trace->pantographs[0].head_height_m.size());
    const double pressed_n = knuckle == Knuckle::leading ? 80 + 0.001 * 120 * 120 : 80;
    EXPECT_NEAR(result.pantographs[0].mean_n,
                pressed_n - 60 * (height_m - crawling_m + (pressed_n - 80) / 6000), 0.2);
  }
}

TEST(Run, LiftsTheWireMoreTheHarderItIsPressed) {
  const ContactLine line = sample_line(11);
  double support = 0;
  double span = 0;
  double mean = 0;
  for (const double force : {50.0, 80.0, 120.0, 180.0}) {
    SimulationRequest request = sample_request(line, 150);
    request.pantographs[0].static_force_n = force;
    const SimulationResult result = result_of(request);
    EXPECT_GT(result.max_support_uplift_mm, support) << force;
    EXPECT_GT(result.max_span_uplift_mm, span) << force;
    EXPECT_GT(result.pantographs[0].mean_n, mean) << force;
    EXPECT_GT(result.max_span_uplift_mm, result.max_support_uplift_mm);
    support = result.max_support_uplift_mm;
    span = result.max_span_uplift_mm;
    mean = result.pantographs[0].mean_n;
  }
}

TEST(Run, LiftsASlowlyPassedSpanByItsElasticity) {
  const ContactLine line = sample_line(10);
  SimulationRequest request = sample_request(line, 15);
  request.pantographs[0].static_force_n = 60;
  const auto state = std::get<StaticState>(static_state(line, {.temperature_c = 10}, 51, true));
  double softest = 0;
  for (const StaticPoint& point : state.points) {
    const bool evaluated = point.at_m > 200 && point.at_m < 300;
    softest = std::max(softest, evaluated ? point.elasticity_mm_per_n : 0);
  }
  EXPECT_NEAR(result_of(request).max_span_uplift_mm, 60 * softest, 0.05 * 60 * softest);
}

TEST(Run, NeverPullsTheWireDown) {
  const ContactLine line = sample_line(11);
  SimulationRequest request = two_pantographs(line, 390, 11);
  request.pantographs[1].static_force_n = 30;
  request.settings.keep_trace = true;
  const SimulationResult result = result_of(request);
  ASSERT_TRUE(result.trace);
  int lost = 0;
  for (const Trace::OfPantograph& one : result.trace->pantographs) {
    for (std::size_t i = 0; i < one.contact_force_n.size(); ++i) {
      EXPECT_GE(one.contact_force_n[i], 0) << i;
      lost += one.contact_force_n[i] == 0 ? 1 : 0;
    }
  }
  ASSERT_GT(lost, 0) << "this case is meant to lose contact";
  double losses_ms = 0;
  for (const PantographRun& run : result.pantographs) {
    for (const double loss : run.contact_losses_ms) {
      losses_ms += loss;
    }
  }
  EXPECT_NEAR(losses_ms, 1000 * result.step_s * lost, 1e-6);
}

TEST(Run, HoldsTheHeadToTheWireWhereItPresses) {
  const ContactLine line = sample_line(11);
  SimulationRequest request = sample_request(line, 144);
  request.settings.keep_trace = true;
  const SimulationResult result = result_of(request);
  const Trace::OfPantograph& one = result.trace->pantographs[0];
  ASSERT_GT(one.at_m.size(), 100U);
  for (const auto* rows :
       {&one.contact_force_n, &one.filtered_force_n, &one.head_height_m, &one.wire_height_m}) {
    EXPECT_EQ(rows->size(), one.at_m.size());
  }
  EXPECT_GE(one.at_m.front(), result.from_m - 1e-9);
  EXPECT_LT(one.at_m.back(), result.to_m + 1e-9);
  const double penetration_m = result.pantographs[0].max_n / 50000;
  for (std::size_t i = 0; i < one.at_m.size(); ++i) {
    // The wire's row is that of the end of the step, the head's that of its beginning.
    EXPECT_NEAR(one.head_height_m[i], one.wire_height_m[i], 2 * penetration_m + 0.005) << i;
  }
}

TEST(Run, TakesTwoPantographsAMetreApart) {
  const ContactLine line = sample_line(11);
  const SimulationResult pair = result_of(two_pantographs(line, 144, 1));
  ASSERT_EQ(pair.pantographs.size(), 2U);
  EXPECT_EQ(pair.pantographs[1].position_m, 1);
  for (const PantographRun& run : pair.pantographs) {
    EXPECT_TRUE(std::isfinite(run.std_n));
    EXPECT_GT(run.mean_n, 0);
  }
  // Together they press with both forces, and lift the wire more than one of them.
  EXPECT_NEAR(pair.pantographs[0].mean_n + pair.pantographs[1].mean_n, 156, 6);
  EXPECT_GT(pair.max_support_uplift_mm,
            1.5 * result_of(sample_request(line, 144)).max_support_uplift_mm);
}

TEST(Run, ShakesTheTrailingPantographMoreThanTheLeading) {
  const ContactLine line = sample_line(15);
  const SimulationResult pair = result_of(two_pantographs(line, 250, 35));
  EXPECT_GT(pair.pantographs[1].std_n, pair.pantographs[0].std_n);
  EXPECT_LT(pair.pantographs[1].statistical_min_n, pair.pantographs[0].statistical_min_n);
}

TEST(Run, EvaluatesOnlyWhatLiesWithinTheStretch) {
  const ContactLine line = sample_line(13);
  SimulationRequest request = sample_request(line, 144);
  request.settings.from_m = 230;
  request.settings.to_m = 360;
  const SimulationResult result = result_of(request);
  ASSERT_EQ(result.support_uplifts.size(), 3U);
  EXPECT_NEAR(result.support_uplifts.front().at_m, 250, 1e-9);
  EXPECT_NEAR(result.support_uplifts.back().at_m, 350, 1e-9);
  ASSERT_EQ(result.span_uplifts.size(), 2U);
  EXPECT_EQ(result.droppers.size(), 13U);
  for (const SpanUplift& span : result.span_uplifts) {
    EXPECT_GE(span.at_m, span.from_m);
    EXPECT_LE(span.at_m, span.to_m);
    EXPECT_GT(span.uplift_mm, 0);
  }
  const std::vector<int>& counts = result.pantographs[0].histogram.counts;
  int rows = 0;
  for (const int count : counts) {
    rows += count;
  }
  EXPECT_NEAR(rows, 130 / (40 * result.step_s), 1);
}

TEST(Run, CountsDroppersThatGoSlack) {
  const ContactLine line = sample_line(11);
  SimulationRequest request = sample_request(line, 200);
  request.pantographs[0].static_force_n = 20;
  const auto slack_times = [](const SimulationResult& result) {
    int times = 0;
    for (const DropperSlackening& one : result.droppers) {
      EXPECT_EQ(one.times > 0, one.slack_ms > 0) << one.at_m;
      EXPECT_GT(one.greatest_force_n, 0) << one.at_m;
      times += one.times;
    }
    return times;
  };
  EXPECT_EQ(slack_times(result_of(request)), 0);
  request.pantographs[0].static_force_n = 250;
  EXPECT_GT(slack_times(result_of(request)), 0);
}

TEST(Run, BalancesItsEnergy) {
  ContactLine line = sample_line_with_everything(10);
  line.mass_damping_per_s = 0.05;
  for (const double speed : {120.0, 220.0}) {
    const SimulationResult result = result_of(sample_request(line, speed));
    EXPECT_GT(result.energy.dissipated_j, 0);
    EXPECT_GT(result.energy.work_of_frames_j, 0);
    EXPECT_LT(std::abs(result.energy.relative_error()), 0.001) << speed;
  }
}

TEST(Run, WithoutItsEnergyBalanceIsTheSameRun) {
  ContactLine line = sample_line_with_everything(10);
  line.mass_damping_per_s = 0.05;
  SimulationRequest request = sample_request(line, 160);
  SimulationResult with = result_of(request);
  EXPECT_GT(with.energy.peak_stored_j, 0);
  request.settings.balance_energy = false;
  const SimulationResult without = result_of(request);
  EXPECT_EQ(without.energy.peak_stored_j, 0);
  EXPECT_EQ(without.energy.dissipated_j, 0);
  with.energy = {};
  EXPECT_TRUE(same_bits(with, without));
}

TEST(Run, BalancesItsEnergyTheCloserTheShorterTheStepWhereDroppersSlacken) {
  // Many droppers go slack and taut between these two: each time within a step.
  const ContactLine line = sample_line_with_everything(12);
  SimulationRequest request = two_pantographs(line, 220, 20);
  const double usual = std::abs(result_of(request).energy.relative_error());
  EXPECT_LT(usual, 0.01);
  request.settings.step_s = 0.0005;
  EXPECT_LT(std::abs(result_of(request).energy.relative_error()), usual / 2);
}

TEST(Run, IsChangedByIceAndSaysSo) {
  const ContactLine line = sample_line(11);
  SimulationRequest request = sample_request(line, 160);
  const SimulationResult bare = result_of(request);
  request.settings.weather_given = true;
  request.settings.weather = {.temperature_c = -3,
                              .ice_on_contact_wire_kg_per_m = 0.5,
                              .ice_on_messenger_wire_kg_per_m = 0.5};
  const SimulationResult iced = result_of(request);
  EXPECT_GT(iced.pantographs[0].std_n, bare.pantographs[0].std_n);
  // Heavier wires carry slower waves: √(T/m′).
  const double before = line.contact_wire.mass_kg_per_m;
  EXPECT_NEAR(iced.wave_speed_kmh / bare.wave_speed_kmh, std::sqrt(before / (before + 0.5)), 1e-12);
}

TEST(Run, IsRefusedWhereItIsStoppedAndTheSameWhereItIsNot) {
  const ContactLine line = sample_line(11);
  SimulationRequest request = sample_request(line, 160);
  const std::vector<double> usual = figures_of(result_of(request));
  int asked = 0;
  request.settings.stopped = [&asked] {
    ++asked;
    return false;
  };
  EXPECT_EQ(figures_of(result_of(request)), usual);
  EXPECT_GT(asked, 20);
  request.settings.stopped = [&asked] { return --asked == 5; };
  const SimulationOutcome outcome = simulate(request);
  EXPECT_FALSE(outcome.result);
  ASSERT_EQ(outcome.refusals.size(), 1U);
  EXPECT_EQ(outcome.refusals.front().said(), "the run was stopped");
  EXPECT_EQ(asked, 5);
}

}  // namespace

}  // namespace panup
