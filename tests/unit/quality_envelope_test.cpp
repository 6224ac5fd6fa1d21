#include <gtest/gtest.h>

#include <algorithm>
#include <thread>
#include <utility>

#include "dynamics_sample_line.h"
#include "files/read_rule_book.h"
#include "quality/envelope.h"

namespace panup {
namespace {

/// Runs whose deviation grows with speed and falls with distance: it meets its limit of 20 N at the
/// speed returned. A trailing knuckle costs 10 km/h.
double greatest_kmh(double distance_m, Knuckle knuckle) {
  return 100 + distance_m / 2 - (knuckle == Knuckle::trailing ? 10 : 0);
}

RunFigures made_up_run(const SimulationRequest& request) {
  const double limit =
      greatest_kmh(request.pantographs.back().behind_first_m, request.pantographs.back().knuckle);
  RunFigures figures;
  for (std::size_t i = 0; i < request.pantographs.size(); ++i) {
    const double share = i == 0 ? 0.5 : request.speed_kmh / limit;
    figures.pantographs.push_back({.mean_n = 80, .std_n = 20 * share});
  }
  figures.wave_speed_kmh = 420;
  return figures;
}

std::optional<std::vector<RunFigures>> made_up_runs(
    const std::vector<SimulationRequest>& requests) {
  std::vector<RunFigures> figures;
  for (const SimulationRequest& request : requests) {
    figures.push_back(made_up_run(request));
  }
  return figures;
}

class EnvelopeTest : public testing::Test {
 protected:
  EnvelopeTest() {
    request.line = &line;
    request.pantograph = sample_pantograph();
    request.pantograph.aerodynamic_knuckle_trailing_n_per_kmh2 = 0.0005;
    request.static_force_n = 70;
    request.knuckles = {Knuckle::leading, Knuckle::trailing};
    request.spacings_m = {10, 30, 60};
    request.speeds_kmh = {60, 80, 100, 120, 140};
    request.rules = &rules;
  }

