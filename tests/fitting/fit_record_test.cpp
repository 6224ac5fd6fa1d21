#include "fitting/fit_record.h"

#include <gtest/gtest.h>

#include <cmath>

#include "fitted_draw.h"
#include "fitted_line.h"

namespace panup {
namespace {

const FittedValue& value_of(const FitOutcome& outcome, ModelInput quantity) {
  return *std::ranges::find(outcome.values, quantity, &FittedValue::quantity);
}

// The long test does this a hundred times.
TEST(FittedRecord, OfAnotherSchemeGivesTheTrueValuesBack) {
  const FitOutcome outcome = fit_record(fitted_draw(1));
  ASSERT_EQ(outcome.refused, "");
  EXPECT_TRUE(outcome.converged);
  EXPECT_GE(recovered(outcome), 2) << "of three; one in twenty is missed by chance";
  for (std::size_t i = 0; i < outcome.values.size(); ++i) {
    EXPECT_NEAR(outcome.values[i].value, true_values[i].is, 0.25 * true_values[i].is);
    EXPECT_LT(outcome.values[i].least, outcome.values[i].value);
    EXPECT_GT(outcome.values[i].greatest, outcome.values[i].value);
    EXPECT_DOUBLE_EQ(value_of(outcome.values[i].quantity, outcome.line, outcome.pantographs),
                     outcome.values[i].value);
  }
}

TEST(FittedRecord, IsBorneOutByTheRowsThatWereLeftOut) {
  const FitOutcome outcome = fit_record(fitted_draw(2));
  EXPECT_GT(outcome.rows_left_out, 50U);
  EXPECT_TRUE(outcome.borne_out());
  // Noise of 3 N is left.
  EXPECT_NEAR(outcome.left_out.after_n, 3, 0.6);
  EXPECT_NEAR(outcome.fitted.after_n, 3, 0.4);
}

// At one speed a force that grows with its square is a force.
TEST(FittedRecord, CannotTellStaticForceFromAerodynamicFactorAtOneSpeed) {
  FitCase fit = fitted_draw(3);
  fit.quantities = {ModelInput::support_stiffness, ModelInput::static_force,
                    ModelInput::aerodynamic_factor};
  const FitOutcome outcome = fit_record(fit);
  for (const auto& [one, other] : {std::pair{ModelInput::static_force, "aerodynamic-factor"},
                                   std::pair{ModelInput::aerodynamic_factor, "static-force"}}) {
    const FittedValue& value = value_of(outcome, one);
    EXPECT_FALSE(value.told);
    EXPECT_EQ(value.value, value.start);
    EXPECT_EQ(value.why_not, std::string("the record cannot tell it from ") + other);
  }
}

TEST(FittedRecord, DoesNotTellWhatMovesNothing) {
  FitCase fit = fitted_draw(4);
  fit.line.stiffness_damping_s = 1e-9;
  fit.quantities = {ModelInput::stiffness_damping, ModelInput::static_force};
  const FitOutcome outcome = fit_record(fit);
  EXPECT_FALSE(outcome.values[0].told);
  EXPECT_NE(outcome.values[0].why_not, "");
  EXPECT_TRUE(outcome.values[1].told);
}

TEST(FittedRecord, LooksForNothingFromZeroOn) {
  FitCase fit = fitted_draw(5);
  fit.line.mass_damping_per_s = 0;
  fit.quantities = {ModelInput::mass_damping};
  const FitOutcome outcome = fit_record(fit);
  EXPECT_FALSE(outcome.values[0].told);
  EXPECT_EQ(outcome.values[0].why_not,
            "it is 0 in the files; state a value from which it can be looked for");
}

TEST(FittedRecord, OfTooFewRowsIsRefused) {
  FitCase fit = fitted_draw(6);
  fit.runs[0].series[0].rows.resize(59);
  EXPECT_NE(fit_record(fit).refused.find("rows are too few to fit 3 quantities"),
            std::string::npos);
}

/// Nothing to look for: the case is simulated once, and the residuals are told.
FitCase nothing_to_look_for(unsigned draw) {
  FitCase fit = fitted_draw(draw);
  fit.line.mass_damping_per_s = 0;
  fit.quantities = {ModelInput::mass_damping};
  return fit;
}

TEST(FittedRecord, TellsResidualsOfFittedAndLeftOutRowsApart) {
  FitCase fit = nothing_to_look_for(5);
  const FitOutcome as_measured = fit_record(fit);
  for (FitRow& row : fit.runs[0].series[0].rows) {
    row.force_n += row.left_out ? 1000 : 0;
  }
  const FitOutcome off = fit_record(fit);
  EXPECT_EQ(off.fitted.before_n, as_measured.fitted.before_n);
  EXPECT_GT(off.left_out.before_n, 900);
  EXPECT_FALSE(off.borne_out()) << "nothing was fitted";
}

TEST(FittedRecord, RowsThatAreLeftOutDoNotMakeEnough) {
  FitCase fit = fitted_draw(6);
  std::vector<FitRow>& rows = fit.runs[0].series[0].rows;
  rows.resize(70);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    rows[i].left_out = i < 11;
  }
  EXPECT_EQ(fit_record(fit).refused, "59 rows are too few to fit 3 quantities");
}

TEST(FittedRecord, OfALineThatCannotBeSimulatedIsRefused) {
  FitCase fit = fitted_draw(7);
  fit.runs[0].speed_kmh = 500;  // faster than the waves
  const FitOutcome outcome = fit_record(fit);
  EXPECT_EQ(outcome.refused, "the line as it is in the files cannot be simulated");
  EXPECT_FALSE(outcome.values[0].told);
}

}  // namespace
}  // namespace panup
