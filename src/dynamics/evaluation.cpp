#include "dynamics/evaluation.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

namespace panup {

namespace {

constexpr int sections = 3;  // of second order each
constexpr double bar_n = 10;

/// A Butterworth section of second order by the bilinear transform, direct form II transposed.
struct Section {
  double gain = 0;  ///< of the numerator 1 + 2 z⁻¹ + z⁻²
  double a1 = 0;
  double a2 = 0;
};

Section section(int index, double warped) {
  const double angle = std::numbers::pi * (2 * index + 1) / (4.0 * sections);
  const double q = 2 * std::cos(angle);
  const double norm = 1 + q * warped + warped * warped;
  return {warped * warped / norm, 2 * (warped * warped - 1) / norm,
          (1 - q * warped + warped * warped) / norm};
}

void run_through(const Section& s, std::vector<double>& values) {
  // As if the first value had stood for ever.
  double z1 = values.front() * (1 - s.gain);
  double z2 = values.front() * (s.gain - s.a2);
  for (double& value : values) {
    const double out = s.gain * value + z1;
    z1 = 2 * s.gain * value - s.a1 * out + z2;
    z2 = s.gain * value - s.a2 * out;
    value = out;
  }
}

std::vector<double> contact_losses(std::span<const double> raw, double step_s) {
  std::vector<double> losses;
  bool lost = false;
  for (const double force : raw) {
    if (force <= 0) {
      if (!lost) {
        losses.push_back(0);
      }
      losses.back() += 1000 * step_s;
    }
    lost = force <= 0;
  }
  return losses;
}

Histogram histogram(std::span<const double> values, double least, double greatest) {
  Histogram bars;
  bars.bar_n = bar_n;
  bars.from_n = std::floor(least / bar_n) * bar_n;
  bars.counts.assign(static_cast<std::size_t>((greatest - bars.from_n) / bar_n) + 1, 0);
  for (const double value : values) {
    ++bars.counts[static_cast<std::size_t>((value - bars.from_n) / bar_n)];
  }
  return bars;
}

}  // namespace

std::vector<double> low_pass(std::span<const double> values, double step_s, double cutoff_hz) {
  // Both passes together are 3 dB down at the cut-off when one alone is so where the prewarped
  // frequency is higher by this factor.
  const double order = 2.0 * sections;
  const double warped = std::tan(std::numbers::pi * cutoff_hz * step_s) *
                        std::pow(std::numbers::sqrt2 - 1, -1 / (2 * order));
  std::vector<double> filtered(values.begin(), values.end());
  for (int pass = 0; pass < 2; ++pass) {
    for (int index = 0; index < sections; ++index) {
      run_through(section(index, warped), filtered);
    }
    std::ranges::reverse(filtered);
  }
  return filtered;
}

PantographRun evaluate(std::span<const double> raw, std::span<const double> filtered,
                       double step_s) {
  const auto count = static_cast<double>(filtered.size());
  PantographRun run;
  run.mean_n = std::accumulate(filtered.begin(), filtered.end(), 0.0) / count;
  double squares = 0;
  for (const double force : filtered) {
    squares += (force - run.mean_n) * (force - run.mean_n);
  }
  run.std_n = std::sqrt(squares / count);
  run.statistical_max_n = run.mean_n + 3 * run.std_n;
  run.statistical_min_n = run.mean_n - 3 * run.std_n;
  run.max_n = std::ranges::max(filtered);
  run.min_n = std::ranges::min(filtered);
  run.least_unfiltered_n = std::ranges::min(raw);
  run.contact_losses_ms = contact_losses(raw, step_s);
  for (const double loss : run.contact_losses_ms) {
    run.longest_contact_loss_ms = std::max(run.longest_contact_loss_ms, loss);
  }
  run.contact_loss_percent =
      100 * std::accumulate(run.contact_losses_ms.begin(), run.contact_losses_ms.end(), 0.0) /
      (1000 * step_s * count);
  run.histogram = histogram(filtered, run.min_n, run.max_n);
  return run;
}

}  // namespace panup
