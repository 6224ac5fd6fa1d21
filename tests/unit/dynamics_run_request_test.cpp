#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "dynamics/simulate.h"
#include "dynamics_sample_line.h"

namespace panup {

namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
constexpr double endless = std::numeric_limits<double>::infinity();

/// All refusals in one text; empty if there is a result.
#define EXPECT_REFUSED(request, words) \
  EXPECT_NE(refusal_of(request).find(words), std::string::npos) << "'" << refusal_of(request) << "'"

TEST(RunRequest, NeedsASpeedAboveZero) {
  const ContactLine line = sample_line(10);
  for (const double speed : {0.0, -50.0, not_a_number, endless}) {
    EXPECT_REFUSED(sample_request(line, speed), "the speed is ");
  }
}

TEST(RunRequest, RefusesTheWaveSpeedAndNamesIt) {
  const ContactLine line = sample_line(12);
  // √(20000 N / 1.35 kg/m) = 121.7 m/s
  for (const double speed : {438.2, 500.0, 2000.0}) {
    EXPECT_REFUSED(sample_request(line, speed), "wave speed of the contact wire, 438 km/h");
  }
}

TEST(RunRequest, RefusesTheWaveSpeedOfTheTensionInTheWeather) {
  ContactLine line = sample_line(10);
  line.termination = Termination::fixed;
  for (Wire* wire : {&line.contact_wire, &line.messenger_wire}) {
    wire->axial_stiffness_n = 15e6;
    wire->thermal_expansion_per_k = 1.7e-5;
  }
  SimulationRequest request = sample_request(line, 400);
  request.settings.weather_given = true;
  request.settings.weather.temperature_c = 35;
  EXPECT_REFUSED(request, "not below the wave speed");
  request.settings.weather.temperature_c = 10;
  EXPECT_EQ(refusal_of(request), "");
}

TEST(RunRequest, WarnsAboveSeventyPercentOfTheWaveSpeed) {
  const ContactLine line = sample_line(11);
  const SimulationOutcome fast = simulate(sample_request(line, 320));
  ASSERT_TRUE(fast.result);
  ASSERT_EQ(fast.result->warnings.size(), 1U);
  EXPECT_NE(fast.result->warnings[0].text.said().find("73 %"), std::string::npos)
      << fast.result->warnings[0].text.said();
  EXPECT_NE(fast.result->warnings[0].text.said().find("70 %"), std::string::npos)
      << fast.result->warnings[0].text.said();
  // √(20000 N / 1.35 kg/m) = 438.2 km/h
  EXPECT_EQ(fast.result->warnings[0].text.said(),
            "The speed is 73 % of the contact wire's wave speed of 438 km/h; EN 50119 allows 70 % "
            "(from memory).");
  const SimulationOutcome usual = simulate(sample_request(line, 300));
  ASSERT_TRUE(usual.result);
  EXPECT_TRUE(usual.result->warnings.empty());
}

TEST(RunRequest, RefusesALineTooShortForTheTrain) {
  const ContactLine line = sample_line(10);
  SimulationRequest request = sample_request(line, 144);
  EXPECT_EQ(refusal_of(request), "");
  add_pantograph(request, 100);
  EXPECT_REFUSED(request, "too short");
}

TEST(RunRequest, RefusesAStretchThatTheLineDoesNotHold) {
  const ContactLine line = sample_line(10);
  SimulationRequest request = sample_request(line, 144);
  request.settings.from_m = 100;
  EXPECT_REFUSED(request, "not clear of the start");
  request = sample_request(line, 144);
  request.settings.to_m = 480;
  EXPECT_REFUSED(request, "can be followed to 471.0 m");
}

TEST(RunRequest, NeedsNumbersForTheStretch) {
  const ContactLine line = sample_line(10);
  for (const double value : {not_a_number, endless, -endless}) {
    SimulationRequest request = sample_request(line, 144);
    request.settings.from_m = value;
    EXPECT_NE(refusal_of(request), "") << value;
    request = sample_request(line, 144);
    request.settings.to_m = value;
    EXPECT_NE(refusal_of(request), "") << value;
  }
}

TEST(RunRequest, TakesOneToEightPantographs) {
  const ContactLine line = sample_line(12);
  SimulationRequest request = sample_request(line, 144);
  request.pantographs.clear();
  EXPECT_REFUSED(request, "0 pantographs are given; 1 to 8");
  request = sample_request(line, 144);
  for (int i = 1; i < 8; ++i) {
    add_pantograph(request, 3 * i);
  }
  EXPECT_EQ(refusal_of(request), "");
  add_pantograph(request, 24);
  EXPECT_REFUSED(request, "9 pantographs are given; 1 to 8");
}

TEST(RunRequest, RefusesPantographsTooCloseOrOutOfOrder) {
  const ContactLine line = sample_line(10);
  for (const double behind : {0.0, 0.99, -20.0}) {
    SimulationRequest request = sample_request(line, 144);
    add_pantograph(request, behind);
    EXPECT_REFUSED(request, "pantographs 1 and 2 are") << behind;
  }
  SimulationRequest request = sample_request(line, 144);
  add_pantograph(request, 20);
  add_pantograph(request, 10);
  EXPECT_REFUSED(request, "pantographs 2 and 3 are -10 m apart");
  request = sample_request(line, 144);
  request.pantographs[0].behind_first_m = 2;
  EXPECT_REFUSED(request, "the first pantograph's distance behind itself is not 0");
}

TEST(RunRequest, NeedsNumbersForForcesAndDistances) {
  const ContactLine line = sample_line(10);
  for (const double value : {not_a_number, endless}) {
    SimulationRequest request = sample_request(line, 144);
    request.pantographs[0].static_force_n = value;
    EXPECT_REFUSED(request, "not a number");
    request = sample_request(line, 144);
    add_pantograph(request, value);
    EXPECT_REFUSED(request, "not a number");
  }
}

TEST(RunRequest, NeedsOneToFourMasses) {
  const ContactLine line = sample_line(10);
  SimulationRequest request = sample_request(line, 144);
  request.pantographs[0].model.masses.clear();
  EXPECT_REFUSED(request, "0 masses; 1 to 4");
  request.pantographs[0].model.masses.assign(5, {5, 1000, 10});
  EXPECT_REFUSED(request, "5 masses; 1 to 4");
  request.pantographs[0].model.masses.assign(4, {5, 1000, 10});
  EXPECT_EQ(refusal_of(request), "");
  request.pantographs[0].model.masses.assign(1, {15, 60, 90});
  EXPECT_EQ(refusal_of(request), "");
}

TEST(RunRequest, NamesAGridThatIsStableWhereTheOneGivenIsNot) {
  const ContactLine line = sample_line(10);
  SimulationRequest request = sample_request(line, 144);
  request.settings.step_s = 0.002;
  request.settings.grid_m = 0.1;
  const std::string reason = refusal_of(request);
  ASSERT_NE(reason.find("a step of 2 ms is not stable on a grid of 0.1 m"), std::string::npos)
      << reason;
  const std::size_t may_be = reason.find("may be ");
  ASSERT_NE(may_be, std::string::npos) << reason;
  request.settings.grid_m = std::stod(reason.substr(may_be + 7));
  EXPECT_EQ(refusal_of(request), "") << "its advice holds";
}

TEST(RunRequest, RefusesStepsAndGridsOutOfRange) {
  const ContactLine line = sample_line(10);
  for (const double step : {0.0, -0.001, 0.0051, not_a_number}) {
    SimulationRequest request = sample_request(line, 144);
    request.settings.step_s = step;
    EXPECT_REFUSED(request, "the step is ");
  }
  for (const double grid : {0.0, -0.2, 1.01, not_a_number}) {
    SimulationRequest request = sample_request(line, 144);
    request.settings.grid_m = grid;
    EXPECT_REFUSED(request, "the grid's spacing is ");
  }
}

TEST(RunRequest, RefusesAStepTooLongForCloseDroppers) {
  ContactLine line = sample_line(10);
  line.spans[2].droppers[2].at_m = 16.2;
  SimulationRequest request = sample_request(line, 144);
  EXPECT_EQ(refusal_of(request), "");
  request.settings.step_s = 0.005;
  EXPECT_REFUSED(request, "the droppers at 115.00 m and 116.20 m");
}

TEST(RunRequest, RefusesALineThatCannotHang) {
  ContactLine line = sample_line(10);
  line.messenger_wire.tension_n = 500;
  EXPECT_REFUSED(sample_request(line, 144), "comes down to the contact wire");
}

TEST(RunRequest, SaysAllThatIsWrongAtOnce) {
  const ContactLine line = sample_line(10);
  SimulationRequest request = sample_request(line, -1);
  add_pantograph(request, 0.5);
  request.settings.step_s = 1;
  EXPECT_EQ(simulate(request).refusals.size(), 3U);
}

void expect_numbers(const SimulationResult& result) {
  for (const PantographRun& run : result.pantographs) {
    for (const double figure :
         {run.mean_n, run.std_n, run.statistical_max_n, run.statistical_min_n, run.max_n, run.min_n,
          run.contact_loss_percent, run.longest_contact_loss_ms, run.highest_head_m,
          run.lowest_head_m}) {
      EXPECT_TRUE(std::isfinite(figure));
    }
  }
  EXPECT_TRUE(std::isfinite(result.max_support_uplift_mm));
  EXPECT_TRUE(std::isfinite(result.max_span_uplift_mm));
  EXPECT_TRUE(std::isfinite(result.energy.relative_error()));
}

TEST(RunRequest, RefusesAPantographThatIsNotPressedUp) {
  const ContactLine line = sample_line(10);
  for (const double force : {0.0, -80.0, -5000.0}) {
    SimulationRequest request = sample_request(line, 144);
    request.pantographs[0].static_force_n = force;
    EXPECT_NE(refusal_of(request).find("does not rise"), std::string::npos) << force;
  }
}

TEST(RunRequest, RefusesAForceBeyondAllSenseOrGivesNumbers) {
  const ContactLine line = sample_line(10);
  for (const double force : {1e4, 1e6, 1e30, 1e300}) {
    SimulationRequest request = sample_request(line, 144);
    request.pantographs[0].static_force_n = force;
    const SimulationOutcome outcome = simulate(request);
    ASSERT_NE(outcome.result.has_value(), !outcome.refusals.empty()) << force;
    if (outcome.result) {
      expect_numbers(*outcome.result);
    }
  }
}

TEST(RunRequest, GivesNumbersCloseToTheWaveSpeed) {
  for (const bool everything : {false, true}) {
    const ContactLine line = everything ? sample_line_with_everything(12) : sample_line(12);
    const SimulationOutcome outcome = simulate(sample_request(line, 425));
    ASSERT_TRUE(outcome.result) << (outcome.refusals.empty() ? "" : outcome.refusals[0].said());
    expect_numbers(*outcome.result);
    EXPECT_LT(outcome.result->pantographs[0].max_n, 5000) << everything;
  }
}

}  // namespace

}  // namespace panup
