#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "dynamics_sample_line.h"
#include "files/read_rule_book.h"
#include "quality/permitted_speed.h"
#include "quality/scan_rounds.h"

/// Permitted speed from made-up runs: their deviation grows with speed and meets its limit, 20 N
/// of a mean of 80 N (0.3 x 80 / 1.2), at 100 km/h and as much more as half the distance in metres.

namespace panup {
namespace {

RunFigures run_of(const SimulationRequest& request) {
  const double limit_kmh = 100 + request.pantographs.back().behind_first_m / 2;
  RunFigures figures;
  figures.pantographs.assign(request.pantographs.size(),
                             {.mean_n = 80, .std_n = 20 * request.speed_kmh / limit_kmh});
  figures.wave_speed_kmh = 430;
  return figures;
}

struct PermittedSpeedTest : testing::Test {
  ContactLine line = sample_line(20);
  RuleBook rules = built_in_rule_book();
  std::vector<SimulationRequest> asked;
  std::vector<std::size_t> spans_asked;  ///< their lines are gone when the answer is there
  RunSource runs = [this](const std::vector<SimulationRequest>& requests) {
    std::vector<RunFigures> figures;
    for (const SimulationRequest& request : requests) {
      asked.push_back(request);
      spans_asked.push_back(request.line->spans.size());
      figures.push_back(run_of(request));
    }
    return std::optional(figures);
  };

