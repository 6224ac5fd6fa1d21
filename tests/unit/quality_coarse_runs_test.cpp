#include <gtest/gtest.h>

#include <algorithm>

#include "dynamics_sample_line.h"
#include "files/read_rule_book.h"
#include "quality/coarse_runs.h"
#include "quality/permitted_speed.h"
#include "quality/scan_rounds.h"

/// Runs in a longer step: made-up figures, of which the deviation of the force decides. Its limit
/// is 20 N of a mean of 80 N (0.3 x 80 / 1.2).

namespace panup {
namespace {

struct CoarseRunsTest : testing::Test {
  RuleBook rules = built_in_rule_book();
  CoarseRuns known;

  Judgement judged(double std_n, double least_n = 40, double loss_percent = 0) const {
    RunFigures figures;
    figures.wave_speed_kmh = 430;
    figures.pantographs = {{.mean_n = 80,
                            .std_n = std_n,
                            .contact_loss_percent = loss_percent,
                            .longest_contact_loss_ms = 100 * loss_percent,
                            .least_unfiltered_n = least_n}};
    RunFacts facts;
    facts.speed_kmh = 100;
    facts.wave_speed_kmh = 430;
    return judge_run(rules, facts, figures);
  }
  void learn_pairs(int count, double off_n = 0.5, double speed_kmh = 100) {
    for (int i = 0; i < count; ++i) {
      known.learn(rules, speed_kmh, judged(15 + off_n), judged(15));
    }
  }
  bool decides(const Judgement& judgement, double speed_kmh = 100) const {
    return known.decides(rules, speed_kmh, judgement);
  }
};

TEST_F(CoarseRunsTest, DecideOnceThreePairsAreKnown) {
  learn_pairs(2);
  EXPECT_FALSE(decides(judged(10)));
  learn_pairs(1);
  EXPECT_TRUE(decides(judged(10)));
}

// Pairs were 0.5 N apart, a margin of 0.025; with just enough pairs twice that counts.
TEST_F(CoarseRunsTest, DecideNoCloserToALimitThanTheyAreOff) {
  learn_pairs(3);
  EXPECT_TRUE(decides(judged(18.9)));
  EXPECT_FALSE(decides(judged(19.1)));
  EXPECT_FALSE(decides(judged(20.9)));
  EXPECT_TRUE(decides(judged(21.1)));
}

TEST_F(CoarseRunsTest, AreTrustedCloserTheMorePairsAreKnown) {
  learn_pairs(30);
  EXPECT_TRUE(decides(judged(19.4)));
  EXPECT_FALSE(decides(judged(19.5)));
}

TEST_F(CoarseRunsTest, DecideNothingNearerThanTwoPercentHoweverWellTheyAgree) {
  learn_pairs(30, 0);
  EXPECT_TRUE(decides(judged(19.5)));
  EXPECT_FALSE(decides(judged(19.7)));
}

TEST_F(CoarseRunsTest, DecideNothingFarAboveTheSpeedsThatAreKnown) {
  learn_pairs(3);
  EXPECT_TRUE(decides(judged(10), 124));
  EXPECT_FALSE(decides(judged(10), 126));
}

TEST_F(CoarseRunsTest, FasterOnesThatAreFurtherOffDoNotCountWhereThereAreEnoughAlike) {
  learn_pairs(3);
  const double at_100 = known.tolerance("force-deviation", 100);
  learn_pairs(3, 3, 200);
  EXPECT_EQ(known.tolerance("force-deviation", 100), at_100);
  EXPECT_GT(known.tolerance("force-deviation", 200), 2 * at_100);
}

TEST_F(CoarseRunsTest, TheFurthestOffOfOneSpeedCountsWhicheverCameFirst) {
  learn_pairs(1, 2);
  learn_pairs(2, 0.5);
  CoarseRuns other_way_round;
  for (const double off_n : {0.5, 0.5, 2.0}) {
    other_way_round.learn(rules, 100, judged(15 + off_n), judged(15));
  }
  EXPECT_EQ(known.tolerance("force-deviation", 100),
            other_way_round.tolerance("force-deviation", 100));
}

TEST_F(CoarseRunsTest, AreAsFarOffAsThoseAtLikeSpeeds) {
  learn_pairs(3, 0.5, 100);
  learn_pairs(3, 2, 200);
  EXPECT_TRUE(decides(judged(18.9), 100));
  EXPECT_FALSE(decides(judged(18.9), 200));
  EXPECT_TRUE(decides(judged(15.9), 200));
}

TEST_F(CoarseRunsTest, WhatFailsByFarTellsNothingOfTheError) {
  learn_pairs(3);
  known.learn(rules, 100, judged(35), judged(30));
  EXPECT_TRUE(decides(judged(18.9)));
}

// Loss begins where the unfiltered force comes to nothing, whatever the deviation says.
TEST_F(CoarseRunsTest, DecideThatContactIsKeptOnlyWhereTheLeastForceIsFarFromNothing) {
  learn_pairs(3);
  EXPECT_TRUE(decides(judged(10, 0.21 * 80)));
  EXPECT_FALSE(decides(judged(10, 0.19 * 80)));
  EXPECT_FALSE(decides(judged(10, 0, 0.05)));
}

TEST_F(CoarseRunsTest, DecideThatContactIsLostWhereTheForceSwingsBelowNothing) {
  learn_pairs(3);
  EXPECT_FALSE(decides(judged(19.9, 0, 5))) << "mean - 3 sigma is 20 N";
  EXPECT_TRUE(decides(judged(30, 0, 5)));
}

TEST_F(CoarseRunsTest, DecideNoPassWhereEnergyIsMissing) {
  learn_pairs(3);
  Judgement passing = judged(10);
  Judgement failing = judged(25);
  for (Judgement* const each : {&passing, &failing}) {
    each->warnings = {{Doubt::energy, Sentence("missing")}};
  }
  EXPECT_FALSE(decides(passing));
  EXPECT_TRUE(decides(failing));
  passing.warnings = {{Doubt::few_spans, Sentence("one span")}};
  EXPECT_TRUE(decides(passing));
}

TEST_F(CoarseRunsTest, TakeAShorterStepWhereTheGridIsTooCoarseAndGiveUpAfterThat) {
  EXPECT_EQ(known.step_factor(), 2);
  known.refused();
  EXPECT_EQ(known.step_factor(), 1.5);
  known.refused();
  EXPECT_EQ(known.step_factor(), 1);
}

TEST_F(CoarseRunsTest, AreOfNoUseWhereEitherOfAPairIsRefused) {
  Judgement refused;
  refused.refused = true;
  known.learn(rules, 100, judged(15), refused);
  EXPECT_EQ(known.step_factor(), 1);
}

/// Runs in the longer step say too little, by what is asked for: the deviation grows with speed and
/// meets its limit at 120 km/h.
struct OffByTheStep : testing::Test {
  ContactLine line = sample_line(20);
  RuleBook rules = built_in_rule_book();
  double off_n = 0;
  bool cliff = false;  ///< far from the limit on either side of 138 km/h
  double to_kmh = 200;
  std::vector<double> in_rule_step;

