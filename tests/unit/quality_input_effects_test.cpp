#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "dynamics_sample_line.h"
#include "files/read_rule_book.h"
#include "quality/input_effects.h"
#include "quality/scan_rounds.h"

/// What a permitted speed hangs on, from made-up runs that hang on some inputs and no others. Their
/// deviation meets its limit, 20 N of a mean of 80 N (0.3 x 80 / 1.2), at 100 km/h.

namespace panup {
namespace {

constexpr double data_tension_n = 20000;

/// Of the wire's tension: −0.4 % of deviation for each percent. Of the aerodynamic factor: 0.1 %.
/// Of messenger supports: 0.02 % for each percent of 500 kN/m.
double deviation(const SimulationRequest& request) {
  const Wire& wire = request.line->contact_wire;
  const double tension = wire.tension_deviation_n / wire.tension_n;
  const double aerodynamic =
      request.pantographs.back().model.aerodynamic_knuckle_leading_n_per_kmh2 / 0.001 - 1;
  const double supports =
      request.line->supports[1].messenger_stiffness_n_per_m / stiff_messenger_support_n_per_m - 1;
  return 20 * request.speed_kmh / 100 * (1 - 0.4 * tension + 0.1 * aerodynamic + 0.02 * supports);
}

struct InputEffectsTest : testing::Test {
  InputEffectsTest() {
    question.line = &line;
    question.pantographs.assign(
        2, {.model = sample_pantograph(), .static_force_n = 80, .behind_first_m = 0});
    for (RunningPantograph& one : question.pantographs) {
      one.model.aerodynamic_knuckle_leading_n_per_kmh2 = 0.001;
    }
    question.pantographs.back().behind_first_m = 20;
    question.to_kmh = 160;
    line.contact_wire.tension_n = data_tension_n;
    set_supports(stiff_messenger_support_n_per_m, true);
  }

  void set_supports(double n_per_m, bool stated) {
    for (Support& support : line.supports) {
      support.messenger_stiffness_n_per_m = n_per_m;
      support.messenger_stiffness_stated = stated;
    }
  }

  Rule& rule(const char* id) { return *std::ranges::find(rules.rules, std::string(id), &Rule::id); }

  /// The permitted speed with what it hangs on.
  PermittedSpeed looked_into(const RunSource& source) {
    auto permitted = permitted_speeds({question}, rules, source);
    EXPECT_TRUE(permitted);
    asked.clear();
    EXPECT_TRUE(find_what_speeds_hang_on({question}, rules, source, *permitted));
    return permitted->front();
  }

