#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "dynamics/evaluation.h"

namespace panup {

namespace {

using Values = std::vector<double>;

TEST(LowPass, LeavesAConstantForceAsItIs) {
  const Values filtered = low_pass(Values(400, 117.0), 0.002, contact_force_cutoff_hz);
  ASSERT_EQ(filtered.size(), 400U);
  for (const double force : filtered) {
    EXPECT_NEAR(force, 117.0, 1e-9);
  }
}

TEST(LowPass, ShiftsNoPhaseAndKeepsTheImpulse) {
  Values blow(1001, 0.0);
  blow[500] = 1000;
  const Values filtered = low_pass(blow, 0.002, contact_force_cutoff_hz);
  for (std::size_t i = 0; i <= 400; ++i) {
    EXPECT_NEAR(filtered[500 - i], filtered[500 + i], 1e-7) << i;
  }
  EXPECT_EQ(std::ranges::max_element(filtered) - filtered.begin(), 500);
  EXPECT_NEAR(std::accumulate(filtered.begin(), filtered.end(), 0.0), 1000, 1e-6);
  EXPECT_LT(filtered[500], 120) << "spread over about a fortieth of a second";
}

TEST(LowPass, PassesASlowRiseAwayFromTheEnds) {
  Values rise(1000);
  for (std::size_t i = 0; i < rise.size(); ++i) {
    rise[i] = 60 + 0.05 * static_cast<double>(i);
  }
  const Values filtered = low_pass(rise, 0.002, contact_force_cutoff_hz);
  for (std::size_t i = 200; i < 800; ++i) {
    EXPECT_NEAR(filtered[i], rise[i], 1e-6) << i;
  }
}

TEST(LowPass, TakesTheSumOfTwoForcesAsTheSumOfBoth) {
  Values a(300);
  Values b(300);
  Values sum(300);
  for (std::size_t i = 0; i < 300; ++i) {
    const double t = 0.002 * static_cast<double>(i);
    a[i] = 100 + 20 * std::sin(40 * t);
    b[i] = 7 * std::cos(230 * t);
    sum[i] = 2 * a[i] + b[i];
  }
  const Values of_a = low_pass(a, 0.002, contact_force_cutoff_hz);
  const Values of_b = low_pass(b, 0.002, contact_force_cutoff_hz);
  const Values of_sum = low_pass(sum, 0.002, contact_force_cutoff_hz);
  for (std::size_t i = 0; i < 300; ++i) {
    EXPECT_NEAR(of_sum[i], 2 * of_a[i] + of_b[i], 1e-9);
  }
}

TEST(Evaluation, GivesTheFiguresOfAKnownSeries) {
  const Values forces{70, 90, 110, 130};
  const PantographRun run = evaluate(forces, forces, 0.002);
  EXPECT_DOUBLE_EQ(run.mean_n, 100);
  // Of the whole, not of a sample: √((30² + 10² + 10² + 30²)/4).
  EXPECT_DOUBLE_EQ(run.std_n, std::sqrt(500.0));
  EXPECT_DOUBLE_EQ(run.statistical_max_n, 100 + 3 * std::sqrt(500.0));
  EXPECT_DOUBLE_EQ(run.statistical_min_n, 100 - 3 * std::sqrt(500.0));
  EXPECT_EQ(run.max_n, 130);
  EXPECT_EQ(run.min_n, 70);
}

TEST(Evaluation, TakesForcesFromTheFilteredAndLossesFromTheRaw) {
  const PantographRun run = evaluate(Values{0, 200, 0, 200}, Values{100, 100, 100, 100}, 0.002);
  EXPECT_EQ(run.min_n, 100);
  EXPECT_EQ(run.least_unfiltered_n, 0);
  EXPECT_EQ(run.mean_n, 100);
  EXPECT_EQ(run.std_n, 0);
  EXPECT_EQ(run.contact_losses_ms.size(), 2U);
  EXPECT_DOUBLE_EQ(run.contact_loss_percent, 50);
}

TEST(Evaluation, FindsNoLossWhereContactStays) {
  const Values forces{50, 1e-9, 50, 60};
  const PantographRun run = evaluate(forces, forces, 0.002);
  EXPECT_EQ(run.contact_loss_percent, 0);
  EXPECT_EQ(run.longest_contact_loss_ms, 0);
  EXPECT_TRUE(run.contact_losses_ms.empty());
}

TEST(Evaluation, CountsALossThatLastsToTheEnd) {
  const Values forces{50, 60, 70, 50, 50, 0, 0, 0};
  const PantographRun run = evaluate(forces, forces, 0.002);
  ASSERT_EQ(run.contact_losses_ms.size(), 1U);
  EXPECT_NEAR(run.contact_losses_ms[0], 6, 1e-12);
  EXPECT_NEAR(run.longest_contact_loss_ms, 6, 1e-12);
  EXPECT_NEAR(run.contact_loss_percent, 37.5, 1e-12);
}

TEST(Evaluation, CountsSeveralLossesInOrderWithTheirDurations) {
  const Values forces{0, 40, 0, 0, 0, 40, 40, 0, 0, 40};
  const PantographRun run = evaluate(forces, forces, 0.001);
  ASSERT_EQ(run.contact_losses_ms.size(), 3U);
  EXPECT_NEAR(run.contact_losses_ms[0], 1, 1e-12);
  EXPECT_NEAR(run.contact_losses_ms[1], 3, 1e-12);
  EXPECT_NEAR(run.contact_losses_ms[2], 2, 1e-12);
  EXPECT_NEAR(run.longest_contact_loss_ms, 3, 1e-12);
  EXPECT_NEAR(run.contact_loss_percent, 60, 1e-12);
}

TEST(Evaluation, TakesLossThroughoutAsAHundredPercent) {
  const Values forces(7, 0.0);
  const PantographRun run = evaluate(forces, forces, 0.002);
  EXPECT_NEAR(run.contact_loss_percent, 100, 1e-12);
  EXPECT_NEAR(run.longest_contact_loss_ms, 14, 1e-12);
}

TEST(Histogram, CountsEveryValueOnce) {
  Values forces;
  for (int i = 0; i < 500; ++i) {
    forces.push_back(100 + 60 * std::sin(0.37 * i));
  }
  const Histogram bars = evaluate(forces, forces, 0.002).histogram;
  EXPECT_EQ(std::accumulate(bars.counts.begin(), bars.counts.end(), 0), 500);
  EXPECT_LE(bars.from_n, *std::ranges::min_element(forces));
  EXPECT_GT(bars.from_n + bars.bar_n * static_cast<double>(bars.counts.size()),
            *std::ranges::max_element(forces));
  EXPECT_GT(bars.counts.front(), 0);
  EXPECT_GT(bars.counts.back(), 0);
}

TEST(Histogram, PutsABorderIntoTheBarAboveIt) {
  const Values forces{-20, -15, 10, 20, 29.999, 30};
  const Histogram bars = evaluate(forces, forces, 0.002).histogram;
  EXPECT_EQ(bars.from_n, -20);
  EXPECT_EQ(bars.bar_n, 10);
  EXPECT_EQ(bars.counts, (std::vector<int>{2, 0, 0, 1, 2, 1}));
}

// Two passes of a Butterworth filter of order n by the bilinear transform have the gain
// 1/(1 + (tan(π f Δt)/tan(π f₀ Δt))²ⁿ); together they are 3 dB down, 1/√2, at the cut-off. Source:
// any textbook of signal processing.
TEST(LowPass, HasTheGainOfItsFilterAtEveryFrequency) {
  constexpr double step_s = 0.002;
  constexpr std::size_t size = 4000;
  const double pi = std::acos(-1.0);
  for (const double hz : {3.0, 8.0, 12.0, 16.0, 18.0, 20.0, 22.0, 25.0, 30.0, 40.0}) {
    Values wave(size);
    for (std::size_t i = 0; i < size; ++i) {
      wave[i] = std::sin(2 * pi * hz * step_s * static_cast<double>(i));
    }
    const Values filtered = low_pass(wave, step_s, contact_force_cutoff_hz);
    const double ratio = std::tan(pi * hz * step_s) / std::tan(pi * 20 * step_s);
    const double gain = 1 / (1 + (std::sqrt(2.0) - 1) * std::pow(ratio, 12));
    for (std::size_t i = size / 4; i < 3 * size / 4; ++i) {
      ASSERT_NEAR(filtered[i], gain * wave[i], 1e-9) << hz << " Hz, " << i;
    }
  }
}

}  // namespace

}  // namespace panup
