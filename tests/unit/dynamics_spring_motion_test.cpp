#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <vector>

#include "dynamics/spring_motion.h"

namespace panup {
namespace {

constexpr std::size_t lifts_count = 600;

struct Spring {
  SpringEnds ends;
  double at_m = 0;
  double compliance_m_per_n = 0;
  double least_n = 0;
  double slack_m = 0;
};

double elongation_of(const SpringEnds& ends, const std::vector<double>& lifts) {
  double elongation = 0;
  for (std::size_t k = 0; k < 4; ++k) {
    elongation += ends.upper_share[k] * lifts[ends.upper + k];
    elongation -= ends.lower_share[k] * lifts[ends.lower + k];
  }
  return elongation;
}

/// One spring after the other, as the scheme reads: the mean elongation that the force itself makes
/// is m = (e + 2 e₀ + e₋₁ − R f)/4, and f = max(least, (m − slack)/compliance).
class OneByOne {
 public:
  explicit OneByOne(const std::vector<Spring>& springs)
      : springs_(springs), known_(springs.size()) {}

  void step(std::size_t first, std::size_t last, const std::vector<double>& present,
            std::vector<double>& next) {
    for (std::size_t i = first; i < last; ++i) {
      Known& known = known_[i];
      const bool slack = known.force_n <= springs_[i].least_n;
      known.record.slack_steps += slack ? 1 : 0;
      known.record.times_slack += slack && !known.slack ? 1 : 0;
      known.slack = slack;
      known.record.greatest_force_n =
          std::max(known.record.greatest_force_n, known.force_n - springs_[i].least_n);
      known.before = known.now;
      known.now = elongation_of(springs_[i].ends, present);
      known.force_n = 0;
      settle(i, next);
    }
  }

  /// Between steps: lifts of the state before have been changed.
  void look_again(std::size_t i, const std::vector<double>& before) {
    known_[i].now = elongation_of(springs_[i].ends, before);
  }

  void settle(std::size_t i, std::vector<double>& next) {
    const Spring& spring = springs_[i];
    Known& known = known_[i];
    const double free = elongation_of(spring.ends, next) + spring.ends.response() * known.force_n;
    const double mean = (free + 2 * known.now + known.before) / 4;
    const double taut =
        (mean - spring.slack_m) / (spring.compliance_m_per_n + spring.ends.response() / 4);
    const double force = std::max(spring.least_n, taut);
    for (std::size_t k = 0; k < 4; ++k) {
      next[spring.ends.lower + k] += (force - known.force_n) * spring.ends.lower_lift[k];
      next[spring.ends.upper + k] -= (force - known.force_n) * spring.ends.upper_lift[k];
    }
    known.force_n = force;
  }

  const SpringRecord& record(std::size_t i) const { return known_[i].record; }