  double deviation(double speed_kmh) const {
    return cliff ? (speed_kmh > 138 ? 30 : 10 + speed_kmh / 100) : 20 * speed_kmh / 120;
  }

  PermittedSpeed permitted() {
    SpeedQuestion question;
    question.line = &line;
    question.pantographs = {{.model = sample_pantograph(), .static_force_n = 80}};
    question.to_kmh = to_kmh;
    const RunSource runs = [this](const std::vector<SimulationRequest>& requests) {
      std::vector<RunFigures> figures;
      for (const SimulationRequest& request : requests) {
        const bool longer = *request.settings.step_s > 0.002;
        if (!longer) {
          in_rule_step.push_back(request.speed_kmh);
        }
        figures.emplace_back().wave_speed_kmh = 430;
        figures.back().pantographs = {
            {.mean_n = 80, .std_n = deviation(request.speed_kmh) - (longer ? off_n : 0)}};
      }
      return std::optional(figures);
    };
    return permitted_speeds({question}, rules, runs)->front();
  }
};

TEST_F(OffByTheStep, ThePermittedSpeedIsThatOfTheRuleBooksStep) {
  for (const double off : {0.0, 0.4, -0.4, 1.5, -1.5, 6.0, -6.0}) {
    off_n = off;
    in_rule_step.clear();
    const PermittedSpeed speed = permitted();
    EXPECT_EQ(speed.speed_kmh, 120) << off;
    EXPECT_EQ(speed.fails_at_kmh, 121) << off;
    for (const JudgedSpeed& one : speed.judged) {
      if (one.speed_kmh == 120 || one.speed_kmh == 121) {
        EXPECT_FALSE(one.coarse);
      }
    }
    EXPECT_TRUE(std::ranges::find(in_rule_step, 120) != in_rule_step.end());
    EXPECT_TRUE(std::ranges::find(in_rule_step, 121) != in_rule_step.end());
  }
}

TEST_F(OffByTheStep, WhatIsHandedOutIsRunInTheRuleBooksStepHoweverSureALongerOneIs) {
  cliff = true;
  off_n = 0.1;
  const PermittedSpeed edge = permitted();
  EXPECT_EQ(edge.speed_kmh, 138);
  EXPECT_EQ(edge.fails_at_kmh, 139);
  EXPECT_TRUE(std::ranges::find(in_rule_step, 138) != in_rule_step.end());
  EXPECT_TRUE(std::ranges::find(in_rule_step, 139) != in_rule_step.end());
  EXPECT_EQ(edge.pantographs.front().std_n, deviation(138));
  // All pass: the greatest is handed out.
  to_kmh = 130;
  in_rule_step.clear();
  const PermittedSpeed all = permitted();
  EXPECT_FALSE(all.fails_at_kmh);
  EXPECT_EQ(all.pantographs.front().std_n, deviation(130));
  EXPECT_TRUE(std::ranges::find(in_rule_step, 130) != in_rule_step.end());
}

TEST_F(OffByTheStep, WhatIsToldOfTheLeastMarginIsOfTheRuleBooksStep) {
  off_n = 0.1;
  to_kmh = 200;
  const RunSource worst_at_140 = [](const std::vector<SimulationRequest>& requests) {
    std::vector<RunFigures> figures;
    for (const SimulationRequest& request : requests) {
      const bool longer = *request.settings.step_s > 0.002;
      figures.emplace_back().wave_speed_kmh = 430;
      figures.back().pantographs = {
          {.mean_n = 80, .std_n = (request.speed_kmh == 140 ? 14.0 : 10.0) - (longer ? 0.1 : 0)}};
    }
    return std::optional(figures);
  };
  SpeedQuestion question;
  question.line = &line;
  question.pantographs = {{.model = sample_pantograph(), .static_force_n = 80}};
  question.to_kmh = 200;
  const PermittedSpeed speed = permitted_speeds({question}, rules, worst_at_140)->front();
  EXPECT_FALSE(speed.fails_at_kmh);
  EXPECT_EQ(speed.margin, 1 - 14.0 * 1.2 / 24) << speed.text;
}

TEST_F(OffByTheStep, MostOfItIsDecidedInTheLongerStep) {
  off_n = 0.1;
  const PermittedSpeed speed = permitted();
  EXPECT_GT(std::ranges::count_if(speed.judged, &JudgedSpeed::coarse), 5);
  EXPECT_LT(in_rule_step.size(), speed.judged.size());
}

// Pairs agree at 100, 106 and 112 km/h. At 102 km/h the longer run is at the limit and the other
// far from it: so what the longer run said of 104 km/h no longer holds.
TEST_F(OffByTheStep, WhatWasDecidedIsLookedAtAnewWhenMoreIsKnown) {
  SpeedQuestion question;
  question.line = &line;
  question.pantographs = {{.model = sample_pantograph(), .static_force_n = 80}};
  std::vector<AskedSpeed> asked;
  for (const double speed_kmh : {100, 102, 104, 106, 108, 110, 112}) {
    asked.push_back({.question = &question, .speed_kmh = speed_kmh, .in_rule_step = false});
  }
  for (const double in_rule_step_n : {15.0, 19.8}) {
    const RunSource runs = [&](const std::vector<SimulationRequest>& requests) {
      std::vector<RunFigures> figures;
      for (const SimulationRequest& request : requests) {
        const bool longer = *request.settings.step_s > 0.002;
        const double std_n = request.speed_kmh == 102   ? (longer ? 19.8 : in_rule_step_n)
                             : request.speed_kmh == 104 ? 17
                                                        : 8;
        figures.emplace_back().wave_speed_kmh = 430;
        figures.back().pantographs = {{.mean_n = 80, .std_n = std_n}};
      }
      return std::optional(figures);
    };
    EvaluatedLines lines(5);
    CoarseRunsByLine coarse;
    const auto judgements = judge_speeds({rules, lines, runs, coarse}, asked);
    ASSERT_TRUE(judgements);
    EXPECT_FALSE((*judgements)[1].coarse);
    EXPECT_EQ((*judgements)[2].coarse, in_rule_step_n == 19.8);
    EXPECT_TRUE((*judgements)[4].coarse);
  }
}

TEST_F(OffByTheStep, ALineDrawnFromAnotherIsKnownByIt) {
  const RunSource runs = [&](const std::vector<SimulationRequest>& requests) {
    std::vector<RunFigures> figures(requests.size());
    for (std::size_t i = 0; i < requests.size(); ++i) {
      figures[i].wave_speed_kmh = 430;
      figures[i].pantographs = {{.mean_n = 80, .std_n = 10}};
    }
    return std::optional(figures);
  };
  const ContactLine drawn = line;
  SpeedQuestion of_line;
  of_line.line = &line;
  of_line.pantographs = {{.model = sample_pantograph(), .static_force_n = 80}};
  SpeedQuestion of_drawn = of_line;
  of_drawn.line = &drawn;
  for (const bool stands_for_itself : {false, true}) {
    of_drawn.drawn_from = stands_for_itself ? nullptr : &line;
    EvaluatedLines lines(5);
    CoarseRunsByLine coarse;
    const Judging judging{rules, lines, runs, coarse};
    ASSERT_TRUE(judge_speeds(judging, {{&of_line, 100}, {&of_line, 102}, {&of_line, 104}}));
    const auto judgements = judge_speeds(judging, {{&of_drawn, 100}});
    ASSERT_TRUE(judgements);
    EXPECT_EQ(judgements->front().coarse, !stands_for_itself);
  }
}

// The scan looks for bands between speeds by their margins.
TEST_F(OffByTheStep, TheMarginThatLeadsTheScanIsLessByAllThatALongerRunMayBeOff) {
  off_n = 0.5;
  SpeedQuestion question;
  question.line = &line;
  question.pantographs = {{.model = sample_pantograph(), .static_force_n = 80}};
  const RunSource runs = [&](const std::vector<SimulationRequest>& requests) {
    std::vector<RunFigures> figures;
    for (const SimulationRequest& request : requests) {
      figures.emplace_back().wave_speed_kmh = 430;
      figures.back().pantographs = {
          {.mean_n = 80, .std_n = 10 - (*request.settings.step_s > 0.002 ? off_n : 0)}};
    }
    return std::optional(figures);
  };
  std::vector<AskedSpeed> asked;
  for (const double speed_kmh : {100, 102, 104, 106}) {
    asked.push_back({.question = &question, .speed_kmh = speed_kmh, .in_rule_step = false});
  }
  EvaluatedLines lines(5);
  CoarseRunsByLine coarse;
  const auto judgements = judge_speeds({rules, lines, runs, coarse}, asked);
  ASSERT_TRUE(judgements && (*judgements)[1].coarse);
  // 9.5 N leave 1 - 9.5 x 1.2 / 24; three pairs were 0.5 N apart, and twice that counts.
  EXPECT_NEAR((*judgements)[1].margin, 0.525, 1e-9);
  EXPECT_NEAR((*judgements)[1].swinging_margin, 0.525 - 2 * 0.025, 1e-9);
  EXPECT_NEAR((*judgements)[0].swinging_margin, 0.5, 1e-9);
}

}  // namespace
}  // namespace panup
