#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
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

TEST_F(EnvelopeTest, TheWorseSupportsCountWhereTheLineDoesNotStateThem) {
  const auto by_supports = [](const std::vector<SimulationRequest>& requests) {
    std::vector<RunFigures> figures;
    for (SimulationRequest one : requests) {
      // The worse of the two is the soft one when trailing, the stiff one when leading.
      const bool soft = one.line->supports[1].messenger_stiffness_n_per_m == 50000;
      const bool trailing = one.pantographs.back().knuckle == Knuckle::trailing;
      one.speed_kmh *= soft == trailing ? 1.25 : 1;
      figures.push_back(made_up_run(one));
    }
    return std::optional(figures);
  };
  for (Support& support : line.supports) {
    support.messenger_stiffness_stated = false;
  }
  const auto envelope = compute_envelope(request, by_supports);
  ASSERT_TRUE(envelope);
  // At 60 m: leading 130 km/h, or 104 with stiff supports; trailing 120, or 96 with soft ones.
  EXPECT_EQ(envelope->permitted[2].speed_kmh, 96);
  ASSERT_TRUE(envelope->permitted[2].by_supports);
  EXPECT_EQ(envelope->permitted[2].by_supports->stiff_kmh, 104);
  EXPECT_EQ(envelope->permitted[2].by_supports->soft_kmh, 96);
  EXPECT_TRUE(envelope->cells[2][1].passes);
  EXPECT_FALSE(envelope->cells[2][2].passes) << "100 km/h, trailing on soft supports";
  EXPECT_EQ(envelope->cells[2][2].knuckle, Knuckle::trailing);
}

TEST_F(EnvelopeTest, WhatTheLeastSpeedHangsOnIsToldOfTheDirectionThatDecidesIt) {
  int looked_into = 0;
  const auto runs = [&](const std::vector<SimulationRequest>& requests) {
    auto figures = made_up_runs(requests);
    for (std::size_t i = 0; i < requests.size(); ++i) {
      const SimulationRequest& one = requests[i];
      const double more_n = one.pantographs.back().static_force_n - request.static_force_n;
      (*figures)[i].pantographs.back().std_n += more_n;
      if (more_n > 0) {
        ++looked_into;
        EXPECT_EQ(one.pantographs.back().behind_first_m, 10);
        EXPECT_EQ(one.pantographs.back().knuckle, Knuckle::trailing);
        EXPECT_EQ(one.speed_kmh, 96);
      }
    }
    return figures;
  };
  const auto envelope = compute_envelope(request, runs);
  ASSERT_TRUE(envelope);
  EXPECT_EQ(looked_into, 1);
  // The nearest have the least speed: 95 km/h, trailing.
  EXPECT_EQ(envelope->permitted[0].speed_kmh, 95);
  ASSERT_TRUE(envelope->permitted[0].hangs_on);
  ASSERT_EQ(envelope->permitted[0].hangs_on->inputs.size(), 1U);
  EXPECT_EQ(envelope->permitted[0].hangs_on->inputs[0].input, "the static force");
  EXPECT_NEAR(envelope->permitted[0].hangs_on->inputs[0].greatest, 20 * 96.0 / 95 + 5, 1e-9);
  EXPECT_FALSE(envelope->permitted[1].hangs_on);
  EXPECT_FALSE(envelope->permitted[2].hangs_on);
}

TEST_F(EnvelopeTest, WhereTheRunsOfItsInputsAreStoppedThereIsNone) {
  const auto stops = [&](const std::vector<SimulationRequest>& requests) {
    const bool varied = requests.front().line->contact_wire.tension_deviation_n != 0;
    return varied ? std::nullopt : made_up_runs(requests);
  };
  EXPECT_FALSE(compute_envelope(request, stops));
}

TEST_F(EnvelopeTest, AStaticForceOutsideThePublishedRangePassesNotInSilence) {
  request.supply = EnergySupply::ac_25kv;
  request.static_force_n = 110;
  const auto envelope = compute_envelope(request, made_up_runs);
  ASSERT_TRUE(envelope);
  for (const PermittedSpeed& permitted : envelope->permitted) {
    if (permitted.speed_kmh > 0) {
      ASSERT_EQ(permitted.warnings.size(), 1U);
      EXPECT_EQ(permitted.warnings[0].doubt, Doubt::static_force);
    }
  }
  request.static_force_n = 70;
  EXPECT_TRUE(compute_envelope(request, made_up_runs)->permitted[0].warnings.empty());
}

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
      request, made_up_runs,
      {.known = [&](std::size_t spacing, std::size_t speed, const EnvelopeCell& cell) {
        told.emplace_back(spacing, speed);
        cells.push_back(cell);
        EXPECT_EQ(std::this_thread::get_id(), thread);
      }});
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
  const RunSource stopping = [&](const std::vector<SimulationRequest>& requests) {
    const double distance_m = requests.front().pantographs.back().behind_first_m;
    EXPECT_EQ(told, distance_m == 10 ? 0U : distance_m == 30 ? 5U : 10U);
    return distance_m == 60 ? std::nullopt : made_up_runs(requests);
  };
  EXPECT_FALSE(compute_envelope(request, stopping,
                                {.known = [&told](std::size_t /*spacing*/, std::size_t /*speed*/,
                                                  const EnvelopeCell& /*cell*/) { ++told; }}));
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

