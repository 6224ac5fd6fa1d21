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
      ASSERT_TRUE(outcome.result) << outcome.refusals.front();
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

}  // namespace
}  // namespace panup
