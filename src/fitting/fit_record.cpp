#include "fitting/fit_record.h"

#include <ceres/cost_function.h>
#include <ceres/problem.h>
#include <ceres/solver.h>

#include <Eigen/QR>
#include <algorithm>
#include <cmath>

#include "fitting/fit_outcome.h"

namespace panup {

namespace {

/// Difference of a logarithm, for derivatives: wide enough for a simulation's own roughness.
constexpr double difference = 0.02;
constexpr int most_iterations = 12;
constexpr int most_refinements = 4;
/// Of a logarithm in one move, and of an interval's half width.
constexpr double greatest_move = 0.5;
constexpr double near_enough = 0.1;
constexpr double close_to_edge = 0.98;
constexpr double hardly_apart = 0.95;

using Set = std::vector<double>;
using Simulated = std::optional<std::vector<double>>;

/// Measured less simulated force of the rows that are fitted.
class Misfit final : public ceres::CostFunction {
 public:
  Misfit(const FitCase& fit, const std::vector<FitRow>& rows, double step_share, int& simulations)
      : fit_(fit), rows_(rows), step_share_(step_share), simulations_(simulations) {
    const auto count = std::ranges::count_if(rows, [](const FitRow& row) { return !row.left_out; });
    set_num_residuals(static_cast<int>(count));
    mutable_parameter_block_sizes()->push_back(static_cast<int>(fit.quantities.size()));
  }

  bool Evaluate(const double* const* parameters, double* residuals,
                double** jacobians) const override {
    const std::size_t quantities = fit_.quantities.size();
    const Set here(parameters[0], parameters[0] + quantities);
    // The solver asks for a place first without derivatives, then with them.
    const bool known = here == last_ && last_simulated_;
    std::vector<Set> sets;
    if (!known) {
      sets.push_back(here);
    }
    const bool slopes = jacobians != nullptr && jacobians[0] != nullptr;
    for (std::size_t i = 0; slopes && i < quantities; ++i) {
      sets.push_back(here);
      sets.back()[i] += difference;
    }
    simulations_ += static_cast<int>(sets.size() * fit_.runs.size());
    std::vector<Simulated> simulated = simulated_rows(fit_, sets, step_share_);
    if (known) {
      simulated.insert(simulated.begin(), last_simulated_);
    }
    if (!std::ranges::all_of(simulated, [](const Simulated& one) { return one.has_value(); })) {
      return false;
    }
    last_ = here;
    last_simulated_ = simulated.front();
    std::size_t residual = 0;
    for (std::size_t i = 0; i < rows_.size(); ++i) {
      if (rows_[i].left_out) {
        continue;
      }
      residuals[residual] = (*simulated[0])[i] - rows_[i].force_n;
      for (std::size_t k = 0; slopes && k < quantities; ++k) {
        jacobians[0][residual * quantities + k] =
            ((*simulated[k + 1])[i] - (*simulated[0])[i]) / difference;
      }
      ++residual;
    }
    return true;
  }

