#include <gtest/gtest.h>

#include <algorithm>

#include "dynamics_sample_line.h"

namespace panup {

namespace {

std::vector<Doubt> doubts_of(const SimulationRequest& request) {
  const SimulationOutcome outcome = simulate(request);
  std::vector<Doubt> doubts;
  if (!outcome.result) {
    ADD_FAILURE() << outcome.refusals.front().said();
    return doubts;
  }
  for (const Warning& warning : outcome.result->warnings) {
    doubts.push_back(warning.doubt);
  }
  return doubts;
}

TEST(Doubts, AreNoneOfAUsualRun) {
  const ContactLine line = sample_line(11);
  EXPECT_TRUE(doubts_of(sample_request(line, 160)).empty());
}

TEST(Doubts, AreSaidOfAMeanForceFarFromWhatPressesUp) {
  ContactLine line = sample_line(11);
  line.contact_wire_height_m = 5.5;
  SimulationRequest request = sample_request(line, 120);
  request.pantographs[0].model.static_force_at_height_m = 5.3;
  EXPECT_EQ(doubts_of(request), std::vector{Doubt::mean_force}) << "60 N/m over 0.2 m";
  request.pantographs[0].model.static_force_at_height_m = 5.45;
  EXPECT_TRUE(doubts_of(request).empty());
  request.pantographs[0].model.static_force_at_height_m = 5.3;
  request.pantographs[0].static_force_n = 150;
  EXPECT_TRUE(doubts_of(request).empty()) << "12 N of 150 N";
}

TEST(Doubts, AreSaidOfContactLostForMoreThanAFewPerCent) {
  ContactLine line = sample_line(14);
  line.contact_wire.tension_n = line.messenger_wire.tension_n = 10000;
  line.contact_wire.mass_kg_per_m = 0.89;
  line.messenger_wire.mass_kg_per_m = 0.6;
  SimulationRequest request = sample_request(line, 210);
  request.pantographs.push_back(request.pantographs[0]);
  request.pantographs[1].behind_first_m = 12;
  const auto doubts = doubts_of(request);
  EXPECT_TRUE(std::ranges::find(doubts, Doubt::contact_lost) != doubts.end());
}

TEST(Doubts, AreSaidOfAStaticForceOutsideThePublishedRange) {
  struct Case {
    EnergySupply supply;
    double least;
    double greatest;
  };
  for (const Case& one :
       {Case{EnergySupply::ac_15kv, 60, 90}, Case{EnergySupply::ac_25kv, 60, 90},
        Case{EnergySupply::dc_3kv, 90, 120}, Case{EnergySupply::dc_1500v, 70, 140}}) {
    EXPECT_FALSE(static_force_warning(one.supply, one.least));
    EXPECT_FALSE(static_force_warning(one.supply, one.greatest));
    for (const double force : {one.least - 1, one.greatest + 1}) {
      const auto warning = static_force_warning(one.supply, force);
      ASSERT_TRUE(warning);
      EXPECT_EQ(warning->doubt, Doubt::static_force);
    }
  }
}

TEST(Doubts, AreSaidWhereTheStiffnessOfMessengerSupportsIsNotStated) {
  ContactLine line = sample_line(11);
  for (Support& support : line.supports) {
    support.messenger_stiffness_stated = false;
  }
  const SimulationRequest request = sample_request(line, 200);
  const SimulationOutcome outcome = simulate(request);
  ASSERT_TRUE(outcome.result);
  ASSERT_EQ(outcome.result->warnings.size(), 1U);
  EXPECT_EQ(outcome.result->warnings[0].doubt, Doubt::support_stiffness);
  ASSERT_TRUE(outcome.result->other_supports);
  for (Support& support : line.supports) {
    support.messenger_stiffness_n_per_m = 50000;
    support.messenger_stiffness_stated = true;
  }
  const SimulationOutcome soft = simulate(request);
  ASSERT_TRUE(soft.result);
  EXPECT_FALSE(soft.result->other_supports);
  EXPECT_EQ(soft.result->pantographs[0].std_n,
            outcome.result->other_supports->pantographs[0].std_n);
  EXPECT_NE(soft.result->pantographs[0].std_n, outcome.result->pantographs[0].std_n);
}

TEST(Doubts, HaveNamesThatDiffer) {
  std::vector<std::string> names;
  for (int i = 0; i <= static_cast<int>(last_doubt); ++i) {
    names.emplace_back(name_of(static_cast<Doubt>(i)));
    EXPECT_FALSE(names.back().empty()) << i;
  }
  std::ranges::sort(names);
  EXPECT_EQ(std::ranges::unique(names).begin(), names.end());
}

}  // namespace

}  // namespace panup