 private:
  struct Known {
    double before = 0;
    double now = 0;
    double force_n = 0;
    bool slack = false;
    SpringRecord record;
  };
  const std::vector<Spring>& springs_;
  std::vector<Known> known_;
};

/// Twenty-one springs between two wires, some held by the ground, some with room before they pull.
/// `distance`: nodes from one to the next; below four they share some.
std::vector<Spring> springs_at(std::size_t distance, std::mt19937& random) {
  std::uniform_real_distribution<double> share(0, 1);
  std::vector<Spring> springs;
  for (std::size_t i = 0; i < 21; ++i) {
    Spring spring;
    spring.at_m = static_cast<double>(distance * i);
    spring.ends.lower = 16 + distance * i;
    spring.ends.upper = i % 5 == 2 ? 0 : 320 + distance * i;
    spring.compliance_m_per_n = 1e-5 * (1 + share(random));
    spring.least_n = i % 3 == 0 ? -1e9 : i % 7 == 1 ? 0 : -60 * share(random);
    spring.slack_m = i % 4 == 0 ? 0.001 : 0;
    for (std::size_t k = 0; k < 4; ++k) {
      spring.ends.lower_share[k] = share(random) / 2;
      spring.ends.lower_lift[k] = 1e-6 * spring.ends.lower_share[k];
      if (spring.ends.upper > 0) {
        spring.ends.upper_share[k] = share(random) / 2;
        spring.ends.upper_lift[k] = 2e-6 * spring.ends.upper_share[k];
      }
    }
    springs.push_back(spring);
  }
  return springs;
}

SpringMotion motion_of(const std::vector<Spring>& springs) {
  SpringMotion motion;
  for (const Spring& spring : springs) {
    motion.add(spring.ends, spring.at_m, spring.compliance_m_per_n, spring.least_n, spring.slack_m);
  }
  motion.begin();
  return motion;
}

/// Lifts as wires might bring them, four in front held by the ground.
std::vector<double> some_lifts(std::mt19937& random) {
  std::uniform_real_distribution<double> lift(-0.005, 0.005);
  std::vector<double> lifts(lifts_count);
  std::generate(lifts.begin() + 8, lifts.end(), [&] { return lift(random); });
  return lifts;
}

void expect_near(const std::vector<double>& ours, const std::vector<double>& theirs, int step) {
  for (std::size_t node = 0; node < ours.size(); ++node) {
    ASSERT_NEAR(ours[node], theirs[node], 1e-15) << "node " << node << ", step " << step;
  }
}

void expect_same_records(const SpringMotion& motion, const OneByOne& reference) {
  for (std::size_t i = 0; i < motion.size(); ++i) {
    EXPECT_EQ(motion.record(i).slack_steps, reference.record(i).slack_steps) << i;
    EXPECT_EQ(motion.record(i).times_slack, reference.record(i).times_slack) << i;
    EXPECT_NEAR(motion.record(i).greatest_force_n, reference.record(i).greatest_force_n, 1e-9) << i;
  }
}

void expect_as_one_by_one(std::size_t distance, std::size_t first, std::size_t last) {
  std::mt19937 random(5);
  const std::vector<Spring> springs = springs_at(distance, random);
  SpringMotion motion = motion_of(springs);
  OneByOne reference(springs);
  std::vector<double> present(lifts_count);
  motion.keep_to(springs[first].at_m, springs[last - 1].at_m, present.data());
  for (int step = 0; step < 40; ++step) {
    std::vector<double> ours = some_lifts(random);
    std::vector<double> theirs = ours;
    motion.step(1e9, present.data(), ours.data());
    reference.step(first, last, present, theirs);
    // A pantograph presses beside the middle one, twice.
    const Spring& pressed = springs[(first + last) / 2];
    for (const double lift_m : {0.002, -0.001}) {
      ours[pressed.ends.lower + 1] += lift_m;
      theirs[pressed.ends.lower + 1] += lift_m;
      EXPECT_TRUE(motion.settle_beside(pressed.ends.lower, pressed.at_m - 0.5, pressed.at_m + 0.5,
                                       ours.data()));
      reference.settle((first + last) / 2, theirs);
    }
    ASSERT_NO_FATAL_FAILURE(expect_near(ours, theirs, step));
    present = ours;
  }
  bool any_slack = false;
  expect_same_records(motion, reference);
  for (std::size_t i = 0; i < springs.size(); ++i) {
    EXPECT_EQ(motion.acts(i), i >= first && i < last) << i;
    any_slack = any_slack || motion.record(i).times_slack > 1;
  }
  EXPECT_TRUE(any_slack);
}

TEST(SpringMotion, SettlesEightAtATimeAsOneByOne) { expect_as_one_by_one(12, 0, 21); }

TEST(SpringMotion, LeavesThoseOutsideAsTheyAre) {
  expect_as_one_by_one(12, 3, 14);
  expect_as_one_by_one(12, 9, 13);
  expect_as_one_by_one(12, 8, 16);
}

TEST(SpringMotion, StepsOnlyWhatIsReached) {
  // Reached only in part, as when a wave runs along the line.
  std::mt19937 random(7);
  const std::vector<Spring> springs = springs_at(12, random);
  SpringMotion motion = motion_of(springs);
  OneByOne reference(springs);
  std::vector<double> present(lifts_count);
  for (std::size_t reached = 1; reached <= springs.size(); ++reached) {
    // Beyond what is reached the wires are at rest.
    std::vector<double> ours = some_lifts(random);
    for (std::size_t i = reached; i < springs.size(); ++i) {
      std::fill_n(ours.begin() + static_cast<long>(springs[i].ends.lower), 4, 0.0);
      if (springs[i].ends.upper > 0) {
        std::fill_n(ours.begin() + static_cast<long>(springs[i].ends.upper), 4, 0.0);
      }
    }
    std::vector<double> theirs = ours;
    motion.step(springs[reached - 1].at_m, present.data(), ours.data());
    reference.step(0, reached, present, theirs);
    ASSERT_NO_FATAL_FAILURE(expect_near(ours, theirs, static_cast<int>(reached)));
    present = ours;
  }
  expect_same_records(motion, reference);
}

TEST(SpringMotion, LooksAtWhatTheOthersOfSharedNodesHaveDone) {
  // Two springs on one node: what the second does moves the first, and is known one step on.
  std::mt19937 random(9);
  std::vector<Spring> springs = springs_at(12, random);
  springs[5].ends.lower = springs[4].ends.lower + 3;
  SpringMotion motion = motion_of(springs);
  OneByOne reference(springs);
  std::vector<double> present(lifts_count);
  for (int step = 0; step < 40; ++step) {
    std::vector<double> ours = some_lifts(random);
    std::vector<double> theirs = ours;
    motion.step(1e9, present.data(), ours.data());
    reference.step(0, springs.size(), present, theirs);
    ASSERT_NO_FATAL_FAILURE(expect_near(ours, theirs, step));
    present = ours;
  }
  expect_same_records(motion, reference);
  EXPECT_GT(motion.record(4).times_slack, 0);
}

TEST(SpringMotion, LooksAgainWhereThePresentHasBeenChanged) {
  std::mt19937 random(11);
  const std::vector<Spring> springs = springs_at(12, random);
  SpringMotion motion = motion_of(springs);
  OneByOne reference(springs);
  std::vector<double> present(lifts_count);
  for (int step = 0; step < 10; ++step) {
    std::vector<double> ours = some_lifts(random);
    std::vector<double> theirs = ours;
    motion.step(1e9, present.data(), ours.data());
    reference.step(0, springs.size(), present, theirs);
    ASSERT_NO_FATAL_FAILURE(expect_near(ours, theirs, step));
    std::vector<double> before = present;
    present = ours;
    // Wires are softened up to the third spring and from the nineteenth on.
    for (const std::size_t i : {0U, 1U, 2U, 18U, 19U, 20U}) {
      present[springs[i].ends.lower + 2] *= 0.5;
      before[springs[i].ends.lower + 2] += 0.01;
      reference.look_again(i, before);
    }
    motion.look_again(springs[2].at_m + 1, springs[18].at_m - 1, present.data(), before.data());
  }
}

TEST(SpringMotion, OfThoseThatBeginToActLooksAtThePresent) {
  std::mt19937 random(13);
  const std::vector<Spring> springs = springs_at(12, random);
  SpringMotion motion = motion_of(springs);
  OneByOne reference(springs);
  std::vector<double> present(lifts_count);
  motion.keep_to(0, springs[6].at_m, present.data());
  for (int step = 0; step < 10; ++step) {
    const std::size_t last = step < 5 ? 7 : 12;
    if (step == 5) {
      motion.keep_to(0, springs[11].at_m, present.data());
    }
    std::vector<double> ours = some_lifts(random);
    std::vector<double> theirs = ours;
    motion.step(1e9, present.data(), ours.data());
    reference.step(0, last, present, theirs);
    ASSERT_NO_FATAL_FAILURE(expect_near(ours, theirs, step));
    present = ours;
  }
}

TEST(SpringMotion, FindsNoSpringWhereNoneTouches) {
  std::mt19937 random(15);
  const std::vector<Spring> springs = springs_at(12, random);
  SpringMotion motion = motion_of(springs);
  std::vector<double> next = some_lifts(random);
  const std::size_t node = springs[4].ends.lower;
  for (const int apart : {-4, 4, 6}) {
    EXPECT_FALSE(motion.settle_beside(node + static_cast<std::size_t>(apart), 0, 1e9, next.data()))
        << apart;
  }
  for (const int apart : {-3, 0, 3}) {
    EXPECT_TRUE(motion.settle_beside(node + static_cast<std::size_t>(apart), 0, 1e9, next.data()))
        << apart;
  }
  EXPECT_FALSE(motion.settle_beside(1u << 20, 0, 1e9, next.data()));
}

}  // namespace
}  // namespace panup
