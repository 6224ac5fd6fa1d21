#include "judging/facts/coasting.h"

#include <gtest/gtest.h>

#include <cmath>

/// A train without power against closed forms of its equation of motion. Source of the forms: any
/// textbook of mechanics; each is written out where it is used.

namespace panup {

namespace {

constexpr double gravity_ms2 = 9.80665;

CoastingTrain train_of(RunningResistance resistance, double factor = 1) {
  return {.mass_kg = 1'000'000,
          .rotating_mass_factor = factor,
          .resistance = resistance,
          .length_m = 400};
}

Gradient gradient(double from_km, double to_km, double permille) {
  return {.from_km = from_km, .to_km = to_km, .permille = permille, .place = {}};
}

const std::vector<Gradient> level{gradient(0, 20, 0)};

TEST(Coasting, ConstantResistanceIsConstantDeceleration) {
  // v² = v0² − 2 a s, t = (v0 − v)/a with a = A/(m ρ).
  const auto run = coast(train_of({.a_n = 20'000}, 1.05), level, 5, 6, 20);
  ASSERT_TRUE(run);
  const double a = 20'000 / (1e6 * 1.05);
  const double v = std::sqrt(400 - 2 * a * 1000);
  EXPECT_FALSE(run->stands);
  EXPECT_NEAR(run->moments.back().speed_ms, v, 1e-9);
  EXPECT_NEAR(run->moments.back().time_s, (20 - v) / a, 1e-6);
  EXPECT_DOUBLE_EQ(run->lowest_ms(), run->moments.back().speed_ms);
}

TEST(Coasting, QuadraticResistanceLetsTheSpeedFallExponentiallyOverDistance) {
  // v = v0 exp(−C s/m), t = m/C (1/v − 1/v0).
  const auto run = coast(train_of({.c_n_per_kmh2 = 10}), level, 5, 7, 30);
  ASSERT_TRUE(run);
  const double c = 10 * 3.6 * 3.6;
  const double v = 30 * std::exp(-c * 2000 / 1e6);
  EXPECT_NEAR(run->moments.back().speed_ms, v, 1e-9);
  EXPECT_NEAR(run->moments.back().time_s, 1e6 / c * (1 / v - 1.0 / 30), 1e-4);
}

TEST(Coasting, LinearResistanceLetsTheSpeedFallEvenlyOverDistance) {
  // m v dv/ds = −B v, so v = v0 − B s/m.
  const auto run = coast(train_of({.b_n_per_kmh = 1'000}), level, 5, 7, 20);
  ASSERT_TRUE(run);
  EXPECT_NEAR(run->moments.back().speed_ms, 20 - 3'600 * 2000 / 1e6, 1e-9);
}

TEST(Coasting, AConstantGradientAddsToConstantAndQuadraticResistance) {
  // v² = (v0² + F/C) exp(−2 C s/m) − F/C with F = A + m g i.
  const std::vector<Gradient> uphill{gradient(0, 20, 5)};
  const auto run = coast(train_of({.a_n = 10'000, .c_n_per_kmh2 = 4}), uphill, 5, 6.5, 25);
  ASSERT_TRUE(run);
  const double c = 4 * 3.6 * 3.6;
  const double force = 10'000 + 1e6 * gravity_ms2 * 0.005;
  const double squared = (625 + force / c) * std::exp(-2 * c * 1500 / 1e6) - force / c;
  EXPECT_NEAR(run->moments.back().speed_ms, std::sqrt(squared), 1e-9);
}

TEST(Coasting, ComesToAStandWhereItsEnergyIsSpent) {
  // s = m ρ v0²/(2 A).
  const auto run = coast(train_of({.a_n = 20'000}, 1.1), level, 5, 12, 10);
  ASSERT_TRUE(run);
  EXPECT_TRUE(run->stands);
  EXPECT_NEAR(run->moments.back().at_km, 5 + 1.1e6 * 100 / (2 * 20'000) / 1000, 1e-6);
  EXPECT_EQ(run->moments.back().speed_ms, 0);
}

TEST(Coasting, TheWholeLengthOfTheTrainFeelsTheGradient) {
  // Energy: m ρ (v0² − v²)/2 = m g × the mean rise of the train. The front runs 300 m on 10 ‰ with
  // the 400 m long train level before: the mean gradient grows evenly to 10 ‰ × 300/400, so that
  // its integral over the way is 10 ‰ × 300²/(2 × 400) m.
  const std::vector<Gradient> bend{gradient(0, 5, 0), gradient(5, 20, 10)};
  const auto run = coast(train_of({}, 1.06), bend, 5, 5.3, 20);
  ASSERT_TRUE(run);
  const double rise = 0.01 * 300 * 300 / 800;
  EXPECT_NEAR(run->moments.back().speed_ms, std::sqrt(400 - 2 * gravity_ms2 * rise / 1.06), 1e-9);
}

TEST(Coasting, AGradientThatEndsBeneathTheTrainCostsNoAccuracy) {
  // As above, over two changes of gradient at places that no even step would meet.
  const std::vector<Gradient> hill{gradient(0, 5.0123, 0), gradient(5.0123, 5.1777, 10),
                                   gradient(5.1777, 20, -10)};
  const auto run = coast(train_of({}), hill, 5, 6, 20);
  ASSERT_TRUE(run);
  // Height of the train's mass at both ends of the way: mean over its length, by hand. At first it
  // is all level at height 0. At km 6 it lies from 5.6 to 6 on −10 ‰, its middle at 5.8.
  const double height = 0.01 * 165.4 - 0.01 * (5800 - 5177.7);
  EXPECT_NEAR(run->moments.back().speed_ms, std::sqrt(400 - 2 * gravity_ms2 * height), 1e-9);
}

TEST(Coasting, DownhillItGainsSpeedAlsoFromAStand) {
  const std::vector<Gradient> downhill{gradient(0, 20, -5)};
  const auto run = coast(train_of({.a_n = 10'000}), downhill, 5, 6, 0);
  ASSERT_TRUE(run);
  EXPECT_FALSE(run->stands);
  const double a = gravity_ms2 * 0.005 - 0.01;
  EXPECT_NEAR(run->moments.back().speed_ms, std::sqrt(2 * a * 1000), 1e-9);
  EXPECT_EQ(run->lowest_ms(), 0);
  const auto stays = coast(train_of({.a_n = 60'000}), downhill, 5, 6, 0);
  ASSERT_TRUE(stays);
  EXPECT_TRUE(stays->stands);
  EXPECT_EQ(stays->moments.back().at_km, 5);
}

TEST(Coasting, IsKnownBetweenItsMoments) {
  const auto run = coast(train_of({.a_n = 20'000}), level, 5, 6, 20);
  ASSERT_TRUE(run);
  const auto moment = run->at(5.3333);
  ASSERT_TRUE(moment);
  const double v = std::sqrt(400 - 2 * 0.02 * 333.3);
  EXPECT_NEAR(moment->speed_ms, v, 1e-9);
  EXPECT_NEAR(moment->time_s, (20 - v) / 0.02, 1e-6);
  EXPECT_FALSE(run->at(4.9));
  EXPECT_FALSE(run->at(6.1));
}

TEST(Coasting, TheLeastSpeedToGetThroughIsThatOfConstantDeceleration) {
  const auto least = least_entry_ms(train_of({.a_n = 20'000}), level, 5, 6, 3);
  ASSERT_TRUE(least);
  EXPECT_NEAR(*least, std::sqrt(9 + 2 * 0.02 * 1000), 1e-9);
}

TEST(Coasting, TheLeastSpeedIsJustEnough) {
  const std::vector<Gradient> hill{gradient(0, 5, 0), gradient(5, 5.6, 12), gradient(5.6, 20, -8)};
  const CoastingTrain train = train_of({.a_n = 15'000, .b_n_per_kmh = 20, .c_n_per_kmh2 = 2}, 1.04);
  const auto least = least_entry_ms(train, hill, 5, 7, 2);
  ASSERT_TRUE(least);
  const auto with_it = coast(train, hill, 5, 7, *least);
  ASSERT_TRUE(with_it);
  EXPECT_FALSE(with_it->stands);
  EXPECT_NEAR(with_it->lowest_ms(), 2, 1e-3);
  const auto with_less = coast(train, hill, 5, 7, *least - 0.1);
  ASSERT_TRUE(with_less);
  EXPECT_LT(with_less->lowest_ms(), 2 - 1e-3);
}

TEST(Coasting, IsUnknownWhereAGradientUnderTheTrainIs) {
  const std::vector<Gradient> late{gradient(4.7, 20, 0)};
  EXPECT_FALSE(coast(train_of({}), late, 5, 6, 20));
  EXPECT_FALSE(least_entry_ms(train_of({}), late, 5, 6, 0));
  EXPECT_TRUE(coast(train_of({}), late, 5.1, 6, 20));
  const std::vector<Gradient> gap{gradient(0, 5.5, 0), gradient(5.6, 20, 0)};
  EXPECT_FALSE(coast(train_of({}), gap, 5, 6, 20));
  EXPECT_FALSE(coast(train_of({}), {}, 5, 6, 20));
}

TEST(Coasting, MeanOfGradientsIsByTheirLengths) {
  const std::vector<Gradient> steps{gradient(0, 1, 4), gradient(1, 2, -8)};
  EXPECT_NEAR(*mean_gradient_permille(steps, 0.5, 1.25), (0.5 * 4 - 0.25 * 8) / 0.75, 1e-12);
  EXPECT_FALSE(mean_gradient_permille(steps, 1.5, 2.1));
}

TEST(Coasting, ATrainIsTheSumOfWhatItStates) {
  auto type = std::make_shared<VehicleType>();
  type->length_m = 20;
  type->running = {.mass_t = 80, .resistance = RunningResistance{1000, 10, 0.5}};
  LoadGroup load;
  load.length_m = 380;
  load.running = {.mass_t = 920, .resistance = RunningResistance{9000, 0, 1.5}};
  Train train;
  Vehicle vehicle;
  vehicle.type = type;
  train.consist = {vehicle, load};
  const auto whole = coasting_train(train, 1.04);
  ASSERT_TRUE(whole);
  EXPECT_DOUBLE_EQ(whole->mass_kg, 1e6);
  EXPECT_DOUBLE_EQ(whole->length_m, 400);
  EXPECT_DOUBLE_EQ(whole->resistance.a_n, 10'000);
  EXPECT_DOUBLE_EQ(whole->resistance.b_n_per_kmh, 10);
  EXPECT_DOUBLE_EQ(whole->resistance.c_n_per_kmh2, 2);
  std::get<LoadGroup>(train.consist[1]).running.mass_t.reset();
  EXPECT_FALSE(coasting_train(train, 1.04));
}

TEST(Coasting, BetweenMomentsItIsTheAccelerationBetweenThem) {
  // From 20 to 10 m/s over a kilometre, then evenly: v^2 falls evenly to (400 + 100) / 2 half way.
  CoastingRun run;
  run.moments = {{.at_km = 3, .time_s = 0, .speed_ms = 20},
                 {.at_km = 4, .time_s = 2000 / 30.0, .speed_ms = 10},
                 {.at_km = 5, .time_s = 2000 / 30.0 + 100, .speed_ms = 10}};
  const auto half_way = run.at(3.5);
  ASSERT_TRUE(half_way);
  EXPECT_NEAR(half_way->speed_ms, std::sqrt(250), 1e-12);
  EXPECT_NEAR(half_way->time_s, 2 * 500 / (20 + std::sqrt(250)), 1e-9);
  EXPECT_NEAR(run.at(4.25)->time_s, 2000 / 30.0 + 25, 1e-9);
  EXPECT_EQ(run.at(4)->speed_ms, 10);
  EXPECT_FALSE(run.at(2.999));
  EXPECT_FALSE(run.at(5.001));
}

TEST(Coasting, ItStandsWhereItsEnergyIsSpent) {
  // v^2 / (2 a) with a = A / m: 5^2 / (2 x 0.02) = 625 m.
  const auto run = coast(train_of({.a_n = 20'000}), level, 5, 7, 5);
  ASSERT_TRUE(run);
  EXPECT_TRUE(run->stands);
  EXPECT_NEAR(run->moments.back().at_km, 5.625, 1e-9);
  EXPECT_NEAR(run->moments.back().time_s, 5 / 0.02, 1e-6);
  EXPECT_EQ(run->moments.back().speed_ms, 0);
}

TEST(Coasting, ATrainAtAStandThatNothingMovesStands) {
  const auto run = coast(train_of({}), level, 5, 6, 0);
  ASSERT_TRUE(run);
  EXPECT_TRUE(run->stands);
  EXPECT_EQ(run->moments.size(), 1U);
}

}  // namespace

}  // namespace panup
