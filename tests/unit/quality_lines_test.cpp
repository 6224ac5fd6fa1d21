#include <gtest/gtest.h>

#include <algorithm>

#include "dynamics/simulate.h"
#include "dynamics_sample_line.h"
#include "quality/evaluated_line.h"
#include "quality/run_figures.h"
#include "quality/tolerances.h"

namespace panup {
namespace {

SimulationRequest two_on(const ContactLine& line, double distance_m) {
  SimulationRequest request = sample_request(line, 120);
  request.pantographs.push_back(request.pantographs.front());
  request.pantographs.back().behind_first_m = distance_m;
  return request;
}

TEST(EvaluatedLines, ARegularLineHasJustTheSpansThatAreAskedFor) {
  EvaluatedLines lines(5);
  for (const int in_file : {3, 60}) {
    const ContactLine whole = sample_line(in_file);
    for (const double train_m : {1.0, 50.0, 120.0}) {
      const ContactLine* const line = lines.line_for(whole, train_m);
      const SimulationOutcome outcome = simulate(two_on(*line, train_m));
      ASSERT_TRUE(outcome.result) << outcome.refusals.front().said();
      EXPECT_EQ(outcome.result->to_m - outcome.result->from_m, 5 * 50) << in_file << ' ' << train_m;
      EXPECT_TRUE(outcome.result->warnings.empty());
    }
  }
}

TEST(EvaluatedLines, ARegularLineGivesTheSameHoweverLongItsFileIs) {
  EvaluatedLines lines(5);
  const ContactLine shorter = sample_line(10);
  const ContactLine longer = sample_line(40);
  EXPECT_EQ(figures_of(simulate(two_on(*lines.line_for(shorter, 20), 20))),
            figures_of(simulate(two_on(*lines.line_for(longer, 20), 20))));
}

TEST(EvaluatedLines, ATrainOfJustSomeSpansNeedsNoMore) {
  ContactLine line = sample_line(40);
  for (Span& span : line.spans) {
    span.length_m = 16.1;  // sums of it are not exact
    span.droppers.resize(1);
  }
  EvaluatedLines lines(5);
  EXPECT_EQ(lines.line_for(line, 3 * 16.1)->spans.size(), 4U + 3U + 5U + 4U + 3U);
}

TEST(EvaluatedLines, AnIrregularLineIsTakenWhole) {
  ContactLine line = sample_line(40);
  line.spans[20].pre_sag_m = 0.01;
  EvaluatedLines lines(5);
  EXPECT_FALSE(is_regular(line));
  EXPECT_EQ(lines.line_for(line, 20), &line);
}

TEST(EvaluatedLines, AnIrregularLineThatIsTooShortFollowsItself) {
  ContactLine line = sample_line(12);
  line.spans[3].pre_sag_m = 0.01;
  EvaluatedLines lines(5);
  const ContactLine* const longer = lines.line_for(line, 400);
  ASSERT_EQ(longer->spans.size(), 4U + 8U + 5U + 4U + 8U);
  EXPECT_EQ(longer->supports.size(), longer->spans.size() + 1);
  EXPECT_EQ(longer->spans[15].pre_sag_m, 0.01);
  EXPECT_EQ(lines.line_for(line, 400), longer);
  EXPECT_TRUE(simulate(two_on(*longer, 400)).result);
}

constexpr Tolerances tolerances{
    .tension_share = 0.05, .dropper_length_m = 0.01, .static_force_n = 5, .span_length_m = 0.5};

TEST(Tolerances, ASampleStaysWithinThem) {
  const ContactLine line = sample_line(12);
  const SimulationRequest request = two_on(line, 20);
  double greatest_tension = 0;
  double greatest_force = 0;
  for (std::uint64_t number = 0; number < 200; ++number) {
    const Sample sample = draw_sample(line, request.pantographs, tolerances, 7, number);
    const Wire& wire = sample.line.contact_wire;
    greatest_tension = std::max(greatest_tension, std::abs(wire.tension_deviation_n));
    EXPECT_LE(std::abs(wire.tension_deviation_n), 0.05 * wire.tension_n);
    for (const RunningPantograph& pantograph : sample.pantographs) {
      greatest_force = std::max(greatest_force, std::abs(pantograph.static_force_n - 80));
    }
    EXPECT_NEAR(length_of(sample.line), length_of(line), 1e-9);
    double support_m = 0;
    for (std::size_t i = 0; i < line.spans.size(); ++i) {
      support_m += sample.line.spans[i].length_m;
      EXPECT_LE(std::abs(support_m - 50.0 * static_cast<double>(i + 1)), 0.5 + 1e-9);
      for (const Dropper& dropper : sample.line.spans[i].droppers) {
        EXPECT_LE(std::abs(dropper.length_deviation_m), 0.01);
      }
    }
  }
  // Of 200 drawn evenly, one comes close to the bound.
  EXPECT_GT(greatest_tension, 0.9 * 0.05 * line.contact_wire.tension_n);
  EXPECT_LE(greatest_force, 5);
  EXPECT_GT(greatest_force, 4.5);
}

TEST(Tolerances, WhatNoDataSheetStatesWellVariesAlikeAllAlongTheLine) {
  ContactLine line = sample_line_with_everything(12);
  line.mass_damping_per_s = 0.01;
  line.stiffness_damping_s = 0.0001;
  std::vector<RunningPantograph> pantographs = two_on(line, 20).pantographs;
  for (RunningPantograph& one : pantographs) {
    one.model.aerodynamic_knuckle_leading_n_per_kmh2 = 0.001;
  }
  const Tolerances shares{.support_stiffness_share = 0.5,
                          .damping_share = 0.4,
                          .steady_arm_mass_share = 0.3,
                          .aerodynamic_share = 0.2};
  double supports = 0;
  double damping = 0;
  double arms = 0;
  double aerodynamic = 0;
  for (std::uint64_t number = 0; number < 200; ++number) {
    const Sample sample = draw_sample(line, pantographs, shares, 7, number);
    const double of_support = sample.line.supports[1].messenger_stiffness_n_per_m /
                                  line.supports[1].messenger_stiffness_n_per_m -
                              1;
    for (std::size_t i = 0; i < line.supports.size(); ++i) {
      EXPECT_DOUBLE_EQ(sample.line.supports[i].messenger_stiffness_n_per_m,
                       (1 + of_support) * line.supports[i].messenger_stiffness_n_per_m);
    }
    const double of_damping = sample.line.mass_damping_per_s / 0.01 - 1;
    EXPECT_NEAR(sample.line.stiffness_damping_s / 0.0001 - 1, of_damping, 1e-12);
    supports = std::max(supports, std::abs(of_support));
    damping = std::max(damping, std::abs(of_damping));
    arms = std::max(arms, std::abs(sample.line.supports[1].steady_arm_mass_kg /
                                       line.supports[1].steady_arm_mass_kg -
                                   1));
    aerodynamic = std::max(
        aerodynamic,
        std::abs(sample.pantographs[1].model.aerodynamic_knuckle_leading_n_per_kmh2 / 0.001 - 1));
  }
  // Of 200 drawn evenly, one comes close to the bound, and none passes it.
  for (const auto& [greatest, bound] :
       {std::pair{supports, 0.5}, {damping, 0.4}, {arms, 0.3}, {aerodynamic, 0.2}}) {
    EXPECT_LE(greatest, bound + 1e-12);
    EXPECT_GT(greatest, 0.9 * bound);
  }
}

TEST(Tolerances, TheSameSeedAndNumberGiveTheSameSample) {
  const ContactLine line = sample_line(12);
  const SimulationRequest request = two_on(line, 20);
  const auto drawn = [&](std::uint64_t seed, std::uint64_t number) {
    return draw_sample(line, request.pantographs, tolerances, seed, number);
  };
  EXPECT_EQ(drawn(1, 3).line.spans, drawn(1, 3).line.spans);
  EXPECT_NE(drawn(1, 3).line.spans, drawn(1, 4).line.spans);
  EXPECT_NE(drawn(1, 3).line.spans, drawn(2, 3).line.spans);
}

TEST(Tolerances, WithoutTolerancesASampleIsTheLineItself) {
  const ContactLine line = sample_line(12);
  const SimulationRequest request = two_on(line, 20);
  const Sample sample = draw_sample(line, request.pantographs, {}, 1, 0);
  SimulationRequest of_sample = request;
  of_sample.line = &sample.line;
  of_sample.pantographs = sample.pantographs;
  EXPECT_EQ(figures_of(simulate(of_sample)), figures_of(simulate(request)));
}

// Statics: a dropper that is too long hangs slack or carries less, and its neighbours more.
TEST(Deviations, ADropperThatIsTooLongCarriesLess) {
  ContactLine line = sample_line(12);
  const auto before = std::get<StaticState>(static_state(line, {}, 2, false));
  line.spans[5].droppers[2].length_deviation_m = 0.002;
  const auto after = std::get<StaticState>(static_state(line, {}, 2, false));
  const std::size_t its_place = 5 * 5 + 2;
  EXPECT_LT(after.droppers[its_place].force_n, before.droppers[its_place].force_n - 1);
  EXPECT_GT(after.droppers[its_place + 1].force_n, before.droppers[its_place + 1].force_n);
  EXPECT_NEAR(after.droppers[its_place].length_m, before.droppers[its_place].length_m + 0.002,
              1e-12);
}

// c = √(T/m′): 21 % more tension make waves 10 % faster.
TEST(Deviations, MoreTensionMakesWavesFaster) {
  ContactLine line = sample_line(20);
  const double before = figures_of(simulate(sample_request(line, 120))).wave_speed_kmh;
  line.contact_wire.tension_deviation_n = 0.21 * line.contact_wire.tension_n;
  const double after = figures_of(simulate(sample_request(line, 120))).wave_speed_kmh;
  EXPECT_NEAR(after / before, 1.1, 1e-9);
}

TEST(EvaluatedLines, ATrainOfAnyNumberOfWholeSpansNeedsNoMore) {
  ContactLine line = sample_line(60);
  for (const double span_m : {16.1, 49.7, 63.3}) {
    for (Span& span : line.spans) {
      span.length_m = span_m;
      span.droppers.resize(1);
    }
    EvaluatedLines lines(5);
    double train_m = 0;
    for (std::size_t spans = 1; spans <= 12; ++spans) {
      train_m += span_m;
      EXPECT_EQ(lines.line_for(line, train_m)->spans.size(), 4 + spans + 5 + 4 + spans) << train_m;
    }
    EXPECT_EQ(lines.line_for(line, 1.01 * span_m)->spans.size(), 4U + 2U + 5U + 4U + 2U);
  }
}

TEST(EvaluatedLines, ALineThatIsJustLongEnoughIsTakenAsItIs) {
  const ContactLine line = sample_line(4 + 1 + 5 + 4 + 1);
  EvaluatedLines lines(5);
  EXPECT_EQ(lines.line_for(line, 20), &line);
}

TEST(EvaluatedLines, SupportsFollowWithTheirSpans) {
  ContactLine line = sample_line(8);
  for (std::size_t i = 0; i < line.supports.size(); ++i) {
    line.supports[i].encumbrance_m = 1 + 0.01 * static_cast<double>(i);
  }
  EvaluatedLines lines(5);
  const ContactLine* const longer = lines.line_for(line, 20);
  // 15 spans: 0 to 7, then 0 to 6, and the support behind that one.
  ASSERT_EQ(longer->supports.size(), 16U);
  EXPECT_EQ(longer->supports[7].encumbrance_m, line.supports[7].encumbrance_m);
  EXPECT_EQ(longer->supports[8].encumbrance_m, line.supports[0].encumbrance_m);
  EXPECT_EQ(longer->supports[14].encumbrance_m, line.supports[6].encumbrance_m);
  EXPECT_EQ(longer->supports[15].encumbrance_m, line.supports[7].encumbrance_m);
}

TEST(EvaluatedLines, OneSupportThatDiffersMakesALineIrregular) {
  ContactLine line = sample_line(40);
  EXPECT_TRUE(is_regular(line));
  line.supports[20].encumbrance_m += 0.1;
  EXPECT_FALSE(is_regular(line));
}

TEST(Tolerances, AreThoseOfTheRuleAndSaidInWords) {
  Rule rule;
  rule.numbers = {
      {"tension_share", 0.04},        {"dropper_length_mm", 12},        {"static_force_n", 6},
      {"span_length_m", 0.7},         {"support_stiffness_share", 0.4}, {"damping_share", 0.6},
      {"steady_arm_mass_share", 0.2}, {"aerodynamic_share", 0.1}};
  const Tolerances stated = tolerances_of(rule);
  EXPECT_DOUBLE_EQ(stated.tension_share, 0.04);
  EXPECT_DOUBLE_EQ(stated.dropper_length_m, 0.012);
  EXPECT_DOUBLE_EQ(stated.static_force_n, 6);
  EXPECT_DOUBLE_EQ(stated.span_length_m, 0.7);
  EXPECT_DOUBLE_EQ(stated.support_stiffness_share, 0.4);
  EXPECT_DOUBLE_EQ(stated.damping_share, 0.6);
  EXPECT_DOUBLE_EQ(stated.steady_arm_mass_share, 0.2);
  EXPECT_DOUBLE_EQ(stated.aerodynamic_share, 0.1);
  EXPECT_EQ(in_words(stated, {}),
            (std::vector<std::string>{
                "tension of each wire ±4 %", "length of each dropper ±12 mm",
                "static force of each pantograph ±6 N", "place of each support ±0.7 m",
                "stiffness of messenger supports ±40 %", "damping of the wires ±60 %",
                "mass of steady arms ±20 %", "aerodynamic factor ±10 %"}));
}

TEST(Tolerances, EveryInnerSupportIsMovedAndDroppersKeepTheirShareOfTheSpan) {
  const ContactLine line = sample_line(12);
  const Sample sample = draw_sample(line, two_on(line, 20).pantographs, tolerances, 7, 1);
  double support_m = 0;
  double greatest_dropper_m = 0;
  for (std::size_t i = 0; i < line.spans.size(); ++i) {
    const Span& span = sample.line.spans[i];
    support_m += span.length_m;
    if (i + 1 < line.spans.size()) {
      EXPECT_GT(std::abs(support_m - 50.0 * static_cast<double>(i + 1)), 1e-6) << i;
    }
    for (std::size_t d = 0; d < span.droppers.size(); ++d) {
      EXPECT_NEAR(span.droppers[d].at_m / span.length_m, line.spans[i].droppers[d].at_m / 50,
                  1e-12);
      greatest_dropper_m =
          std::max(greatest_dropper_m, std::abs(span.droppers[d].length_deviation_m));
    }
  }
  // Of 60 drawn evenly, one comes close to the bound.
  EXPECT_GT(greatest_dropper_m, 0.8 * 0.01);
}

TEST(Tolerances, NoSupportMovesByMoreThanAFifthOfItsSpan) {
  const ContactLine line = sample_line(12);
  double greatest_m = 0;
  for (std::uint64_t number = 0; number < 50; ++number) {
    const Sample sample =
        draw_sample(line, two_on(line, 20).pantographs, {.span_length_m = 40}, 7, number);
    double support_m = 0;
    for (std::size_t i = 0; i < line.spans.size(); ++i) {
      support_m += sample.line.spans[i].length_m;
      greatest_m = std::max(greatest_m, std::abs(support_m - 50.0 * static_cast<double>(i + 1)));
      EXPECT_GT(sample.line.spans[i].length_m, 0);
    }
  }
  // A fifth of 50 m; of 550 drawn evenly, one comes close to it.
  EXPECT_LE(greatest_m, 10 + 1e-9);
  EXPECT_GT(greatest_m, 9.5);
}

TEST(Tolerances, NoStaticForceFallsBelowNothing) {
  const ContactLine line = sample_line(12);
  std::vector<RunningPantograph> pantographs = two_on(line, 20).pantographs;
  pantographs.front().static_force_n = 1;
  double least_n = 10;
  for (std::uint64_t number = 0; number < 50; ++number) {
    least_n = std::min(
        least_n,
        draw_sample(line, pantographs, tolerances, 7, number).pantographs.front().static_force_n);
  }
  EXPECT_EQ(least_n, 0);
}

TEST(Tolerances, LargeSeedsAndNumbersDifferFromSmallOnes) {
  const ContactLine line = sample_line(12);
  const auto tension = [&](std::uint64_t seed, std::uint64_t number) {
    return draw_sample(line, two_on(line, 20).pantographs, tolerances, seed, number)
        .line.contact_wire.tension_deviation_n;
  };
  constexpr std::uint64_t large = std::uint64_t{1} << 32U;
  EXPECT_NE(tension(1 + large, 3), tension(1, 3));
  EXPECT_NE(tension(1, 3 + large), tension(1, 3));
  EXPECT_NE(tension(1, 3), tension(3, 1));
}

}  // namespace
}  // namespace panup
