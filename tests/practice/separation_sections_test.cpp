#include <gtest/gtest.h>

#include <algorithm>
#include <random>

#include "../judging/row.h"
#include "judging/facts/remedies.h"
#include "judging/facts/separation.h"
#include "judging/facts/separation_length.h"

/// The three arrangements of phase separation sections, and what a train has to be like to pass
/// each with pantographs up.
///
/// Source of the arrangements and their lengths: EN 50367, annex A, and Regulation (EU)
/// No 1301/2014, 4.2.15 (from memory, to be confirmed): long, at least 402 m for pantographs up to
/// 400 m apart; split, less than 142 m over all, with three consecutive pantographs more than 143 m
/// apart; short, less than 8 m over all with insulating parts of up to 3 m and an earthed part
/// between them, with consecutive pantographs more than 8 m apart. In the latter two the
/// pantographs are not joined on the train. Overlaps of 2 m and contact strips over 0.6 m along the
/// track are assumed. What follows from them for a train: derived.

namespace panup {

namespace {

constexpr double strips_m = 0.6;

/// The neutral wire lies free of the live ones over 402 m.
std::vector<SeparationZone> long_section() {
  return Row().before("R", 2).neutral(0, 406).behind("S", 404).zones;
}

/// Two neutral parts; 140 m from the beginning of the first overlap to the end of the last.
std::vector<SeparationZone> split_section() {
  return Row().before("R", 2).neutral(0, 71).neutral(69, 140).behind("S", 138).zones;
}

std::vector<SeparationZone> short_section() {
  return Row()
      .before("R", 0)
      .neutral(0, 2.5)
      .earthed(2.5, 5)
      .neutral(5, 7.5)
      .behind("S", 7.5)
      .zones;
}

bool passes_open(const std::vector<SeparationZone>& zones, const RaisedCollectors& raised) {
  return passes(zones, raised, BreakerAt::open);
}

TEST(LongNeutralSection, LetsAnyPantographsPassThatAreWithinItsLength) {
  EXPECT_TRUE(passes_open(long_section(), joined(heads({5, 405}, strips_m), {0, 1})));
  EXPECT_TRUE(passes_open(long_section(),
                          joined(heads({5, 25, 200, 225, 405}, strips_m), {0, 1, 2, 3, 4})));
}

TEST(LongNeutralSection, DoesNotLetJoinedPantographsPassThatAreFartherApart) {
  EXPECT_FALSE(passes_open(long_section(), joined(heads({5, 408}, strips_m), {0, 1})));
  EXPECT_TRUE(passes_open(long_section(), heads({5, 450}, strips_m)));
}

TEST(SplitNeutralSection, LetsTwoPantographsPassAtAnyDistanceWhileTheyAreNotJoined) {
  for (int decimetres = 10; decimetres < 4000; ++decimetres) {
    ASSERT_TRUE(passes_open(split_section(), heads({5, 5 + 0.1 * decimetres}, strips_m)))
        << decimetres << " dm";
  }
}

TEST(SplitNeutralSection, LetsThreePassWhereTheyAreMoreThan143MetresApart) {
  for (int middle = 2; middle < 1430; ++middle) {
    ASSERT_TRUE(passes_open(split_section(), heads({5, 5 + 0.1 * middle, 5 + 143.1}, strips_m)))
        << middle << " dm";
  }
}

TEST(SplitNeutralSection, IsBridgedByThreeThatStandInItsThreeOverlaps) {
  const Sweep swept = sweep(split_section(), heads({5, 74, 143}, strips_m), BreakerAt::open);
  ASSERT_FALSE(swept.passes());
  EXPECT_EQ(swept.forbidden.front().why, Conflict::phases_joined);
  // All three heads take part.
  EXPECT_EQ(std::ranges::count(swept.forbidden.front().chain, ChainLink::What::collector,
                               &ChainLink::what),
            3);
}

TEST(SplitNeutralSection, IsBridgedByTwoThatAreJoinedAndFartherApartThanItsLength) {
  const auto raised = joined(heads({5, 155}, strips_m), {0, 1}, true, "the roof line of unit 1");
  EXPECT_FALSE(passes_open(split_section(), raised));
  EXPECT_EQ(words_for(remedies(split_section(), raised), raised),
            "It passes if the roof line of unit 1 is opened, or if 1.1 is lowered, or if 2.1 is "
            "lowered.");
}

TEST(ShortNeutralSection, LetsPantographsPassThatAreFartherApartThanItsLengthAndNotJoined) {
  for (int centimetres = 801; centimetres < 20'000; centimetres += 7) {
    const double apart = 0.01 * centimetres;
    ASSERT_TRUE(passes_open(short_section(), heads({5, 5 + apart, 5 + 2 * apart}, strips_m)))
        << centimetres << " cm";
  }
}

TEST(ShortNeutralSection, IsEarthedByPantographsThatAreTooNear) {
  const Sweep swept = sweep(short_section(), heads({5, 7.5}, strips_m), BreakerAt::open);
  ASSERT_FALSE(swept.passes());
  EXPECT_EQ(swept.forbidden.front().why, Conflict::live_to_earth);
}

TEST(ShortNeutralSection, IsEarthedByARoofLineWhateverTheDistance) {
  for (int metres = 3; metres < 100; ++metres) {
    ASSERT_FALSE(passes_open(short_section(), joined(heads({5, 5.0 + metres}, strips_m), {0, 1})))
        << metres << " m";
  }
}

TEST(ShortNeutralSection, IsEarthedByAHeadWhoseStripsReachOverAnInsulatingPart) {
  EXPECT_TRUE(passes_open(short_section(), heads({5}, 2.4)));
  EXPECT_FALSE(passes_open(short_section(), heads({5}, 2.5)));
}

/// Source: the registers' length "maximum between outer strips" or "minimum between inner strips"
/// (open vocabulary of the infrastructure register); that both halves are needed is derived.
TEST(RegisteredLength, AMaximumHoldsForJoinedPantographsToo) {
  const auto judge = [](double apart) {
    return judge_by_length(402, LengthMeaning::maximum_between_outer,
                           joined(heads({5, 5 + apart}, strips_m), {0, 1}));
  };
  EXPECT_EQ(judge(400).answer, LengthAnswer::passes);
  EXPECT_NEAR(judge(400).outer_m, 400.6, 1e-9);
  EXPECT_EQ(judge(402).answer, LengthAnswer::forbidden);
}

TEST(RegisteredLength, AMinimumHoldsOnlyForPantographsThatAreNotJoined) {
  const auto apart = heads({5, 20}, strips_m);
  const auto near = heads({5, 12}, strips_m);
  const auto judge = [](const RaisedCollectors& raised) {
    return judge_by_length(8, LengthMeaning::minimum_between_inner, raised);
  };
  EXPECT_EQ(judge(apart).answer, LengthAnswer::passes);
  EXPECT_NEAR(*judge(apart).inner_m, 14.4, 1e-9);
  EXPECT_EQ(judge(near).answer, LengthAnswer::forbidden);
  EXPECT_EQ(judge(joined(apart, {0, 1})).answer, LengthAnswer::forbidden);
  EXPECT_EQ(judge(joined(apart, {0, 1})).join, 0U);
}

TEST(RegisteredLength, JustTheLengthIsAgainstTheTrain) {
  EXPECT_EQ(
      judge_by_length(14.4, LengthMeaning::minimum_between_inner, heads({5, 20}, strips_m)).answer,
      LengthAnswer::forbidden);
  EXPECT_EQ(
      judge_by_length(15.6, LengthMeaning::maximum_between_outer, heads({5, 20}, strips_m)).answer,
      LengthAnswer::forbidden);
}

TEST(RegisteredLength, WithoutItsMeaningOnePantographPassesAndMoreAreNotKnown) {
  EXPECT_EQ(judge_by_length(120, LengthMeaning::not_stated, heads({5}, strips_m)).answer,
            LengthAnswer::passes);
  EXPECT_EQ(judge_by_length(120, LengthMeaning::not_stated, heads({5, 30}, strips_m)).answer,
            LengthAnswer::unknown);
}

TEST(RegisteredLength, ATrainWithNothingUpPasses) {
  EXPECT_EQ(judge_by_length(8, LengthMeaning::minimum_between_inner, {}).answer,
            LengthAnswer::passes);
}

/// Where the length says that a train passes, its zones must say so too: the register is coarser
/// and may not be more permissive.
TEST(RegisteredLength, NeverLetsATrainPassThatTheZonesDoNot) {
  std::mt19937_64 engine(7);
  const auto uniform = [&engine](double least, double greatest) {
    return least + (greatest - least) * static_cast<double>(engine() >> 11) * 0x1p-53;
  };
  struct Arrangement {
    std::vector<SeparationZone> zones;
    double length_m = 0;
    LengthMeaning meaning{};
    double usual_distance_m = 0;
  };
  const std::vector<Arrangement> arrangements{
      {long_section(), 402, LengthMeaning::maximum_between_outer, 150},
      {split_section(), 140, LengthMeaning::minimum_between_inner, 200},
      {short_section(), 7.5, LengthMeaning::minimum_between_inner, 12}};
  for (const Arrangement& arrangement : arrangements) {
    int passing = 0;
    for (int number = 0; number < 2000; ++number) {
      std::vector<double> behind{uniform(1, 5)};
      while (behind.size() < 1 + engine() % 4) {
        behind.push_back(behind.back() + uniform(1, 2 * arrangement.usual_distance_m));
      }
      RaisedCollectors raised = heads(behind, uniform(0.1, 1.2));
      if (behind.size() > 1 && engine() % 2 == 0) {
        raised = joined(raised, {0, behind.size() - 1});
      }
      if (judge_by_length(arrangement.length_m, arrangement.meaning, raised).answer ==
          LengthAnswer::passes) {
        ++passing;
        ASSERT_TRUE(passes_open(arrangement.zones, raised)) << "case " << number;
      }
    }
    EXPECT_GT(passing, 200);
  }
}

}  // namespace

}  // namespace panup
