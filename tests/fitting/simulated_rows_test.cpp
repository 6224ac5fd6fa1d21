#include "fitting/simulated_rows.h"

#include <gtest/gtest.h>

#include <cmath>

#include "dynamics/evaluation.h"
#include "fitted_line.h"
#include "records/compare_record.h"

namespace panup {
namespace {

/// Two unlike pantographs on a line whose ends differ, once from either end, each at its own speed.
FitCase two_runs() {
  FitCase fit;
  fit.line = fitted_line();
  fit.line.spans.resize(14);
  fit.line.supports.resize(15);
  fit.line.spans.back().length_m -= 10;
  fit.line.spans.back().droppers.pop_back();
  fit.line.spans[9].droppers[2].stiffness_n_per_m *= 0.3;
  RunningPantograph rear = fitted_pantograph();
  rear.static_force_n = 65;
  rear.behind_first_m = 30;
  fit.pantographs = {fitted_pantograph(), rear};
  fit.quantities = {ModelInput::static_force};
  fit.runs = {{.falling = false, .speed_kmh = 120, .series = {}},
              {.falling = true, .speed_kmh = 150, .series = {}}};
  return fit;
}

/// The runs of a case as they would be asked for one by one.
SimulationResult run_of(const FitCase& fit, std::size_t run, double factor) {
  FitCase one = fit;
  multiply(ModelInput::static_force, factor, one.line, one.pantographs);
  const ContactLine met = fit.runs[run].falling ? mirrored(one.line) : one.line;
  SimulationRequest request;
  request.line = &met;
  request.pantographs = one.pantographs;
  request.speed_kmh = fit.runs[run].speed_kmh;
  request.settings.keep_trace = true;
  return simulate(request).result.value();
}

/// Rows at some steps of the run, and between that step and the next.
void add_rows(FitCase& fit, std::size_t run, const std::vector<std::size_t>& pantographs) {
  const SimulationResult result = run_of(fit, run, 1);
  for (const std::size_t p : pantographs) {
    FitSeries series{.pantograph = p, .rows = {}};
    const std::vector<double>& at_m = result.trace->pantographs[p].at_m;
    for (std::size_t i = 40; i + 1 < at_m.size(); i += 200) {
      series.rows.push_back({.at_m = at_m[i]});
      series.rows.push_back({.at_m = 0.25 * at_m[i] + 0.75 * at_m[i + 1]});
    }
    fit.runs[run].series.push_back(std::move(series));
  }
}

void expect_rows_of(const std::vector<double>& rows, std::size_t& next,
                    const std::vector<double>& force_n) {
  for (std::size_t i = 40; i + 1 < force_n.size(); i += 200) {
    ASSERT_LT(next + 1, rows.size());
    EXPECT_NEAR(rows[next++], force_n[i], 1e-6) << "step " << i;
    EXPECT_NEAR(rows[next++], 0.25 * force_n[i] + 0.75 * force_n[i + 1], 1e-6) << "step " << i;
  }
}

TEST(SimulatedRows, AreTheForceOfEachSetRunAndPantographAtTheirPlaces) {
  FitCase fit = two_runs();
  add_rows(fit, 0, {0, 1});
  add_rows(fit, 1, {1});
  const auto simulated = simulated_rows(fit, {{0}, {std::log(1.2)}});
  ASSERT_EQ(simulated.size(), 2U);
  for (const std::size_t set : {0U, 1U}) {
    ASSERT_TRUE(simulated[set]);
    ASSERT_EQ(simulated[set]->size(), all_rows(fit).size());
    const double factor = set == 0 ? 1 : 1.2;
    const SimulationResult first = run_of(fit, 0, factor);
    const SimulationResult second = run_of(fit, 1, factor);
    std::size_t next = 0;
    expect_rows_of(*simulated[set], next, first.trace->pantographs[0].filtered_force_n);
    expect_rows_of(*simulated[set], next, first.trace->pantographs[1].filtered_force_n);
    expect_rows_of(*simulated[set], next, second.trace->pantographs[1].filtered_force_n);
    EXPECT_EQ(next, simulated[set]->size());
  }
}

TEST(SimulatedRows, AreFilteredLikeTheRecord) {
  FitCase fit = two_runs();
  fit.low_pass_hz = 10;
  add_rows(fit, 0, {0});
  const auto simulated = simulated_rows(fit, {{0}});
  ASSERT_TRUE(simulated[0]);
  const SimulationResult run = run_of(fit, 0, 1);
  std::size_t next = 0;
  expect_rows_of(*simulated[0], next,
                 low_pass(run.trace->pantographs[0].contact_force_n, run.step_s, 10));
}

TEST(SimulatedRows, OfARunThatIsRefusedAreNone) {
  FitCase fit = two_runs();
  add_rows(fit, 0, {0});
  fit.runs[1].speed_kmh = 500;  // faster than the waves
  EXPECT_FALSE(simulated_rows(fit, {{0}})[0]);
}

}  // namespace
}  // namespace panup