  SpeedQuestion question(double distance_m, double to_kmh) const {
    SpeedQuestion one;
    one.line = &line;
    one.pantographs = {{.model = sample_pantograph(), .static_force_n = 80},
                       {.model = sample_pantograph(), .static_force_n = 80}};
    one.pantographs.back().behind_first_m = distance_m;
    one.to_kmh = to_kmh;
    return one;
  }
  Rule& mechanics() {
    return *std::ranges::find(rules.rules, std::string("speed-by-mechanics"), &Rule::id);
  }
};

TEST_F(PermittedSpeedTest, IsFoundForEachQuestionInTheirOrder) {
  const auto permitted =
      permitted_speeds({question(41, 200), question(20.5, 160), question(41, 110)}, rules, runs);
  ASSERT_TRUE(permitted);
  ASSERT_EQ(permitted->size(), 3U);
  EXPECT_EQ(permitted->at(0).speed_kmh, 120);
  EXPECT_EQ(permitted->at(0).fails_at_kmh, 121);
  EXPECT_EQ(permitted->at(0).looked_to_kmh, 200);
  EXPECT_EQ(permitted->at(1).speed_kmh, 110);
  EXPECT_EQ(permitted->at(2).speed_kmh, 110);
  EXPECT_FALSE(permitted->at(2).fails_at_kmh);
}

TEST_F(PermittedSpeedTest, ThereIsNoneWhereRunsAreStopped) {
  const RunSource stopped = [](const std::vector<SimulationRequest>& /*requests*/) {
    return std::optional<std::vector<RunFigures>>();
  };
  EXPECT_FALSE(permitted_speeds({question(40, 200)}, rules, stopped));
}

TEST_F(PermittedSpeedTest, RunsTakeTheBooksStepAndBalanceNoEnergy) {
  mechanics().numbers["step_ms"] = 1.25;
  ASSERT_TRUE(permitted_speeds({question(40, 120)}, rules, runs));
  ASSERT_FALSE(asked.empty());
  for (const SimulationRequest& request : asked) {
    const bool longer = request.settings.step_s == 0.0025;
    EXPECT_TRUE(longer || request.settings.step_s == 0.00125);
    EXPECT_EQ(request.settings.guarded, !longer);
    EXPECT_FALSE(request.settings.balance_energy) << "no criterion asks for it";
    EXPECT_EQ(request.pantographs.back().behind_first_m, 40);
  }
  for (std::size_t i = 0; i < asked.size(); ++i) {
    const std::size_t for_the_end = asked[i].settings.near_only ? 2 : 4;
    EXPECT_EQ(spans_asked[i], 4 + 1 + 5 + for_the_end + 1)
        << "as long as is needed for five evaluated spans";
  }
}

TEST_F(PermittedSpeedTest, ALineIsRunAsItIsWhereThatIsAskedFor) {
  SpeedQuestion one = question(40, 120);
  one.line_as_it_is = true;
  ASSERT_TRUE(permitted_speeds({one}, rules, runs));
  EXPECT_EQ(asked.front().line, &line);
}

TEST_F(PermittedSpeedTest, IsThatOfTheWorseSupportsWhereTheLineDoesNotStateThem) {
  ContactLine unstated = line;
  for (Support& support : unstated.supports) {
    support.messenger_stiffness_stated = false;
  }
  for (const double worse_n_per_m : {500000.0, 50000.0}) {
    const RunSource by_supports = [&](const std::vector<SimulationRequest>& requests) {
      std::vector<RunFigures> figures;
      for (SimulationRequest request : requests) {
        if (request.line->supports[1].messenger_stiffness_n_per_m == worse_n_per_m) {
          request.speed_kmh *= 1.1;
        }
        figures.push_back(run_of(request));
      }
      return std::optional(figures);
    };
    SpeedQuestion asks = question(40, 200);
    asks.line = &unstated;
    const auto permitted = permitted_speeds({asks, question(40, 200)}, rules, by_supports);
    ASSERT_TRUE(permitted);
    // 120 km/h with the better supports, a tenth less with the worse.
    EXPECT_EQ(permitted->at(0).speed_kmh, 109);
    ASSERT_TRUE(permitted->at(0).by_supports);
    const bool stiff_is_worse = worse_n_per_m == 500000;
    EXPECT_EQ(permitted->at(0).by_supports->stiff_kmh, stiff_is_worse ? 109 : 120);
    EXPECT_EQ(permitted->at(0).by_supports->soft_kmh, stiff_is_worse ? 120 : 109);
    EXPECT_FALSE(permitted->at(1).by_supports) << "a line that states it is asked once";
    EXPECT_EQ(permitted->at(1).speed_kmh, stiff_is_worse ? 109 : 120);
    EXPECT_NE(in_words(*permitted->at(0).by_supports, "sample").find("with 50 kN/m"),
              std::string::npos);
  }
}

TEST_F(PermittedSpeedTest, CarriesTheDoubtsOfTheRunsThatItStandsOn) {
  const RunSource doubtful = [](const std::vector<SimulationRequest>& requests) {
    std::vector<RunFigures> figures;
    for (const SimulationRequest& request : requests) {
      figures.push_back(run_of(request));
      if (request.speed_kmh == 100 || request.speed_kmh == 80) {
        figures.back().warnings.push_back({Doubt::energy, Sentence("chatter")});
      }
      if (request.speed_kmh > 120) {
        figures.back().warnings.push_back({Doubt::contact_lost, Sentence("lost")});
      }
    }
    return std::optional(figures);
  };
  const auto permitted = permitted_speeds({question(40, 200)}, rules, doubtful);
  ASSERT_TRUE(permitted);
  EXPECT_EQ(permitted->front().speed_kmh, 120);
  ASSERT_EQ(permitted->front().warnings.size(), 1U);
  EXPECT_EQ(permitted->front().warnings[0].doubt, Doubt::energy);
  EXPECT_EQ(permitted->front().warnings[0].text.said(), "At 100 km/h: chatter");
  EXPECT_EQ(permitted->front().warnings[0].text.said(built_in_words("de")),
            "Bei 100 km/h: chatter");
}

// The wave speed is 3.6 x sqrt(20 kN / 1.35 kg/m) = 438.2 km/h, 70 % of it 306.7 km/h.
TEST_F(PermittedSpeedTest, TooNearTheWaveSpeedNoRunIsNeeded) {
  const auto permitted = permitted_speeds({question(1000, 330)}, rules, runs);
  ASSERT_TRUE(permitted);
  for (const SimulationRequest& request : asked) {
    EXPECT_LT(request.speed_kmh, 306.7);
  }
  // The made-up runs have waves of 430 km/h: 70 % of it is 301 km/h.
  EXPECT_EQ(permitted->front().speed_kmh, 301);
  EXPECT_EQ(permitted->front().criterion, "wave-speed-share");
}

/// Refuses what is asked for in the book's step; takes note of the rest.
TEST_F(PermittedSpeedTest, WhatIsRefusedInTheBooksStepIsRunInItsOwn) {
  int in_own_step = 0;
  const RunSource refusing = [&](const std::vector<SimulationRequest>& requests) {
    std::vector<RunFigures> figures;
    for (const SimulationRequest& request : requests) {
      // Every second speed, so that what is run again has to find its place.
      const bool refused = request.settings.step_s && std::fmod(request.speed_kmh, 40) == 0;
      in_own_step += request.settings.step_s ? 0 : 1;
      figures.push_back(refused ? RunFigures{} : run_of(request));
    }
    return std::optional(figures);
  };
  const auto permitted = permitted_speeds({question(41, 200), question(21, 200)}, rules, refusing);
  ASSERT_TRUE(permitted);
  EXPECT_EQ(permitted->at(0).speed_kmh, 120);
  EXPECT_EQ(permitted->at(1).speed_kmh, 110);
  EXPECT_GT(in_own_step, 2);
}

TEST_F(PermittedSpeedTest, ThereIsNoneWhereThoseInTheirOwnStepAreStopped) {
  const RunSource stopping = [](const std::vector<SimulationRequest>& requests) {
    return requests.front().settings.step_s
               ? std::optional(std::vector<RunFigures>(requests.size()))
               : std::nullopt;
  };
  EXPECT_FALSE(permitted_speeds({question(40, 200)}, rules, stopping));
}

TEST_F(PermittedSpeedTest, WhatIsRefusedInEveryStepIsSaid) {
  const RunSource refusing = [](const std::vector<SimulationRequest>& requests) {
    RunFigures refused;
    refused.refusals = {Sentence("the line is too short")};
    return std::optional(std::vector<RunFigures>(requests.size(), refused));
  };
  const auto permitted = permitted_speeds({question(40, 200)}, rules, refusing);
  ASSERT_TRUE(permitted);
  EXPECT_TRUE(permitted->front().refused);
  EXPECT_EQ(permitted->front().text, "the line is too short");
  EXPECT_EQ(permitted->front().criterion, "speed-by-mechanics");
  EXPECT_EQ(permitted->front().speed_kmh, 0);
}

TEST_F(PermittedSpeedTest, SpeedsAreLookedAtFromTheBooksLowestByItsStep) {
  Rule& rule = mechanics();
  rule.numbers["scan_from_kmh"] = 50;
  rule.numbers["scan_step_kmh"] = 15;
  rule.numbers["edge_kmh"] = 3;
  const auto speeds = [&](double to_kmh) { return scan_settings(rule, to_kmh).speeds_kmh; };
  EXPECT_EQ(speeds(95), (std::vector<double>{50, 65, 80, 95}));
  EXPECT_EQ(speeds(90), (std::vector<double>{50, 65, 80, 90}));
  EXPECT_EQ(speeds(40), (std::vector<double>{40}));
  const ScanSettings settings = scan_settings(rule, 95);
  EXPECT_EQ(settings.edge_kmh, 3);
  EXPECT_EQ(settings.steepest_margin_per_kmh, 0.06);
  EXPECT_EQ(settings.close_margin, 0.15);
}

// Waves of 438.2 km/h by the data of the line, and so 306.7 km/h, where runs see nothing of it.
TEST_F(PermittedSpeedTest, WhatNeedsNoRunDecidesLikeWhatDoes) {
  const RunSource fast = [](const std::vector<SimulationRequest>& requests) {
    RunFigures figures;
    figures.pantographs = {{.mean_n = 80, .std_n = 5}};
    figures.wave_speed_kmh = 1000;
    return std::optional(std::vector<RunFigures>(requests.size(), figures));
  };
  const auto permitted = permitted_speeds({question(40, 330)}, rules, fast);
  ASSERT_TRUE(permitted);
  EXPECT_EQ(permitted->front().speed_kmh, 306);
  EXPECT_EQ(permitted->front().fails_at_kmh, 307);
  EXPECT_EQ(permitted->front().criterion, "wave-speed-share");
  EXPECT_NEAR(permitted->front().margin, 1 - 307 / (0.7 * 3.6 * std::sqrt(20000 / 1.35)), 1e-12);
}

}  // namespace
}  // namespace panup
