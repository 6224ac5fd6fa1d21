#include <gtest/gtest.h>

#include <algorithm>

#include "dynamics/step_choice.h"
#include "dynamics_results.h"
#include "dynamics_sample_line.h"

namespace panup {

namespace {

bool doubts(const SimulationResult& result, Doubt doubt) {
  return std::ranges::find(result.warnings, doubt, &Warning::doubt) != result.warnings.end();
}

TEST(StepChoice, TakesTheUsualStepForUsualContactDroppersAndSprings) {
  const ContactLine line = sample_line(11);
  EXPECT_EQ(result_of(sample_request(line, 160)).step_s, default_step_s);
  const ContactLine bending = sample_line_with_everything(11);
  EXPECT_EQ(result_of(sample_request(bending, 160)).step_s, default_step_with_bending_s);
}

TEST(StepChoice, TakesAShorterOneWhereDroppersStandInPairs) {
  ContactLine line = sample_line(11);
  for (Span& span : line.spans) {
    const Dropper like = span.droppers.front();
    span.droppers.clear();
    for (const double at : {5.25, 5.75, 15.0, 15.5, 25.0, 25.5, 34.5, 35.0, 44.25, 44.75}) {
      span.droppers.push_back(like);
      span.droppers.back().at_m = at;
    }
  }
  SimulationRequest request = sample_request(line, 160);
  const SimulationResult chosen = result_of(request);
  EXPECT_LT(chosen.step_s, 0.001);
  EXPECT_GT(chosen.step_s, 0.0007);
  request.settings.step_s = 0.0006;
  EXPECT_NEAR(result_of(request).pantographs[0].std_n, chosen.pantographs[0].std_n, 0.1);
  request.settings.step_s = default_step_s;
  EXPECT_NE(refusal_of(request).find("less than four cells"), std::string::npos);
}

TEST(StepChoice, FollowsFromTheContactSoThatNoContactIsLostThatIsKept) {
  const ContactLine line = sample_line(11);
  SimulationRequest request = sample_request(line, 250);
  request.pantographs[0].model.contact_stiffness_n_per_m = 500000;
  const SimulationResult chosen = result_of(request);
  // 0.7 of Z/k, Z = 2 √(20000 N × 1.35 kg/m).
  EXPECT_NEAR(chosen.step_s, 0.7 * 328.6 / 500000, 1e-5);
  request.settings.step_s = 0.0002;
  const SimulationResult fine = result_of(request);
  EXPECT_NEAR(chosen.pantographs[0].contact_loss_percent, fine.pantographs[0].contact_loss_percent,
              0.2);
  EXPECT_NEAR(chosen.pantographs[0].std_n, fine.pantographs[0].std_n,
              0.02 * fine.pantographs[0].std_n);
}

TEST(StepChoice, RefusesAStepThatIsGivenAndMakesTheHeadChatter) {
  const ContactLine line = sample_line(11);
  SimulationRequest request = sample_request(line, 250);
  request.pantographs[0].model.contact_stiffness_n_per_m = 500000;
  request.settings.step_s = 0.0015;
  const std::string refusal = refusal_of(request);
  EXPECT_NE(refusal.find("a step of 1.5 ms is too long"), std::string::npos) << refusal;
  EXPECT_NE(refusal.find("contact loss"), std::string::npos) << refusal;
  request.settings.balance_energy = false;
  EXPECT_EQ(refusal_of(request), refusal) << "a run for a criterion is guarded alike";
  request.settings.guarded = false;
  EXPECT_EQ(result_of(request).step_s, 0.0015) << "a search takes it as it is";
}

TEST(StepChoice, SaysThatDroppersMissEnergyWhereTheFiguresStandStill) {
  ContactLine line = sample_line(10);
  for (Span& span : line.spans) {
    span.length_m = 60;
    span.droppers.clear();
    for (const double at : {5.0, 10.5, 17.0, 23.5, 30.0, 36.5, 43.0, 49.5, 55.0}) {
      span.droppers.push_back({.at_m = at, .stiffness_n_per_m = 1e7});
    }
  }
  SimulationRequest request = sample_request(line, 250);
  request.pantographs[0].static_force_n = 120;
  const SimulationResult result = result_of(request);
  EXPECT_LT(result.step_s, default_step_s);
  EXPECT_TRUE(doubts(result, Doubt::energy));
  const auto said = std::ranges::find(result.warnings, Doubt::energy, &Warning::doubt);
  const std::string text = said->text.said();
  EXPECT_TRUE(text.ends_with("forces in droppers may not.")) << text;
  request.settings.balance_energy = false;
  EXPECT_TRUE(doubts(result_of(request), Doubt::energy));
}

TEST(StepChoice, RefusesARunOfMoreStepsThanMemoryHolds) {
  const ContactLine line = sample_line(60);
  SimulationRequest request = sample_request(line, 0.5);
  request.settings.step_s = 0.0001;
  const std::string refusal = refusal_of(request);
  EXPECT_NE(refusal.find("million steps of one pantograph"), std::string::npos) << refusal;
}

TEST(StepChoice, RefusesAFinerGridThanAnyStepHas) {
  ContactLine line = sample_line(10);
  for (Span& span : line.spans) {
    span.droppers.push_back(span.droppers.back());
    span.droppers.back().at_m += 0.02;
  }
  const std::string refusal = refusal_of(sample_request(line, 160));
  EXPECT_NE(refusal.find("less than four cells"), std::string::npos) << refusal;
}

// Some 350 m at 0.1 km/h in steps of 1.5 ms are eight million; memory holds fifty.
TEST(StepChoice, CountsTheStepsOfEveryPantograph) {
  const ContactLine line = sample_line(11);
  SimulationRequest request = sample_request(line, 0.1);
  request.settings.step_s = 0.0015;
  request.settings.grid_m = 1;
  request.settings.stopped = [] { return true; };
  for (int i = 1; i < 8; ++i) {
    request.pantographs.push_back(request.pantographs[0]);
    request.pantographs.back().behind_first_m = 3 * i;
  }
  const std::string refusal = refusal_of(request);
  EXPECT_NE(refusal.find("million steps of one pantograph"), std::string::npos) << refusal;
}

TEST(StepChoice, FollowsFromTheStiffestContactWhicheverPantographHasIt) {
  const ContactLine line = sample_line(11);
  const auto state = std::get<StaticState>(static_state(line, {.temperature_c = 10}, 2, false));
  SimulationRequest request = sample_request(line, 160);
  request.pantographs.push_back(request.pantographs[0]);
  for (const std::size_t stiff : {0U, 1U}) {
    SimulationRequest one = request;
    one.pantographs[stiff].model.contact_stiffness_n_per_m = 500000;
    EXPECT_NEAR(step_by_contact(one, line, state), 0.7 * 328.6 / 500000, 1e-6);
    one.pantographs[stiff].model.contact_stiffness_n_per_m = 1e9;
    EXPECT_EQ(step_by_contact(one, line, state), shortest_chosen_step_s);
  }
}

TEST(StepChoice, IsThatOfBendingWhicheverWireBends) {
  for (const bool contact : {false, true}) {
    ContactLine line = sample_line(11);
    (contact ? line.contact_wire : line.messenger_wire).bending_stiffness_nm2 = 60;
    const auto state = std::get<StaticState>(static_state(line, {.temperature_c = 10}, 2, false));
    EXPECT_EQ(step_by_contact(sample_request(line, 160), line, state), default_step_with_bending_s);
  }
}

// Z = 2 √(20000 N × 1.35 kg/m) = 328.6 kg/s below, 2 √(16000 N × 1.07 kg/m) = 261.7 kg/s above.
TEST(StepChoice, DoubtsADropperByTheTwoWiresThatItTies) {
  const double greatest_n_per_m = 5 / 0.001 / (1 / 328.6 + 1 / 261.7);
  for (const double share : {0.99, 1.01}) {
    ContactLine line = sample_line(11);
    line.spans[4].droppers[1].stiffness_n_per_m = share * greatest_n_per_m;
    const auto state = std::get<StaticState>(static_state(line, {.temperature_c = 10}, 2, false));
    EXPECT_EQ(is_doubtful(sample_request(line, 160), line, state, 0.001), share > 1) << share;
  }
}

// Two masses of 7 and 14 kg swing against each other with √(k (1/7 + 1/14)) radians a second.
TEST(StepChoice, DoubtsAHeadByTheTwoMassesThatSwing) {
  const ContactLine line = sample_line(11);
  const auto state = std::get<StaticState>(static_state(line, {.temperature_c = 10}, 2, false));
  const double greatest_n_per_m = 0.4 / 0.001 * 0.4 / 0.001 / (1.0 / 7 + 1.0 / 14);
  for (const double share : {0.98, 1.02}) {
    SimulationRequest request = sample_request(line, 160);
    request.pantographs[0].model.masses[0].stiffness_n_per_m = share * greatest_n_per_m;
    EXPECT_EQ(is_doubtful(request, line, state, 0.001), share > 1) << share;
  }
}

TEST(StepChoice, LetsGreatFiguresMoveByAShareAndLooksAtEveryPantograph) {
  SimulationResult before;
  before.step_s = 0.001;
  PantographRun run;
  run.mean_n = 200;
  run.std_n = 60;
  run.contact_loss_percent = 10;
  before.pantographs = {run, run};
  before.max_support_uplift_mm = 100;
  SimulationResult after = before;
  after.step_s = 0.0006;
  after.pantographs[1].mean_n = 201.9;
  after.pantographs[1].std_n = 61.7;
  after.pantographs[1].contact_loss_percent = 10.9;
  after.max_support_uplift_mm = 103.9;
  EXPECT_FALSE(moved_figures(before, after));
  after.pantographs[1].std_n = 62.5;
  EXPECT_EQ(moved_figures(before, after)->said(),
            "standard deviation of pantograph 2 60.0 N in a step of 1 ms, 62.5 N in one of 0.6 ms");
}

TEST(StepChoice, HoldsFiguresAgainstEachOther) {
  SimulationResult before;
  before.step_s = 0.001;
  PantographRun& run = before.pantographs.emplace_back();
  run.mean_n = 100;
  run.std_n = 25;
  run.contact_loss_percent = 0.1;
  before.max_support_uplift_mm = 50;
  SimulationResult after = before;
  after.step_s = 0.0006;
  EXPECT_FALSE(moved_figures(before, after));
  after.pantographs[0].std_n = 26;
  EXPECT_EQ(moved_figures(before, after)->said(),
            "standard deviation 25.0 N in a step of 1 ms, 26.0 N in one of 0.6 ms");
  after = before;
  after.pantographs[0].contact_loss_percent = 0.5;
  EXPECT_NE(moved_figures(before, after)->said().find("contact loss 0.1 %"), std::string::npos);
  after = before;
  after.pantographs[0].mean_n = 102;
  EXPECT_NE(moved_figures(before, after)->said().find("mean contact force 100.0 N"),
            std::string::npos);
  after = before;
  after.max_support_uplift_mm = 53;
  EXPECT_NE(moved_figures(before, after)->said().find("uplift at supports 50.0 mm"),
            std::string::npos);
}

TEST(StepChoice, DoubtsWhatIsStifferThanAStepCanFollow) {
  ContactLine line = sample_line(11);
  SimulationRequest request = sample_request(line, 250);
  const auto state = std::get<StaticState>(static_state(line, {.temperature_c = 10}, 2, false));
  EXPECT_FALSE(is_doubtful(request, line, state, 0.002));
  ContactLine light = line;
  light.contact_wire.mass_kg_per_m = 0.89;
  light.messenger_wire.mass_kg_per_m = 0.6;
  for (Dropper& dropper : light.spans[3].droppers) {
    dropper.stiffness_n_per_m = 150000;
  }
  StaticState slack = state;
  slack.contact_tension_n = slack.messenger_tension_n = 10000;
  EXPECT_FALSE(is_doubtful(request, light, slack, 0.002)) << "a plan's step on a common line";
  request.pantographs[0].model.contact_stiffness_n_per_m = 200000;
  EXPECT_TRUE(is_doubtful(request, line, state, 0.002));
  request.pantographs[0].model.contact_stiffness_n_per_m = 50000;
  request.pantographs[0].model.masses.back().stiffness_n_per_m = 1e6;
  EXPECT_TRUE(is_doubtful(request, line, state, 0.002)) << "a spring on the roof";
  request.pantographs[0].model.masses.back().stiffness_n_per_m = 60;
  line.spans[3].droppers[1].stiffness_n_per_m = 1e6;
  EXPECT_TRUE(is_doubtful(request, line, state, 0.002)) << "a dropper";
}

EnergyBalance missing(double joule) {
  EnergyBalance energy;
  energy.peak_stored_j = 10;
  energy.dissipated_j = 10;
  energy.missing_j = joule;
  return energy;
}

TEST(StepChoice, DoubtsARunThatMissesMuchOfItsEnergy) {
  EXPECT_FALSE(is_doubtful(missing(0.7)));
  EXPECT_TRUE(is_doubtful(missing(-0.9)));
}

}  // namespace

}  // namespace panup