TEST_F(EnvelopeTest, RunsTakeTheirStepFromTheRuleBookOrTwiceThat) {
  std::map<double, int> runs_of_step;
  const RunSource looking = [&](const std::vector<SimulationRequest>& requests) {
    for (const SimulationRequest& one : requests) {
      ++runs_of_step[*one.settings.step_s];
    }
    return made_up_runs(requests);
  };
  const auto envelope = compute_envelope(request, looking);
  ASSERT_TRUE(envelope);
  ASSERT_EQ(runs_of_step.size(), 2U);
  EXPECT_EQ(runs_of_step.begin()->first, 0.002);
  EXPECT_EQ(runs_of_step.rbegin()->first, 0.004);
  EXPECT_LT(runs_of_step[0.002], runs_of_step[0.004]) << "most cells are far from every limit";
  EXPECT_TRUE(envelope->cells[2].front().coarse) << "60 km/h is far below what 60 m permit";
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

TEST_F(EnvelopeTest, SaysOfWhatItIs) {
  request.count = 3;
  request.seed = 9;
  line.invented = true;
  line.name = "Sample line";
  request.pantograph.name = "Sample pantograph";
  request.pantograph.invented = false;
  const auto envelope = compute_envelope(request, made_up_runs);
  EXPECT_TRUE(envelope->invented) << "the line is";
  EXPECT_EQ(envelope->line_id, "sample");
  EXPECT_EQ(envelope->line_name, "Sample line");
  EXPECT_EQ(envelope->pantograph_id, "sample");
  EXPECT_EQ(envelope->pantograph_name, "Sample pantograph");
  EXPECT_EQ(envelope->count, 3);
  EXPECT_EQ(envelope->seed, 9U);
  EXPECT_EQ(envelope->static_force_n, 70);
  EXPECT_EQ(envelope->knuckles, request.knuckles);
  EXPECT_EQ(envelope->spacings_m, request.spacings_m);
  EXPECT_EQ(envelope->speeds_kmh, request.speeds_kmh);
  // c = sqrt(T / m'): 20 kN and 1.35 kg/m.
  EXPECT_NEAR(envelope->wave_speed_kmh, 3.6 * std::sqrt(20000 / 1.35), 1e-9);
  EXPECT_TRUE(envelope->published.empty()) << "no system is named";
  EXPECT_FALSE(envelope->criteria.empty());
  EXPECT_FALSE(envelope->not_judged.empty());
  line.invented = false;
  EXPECT_FALSE(compute_envelope(request, made_up_runs)->invented);
  request.pantograph.invented = true;
  EXPECT_TRUE(compute_envelope(request, made_up_runs)->invented);
}

TEST_F(EnvelopeTest, PantographsStandEvenlySpacedAndAllRunTheSameWay) {
  request.count = 3;
  request.spacings_m = {25};
  std::ranges::find(rules.rules, std::string("tolerances"), &Rule::id)->on = false;
  std::size_t trailing = 0;
  const RunSource looking = [&](const std::vector<SimulationRequest>& requests) {
    for (const SimulationRequest& one : requests) {
      EXPECT_EQ(one.pantographs.size(), 3U);
      for (std::size_t i = 0; i < one.pantographs.size(); ++i) {
        EXPECT_EQ(one.pantographs[i].behind_first_m, 25.0 * static_cast<double>(i));
        EXPECT_EQ(one.pantographs[i].static_force_n, 70);
        EXPECT_EQ(one.pantographs[i].knuckle, one.pantographs.front().knuckle);
      }
      trailing += one.pantographs.front().knuckle == Knuckle::trailing ? 1U : 0U;
    }
    return made_up_runs(requests);
  };
  ASSERT_TRUE(compute_envelope(request, looking));
  EXPECT_GT(trailing, 0U);
}

// Regulation 1301/2014, table 4.2.13 (from memory): AC, type B: 8, 15, 85 m up to 249 km/h, 200 m
// beyond; type C: 8, 15, 35 m up to 249 km/h, 200 m beyond.
TEST_F(EnvelopeTest, RowsOfOneDistanceAreOneStepOfTheStair) {
  request.supply = EnergySupply::ac_15kv;
  request.speeds_kmh = {60, 300};
  const auto envelope = compute_envelope(request, made_up_runs);
  const auto stair = [&](std::size_t type) {
    std::vector<std::pair<double, double>> steps;
    for (const PublishedStep& step : envelope->published.at(type).steps) {
      steps.emplace_back(step.distance_m, step.speed_kmh);
    }
    return steps;
  };
  using Steps = std::vector<std::pair<double, double>>;
  EXPECT_EQ(stair(0), (Steps{{8, 80}, {20, 120}, {85, 160}, {200, 300}}));
  EXPECT_EQ(stair(1), (Steps{{8, 80}, {15, 120}, {85, 249}, {200, 300}}));
  EXPECT_EQ(stair(2), (Steps{{8, 80}, {15, 120}, {35, 249}, {200, 300}}));
  EXPECT_EQ(envelope->published[0].type, DesignType::a);
  EXPECT_EQ(envelope->published[1].type, DesignType::b);
  EXPECT_EQ(envelope->published[2].type, DesignType::c);
}

/// Runs of one direction whose deviation is `share` of its limit at 100 km/h and follows a power of
/// the speed.
RunSource by_direction(double leading_share, double leading_power, double trailing_share,
                       double trailing_power) {
  return [=](const std::vector<SimulationRequest>& requests) {
    std::vector<RunFigures> all;
    for (const SimulationRequest& request : requests) {
      const bool leading = request.pantographs.front().knuckle == Knuckle::leading;
      const double share =
          (leading ? leading_share : trailing_share) *
          std::pow(request.speed_kmh / 100, leading ? leading_power : trailing_power);
      RunFigures figures;
      figures.pantographs.assign(request.pantographs.size(), {.mean_n = 80, .std_n = 20 * share});
      figures.wave_speed_kmh = 420;
      all.push_back(figures);
    }
    return std::optional(all);
  };
}

TEST_F(EnvelopeTest, TheDirectionThatFailsEarlierCountsHoweverLittleItFails) {
  request.spacings_m = {20};
  for (const bool turned : {false, true}) {
    request.knuckles = {Knuckle::leading, Knuckle::trailing};
    if (turned) {
      std::ranges::reverse(request.knuckles);
    }
    // The leading one meets its limit at 100.5 km/h and hardly rises; the trailing one meets it at
    // 120.5 km/h, rising steeply.
    const auto envelope = compute_envelope(
        request, by_direction(std::pow(1.005, -0.1), 0.1, std::pow(1.205, -20), 20));
    ASSERT_TRUE(envelope);
    EXPECT_EQ(envelope->permitted[0].speed_kmh, 100) << turned;
  }
}

TEST_F(EnvelopeTest, WhereNoDirectionFailsTheSmallerMarginCounts) {
  request.spacings_m = {20};
  for (const bool turned : {false, true}) {
    request.knuckles = {Knuckle::leading, Knuckle::trailing};
    if (turned) {
      std::ranges::reverse(request.knuckles);
    }
    const auto envelope = compute_envelope(request, by_direction(0.5, 0, 0.75, 0));
    ASSERT_TRUE(envelope);
    EXPECT_NEAR(envelope->permitted[0].margin, 0.25, 1e-9) << turned;
    EXPECT_FALSE(envelope->permitted[0].fails_at_kmh);
  }
}

TEST_F(EnvelopeTest, SamplesDifferInLineAndPantographsAndAreRunAsDrawn) {
  request.spacings_m = {20, 120};
  request.samples = 4;
  std::size_t drawn = 0;
  const RunSource looking = [&](const std::vector<SimulationRequest>& requests) {
    for (const SimulationRequest& one : requests) {
      const Dropper& dropper = one.line->spans[3].droppers.front();
      // Where one input alone is varied, not both of them are.
      if (one.line->contact_wire.tension_deviation_n != 0 && dropper.length_deviation_m != 0) {
        ++drawn;
        EXPECT_NE(one.pantographs.front().static_force_n, 70);
        // Spans of 50 m under the train: one, or three.
        const std::size_t train = one.pantographs.back().behind_first_m < 50 ? 1 : 3;
        EXPECT_EQ(one.line->spans.size(), 4 + train + 5 + 4 + train);
      }
    }
    return made_up_runs(requests);
  };
  const auto envelope = compute_envelope(request, looking);
  ASSERT_TRUE(envelope);
  EXPECT_GT(drawn, 0U);
  ASSERT_EQ(envelope->samples.size(), 2U);
  for (std::size_t d = 0; d < 2; ++d) {
    ASSERT_EQ(envelope->samples[d].permitted_speed_kmh.size(), 4U);
    for (const double speed : envelope->samples[d].permitted_speed_kmh) {
      // The made-up runs hang on distance and direction alone: each sample is permitted the same.
      EXPECT_EQ(speed, envelope->permitted[d].speed_kmh);
    }
  }
  EXPECT_EQ(envelope->tolerances.size(), 8U);
}

TEST_F(EnvelopeTest, WhereTheRunsOfSamplesAreStoppedThereIsNone) {
  request.samples = 2;
  const RunSource stopping = [](const std::vector<SimulationRequest>& requests) {
    return requests.front().line->contact_wire.tension_deviation_n != 0 ? std::nullopt
                                                                        : made_up_runs(requests);
  };
  EXPECT_FALSE(compute_envelope(request, stopping));
}

}  // namespace
}  // namespace panup
