/// The filter of contact forces alone.
/// Sources: a sine of amplitude A has σ = A/√2; a filter's −3 dB is a factor 1/√2; SciPy's
/// Butterworth filter of the same order and cut-off, tabulated in filter_by_scipy.csv by
/// filter_by_scipy.py.

#include <fmt/format.h>

#include <cmath>
#include <fstream>
#include <numbers>
#include <sstream>

#include "agreement.h"
#include "dynamics/evaluation.h"

namespace panup::validation {
namespace {

constexpr double step_s = 0.002;

std::vector<double> sine(double frequency_hz) {
  std::vector<double> values;
  for (int i = 0; i < 10000; ++i) {
    values.push_back(
        120 + 30 * std::sin(2 * std::numbers::pi * frequency_hz * step_s * static_cast<double>(i)));
  }
  return values;
}

/// σ of the middle of the filtered sine, over whole periods.
double sigma(double frequency_hz) {
  const std::vector<double> values = sine(frequency_hz);
  const std::vector<double> filtered = low_pass(values, step_s, contact_force_cutoff_hz);
  const std::span<const double> raw(values);
  return evaluate(raw.subspan(2500, 5000), std::span<const double>(filtered).subspan(2500, 5000),
                  step_s)
      .std_n;
}

}  // namespace

Agreement filter() {
  Agreement agreement;
  agreement.title = "The filter of contact forces";
  agreement.statement =
      "Butterworth of sixth order, run forwards and backwards, so of no phase: a sine of 30 N "
      "keeps its "
      "σ = A/√2 up to 10 Hz, has 1/√2 of it at 20 Hz, and is gone at 40 Hz.";
  agreement.source = "closed forms; SciPy, see filter_by_scipy.py";
  const double whole = 30 / std::numbers::sqrt2;
  for (const double frequency_hz : {1.0, 5.0, 10.0}) {
    agreement.rows.push_back(figure(fmt::format("σ of a sine at {:g} Hz", frequency_hz), "N",
                                    sigma(frequency_hz), whole, 1e-3 * whole));
  }
  agreement.rows.push_back(
      figure("σ of a sine at 20 Hz", "N", sigma(20), whole / std::numbers::sqrt2, 1e-3 * whole));
  agreement.rows.push_back(figure("σ of a sine at 40 Hz", "N", sigma(40), 0, 2e-3 * whole));

  std::ifstream file(PANUP_VALIDATION_FOLDER "/filter_by_scipy.csv");
  std::string row;
  std::vector<double> raw;
  std::vector<double> theirs;
  while (std::getline(file, row)) {
    if (row.empty() || row.front() == '#' || row.front() == 'r') {
      if (row.starts_with("# SciPy")) {
        agreement.source += ", " + row.substr(2);
      }
      continue;
    }
    std::istringstream cells(row);
    char comma = 0;
    double in = 0;
    double out = 0;
    cells >> in >> comma >> out;
    raw.push_back(in);
    theirs.push_back(out);
  }
  const std::vector<double> ours = low_pass(raw, step_s, contact_force_cutoff_hz);
  double furthest = raw.size() < 100 ? 1e9 : 0;
  for (std::size_t i = 0; i < raw.size(); ++i) {
    furthest = std::max(furthest, std::abs(ours[i] - theirs[i]));
  }
  agreement.rows.push_back(figure(
      "greatest difference to SciPy over 400 values between 0 and 250 N", "N", furthest, 0, 1e-6));
  return agreement;
}

}  // namespace panup::validation