  ContactLine line = sample_line(20);
  RuleBook rules = built_in_rule_book();
  SpeedQuestion question;
  std::vector<SimulationRequest> asked;  ///< their lines are gone when the answer is there
  RunSource runs = [this](const std::vector<SimulationRequest>& requests) {
    std::vector<RunFigures> figures;
    for (const SimulationRequest& request : requests) {
      asked.push_back(request);
      figures.emplace_back();
      figures.back().wave_speed_kmh = 430;
      figures.back().pantographs = {{.mean_n = 80, .std_n = 1},
                                    {.mean_n = 80, .std_n = deviation(request)}};
    }
    return std::optional(figures);
  };
};

TEST_F(InputEffectsTest, TheTwoThatMoveTheFigureMostAreNamedWithItsRange) {
  const PermittedSpeed speed = looked_into(runs);
  EXPECT_EQ(speed.speed_kmh, 100);
  ASSERT_TRUE(speed.hangs_on);
  EXPECT_EQ(speed.hangs_on->speed_kmh, 101);
  EXPECT_EQ(speed.hangs_on->pantograph, 2);
  EXPECT_FALSE(speed.hangs_on->is_loss);
  EXPECT_NEAR(speed.hangs_on->figure, 20.2, 1e-9);
  ASSERT_EQ(speed.hangs_on->inputs.size(), 2U);
  // 5 % of tension: 2 % of deviation. 20 % of the aerodynamic factor: 2 % too, on a base that is
  // the same; the tension stands first in the list of inputs. Half the stiffness of supports: 1 %.
  EXPECT_EQ(speed.hangs_on->inputs[0].input, "the tension of the contact wire");
  EXPECT_EQ(speed.hangs_on->inputs[1].input, "the aerodynamic factor");
  for (const InputEffect& input : speed.hangs_on->inputs) {
    EXPECT_NEAR(input.least, 20.2 * 0.98, 1e-9);
    EXPECT_NEAR(input.greatest, 20.2 * 1.02, 1e-9);
  }
  EXPECT_EQ(in_words(*speed.hangs_on),
            "At 101 km/h the standard deviation of the force of pantograph 2 is 20.2 N, and hangs "
            "most on the tension of the contact wire (±5 %: 19.8 to 20.6 N) and on the aerodynamic "
            "factor (±20 %: 19.8 to 20.6 N). To be surer of this speed, measure these first.");
}

TEST_F(InputEffectsTest, ATighterToleranceMakesAnInputMatterLess) {
  rule("tolerances").numbers["tension_share"] = 0.01;
  rule("tolerances").numbers["support_stiffness_share"] = 0.8;
  const auto inputs = looked_into(runs).hangs_on->inputs;
  ASSERT_EQ(inputs.size(), 2U);
  EXPECT_EQ(inputs[0].input, "the aerodynamic factor");
  EXPECT_EQ(inputs[1].input, "the stiffness of the messenger supports");
  EXPECT_EQ(inputs[1].tolerance, "±80 %");
}

TEST_F(InputEffectsTest, SupportsThatAreNotStatedAreTakenStiffAndSoft) {
  // The stiff ones are worse, and with them the figure is that of the data.
  set_supports(0, false);
  rule("tolerances").numbers["tension_share"] = 0;
  const PermittedSpeed speed = looked_into(runs);
  ASSERT_TRUE(speed.by_supports);
  EXPECT_FALSE(speed.by_supports->soft_decides);
  const auto inputs = speed.hangs_on->inputs;
  ASSERT_EQ(inputs.size(), 2U);
  EXPECT_EQ(inputs[1].input, "the stiffness of the messenger supports");
  EXPECT_EQ(inputs[1].tolerance, "not stated, 50 to 500 kN/m");
  EXPECT_NEAR(inputs[1].greatest, 20.2, 1e-9);
  EXPECT_NEAR(inputs[1].least, 20.2 * (1 - 0.02 * 0.9), 1e-9);
}

TEST_F(InputEffectsTest, WhereSoftSupportsDecideInputsAreVariedOnThem) {
  const RunSource softer_is_worse = [](const std::vector<SimulationRequest>& requests) {
    std::vector<RunFigures> figures;
    for (const SimulationRequest& request : requests) {
      const bool soft =
          request.line->supports[1].messenger_stiffness_n_per_m == soft_messenger_support_n_per_m;
      figures.emplace_back();
      figures.back().wave_speed_kmh = 430;
      figures.back().pantographs.assign(
          2, {.mean_n = 80, .std_n = (soft ? 1.25 : 1) * deviation(request)});
    }
    return std::optional(figures);
  };
  set_supports(0, false);
  const PermittedSpeed speed = looked_into(softer_is_worse);
  ASSERT_TRUE(speed.by_supports && speed.hangs_on);
  EXPECT_TRUE(speed.by_supports->soft_decides);
  const auto inputs = speed.hangs_on->inputs;
  EXPECT_EQ(inputs[0].input, "the stiffness of the messenger supports");
  // From 1.25 × (1 − 0.018) of the stiff ones' figure down to it.
  EXPECT_NEAR(inputs[0].greatest / inputs[0].least, 1.25 * 0.982, 1e-9);
  EXPECT_EQ(inputs[1].input, "the tension of the contact wire");
  EXPECT_NEAR(inputs[1].greatest - inputs[1].least,
              0.04 * 1.25 * 20 * speed.hangs_on->speed_kmh / 100, 1e-9);
}

TEST_F(InputEffectsTest, LossIsToldInPercentOfTheTime) {
  const RunSource losing = [](const std::vector<SimulationRequest>& requests) {
    std::vector<RunFigures> figures;
    for (const SimulationRequest& request : requests) {
      figures.emplace_back();
      figures.back().wave_speed_kmh = 430;
      // More force, less loss: the static force is 80 N in the data.
      const double percent =
          request.speed_kmh < 100 ? 0 : 10 - 0.1 * (request.pantographs.back().static_force_n - 80);
      figures.back().pantographs.assign(
          2, {.mean_n = 80, .std_n = 1, .contact_loss_percent = percent});
    }
    return std::optional(figures);
  };
  const PermittedSpeed speed = looked_into(losing);
  EXPECT_EQ(speed.kind, RuleKind::contact_loss);
  ASSERT_TRUE(speed.hangs_on);
  EXPECT_TRUE(speed.hangs_on->is_loss);
  ASSERT_EQ(speed.hangs_on->inputs.size(), 1U) << "nothing else moves it";
  EXPECT_EQ(in_words(*speed.hangs_on),
            "At 100 km/h the contact loss of pantograph 1 is 10.00 %, and hangs most on the static "
            "force (±5 N: 9.50 to 10.50 %). To be surer of this speed, measure that first.");
}

TEST_F(InputEffectsTest, DropperLengthsAndPlacesOfSupportsAreDrawnAndNothingElseWithThem) {
  std::vector<double> dropper_m;
  std::vector<double> span_m;
  const RunSource looking = [&](const std::vector<SimulationRequest>& requests) {
    auto figures = runs(requests);
    for (std::size_t i = 0; i < requests.size(); ++i) {
      const Span& span = requests[i].line->spans[3];
      const double longer_m = span.droppers[1].length_deviation_m;
      if (longer_m != 0) {
        EXPECT_EQ(span.length_m, line.spans[3].length_m);
        dropper_m.push_back(longer_m);
      }
      if (span.length_m != line.spans[3].length_m) {
        EXPECT_EQ(longer_m, 0);
        span_m.push_back(span.length_m);
      }
      if (longer_m != 0 || span.length_m != line.spans[3].length_m) {
        EXPECT_EQ(requests[i].line->contact_wire.tension_deviation_n, 0);
        EXPECT_EQ(requests[i].pantographs.front().static_force_n, 80);
        (*figures)[i].pantographs.back().std_n += 10 * longer_m;
      }
    }
    return figures;
  };
  rule("tolerances").numbers["tension_share"] = 0.001;
  rule("tolerances").numbers["aerodynamic_share"] = 0.001;
  rule("tolerances").numbers["support_stiffness_share"] = 0;
  const PermittedSpeed speed = looked_into(looking);
  ASSERT_EQ(dropper_m.size(), 2U);
  EXPECT_NE(dropper_m[0], dropper_m[1]);
  ASSERT_EQ(span_m.size(), 2U);
  EXPECT_NE(span_m[0], span_m[1]);
  EXPECT_EQ(speed.hangs_on->inputs.front().input, "the lengths of the droppers");
  EXPECT_EQ(speed.hangs_on->inputs.front().tolerance, "±10 mm, drawn twice");
}

TEST_F(InputEffectsTest, RunsAreThoseOfTheScanAtTheSpeedThatFails) {
  rule("speed-by-mechanics").numbers["step_ms"] = 1.25;
  question.settings.weather = {.temperature_c = -5};
  question.settings.weather_given = true;
  looked_into(runs);
  // Two ends each of: both tensions, droppers, supports' places, static force, supports' stiffness,
  // aerodynamic factor. The sample line has no damping and no steady arms.
  EXPECT_EQ(asked.size(), 14U);
  for (const SimulationRequest& request : asked) {
    EXPECT_EQ(request.speed_kmh, 101);
    EXPECT_EQ(request.settings.step_s, 0.00125);
    EXPECT_EQ(request.settings.weather.temperature_c, -5);
    EXPECT_EQ(request.pantographs.back().behind_first_m, 20);
  }
}

TEST_F(InputEffectsTest, DampingAndSteadyArmsAreLookedAtWhereThereAreSome) {
  line.stiffness_damping_s = 0.0001;
  for (Support& support : line.supports) {
    support.steady_arm_mass_kg = 1;
  }
  std::vector<double> damping;
  std::vector<double> mass_kg;
  const RunSource looking = [&](const std::vector<SimulationRequest>& requests) {
    for (const SimulationRequest& request : requests) {
      damping.push_back(request.line->stiffness_damping_s);
      mass_kg.push_back(request.line->supports[2].steady_arm_mass_kg);
    }
    return runs(requests);
  };
  looked_into(looking);
  EXPECT_EQ(asked.size(), 18U);
  EXPECT_NEAR(std::ranges::min(damping), 0.00005, 1e-12);
  EXPECT_NEAR(std::ranges::max(damping), 0.00015, 1e-12);
  EXPECT_NEAR(std::ranges::min(mass_kg), 0.7, 1e-12);
  EXPECT_NEAR(std::ranges::max(mass_kg), 1.3, 1e-12);
}

TEST_F(InputEffectsTest, OfStatisticalExtremesItIsTheDeviationThatTheyAreReckonedFrom) {
  // Mean − 3σ stays above 0 up to 26.7 N. Mean + 3σ is held to 150 N: 23.3 N.
  rule("force-deviation").on = false;
  question.supply = EnergySupply::ac_15kv;
  const PermittedSpeed by_minimum = looked_into(runs);
  EXPECT_EQ(by_minimum.kind, RuleKind::statistical_minimum);
  ASSERT_TRUE(by_minimum.hangs_on);
  EXPECT_NEAR(by_minimum.hangs_on->figure, 0.2 * by_minimum.hangs_on->speed_kmh, 1e-9);
  rule("statistical-maximum").numbers["limit_n"] = 150;
  const PermittedSpeed by_maximum = looked_into(runs);
  EXPECT_EQ(by_maximum.kind, RuleKind::statistical_maximum);
  ASSERT_TRUE(by_maximum.hangs_on);
  EXPECT_EQ(by_maximum.hangs_on->inputs.front().input, "the tension of the contact wire");
}

TEST_F(InputEffectsTest, NothingIsSaidWhereAnotherCriterionDecides) {
  // The wave speed's share: no figure of a run.
  rule("force-deviation").on = false;
  question.to_kmh = 400;
  const RunSource calm = [](const std::vector<SimulationRequest>& requests) {
    std::vector<RunFigures> figures(requests.size());
    for (RunFigures& one : figures) {
      one.wave_speed_kmh = 430;
      one.pantographs.assign(2, {.mean_n = 80, .std_n = 1});
    }
    return std::optional(figures);
  };
  const PermittedSpeed speed = looked_into(calm);
  EXPECT_EQ(speed.kind, RuleKind::wave_speed_share);
  EXPECT_FALSE(speed.hangs_on);
}

TEST_F(InputEffectsTest, NothingIsSaidWhereEverySpeedPassesOrTheRuleIsOff) {
  question.to_kmh = 90;
  EXPECT_FALSE(looked_into(runs).hangs_on);
  question.to_kmh = 160;
  rule("tolerances").on = false;
  EXPECT_FALSE(looked_into(runs).hangs_on);
  EXPECT_TRUE(asked.empty());
}

TEST_F(InputEffectsTest, AnEndWithoutARunIsPassedOver) {
  rule("tolerances").numbers["support_stiffness_share"] = 0;
  const RunSource refusing = [this](const std::vector<SimulationRequest>& requests) {
    auto figures = runs(requests);
    for (std::size_t i = 0; i < requests.size(); ++i) {
      if (requests[i].line->contact_wire.tension_deviation_n > 0) {
        (*figures)[i].pantographs.clear();
        (*figures)[i].refusals = {Sentence("no step will do")};
      }
    }
    return figures;
  };
  const auto inputs = looked_into(refusing).hangs_on->inputs;
  EXPECT_EQ(inputs[1].input, "the tension of the contact wire");
  EXPECT_NEAR(inputs[1].least, 20.2, 1e-9);
  EXPECT_NEAR(inputs[1].greatest, 20.2 * 1.02, 1e-9);
}

TEST_F(InputEffectsTest, ItIsNotToldWhereRunsAreStopped) {
  auto permitted = permitted_speeds({question}, rules, runs);
  const RunSource stopped = [](const std::vector<SimulationRequest>& /*requests*/) {
    return std::optional<std::vector<RunFigures>>();
  };
  EXPECT_FALSE(find_what_speeds_hang_on({question}, rules, stopped, *permitted));
}

// The mechanics themselves: what is said of the aerodynamic factor is what two runs with another
// factor in the pantograph's data say.
TEST_F(InputEffectsTest, OfRealRunsItIsWhatRunsWithOtherDataSay) {
  for (const char* other : {"tension_share", "dropper_length_mm", "static_force_n", "span_length_m",
                            "support_stiffness_share"}) {
    rule("tolerances").numbers[other] = 0;
  }
  rule("speed-by-mechanics").numbers["scan_from_kmh"] = 160;
  rule("speed-by-mechanics").numbers["edge_kmh"] = 20;
  question.to_kmh = 260;
  const PermittedSpeed speed = looked_into(computed_runs(1));
  ASSERT_TRUE(speed.hangs_on) << speed.criterion << ' ' << speed.text;
  ASSERT_EQ(speed.hangs_on->inputs.size(), 1U);
  const InputEffect& said = speed.hangs_on->inputs.front();
  EvaluatedLines lines(static_cast<int>(*number_of(mechanics_rule(rules), "evaluated_spans")));
  std::vector<double> deviations;
  for (const double factor_n_per_kmh2 : {0.0008, 0.001, 0.0012}) {
    SimulationRequest request;
    request.line = lines.line_for(line, 20);
    request.pantographs = question.pantographs;
    for (RunningPantograph& one : request.pantographs) {
      one.model.aerodynamic_knuckle_leading_n_per_kmh2 = factor_n_per_kmh2;
    }
    request.speed_kmh = speed.hangs_on->speed_kmh;
    request.settings.step_s = 0.002;
    const SimulationOutcome outcome = simulate(request);
    ASSERT_TRUE(outcome.result);
    deviations.push_back(
        outcome.result->pantographs[static_cast<std::size_t>(speed.pantograph) - 1].std_n);
  }
  EXPECT_NEAR(said.least, std::ranges::min(deviations), 1e-9);
  EXPECT_NEAR(said.greatest, std::ranges::max(deviations), 1e-9);
  EXPECT_GT(said.greatest, said.least + 0.01);
}

}  // namespace
}  // namespace panup
