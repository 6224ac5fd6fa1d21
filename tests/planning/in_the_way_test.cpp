/// What keeps a train from something better names itself: the section, its chainage, its rule.

#include "plan/in_the_way.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "every_way.h"
#include "scenario.h"

namespace panup::scenario {
namespace {

bool has(const std::string& text, std::string_view part) {
  return text.find(part) != std::string::npos;
}

/// What a rule says on a section of the plan; empty if it says nothing.
std::string said(const PlannedSection& section, const std::string& rule) {
  for (const Finding& finding : section.findings) {
    if (finding.rule == rule) {
      return finding.text;
    }
  }
  return {};
}

/// Cuts the only section in two at km 10.
Section& second_from_km_10(Scenario& scenario) {
  Section second = scenario.section();
  scenario.section().to_km = 10;
  second.id = "s2";
  second.from_km = 10;
  scenario.request.route.sections.push_back(second);
  return scenario.request.route.sections.back();
}

const std::vector<RaisedRecord> one_alone{{.number = 1, .distance_m = 0, .speed_kmh = 120}};

TEST(InTheWay, ALocomotiveThatGoesDeadLongBeforeAViaductNamesTheViaductAndItsRecord) {
  Scenario scenario = Scenario().add(locomotive()).add(locomotive());
  second_from_km_10(scenario).records = one_alone;
  const Plan plan = scenario.plan();
  const std::string before = said(plan.sections.front(), "put-dead");
  EXPECT_TRUE(has(before,
                  "In the way of 1.1 and 2.2: section s2 (km 10.000 to 20.000), and nothing "
                  "may be changed before it."))
      << before;
  EXPECT_TRUE(has(before, "the section permits at most 1")) << before;
  EXPECT_TRUE(has(before, "(rule line-record)")) << before;
}

TEST(InTheWay, OnTheViaductItselfTheRecordIsNamedToo) {
  Scenario scenario = Scenario().add(locomotive()).add(locomotive());
  second_from_km_10(scenario).records = one_alone;
  const Plan plan = scenario.plan();
  const std::string on = said(plan.sections.back(), "put-dead");
  EXPECT_TRUE(has(on, "the section permits at most 1")) << on;
  EXPECT_TRUE(has(on, "section s2 (km 10.000 to 20.000)")) << on;
}

TEST(InTheWay, BehindTheViaductItSaysThatNothingCouldBeChangedSince) {
  Scenario scenario = Scenario().add(locomotive()).add(locomotive());
  second_from_km_10(scenario);
  scenario.section().records = one_alone;
  const Plan plan = scenario.plan();
  const std::string behind = said(plan.sections.back(), "put-dead");
  EXPECT_TRUE(has(behind, "section s1 (km 0.000 to 10.000), and nothing may be changed behind it."))
      << behind;
}

TEST(InTheWay, WhatLiesBeyondAStopIsNotBlamed) {
  // One alone at both ends; in the middle two may be up, and only the first end keeps them from it.
  Scenario scenario = Scenario().add(locomotive()).add(locomotive());
  Section& last = second_from_km_10(scenario);
  last.records = one_alone;
  Section middle = scenario.section();
  scenario.section().records = one_alone;
  scenario.section().to_km = middle.from_km = 5;
  middle.id = "middle";
  auto& sections = scenario.request.route.sections;
  sections.insert(sections.begin() + 1, middle);
  scenario.request.route.stops = {{.name = "Stop", .at_km = 10, .reversal = false, .place = {}}};
  const Plan plan = scenario.plan();
  for (const PlannedSection& section : plan.sections) {
    if (section.section == 1 && section.from_km > 5.1) {
      const std::string dead = said(section, "put-dead");
      EXPECT_TRUE(has(dead, "section s1 (km 0.000 to 5.000), and nothing may be changed behind it"))
          << dead;
      return;
    }
  }
  EXPECT_TRUE(has(said(plan.sections[1], "put-dead"), "section s1 (km 0.000 to 5.000)"))
      << said(plan.sections[1], "put-dead");
}

TEST(InTheWay, WhatIsPermittedOnTheWayAndWorseByAHigherStepIsInTheWayToo) {
  // Two up because of the ice to km 10; behind it they need consent, where one alone would not.
  Scenario scenario = Scenario().add(locomotive()).load(LoadNature::ordinary);
  Section& second = second_from_km_10(scenario);
  second.design_type.reset();
  second.records.clear();
  scenario.request.conditions.ice = {{0, 10}};
  scenario.rule("runnable-first").on = false;
  const Plan plan = scenario.plan();
  ASSERT_EQ(plan.answer, Answer::consent_needed);
  const std::string consent = said(plan.sections.back(), "design-spacing");
  EXPECT_TRUE(has(consent,
                  "In the way of 1.2: section s1 (km 0.000 to 10.000) would cost two contact "
                  "points on the leading working locomotive with it, and nothing may be "
                  "changed behind it."))
      << consent;
}

TEST(InTheWay, AConsentThatNobodyHasNamedIsInTheWayOfWhatNeedsIt) {
  Scenario scenario = Scenario().add(locomotive()).add(locomotive());
  scenario.section().design_type.reset();
  const Plan plan = scenario.plan();
  const std::string dead = said(plan.sections.front(), "put-dead");
  EXPECT_TRUE(has(dead, "In the way of 1.1 and 2.2: a consent that nobody has named.")) << dead;
  EXPECT_TRUE(has(dead, "(rule design-spacing; section s1 (km 0.000 to 20.000))")) << dead;
}

TEST(InTheWay, AStopBetweenIsAPlaceToChangeAndNothingIsInTheWay) {
  Scenario scenario = Scenario().add(locomotive()).add(locomotive());
  second_from_km_10(scenario).records = one_alone;
  scenario.request.route.stops = {{.name = "Stop", .at_km = 9, .reversal = false, .place = {}}};
  const Plan plan = scenario.plan();
  EXPECT_EQ(said(plan.sections.front(), "put-dead"), "");
  EXPECT_TRUE(has(said(plan.sections[1], "put-dead"), "section s2 (km 10.000 to 20.000)"));
}

TEST(InTheWay, AMarkedPlaceWhereBothMayNotBeUpTogetherIsNoPlaceToChange) {
  Scenario scenario = Scenario().add(locomotive()).load(LoadNature::ordinary);
  auto narrow = std::make_shared<PantographType>(*pantograph({}));
  narrow->head_width_mm = 1600;
  auto type = std::make_shared<VehicleType>(*locomotive());
  type->pantographs.back().type = narrow;  // the rear one: prescribed
  std::get<Vehicle>(scenario.request.train.consist.front()).type = type;
  scenario.section().records = one_alone;
  second_from_km_10(scenario);
  scenario.section().permitted_head_widths_mm = {1600, 1950};
  scenario.request.route.landmarks = {
      {.name = "Board", .at_km = 9, .change_on_the_move = true, .place = {}}};
  const Plan plan = scenario.plan();
  const std::string departs = said(plan.sections.front(), "rear-alone");
  EXPECT_TRUE(has(departs, "In the way of 1.2: section s2 (km 10.000 to 20.000)")) << departs;
  EXPECT_TRUE(has(departs, "1600 mm")) << departs;
}

TEST(InTheWay, AFacingPairNamesTheDefectsThatLeaveNothingElse) {
  const Plan plan =
      Scenario().add(locomotive()).add(locomotive()).defect({1, 1}).defect({2, 2}).plan();
  const std::string facing = said(plan.sections.front(), "facing-pair");
  EXPECT_TRUE(has(facing, "In the way of 1.1 and 2.2: 1.1 and 2.2: defective, stays down."))
      << facing;
}

TEST(InTheWay, WhereDiamondsMayNotFaceEachOtherTheDeadLocomotiveSaysSo) {
  const Roof diamond{.frame = PantographFrame::diamond};
  const Plan plan = Scenario()
                        .add(locomotive(diamond))
                        .add(locomotive(diamond))
                        .defect({1, 1})
                        .defect({2, 2})
                        .plan();
  const std::string dead = said(plan.sections.front(), "put-dead");
  EXPECT_TRUE(has(dead, "face each other")) << dead;
  EXPECT_TRUE(has(dead, "rule facing-diamond")) << dead;
}

TEST(InTheWay, ALoadIsExposedLongBeforeASectionThatDoesNotAdmitTheFrontHead) {
  auto narrow = std::make_shared<PantographType>(*pantograph({}));
  narrow->head_width_mm = 1600;
  auto type = std::make_shared<VehicleType>(*locomotive());
  type->pantographs.back().type = narrow;
  Scenario scenario = Scenario().add(type).load(LoadNature::dangerous);
  second_from_km_10(scenario).permitted_head_widths_mm = {1600};
  scenario.section().permitted_head_widths_mm = {1600, 1950};
  const Plan plan = scenario.plan();
  const std::string exposed = said(plan.sections.front(), "load-protected");
  EXPECT_TRUE(has(exposed, "In the way of 1.1: section s2 (km 10.000 to 20.000)")) << exposed;
  EXPECT_TRUE(has(exposed, "1950 mm wide")) << exposed;
}

TEST(InTheWay, OfTwoLoadsItIsSaidOfTheOneThatIsExposed) {
  auto narrow = std::make_shared<PantographType>(*pantograph({}));
  narrow->head_width_mm = 1600;
  auto both_narrow = std::make_shared<VehicleType>(*locomotive());
  both_narrow->pantographs.front().type = both_narrow->pantographs.back().type = narrow;
  auto rear_narrow = std::make_shared<VehicleType>(*locomotive());
  rear_narrow->pantographs.back().type = narrow;
  Scenario scenario = Scenario().add(both_narrow).load(LoadNature::dangerous, 100);
  scenario.add(rear_narrow).load(LoadNature::dangerous, 100).permits(2);
  second_from_km_10(scenario).permitted_head_widths_mm = {1600};
  scenario.section().permitted_head_widths_mm = {1600, 1950};
  const Plan plan = scenario.plan();
  ASSERT_EQ(up_on(plan), "F1 R2");
  int exposed = 0;
  int kept = 0;
  for (const Finding& finding : plan.sections.front().findings) {
    if (finding.rule == "load-protected") {
      EXPECT_EQ(has(finding.text, "In the way of 1.1 and 2.1: section s2"), finding.kept == false)
          << finding.text;
      (finding.kept == false ? exposed : kept) += 1;
    }
  }
  EXPECT_EQ(exposed, 1);
  EXPECT_EQ(kept, 1);
}

TEST(InTheWay, WhatIsPermittedHereAndCannotBeReachedNamesWhatIsBefore) {
  auto narrow = std::make_shared<PantographType>(*pantograph({}));
  narrow->head_width_mm = 1600;
  auto type = std::make_shared<VehicleType>(*locomotive());
  type->pantographs.back().type = narrow;
  Scenario scenario = Scenario().add(type).load(LoadNature::ordinary);
  second_from_km_10(scenario).permitted_head_widths_mm = {1600};
  const Plan plan = scenario.plan();
  ASSERT_EQ(plan.answer, Answer::none);
  for (const PlannedSection& section : plan.sections) {
    if (section.answer != Answer::none) {
      continue;
    }
    const std::string text = said(section, "change-at-stop");
    const bool first = section.from_km < 10;
    EXPECT_TRUE(has(text, first ? "section s2 (km 10.000 to 20.000), and nothing may be changed "
                                  "before it"
                                : "section s1 (km 0.000 to 10.000), and nothing may be changed "
                                  "behind it"))
        << text;
    EXPECT_TRUE(has(text, "rule head-fit")) << text;
  }
}

TEST(InTheWay, ASeparationSectionAheadIsNamedWithItsChainage) {
  Scenario scenario = Scenario().add(locomotive()).add(locomotive());
  scenario.request.route.separations = {{.name = "Grenzhalt",
                                         .kind = SeparationKind::phase,
                                         .from_km = 12,
                                         .length_m = 10,
                                         .length_meaning = LengthMeaning::maximum_between_outer,
                                         .place = {}}};
  const Plan plan = scenario.plan();
  // Within 10 m only the two that face each other pass.
  const std::string dead = said(plan.sections.front(), "facing-pair");
  EXPECT_TRUE(has(dead, "Grenzhalt at km 12.000, and nothing may be changed before it")) << dead;
  EXPECT_TRUE(has(dead, "rule separation-length")) << dead;
}

/// How many pieces on from `piece` a set comes by itself before it may not be up; nothing where it
/// comes to a place where something else may be up, or to where the route ends or begins.
std::optional<std::size_t> comes_on(const PlanningCase& planning, std::size_t piece,
                                    PantographSet set, bool ahead, PantographSet defective) {
  const std::size_t last = ahead ? planning.pieces.size() - 1 : 0;
  for (std::size_t at = piece, passed = 0; at != last; ++passed) {
    const std::size_t beyond = ahead ? at + 1 : at - 1;
    const std::size_t entered = std::max(at, beyond);
    if (planning.pieces[beyond].lowered) {
      const bool stays_up_so_far = !ahead || passage_cost(planning, at, set, set);
      return stays_up_so_far ? std::nullopt : std::optional(passed);
    }
    const bool changes = planning.pieces[entered].entry != Passage::joined &&
                         std::ranges::any_of(planning.sets_on(beyond), [&](const JudgedSet& other) {
                           return other.raised != set && !other.raised.intersects(defective) &&
                                  (ahead ? passage_cost(planning, at, set, other.raised)
                                         : passage_cost(planning, beyond, other.raised, set));
                         });
    if (changes) {
      return std::nullopt;
    }
    if (planning.judge(beyond).judge(planning.ground(beyond), set, {}).forbidden) {
      return passed;
    }
    at = beyond;
  }
  return std::nullopt;
}

/// Of some sets, the first of those that come farthest; nothing, and those that come through.
std::optional<InTheWay> first_of_farthest(const PlanningCase& planning, std::size_t piece,
                                          std::vector<PantographSet>& sets, bool ahead,
                                          PantographSet defective) {
  std::vector<PantographSet> through;
  std::optional<std::size_t> farthest;
  InTheWay found;
  found.ahead = ahead;
  for (const PantographSet set : sets) {
    const auto passed = comes_on(planning, piece, set, ahead, defective);
    if (!passed) {
      through.push_back(set);
    } else if (!farthest || *passed > *farthest) {
      farthest = passed;
      found.piece = ahead ? piece + *passed + 1 : piece - *passed - 1;
      found.raised = set;
    }
  }
  sets = through;
  return through.empty() && farthest ? std::optional(found) : std::nullopt;
}

TEST(InTheWay, IsWhatStopsTheOneThatComesFarthestWhereEachIsFollowedByItself) {
  int ahead = 0;
  int behind = 0;
  int none = 0;
  for (unsigned seed = 1; seed <= 60; ++seed) {
    Scenario scenario = RandomCase(seed).make();
    scenario.request.route.sections[seed % 3].records = one_alone;
    const PlanningCase planning = prepare(scenario.request);
    const PantographSet defective = planning.judges[0].train().defective;
    for (std::size_t piece = 0; piece < planning.pieces.size(); ++piece) {
      std::vector<PantographSet> permitted;
      for (const JudgedSet& one : planning.sets_on(piece)) {
        if (!one.raised.intersects(defective)) {
          permitted.push_back(one.raised);
        }
      }
      // Some of them, the last first: those with more up come less far.
      for (std::size_t some = 1; some <= permitted.size(); ++some) {
        std::vector<PantographSet> sets(permitted.rbegin(),
                                        permitted.rbegin() + static_cast<std::ptrdiff_t>(some));
        const auto said = find_in_the_way(planning, piece, sets, defective);
        auto right = first_of_farthest(planning, piece, sets, true, defective);
        if (!right) {
          right = first_of_farthest(planning, piece, sets, false, defective);
        }
        const std::string where = fmt::format("seed {}, piece {}, {} sets", seed, piece, some);
        ASSERT_EQ(said.has_value(), right.has_value()) << where;
        if (!right) {
          ++none;
          continue;
        }
        (right->ahead ? ahead : behind) += 1;
        EXPECT_EQ(said->ahead, right->ahead) << where;
        EXPECT_EQ(said->piece, right->piece) << where;
        EXPECT_EQ(said->raised, right->raised) << where;
        EXPECT_EQ(said->rung, Rung::blocked) << where;
      }
    }
  }
  EXPECT_GT(ahead, 20);
  EXPECT_GT(behind, 20);
  EXPECT_GT(none, 20);
}

}  // namespace
}  // namespace panup::scenario