 private:
  const FitCase& fit_;
  const std::vector<FitRow>& rows_;
  double step_share_;
  int& simulations_;
  mutable Set last_;
  mutable Simulated last_simulated_;
};

double root_mean_square(const std::vector<FitRow>& rows, const std::vector<double>& simulated,
                        bool left_out) {
  double squares = 0;
  double count = 0;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (rows[i].left_out == left_out) {
      squares += (simulated[i] - rows[i].force_n) * (simulated[i] - rows[i].force_n);
      ++count;
    }
  }
  return count > 0 ? std::sqrt(squares / count) : 0;
}

/// The logarithms with which the misfit is least, and how sure they are.
struct Solution {
  Set logarithms;
  FitSureness sure;
  bool converged = false;
};

/// How many times the default step the search may take; the longest with which the line can be
/// simulated.
double coarse_share(const FitCase& fit, int& simulations) {
  for (const double share : {3.0, 2.0}) {
    simulations += static_cast<int>(fit.runs.size());
    if (simulated_rows(fit, {Set(fit.quantities.size(), 0)}, share).front()) {
      return share;
    }
  }
  return 1;
}

/// Misfit and derivatives of the rows that are fitted.
struct Slopes {
  Eigen::VectorXd residuals;
  Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor> jacobian;
};

std::optional<Slopes> slopes_at(const Misfit& misfit, const Set& place) {
  const Eigen::Index count = misfit.num_residuals();
  Slopes slopes{Eigen::VectorXd(count), {}};
  slopes.jacobian.resize(count, static_cast<Eigen::Index>(place.size()));
  const double* at = place.data();
  double* into = slopes.jacobian.data();
  return misfit.Evaluate(&at, slopes.residuals.data(), &into) ? std::optional(std::move(slopes))
                                                              : std::nullopt;
}

std::optional<Eigen::VectorXd> residuals_at(const Misfit& misfit, const Set& place) {
  Eigen::VectorXd residuals(misfit.num_residuals());
  const double* at = place.data();
  return misfit.Evaluate(&at, residuals.data(), nullptr) ? std::optional(std::move(residuals))
                                                         : std::nullopt;
}

/// Goes to where the misfit of the default step is least, with the derivatives of the long one; it
/// changes little from one step to the other.
std::optional<Solution> refined(const FitCase& fit, const std::vector<FitRow>& rows,
                                Solution solution, double share, int& simulations) {
  const Misfit coarse(fit, rows, share, simulations);
  const Misfit fine(fit, rows, 1, simulations);
  const auto slopes = slopes_at(coarse, solution.logarithms);
  if (!slopes) {
    return std::nullopt;
  }
  std::vector<int> blocks;
  for (const FitRow& row : rows) {
    if (!row.left_out) {
      blocks.push_back(row.block);
    }
  }
  const auto solver = slopes->jacobian.colPivHouseholderQr();
  std::optional<Eigen::VectorXd> change;
  for (int round = 0; round < most_refinements; ++round) {
    const auto residuals = residuals_at(fine, solution.logarithms);
    if (!residuals) {
      return std::nullopt;
    }
    if (!change) {
      // An error that grows with the square of the step.
      change = (slopes->residuals - *residuals) / (share * share - 1);
    }
    solution.sure = sureness_of(slopes->jacobian, *residuals, blocks, *change);
    const Eigen::VectorXd by = -solver.solve(*residuals);
    bool near = true;
    for (std::size_t i = 0; i < solution.logarithms.size(); ++i) {
      const auto at = static_cast<Eigen::Index>(i);
      near = near && std::abs(by(at)) < near_enough * solution.sure.half_width[i];
      solution.logarithms[i] =
          std::clamp(solution.logarithms[i] + std::clamp(by(at), -greatest_move, greatest_move),
                     -std::log(farthest_factor), std::log(farthest_factor));
    }
    if (near) {
      return solution;
    }
  }
  solution.converged = false;
  return solution;
}

std::optional<Solution> solve(const FitCase& fit, const std::vector<FitRow>& rows,
                              int& simulations) {
  Solution solution;
  solution.logarithms.assign(fit.quantities.size(), 0);
  const double share = coarse_share(fit, simulations);
  Misfit misfit(fit, rows, share, simulations);
  ceres::Problem::Options owned;
  owned.cost_function_ownership = ceres::DO_NOT_TAKE_OWNERSHIP;
  ceres::Problem problem(owned);
  problem.AddResidualBlock(&misfit, nullptr, solution.logarithms.data());
  for (int i = 0; i < static_cast<int>(fit.quantities.size()); ++i) {
    problem.SetParameterLowerBound(solution.logarithms.data(), i, -std::log(farthest_factor));
    problem.SetParameterUpperBound(solution.logarithms.data(), i, std::log(farthest_factor));
  }
  ceres::Solver::Options options;
  options.linear_solver_type = ceres::DENSE_QR;
  options.max_num_iterations = most_iterations;
  options.function_tolerance = 1e-4;
  options.parameter_tolerance = 1e-4;
  options.logging_type = ceres::SILENT;
  options.num_threads = 1;
  ceres::Solver::Summary summary;
  ceres::Solve(options, &problem, &summary);
  if (!summary.IsSolutionUsable()) {
    return std::nullopt;
  }
  solution.converged = summary.termination_type == ceres::CONVERGENCE;
  if (share == 1) {
    constexpr double half = 0.5;
    return refined(fit, rows, std::move(solution), half, simulations);
  }
  return refined(fit, rows, std::move(solution), share, simulations);
}

/// Why a quantity is not told; empty where it is.
std::string why_not_told(const FitCase& fit, const Solution& solution, std::size_t i) {
  if (std::abs(solution.logarithms[i]) > close_to_edge * std::log(farthest_factor)) {
    return fit.words.say(
        "it runs away from its start, to more than {:g} times or less than 1/{:g} "
        "of it, and the force hardly changes",
        farthest_factor, farthest_factor);
  }
  if (solution.sure.half_width[i] <= std::log(widest_factor)) {
    return {};
  }
  for (std::size_t k = 0; k < fit.quantities.size(); ++k) {
    if (k != i && std::abs(solution.sure.correlation(
                      static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(k))) > hardly_apart) {
      return fit.words.say("the record cannot tell it from {}", name_of(fit.quantities[k]));
    }
  }
  return fit.words.say(
      "it moves the force too little against what is left between measured and simulated");
}

/// Quantities by their places in `FitCase::quantities`.
using Places = std::vector<std::size_t>;

/// The values as they stand in the files, none told. `from` becomes the places of those from which
/// another can be looked for.
std::vector<FittedValue> values_at_start(const FitCase& fit, Places& from) {
  std::vector<FittedValue> values;
  for (std::size_t i = 0; i < fit.quantities.size(); ++i) {
    FittedValue value;
    value.quantity = fit.quantities[i];
    value.start = value.value = value_of(value.quantity, fit.line, fit.pantographs);
    if (value.start == 0) {
      value.why_not =
          fit.words.say("it is 0 in the files; state a value from which it can be looked for");
    } else {
      from.push_back(i);
    }
    values.push_back(value);
  }
  return values;
}

/// The same case with these quantities alone.
FitCase only(FitCase fit, const Places& places) {
  std::vector<ModelInput> quantities;
  for (const std::size_t place : places) {
    quantities.push_back(fit.quantities[place]);
  }
  fit.quantities = std::move(quantities);
  return fit;
}

/// Says of each quantity why it is not told; the places of those that are.
Places told_of(const FitCase& asked, const Solution& solution, const Places& places,
               std::vector<FittedValue>& values) {
  Places told;
  for (std::size_t i = 0; i < places.size(); ++i) {
    std::string& why_not = values[places[i]].why_not;
    why_not = why_not_told(asked, solution, i);
    if (why_not.empty()) {
      told.push_back(places[i]);
    }
  }
  return told;
}

/// Puts the fitted values in place of those of the files, and says how near the force is now.
void take_over(const FitCase& asked, const Solution& solution, const Places& places,
               const std::vector<FitRow>& rows, FitOutcome& outcome) {
  for (std::size_t i = 0; i < places.size(); ++i) {
    FittedValue& value = outcome.values[places[i]];
    const double middle = solution.logarithms[i];
    const double half = solution.sure.half_width[i];
    value.told = true;
    value.value = value.start * std::exp(middle);
    value.least = value.start * std::exp(middle - half);
    value.greatest = value.start * std::exp(middle + half);
    multiply(value.quantity, std::exp(middle), outcome.line, outcome.pantographs);
  }
  outcome.converged = solution.converged;
  outcome.simulations += static_cast<int>(asked.runs.size());
  if (const Simulated after = simulated_rows(asked, {solution.logarithms}).front()) {
    outcome.fitted.after_n = root_mean_square(rows, *after, false);
    outcome.left_out.after_n = root_mean_square(rows, *after, true);
  }
}

}  // namespace