  ContactLine line = sample_line(20);
  RuleBook rules = built_in_rule_book();
  EnvelopeRequest request;
};

TEST_F(EnvelopeTest, TheWorseDirectionOfRunningCounts) {
  const auto envelope = compute_envelope(request, made_up_runs);
  ASSERT_TRUE(envelope);
  for (std::size_t d = 0; d < 3; ++d) {
    const double limit = greatest_kmh(request.spacings_m[d], Knuckle::trailing);
    EXPECT_LE(envelope->permitted[d].speed_kmh, limit);
    EXPECT_GE(envelope->permitted[d].speed_kmh, limit - 1);
    EXPECT_EQ(envelope->permitted[d].pantograph, 2);
    EXPECT_EQ(envelope->permitted[d].criterion, "force-deviation");
    for (std::size_t v = 0; v < 5; ++v) {
      EXPECT_EQ(envelope->cells[d][v].passes, request.speeds_kmh[v] <= limit) << d << ' ' << v;
    }
    EXPECT_EQ(envelope->cells[d].back().knuckle, Knuckle::trailing);
  }
}

TEST_F(EnvelopeTest, OneDirectionAloneIsNotHeldBackByTheOther) {
  request.knuckles = {Knuckle::leading};
  const auto envelope = compute_envelope(request, made_up_runs);
  EXPECT_GE(envelope->permitted[0].speed_kmh, greatest_kmh(10, Knuckle::leading) - 1);
}

TEST_F(EnvelopeTest, WhereRunsAreStoppedThereIsNone) {
  int calls = 0;
  const RunSource stopping = [&calls](const std::vector<SimulationRequest>& requests) {
    return ++calls == 2 ? std::nullopt : made_up_runs(requests);
  };
  EXPECT_FALSE(compute_envelope(request, stopping));
}

TEST_F(EnvelopeTest, CellsAreToldOnceEachInOrderAndChangeNothing) {
  const auto quiet = compute_envelope(request, made_up_runs);
  std::vector<std::pair<std::size_t, std::size_t>> told;
  std::vector<EnvelopeCell> cells;
  const auto thread = std::this_thread::get_id();
  const auto envelope = compute_envelope(
      request, made_up_runs, [&](std::size_t spacing, std::size_t speed, const EnvelopeCell& cell) {
        told.emplace_back(spacing, speed);
        cells.push_back(cell);
        EXPECT_EQ(std::this_thread::get_id(), thread);
      });
  ASSERT_TRUE(quiet && envelope);
  ASSERT_EQ(told.size(), 15U);
  for (std::size_t i = 0; i < told.size(); ++i) {
    const auto [d, v] = told[i];
    EXPECT_EQ(d, i / 5);
    EXPECT_EQ(v, i % 5);
    for (const EnvelopeCell& other : {quiet->cells[d][v], envelope->cells[d][v]}) {
      EXPECT_EQ(cells[i].passes, other.passes);
      EXPECT_EQ(cells[i].margin, other.margin) << "to the last bit";
      EXPECT_EQ(cells[i].criterion, other.criterion);
      EXPECT_EQ(cells[i].pantograph, other.pantograph);
      EXPECT_EQ(cells[i].knuckle, other.knuckle);
    }
  }
  for (std::size_t d = 0; d < 3; ++d) {
    EXPECT_EQ(envelope->permitted[d].speed_kmh, quiet->permitted[d].speed_kmh);
    EXPECT_EQ(envelope->permitted[d].margin, quiet->permitted[d].margin);
    EXPECT_EQ(envelope->permitted[d].text, quiet->permitted[d].text);
  }
}

TEST_F(EnvelopeTest, CellsOfADistanceAreToldBeforeTheNextIsComputed) {
  std::size_t told = 0;
  int calls = 0;
  const RunSource stopping = [&](const std::vector<SimulationRequest>& requests) {
    EXPECT_EQ(told, 5U * static_cast<std::size_t>(calls));
    return ++calls == 3 ? std::nullopt : made_up_runs(requests);
  };
  EXPECT_FALSE(compute_envelope(request, stopping,
                                [&told](std::size_t /*spacing*/, std::size_t /*speed*/,
                                        const EnvelopeCell& /*cell*/) { ++told; }));
  EXPECT_EQ(told, 10U) << "stopped in the third distance";
}

TEST_F(EnvelopeTest, SaysInWhatWeatherTheLineIsAndWhereFiguresComeFrom) {
  line.reference_temperature_c = 15;
  line.source = "a drawing";
  request.pantograph.source = "a test bench";
  EXPECT_EQ(compute_envelope(request, made_up_runs)->weather.temperature_c, 15);
  request.settings.weather_given = true;
  request.settings.weather.temperature_c = -20;
  const auto cold = compute_envelope(request, made_up_runs);
  EXPECT_EQ(cold->weather.temperature_c, -20);
  EXPECT_EQ(cold->line_source, "a drawing");
  EXPECT_EQ(cold->pantograph_source, "a test bench");
}

TEST_F(EnvelopeTest, RunsTakeTheirStepFromTheRuleBook) {
  const RunSource looking = [](const std::vector<SimulationRequest>& requests) {
    for (const SimulationRequest& one : requests) {
      EXPECT_EQ(one.settings.step_s, 0.002);
    }
    return made_up_runs(requests);
  };
  EXPECT_TRUE(compute_envelope(request, looking));
}

// Regulation 1301/2014, table 4.2.13 (from memory): AC, type A: 8 m to 80, 20 m to 120, 85 m to 160
// km/h and 200 m beyond.
TEST_F(EnvelopeTest, ThePublishedTableIsAStairByDistance) {
  request.supply = EnergySupply::ac_25kv;
  const auto envelope = compute_envelope(request, made_up_runs);
  ASSERT_EQ(envelope->published.size(), 3U);
  const auto& steps = envelope->published[0].steps;
  ASSERT_EQ(steps.size(), 4U);
  EXPECT_EQ(steps[0].distance_m, 8);
  EXPECT_EQ(steps[0].speed_kmh, 80);
  EXPECT_EQ(steps[1].distance_m, 20);
  EXPECT_EQ(steps[2].distance_m, 85);
  EXPECT_EQ(steps[3].distance_m, 200);
  EXPECT_EQ(steps[3].speed_kmh, 140) << "no more than what was looked at";
  EXPECT_NE(envelope->published_source.find("memory"), std::string::npos);
}

/// Real runs, as few as show it.
TEST_F(EnvelopeTest, SamplesScatterAboutTheSpeedOfTheDataAndRepeatWithTheirSeed) {
  auto& numbers =
      std::ranges::find(rules.rules, std::string("speed-by-mechanics"), &Rule::id)->numbers;
  numbers["edge_kmh"] = 2;
  numbers["steepest_margin_per_kmh"] = 0;
  numbers["close_margin"] = 0;
  numbers["evaluated_spans"] = 2;
  request.spacings_m = {20};
  request.speeds_kmh = {140, 200};
  request.knuckles = {Knuckle::leading};
  request.samples = 3;
  const auto sampled = [this](int jobs) {
    return compute_envelope(request, computed_runs(jobs))->samples[0].permitted_speed_kmh;
  };
  const std::vector<double> speeds = sampled(0);
  ASSERT_EQ(speeds.size(), 3U);
  EXPECT_GT(*std::ranges::max_element(speeds), *std::ranges::min_element(speeds));
  EXPECT_EQ(sampled(1), speeds);
  request.seed = 2;
  EXPECT_NE(sampled(0), speeds);
}

}  // namespace
}  // namespace panup
