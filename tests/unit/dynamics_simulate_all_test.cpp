#include <gtest/gtest.h>

#include "dynamics/simulate.h"
#include "dynamics_sample_line.h"

namespace panup {

namespace {

/// What tells runs apart, to the last bit.
std::vector<double> figures_of(const SimulationOutcome& outcome) {
  if (!outcome.result) {
    return {};
  }
  const PantographRun& run = outcome.result->pantographs.front();
  return {run.mean_n, run.std_n, run.max_n, run.min_n, outcome.result->max_support_uplift_mm};
}

ContactLine fixed_line() {
  ContactLine line = sample_line(9);
  line.termination = Termination::fixed;
  for (Wire* const wire : {&line.contact_wire, &line.messenger_wire}) {
    wire->axial_stiffness_n = 15e6;
    wire->thermal_expansion_per_k = 1.7e-5;
  }
  return line;
}

TEST(SimulateAll, GivesEachRequestWhatItGetsByItselfWhateverTheWeather) {
  const ContactLine line = fixed_line();
  std::vector<SimulationRequest> requests(5, sample_request(line, 150));
  for (std::size_t i = 1; i < requests.size(); ++i) {
    requests[i].settings.weather_given = true;
  }
  requests[1].settings.weather.temperature_c = 30;
  requests[2].settings.weather.ice_on_contact_wire_kg_per_m = 0.2;
  requests[3].settings.weather.ice_on_messenger_wire_kg_per_m = 0.2;
  const std::vector<SimulationOutcome> all = simulate_all(requests, 1);
  ASSERT_EQ(all.size(), requests.size());
  for (std::size_t i = 0; i < requests.size(); ++i) {
    EXPECT_FALSE(figures_of(all[i]).empty());
    EXPECT_EQ(figures_of(all[i]), figures_of(simulate(requests[i]))) << i;
    for (std::size_t j = 0; j < i; ++j) {
      // At the reference temperature and without ice the line is as built, as without weather.
      EXPECT_EQ(figures_of(all[i]) == figures_of(all[j]), i == 4 && j == 0) << i << ' ' << j;
    }
  }
}

TEST(SimulateAll, WithoutWeatherALineIsAsBuiltWhateverItsReferenceTemperature) {
  const ContactLine usual = fixed_line();
  ContactLine warm = fixed_line();
  warm.reference_temperature_c = 25;
  EXPECT_EQ(figures_of(simulate(sample_request(warm, 150))),
            figures_of(simulate(sample_request(usual, 150))));
  SimulationRequest request = sample_request(warm, 150);
  request.settings.weather_given = true;
  request.settings.weather.temperature_c = 25;
  EXPECT_EQ(figures_of(simulate(request)), figures_of(simulate(sample_request(warm, 150))));
}

TEST(SimulateAll, ARefusedRequestSaysWhyAndHoldsUpNoOther) {
  const ContactLine line = sample_line(9);
  ContactLine loose = line;
  loose.messenger_wire.tension_n = 500;
  const auto all = simulate_all(
      {sample_request(loose, 150), sample_request(line, -1), sample_request(line, 150)}, 2);
  ASSERT_EQ(all.size(), 3U);
  ASSERT_FALSE(all[0].refusals.empty());
  EXPECT_NE(all[0].refusals[0].said().find("comes down to the contact wire"), std::string::npos);
  ASSERT_FALSE(all[1].refusals.empty());
  EXPECT_TRUE(all[2].result);
}

}  // namespace

}  // namespace panup