FitOutcome fit_record(const FitCase& fit) {
  FitOutcome outcome;
  outcome.line = fit.line;
  outcome.pantographs = fit.pantographs;
  const std::vector<FitRow> rows = all_rows(fit);
  outcome.rows_left_out = static_cast<std::size_t>(
      std::ranges::count_if(rows, [](const FitRow& row) { return row.left_out; }));
  outcome.rows_fitted = rows.size() - outcome.rows_left_out;
  Places places;
  outcome.values = values_at_start(fit, places);
  constexpr std::size_t least_rows_a_quantity = 20;
  if (outcome.rows_fitted < least_rows_a_quantity * fit.quantities.size()) {
    outcome.refused = fit.words.say("{} rows are too few to fit {} quantities", outcome.rows_fitted,
                                    fit.quantities.size());
    return outcome;
  }
  const Simulated before = simulated_rows(only(fit, {}), {{}}).front();
  outcome.simulations += static_cast<int>(fit.runs.size());
  if (!before) {
    outcome.refused = fit.words.say("the line as it is in the files cannot be simulated");
    return outcome;
  }
  outcome.fitted.before_n = outcome.fitted.after_n = root_mean_square(rows, *before, false);
  outcome.left_out.before_n = outcome.left_out.after_n = root_mean_square(rows, *before, true);
  while (!places.empty()) {
    const FitCase asked = only(fit, places);
    const auto solution = solve(asked, rows, outcome.simulations);
    if (!solution) {
      outcome.refused = fit.words.say("no line near the one in the files can be simulated");
      return outcome;
    }
    const Places told = told_of(asked, *solution, places, outcome.values);
    if (told == places) {
      take_over(asked, *solution, places, rows, outcome);
      return outcome;
    }
    // What the record cannot tell stays as it is in the files, and the others are fitted anew.
    places = told;
  }
  return outcome;
}

}  // namespace panup
