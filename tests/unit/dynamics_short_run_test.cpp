#include <gtest/gtest.h>

#include <cmath>

#include "dynamics/conductor_state.h"
#include "dynamics/simulate.h"
#include "dynamics_sample_line.h"

/// Runs of a second or two: what must hold of every run, at little cost.

namespace panup {

namespace {

/// Fourteen spans of 50 m, of which 250 to 300 m are evaluated; in steps of 4 ms.
SimulationRequest short_request(const ContactLine& line, double speed_kmh) {
  SimulationRequest request = sample_request(line, speed_kmh);
  request.settings.step_s = 0.004;
  request.settings.from_m = 250;
  request.settings.to_m = 300;
  return request;
}

// Work put in is what is stored and what is lost, to a thousandth of the greatest that is stored.
TEST(ShortRun, BalancesItsEnergy) {
  ContactLine line = sample_line_with_everything(10);
  line.mass_damping_per_s = 0.05;
  SimulationRequest request = short_request(line, 220);
  request.settings.step_s.reset();
  const SimulationOutcome outcome = simulate(request);
  ASSERT_TRUE(outcome.result) << outcome.refusals.front().said();
  const EnergyBalance& energy = outcome.result->energy;
  EXPECT_GT(energy.peak_stored_j, 0.1);
  EXPECT_NEAR(energy.work_of_frames_j + energy.work_of_traction_j,
              energy.stored_j + energy.dissipated_j + energy.missing_j, 1e-9);
  EXPECT_LT(std::abs(energy.relative_error()), 0.001);
}

TEST(ShortRun, TheForceOnTheFramesRisesWithTheWayOfTheFirst) {
  // The second starts 130 m behind: while the first is evaluated, its frame bears the whole force.
  const ContactLine line = sample_line(20);
  SimulationRequest request = sample_request(line, 100);
  request.settings.step_s = 0.004;
  request.settings.from_m = 350;
  request.settings.to_m = 450;
  request.pantographs.push_back(request.pantographs.front());
  request.pantographs.back().behind_first_m = 130;
  const SimulationOutcome outcome = simulate(request);
  ASSERT_TRUE(outcome.result) << outcome.refusals.front().said();
  EXPECT_NEAR(outcome.result->pantographs[0].mean_n, 78, 3);
  EXPECT_NEAR(outcome.result->pantographs[1].mean_n, 78, 3);
}

TEST(ShortRun, AHeadOrAWireFarFromItsPlaceIsNoResult) {
  const ContactLine line = sample_line(10);
  const std::string diverged =
      "the run diverged and has no result: wire or pantograph left all sense";
  // 100 kN on a wire of some 0.5 mm/N lift it by tens of metres.
  SimulationRequest request = short_request(line, 120);
  request.pantographs.front().static_force_n = 1e5;
  EXPECT_EQ(refusal_of(request), diverged);
  // On a contact of 4 N/m, 80 N drive the head 20 m through the wire.
  request = short_request(line, 120);
  request.pantographs.front().model.contact_stiffness_n_per_m = 4;
  request.pantographs.front().model.masses = {{7, 6000, 30}, {14, 0.5, 1}};
  EXPECT_EQ(refusal_of(request), diverged);
}

TEST(ShortRun, ThatIsStoppedSaysSoAndNotThatItDiverged) {
  const ContactLine line = sample_line(10);
  SimulationRequest request = short_request(line, 120);
  request.settings.stopped = [] { return true; };
  EXPECT_EQ(refusal_of(request), "the run was stopped");
}

TEST(ShortRun, OfAStiffContactPressesLikeOneOfASoftOne) {
  // At low speed the mean force is the static force, whatever the contact.
  const ContactLine line = sample_line(10);
  for (const double stiffness : {20000.0, 50000.0, 200000.0}) {
    SimulationRequest request = short_request(line, 80);
    request.settings.step_s = 0.002;
    request.pantographs.front().model.contact_stiffness_n_per_m = stiffness;
    const SimulationOutcome outcome = simulate(request);
    ASSERT_TRUE(outcome.result) << outcome.refusals.front().said();
    EXPECT_NEAR(outcome.result->pantographs[0].mean_n, 80, 0.3) << stiffness;
    EXPECT_EQ(outcome.result->pantographs[0].contact_loss_percent, 0) << stiffness;
    EXPECT_LT(outcome.result->pantographs[0].std_n, 12) << stiffness;
  }
}

// As the tension changes by the state-change equation, over the mean distance of droppers: 50 m by
// six, for five droppers a span.
TEST(FixedTermination, OfTheContactWireTurnsOnTheDistanceOfDroppers) {
  ContactLine line = sample_line(4);
  line.termination = Termination::fixed;
  for (Wire* const wire : {&line.contact_wire, &line.messenger_wire}) {
    wire->axial_stiffness_n = 15e6;
    wire->thermal_expansion_per_k = 1.7e-5;
  }
  LineWeather iced;
  iced.temperature_c = -10;
  iced.ice_on_contact_wire_kg_per_m = 2;
  const auto hung = static_state(line, iced, 11, false);
  ASSERT_TRUE(std::holds_alternative<StaticState>(hung));
  const double g = 9.80665;
  const auto tension =
      tension_after(line.contact_wire, {.load_n_per_m = 1.35 * g, .temperature_c = 10},
                    {.load_n_per_m = 3.35 * g, .temperature_c = -10}, 50.0 / 6);
  EXPECT_NEAR(std::get<StaticState>(hung).contact_tension_n, *tension, 1e-6);
  const auto over_a_span =
      tension_after(line.contact_wire, {.load_n_per_m = 1.35 * g, .temperature_c = 10},
                    {.load_n_per_m = 3.35 * g, .temperature_c = -10}, 50);
  EXPECT_GT(std::abs(*tension - *over_a_span), 100) << "or there is nothing to be seen";
}

// A string's sag below the line of its supports does not hang on how high each of them is.
TEST(Sag, OfAMessengerWireIsBelowTheLineOfItsSupports) {
  const auto sags = [](double second_encumbrance_m) {
    ContactLine line = sample_line(3);
    for (Support& support : line.supports) {
      support.messenger_stiffness_n_per_m = 1e9;
    }
    line.supports[1].encumbrance_m = second_encumbrance_m;
    line.supports[2].encumbrance_m = second_encumbrance_m + 0.2;
    return std::get<StaticState>(static_state(line, {}, 51, false)).messenger_sag_m;
  };
  const std::vector<double> level = sags(1.2);
  const std::vector<double> raised = sags(1.6);
  ASSERT_EQ(level.size(), 3U);
  for (std::size_t i = 0; i < 3; ++i) {
    EXPECT_NEAR(level[i], raised[i], 1e-4) << i;
    EXPECT_GT(level[i], 0.3) << i;
  }
}

}  // namespace

}  // namespace panup
