#include "judging/facts/separation.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <limits>

#include "judging/facts/contact_map.h"
#include "judging/facts/remedies.h"
#include "judging/facts/separation_length.h"
#include "row.h"

/// What the sweep says of single situations. Source of the statements: reasoning from what a
/// collector head touches; the program's own definitions where a limit is touched exactly.

namespace panup {

namespace {

/// Phase R, a neutral zone of 100 m, phase S; the wires overlap by 2 m at both ends.
std::vector<SeparationZone> simple_section() {
  return Row().before("R", 2).neutral(0, 104).behind("S", 102).zones;
}

TEST(Sweep, OneHeadBridgesOnlyNeighbours) {
  const Sweep swept = sweep(simple_section(), heads({5}, 0.6), BreakerAt::open);
  EXPECT_TRUE(swept.passes());
  ASSERT_EQ(swept.stages.size(), 3U);
  EXPECT_EQ(swept.stages[0].joined,
            (std::vector<JoinedZones>{{.zones = {0, 1}, .collectors = {0}}}));
  // The foremost edge reaches the neutral wire at 0, the rearmost leaves the live one at 2.
  EXPECT_NEAR(swept.stages[0].from_m, 5 - 0.3, 1e-9);
  EXPECT_NEAR(swept.stages[0].to_m, 5 + 2 + 0.3, 1e-9);
  EXPECT_TRUE(swept.stages[1].joined.empty());
  EXPECT_EQ(swept.stages[2].joined,
            (std::vector<JoinedZones>{{.zones = {1, 2}, .collectors = {0}}}));
}

TEST(Sweep, ARoofLineLongerThanTheNeutralZoneJoinsThePhases) {
  const Sweep swept =
      sweep(simple_section(), joined(heads({5, 125}, 0.6), {0, 1}), BreakerAt::open);
  ASSERT_EQ(swept.forbidden.size(), 1U);
  const ForbiddenRange& range = swept.forbidden.front();
  EXPECT_EQ(range.why, Conflict::phases_joined);
  // From the front head reaching S at 102 until the rear one leaves R at 2.
  EXPECT_NEAR(range.from_m, 102 + 5 - 0.3, 1e-9);
  EXPECT_NEAR(range.to_m, 2 + 125 + 0.3, 1e-9);
  using enum ChainLink::What;
  EXPECT_EQ(range.chain, (std::vector<ChainLink>{
                             {zone, 0}, {collector, 1}, {join, 0}, {collector, 0}, {zone, 2}}));
}

TEST(Sweep, WithoutTheRoofLineTheSameHeadsJoinNothing) {
  EXPECT_TRUE(passes(simple_section(), heads({5, 125}, 0.6), BreakerAt::open));
}

TEST(Sweep, TwoSeparateHeadsInTheTwoOverlapsJoinThePhasesThroughTheNeutralZone) {
  // 102 m apart: one stands in each overlap at the same time.
  const Sweep swept = sweep(simple_section(), heads({5, 107}, 0.6), BreakerAt::open);
  ASSERT_EQ(swept.forbidden.size(), 1U);
  EXPECT_EQ(swept.forbidden.front().why, Conflict::phases_joined);
  using enum ChainLink::What;
  EXPECT_EQ(
      swept.forbidden.front().chain,
      (std::vector<ChainLink>{{zone, 0}, {collector, 1}, {zone, 1}, {collector, 0}, {zone, 2}}));
}

TEST(Sweep, AStripThatJustReachesAZoneTouchesIt) {
  // An insulator of 0.6 m: strips of just that length touch both sides for a moment.
  const auto zones = Row().before("R", 0).insulator(0, 0.6).behind("S", 0.6).zones;
  const Sweep swept = sweep(zones, heads({5}, 0.6), BreakerAt::open);
  ASSERT_EQ(swept.forbidden.size(), 1U);
  EXPECT_EQ(swept.forbidden.front().from_m, swept.forbidden.front().to_m);
  EXPECT_NEAR(swept.forbidden.front().from_m, 5.3, 1e-9);
  EXPECT_FALSE(passes(zones, heads({5}, 0.6), BreakerAt::open));
  EXPECT_TRUE(passes(zones, heads({5}, 0.599), BreakerAt::open));
}

TEST(Sweep, TouchingDoesNotHangOnHowASumIsRounded) {
  // 0.1 + 0.2 is more than 0.3 in binary fractions.
  const auto zones = Row().before("R", 0.1 + 0.2).neutral(0.3, 40).behind("S", 40).zones;
  const Sweep swept = sweep(zones, heads({0.7, 0.7 + 0.1 + 0.2}, 0), BreakerAt::open);
  ASSERT_FALSE(swept.stages.empty());
  EXPECT_NEAR(swept.stages[0].from_m, 1.0, 1e-12);
  EXPECT_EQ(swept.stages[0].from_m, swept.stages[0].to_m);
  EXPECT_EQ(swept.stages[0].touched[0], (std::vector<std::size_t>{0, 1}));
}

TEST(Sweep, ALiveZoneJoinedWithEarthIsForbidden) {
  const auto zones =
      Row().before("R", 0).neutral(0, 3).earthed(3, 5).neutral(5, 8).behind("S", 8).zones;
  EXPECT_TRUE(passes(zones, heads({5, 20}, 0.6), BreakerAt::open));
  const Sweep swept = sweep(zones, joined(heads({5, 20}, 0.6), {0, 1}), BreakerAt::open);
  ASSERT_FALSE(swept.passes());
  EXPECT_EQ(swept.forbidden.front().why, Conflict::live_to_earth);
  EXPECT_NEAR(swept.forbidden.front().from_m, 3 + 5 - 0.3, 1e-9);
}

TEST(Sweep, SystemsAreToldFromPhases) {
  const auto zones =
      Row().before(EnergySupply::ac_25kv, 0).neutral(0, 30).behind(EnergySupply::dc_3kv, 30).zones;
  const Sweep swept = sweep(zones, joined(heads({5, 45}, 0.6), {0, 1}), BreakerAt::open);
  ASSERT_EQ(swept.forbidden.size(), 1U);
  EXPECT_EQ(swept.forbidden.front().why, Conflict::systems_joined);
}

TEST(Sweep, APantographOnASystemItIsNotForIsForbidden) {
  const auto zones =
      Row().before(EnergySupply::ac_25kv, 0).neutral(0, 30).behind(EnergySupply::dc_3kv, 30).zones;
  const Sweep swept = sweep(zones, heads({5}, 0.6, {EnergySupply::ac_25kv}), BreakerAt::open);
  ASSERT_EQ(swept.forbidden.size(), 1U);
  EXPECT_EQ(swept.forbidden.front().why, Conflict::wrong_system);
  EXPECT_NEAR(swept.forbidden.front().from_m, 30 + 5 - 0.3, 1e-9);
}

TEST(Sweep, EnteringWithTheBreakerClosedIsForbiddenUntilTheLastHeadIsThrough) {
  const Sweep swept = sweep(simple_section(), heads({5, 40}, 0.6), BreakerAt::closed_against_rule);
  ASSERT_EQ(swept.forbidden.size(), 1U);
  EXPECT_EQ(swept.forbidden.front().why, Conflict::breaker_closed);
  EXPECT_NEAR(swept.forbidden.front().from_m, 5 - 0.3, 1e-9);
  EXPECT_NEAR(swept.forbidden.front().to_m, 104 + 40 + 0.3, 1e-9);
  EXPECT_TRUE(
      sweep(simple_section(), heads({5, 40}, 0.6), BreakerAt::closed_where_permitted).passes());
}

TEST(Sweep, TheBreakerCountsOnAnInsulatorToo) {
  const auto zones = Row().before("R", 0).insulator(0, 2).behind("S", 2).zones;
  EXPECT_FALSE(passes(zones, heads({5}, 0.6), BreakerAt::closed_against_rule));
  const Sweep swept = sweep(zones, heads({5}, 0.6), BreakerAt::closed_against_rule);
  ASSERT_EQ(swept.forbidden.size(), 1U);
  EXPECT_NEAR(swept.forbidden.front().from_m, 0 + 5 + 0.3, 1e-9);
  EXPECT_NEAR(swept.forbidden.front().to_m, 2 + 5 - 0.3, 1e-9);
}

TEST(Sweep, ATrainWithNothingUpPassesEverywhere) {
  const Sweep swept = sweep(simple_section(), {}, BreakerAt::open);
  EXPECT_TRUE(swept.passes());
  EXPECT_TRUE(swept.stages.empty());
}

TEST(DecidingMoment, IsTheFirstForbiddenOneWhereThereIsOne) {
  const auto moment = deciding_moment(simple_section(), joined(heads({5, 125}, 0.6), {0, 1}));
  ASSERT_TRUE(moment);
  EXPECT_EQ(moment->reserve_m, 0);
  EXPECT_NEAR(moment->front_m, 106.7, 1e-9);
}

TEST(DecidingMoment, TellsHowMuchLongerStripsCouldBe) {
  // Joined heads 90 m apart in a neutral zone of 100 m between the live wires: 10 m less strips of
  // 0.6 m are left, half of it at either end.
  const auto raised = joined(heads({5, 95}, 0.6), {0, 1});
  const auto moment = deciding_moment(simple_section(), raised);
  ASSERT_TRUE(moment);
  EXPECT_NEAR(moment->reserve_m, (100 - 90 - 0.6) / 2, 2e-6);
  EXPECT_EQ(moment->what.why, Conflict::phases_joined);
  auto longer = raised;
  for (Collector& collector : longer.collectors) {
    collector.strip_extent_m += 2 * moment->reserve_m;
  }
  EXPECT_FALSE(passes(simple_section(), longer, BreakerAt::open));
  for (Collector& collector : longer.collectors) {
    collector.strip_extent_m -= 1e-5;
  }
  EXPECT_TRUE(passes(simple_section(), longer, BreakerAt::open));
}

TEST(DecidingMoment, ThereIsNoneWhereNothingIsSeparated) {
  const auto zones = Row().before("R", 2).neutral(0, 104).behind("R", 102).zones;
  EXPECT_FALSE(deciding_moment(zones, heads({5, 40}, 0.6)));
}

TEST(Remedies, OpeningTheRoofLineComesBeforeLowering) {
  const auto raised = joined(heads({5, 125}, 0.6), {0, 1}, true, "the roof line of unit 1");
  const auto ways = remedies(simple_section(), raised);
  EXPECT_EQ(ways, (std::vector<Remedy>{{.opened = {0}, .lowered = {}},
                                       {.opened = {}, .lowered = {0}},
                                       {.opened = {}, .lowered = {1}}}));
  EXPECT_EQ(words_for(ways, raised),
            "It passes if the roof line of unit 1 is opened, or if 1.1 is lowered, or if 2.1 is "
            "lowered.");
}

TEST(Remedies, ALineThatCannotBeOpenedIsNone) {
  const auto ways = remedies(simple_section(), joined(heads({5, 125}, 0.6), {0, 1}, false));
  EXPECT_EQ(ways,
            (std::vector<Remedy>{{.opened = {}, .lowered = {0}}, {.opened = {}, .lowered = {1}}}));
}

TEST(Remedies, TakeAsFewStepsAsTheyCan) {
  // Two pairs, each on a roof line too long for the section: one step for each.
  auto raised = joined(heads({5, 125, 200, 320}, 0.6), {0, 1}, true, "the roof line of unit 1");
  raised = joined(raised, {2, 3}, true, "the roof line of unit 2");
  const auto ways = remedies(simple_section(), raised);
  ASSERT_FALSE(ways.empty());
  EXPECT_EQ(ways.front(), (Remedy{.opened = {0, 1}, .lowered = {}}));
  for (const Remedy& way : ways) {
    EXPECT_EQ(way.opened.size() + way.lowered.size(), 2U);
  }
}

TEST(Remedies, AHeadThatBridgesAllByItselfLeavesNone) {
  const auto zones = Row().before("R", 0).insulator(0, 0.4).behind("S", 0.4).zones;
  const auto raised = heads({5, 30}, 0.6);
  EXPECT_TRUE(remedies(zones, raised).empty());
  EXPECT_NE(words_for({}, raised).find("only with pantographs lowered"), std::string::npos);
}

TEST(Remedies, OfTwoStepsAreAllPairsThatHelp) {
  // On each of two roof lines one of three steps: opened, or either head lowered.
  auto raised = joined(heads({5, 125, 200, 320}, 0.6), {0, 1}, true, "the roof line of unit 1");
  raised = joined(raised, {2, 3}, true, "the roof line of unit 2");
  const auto ways = remedies(simple_section(), raised);
  EXPECT_EQ(ways.size(), 9U);
  EXPECT_EQ(words_for({ways.front()}, raised),
            "It passes if the roof line of unit 1 and the roof line of unit 2 are opened.");
  EXPECT_EQ(ways.back(), (Remedy{.opened = {}, .lowered = {1, 3}}));
}

TEST(Remedies, AreNamedWithAllTheirSteps) {
  const auto raised = joined(heads({5, 25, 45, 65}, 0.6), {0, 1}, true, "the roof line");
  EXPECT_EQ(words_for({{.opened = {0}, .lowered = {1, 2, 3}}}, raised),
            "It passes if the roof line is opened and 2.1, 3.1 and 4.1 are lowered.");
}

TEST(Sweep, EveryPairThatIsJoinedAtOnceIsNamed) {
  // Three heads that one line joins stand on R, on earth and on S.
  const auto zones =
      Row().before("R", 0).neutral(0, 20).earthed(20, 22).neutral(22, 42).behind("S", 42).zones;
  const Sweep swept = sweep(zones, joined(heads({0, 21, 43}, 0.6), {0, 1, 2}), BreakerAt::open);
  std::vector<std::pair<std::size_t, std::size_t>> pairs;
  for (const ForbiddenRange& range : swept.forbidden) {
    if (range.from_m < 42.5 && range.to_m > 42.5) {
      pairs.emplace_back(range.first_zone, range.second_zone);
    }
  }
  std::ranges::sort(pairs);
  EXPECT_EQ(pairs, (std::vector<std::pair<std::size_t, std::size_t>>{{0, 2}, {0, 4}, {2, 4}}));
}

TEST(Sweep, APantographIsNotOnTheSystemThatItComesFromEither) {
  const auto zones =
      Row().before(EnergySupply::ac_25kv, 0).neutral(0, 30).behind(EnergySupply::dc_3kv, 30).zones;
  const Sweep swept = sweep(zones, heads({5}, 0.6, {EnergySupply::dc_3kv}), BreakerAt::open);
  ASSERT_EQ(swept.forbidden.size(), 1U);
  EXPECT_EQ(swept.forbidden.front().why, Conflict::wrong_system);
  EXPECT_EQ(swept.forbidden.front().first_zone, 0U);
  using enum ChainLink::What;
  EXPECT_EQ(swept.forbidden.front().chain, (std::vector<ChainLink>{{collector, 0}, {zone, 0}}));
  EXPECT_NEAR(swept.forbidden.front().to_m, 5.3, 1e-9);
}

TEST(Sweep, APlaceBeforeTheBeginningIsAPlaceLikeAnyOther) {
  // S begins 10 m before the section, R ends 20 m before it; heads 45 m apart on one line.
  const auto zones = Row().before("R", -20).neutral(-20, -10).behind("S", -10).zones;
  const Sweep swept = sweep(zones, joined(heads({5, 50}, 0.6), {0, 1}), BreakerAt::open);
  ASSERT_EQ(swept.forbidden.size(), 1U);
  EXPECT_NEAR(swept.forbidden.front().from_m, -10 + 5 - 0.3, 1e-9);
  EXPECT_NEAR(swept.forbidden.front().to_m, -20 + 50 + 0.3, 1e-9);
}

TEST(DecidingMoment, WhatHappensThenIsAtThatMoment) {
  const auto moment = deciding_moment(simple_section(), joined(heads({5, 95}, 0.6), {0, 1}));
  ASSERT_TRUE(moment);
  EXPECT_EQ(moment->what.from_m, moment->front_m);
  EXPECT_EQ(moment->what.to_m, moment->front_m);
}

TEST(Length, OfSeveralTheLeastDistanceOfInnerStripsCounts) {
  // 50 m and 40 m between heads, less strips of 0.6 m.
  const auto raised = heads({5, 55, 95}, 0.6);
  using enum LengthMeaning;
  const LengthJudgement judgement = judge_by_length(39, minimum_between_inner, raised);
  EXPECT_NEAR(*judgement.inner_m, 39.4, 1e-9);
  EXPECT_NEAR(judgement.outer_m, 90.6, 1e-9);
  EXPECT_EQ(judgement.answer, LengthAnswer::passes);
  EXPECT_EQ(judge_by_length(39.5, minimum_between_inner, raised).answer, LengthAnswer::forbidden);
}

TEST(Length, ALineToASingleRaisedPantographJoinsNothing) {
  const auto raised = joined(heads({5, 55}, 0.6), {1});
  EXPECT_EQ(judge_by_length(39, LengthMeaning::minimum_between_inner, raised).answer,
            LengthAnswer::passes);
}

TEST(Remedies, ALineToOneThatIsLeftIsNone) {
  const auto raised = joined(heads({5, 25, 45}, 0.6), {0, 2});
  const RaisedCollectors left = after(raised, {.opened = {}, .lowered = {0}});
  EXPECT_EQ(left.collectors.size(), 2U);
  EXPECT_TRUE(left.joins.empty());
  const RaisedCollectors moved = after(raised, {.opened = {}, .lowered = {1}});
  ASSERT_EQ(moved.joins.size(), 1U);
  EXPECT_EQ(moved.joins[0].collectors, (std::vector<std::size_t>{0, 1}));
}

TEST(Micrometres, OfWhatIsBeyondAThousandKilometresAreWithoutEnd) {
  EXPECT_EQ(half_micrometres(5e6), half_micrometres(std::numeric_limits<double>::infinity()));
  EXPECT_EQ(half_micrometres(-5e6), half_micrometres(-std::numeric_limits<double>::infinity()));
  EXPECT_EQ(half_micrometres(5e5), 1'000'000'000'000);
}

}  // namespace

}  // namespace panup
