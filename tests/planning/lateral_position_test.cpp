#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "plan/planning_case.h"
#include "scenario.h"

/// Wind on the contact wire, and low places, as the plan sees them. Source of the permitted
/// positions, 0.40 m under a 1600 mm head and 0.55 m under a 1950 mm head: Kiessling, Puschmann,
/// Schmieder, Contact Lines for Electric Railways (from memory); what follows for a plan is
/// derived.

namespace panup::scenario {

namespace {

/// A 1950 mm head at 4.5 m from cab 1, and another at 14.5 m.
std::shared_ptr<const VehicleType> two_heads(double other_width_mm,
                                             std::optional<double> working_width_mm = {}) {
  auto other = std::make_shared<PantographType>(*pantograph({}));
  other->id = "other";
  other->head_width_mm = other_width_mm;
  other->working_width_mm = working_width_mm;
  auto type = std::make_shared<VehicleType>(*locomotive());
  type->pantographs.back().type = other;
  return type;
}

Scenario windy(const std::shared_ptr<const VehicleType>& type, std::optional<double> wind_ms,
               double stagger_m = 0.3) {
  Scenario scenario = Scenario().add(type);
  scenario.section().permitted_head_widths_mm = {1450, 1600, 1950};
  SpanType span;
  span.length_m = 65;
  span.stagger_m = {stagger_m, -stagger_m};
  scenario.section().spans = {span};
  scenario.section().wires = {{.diameter_mm = 12, .tension_n = 12000},
                              {.diameter_mm = 9, .tension_n = 12000}};
  scenario.request.conditions.wind_ms = wind_ms;
  return scenario;
}

bool notes_say(const Plan& plan, const std::string& text) {
  return std::ranges::any_of(
      plan.notes, [&](const std::string& note) { return note.find(text) != std::string::npos; });
}

std::string said_of_wind(const PlannedSection& section) {
  const auto found = std::ranges::find(section.findings, "lateral-position", &Finding::rule);
  return found == section.findings.end() ? std::string() : found->text;
}

TEST(Wind, OfACalmDayLeavesBothHeads) {
  const Plan plan = windy(two_heads(1600), 3).plan();
  EXPECT_EQ(up_on(plan), "R1");
  EXPECT_TRUE(says(plan.sections[0], "lateral-position", Strength::note));
}

TEST(Wind, RulesOutTheNarrowHeadBeforeTheWideOne) {
  // 24 m/s and gusts blow the wire 0.35 m off in midspan: 0.40 m with the staggers.
  const Plan plan = windy(two_heads(1600), 24).plan();
  EXPECT_EQ(plan.answer, Answer::permitted);
  EXPECT_EQ(up_on(plan), "F1");
  EXPECT_NE(said_of_wind(plan.sections[0]).find("permitted: 0.52 m"), std::string::npos)
      << said_of_wind(plan.sections[0]);
}

TEST(Wind, MarginsOfThePlanAreThoseThatItsFindingsSay) {
  const Plan plan = windy(two_heads(1600), 20).plan();
  ASSERT_EQ(plan.margins.size(), plan.sections.size());
  ASSERT_EQ(plan.margins[0].lateral.size(), 1U);
  const LateralMargin& margin = plan.margins[0].lateral[0];
  EXPECT_EQ(margin.heads, plan.sections[0].raised);
  EXPECT_TRUE(margin.holds());
  EXPECT_NE(said_of_wind(plan.sections[0])
                .find(fmt::format("comes to {:.2f} m from the middle of the track; permitted: "
                                  "{:.2f} m, up to {:.1f} m/s",
                                  margin.position_m, margin.permitted_m, *margin.holds_ms)),
            std::string::npos)
      << said_of_wind(plan.sections[0]);
}

TEST(Wind, BeyondWhatAnyHeadHoldsRulesOutAll) {
  const Plan plan = windy(two_heads(1600), 40).plan();
  EXPECT_EQ(plan.answer, Answer::none);
  EXPECT_TRUE(says(plan.sections[0], "lateral-position", Strength::forbidden));
}

TEST(Wind, HoldsAHeadOfStatedWorkingWidthThatItRulesOutUnknown) {
  EXPECT_EQ(up_on(windy(two_heads(1450, 1030), 3, 0.27).plan()), "R1");
  EXPECT_EQ(up_on(windy(two_heads(1450), 3, 0.27).plan()), "F1");
}

TEST(Wind, ThatNobodyStatesIsSaidAsTheGreatestOne) {
  const Plan plan = windy(locomotive(), std::nullopt).plan();
  EXPECT_EQ(plan.answer, Answer::permitted);
  EXPECT_NE(said_of_wind(plan.sections[0]).find("stays on the head in a wind of up to"),
            std::string::npos);
}

TEST(Wind, ThatNobodyStatesIsTheDesignWindWhereTheRuleHasOne) {
  Scenario scenario = windy(locomotive(), std::nullopt);
  scenario.rule("lateral-position").numbers["design_wind_ms"] = 40;
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.answer, Answer::none);
  EXPECT_NE(said_of_wind(plan.sections[0]).find("the line's design wind of 40 m/s"),
            std::string::npos);
  scenario.request.conditions.wind_ms = 3;
  EXPECT_EQ(scenario.plan().answer, Answer::permitted) << "the day's wind goes first";
}

TEST(Wind, IsNotNeededWhereTheStaggerIsTooLarge) {
  const Plan plan = windy(locomotive(), std::nullopt, 0.6).plan();
  EXPECT_EQ(plan.answer, Answer::none);
  EXPECT_NE(said_of_wind(plan.sections[0]).find("even in the calm"), std::string::npos);
}

TEST(Wind, IsJudgedByTheWeakestSpan) {
  Scenario scenario = windy(locomotive(), 20);
  EXPECT_EQ(scenario.plan().answer, Answer::permitted);
  SpanType curve;
  curve.length_m = 65;
  curve.curve_radius_m = 1200;
  scenario.section().spans.push_back(curve);
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.answer, Answer::none);
  EXPECT_NE(said_of_wind(plan.sections[0]).find("curve of 1200 m"), std::string::npos);
}

TEST(Wind, IsSaidNotToBeJudgedOnlyWhereItIsNot) {
  Scenario scenario = windy(locomotive(), 5);
  EXPECT_FALSE(notes_say(scenario.plan(), "is not judged"));
  EXPECT_FALSE(notes_say(scenario.plan(), "lateral position of the wire"));
  Section second = scenario.section();
  second.id = "s2";
  second.from_km = second.to_km;
  second.to_km += 10;
  second.spans.clear();
  scenario.request.route.sections.push_back(second);
  EXPECT_TRUE(notes_say(scenario.plan(), "Wind of 5 m/s is not judged on s2: ask"));
  EXPECT_TRUE(notes_say(scenario.plan(), "lateral position of the wire on s2"));
  scenario.rule("lateral-position").on = false;
  EXPECT_TRUE(notes_say(scenario.plan(), "Wind of 5 m/s is not judged: ask"));
}

/// Works down to 4.8 m in front, to 4.5 m behind; the low place is at km 10.
Scenario low(double wire_height_m) {
  auto lower = std::make_shared<PantographType>(*pantograph({}));
  lower->working_height_min_m = 4.5;
  auto type = std::make_shared<VehicleType>(*locomotive());
  type->pantographs.front().type = lower;
  Scenario scenario = Scenario().add(type);
  scenario.request.route.low_places = {{.name = "Mill bridge",
                                        .from_km = 10,
                                        .to_km = 10.1,
                                        .wire_height_min_m = wire_height_m,
                                        .place = {}}};
  return scenario;
}

TEST(LowPlace, ThatBothHeadsFollowChangesNothing) { EXPECT_EQ(up_on(low(4.9).plan()), "R1"); }

TEST(LowPlace, RulesOutTheHeadThatCannotFollowOnlyWhereTheTrainIsUnderIt) {
  Scenario scenario = low(4.6);
  // Stops on both sides: there the pantograph changes.
  scenario.request.route.stops = {{.name = "Before", .at_km = 5, .reversal = false, .place = {}},
                                  {.name = "After", .at_km = 15, .reversal = false, .place = {}}};
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.answer, Answer::permitted);
  const auto raised_at = [&plan](double km) {
    const auto found = std::ranges::find_if(
        plan.sections, [km](const PlannedSection& s) { return s.from_km <= km && km < s.to_km; });
    return found == plan.sections.end() ? std::vector<PantographRef>() : found->raised;
  };
  const std::vector<PantographRef> front{{.vehicle = 1, .pantograph = 1}};
  const std::vector<PantographRef> rear{{.vehicle = 1, .pantograph = 2}};
  EXPECT_EQ(raised_at(2), rear);
  EXPECT_EQ(raised_at(10.05), front);
  EXPECT_EQ(raised_at(10.11), front) << "the rear of the train is still under it";
  EXPECT_EQ(raised_at(18), rear);
}

/// The low place at km 10 to 10.1, and a train of 319 m that turns round with its front at
/// `stop_km`.
Scenario low_before_a_reversal(double stop_km) {
  Scenario scenario = low(4.9).load(LoadNature::ordinary, 300);
  scenario.request.route.stops = {
      {.name = "Turn", .at_km = stop_km, .reversal = true, .place = {}}};
  return scenario;
}

/// Whether some of the train is under the low place, by where it is on the track: after it has
/// turned round it runs back over the wire that it came along.
bool is_under(double stop_km, double front_km) {
  const double train_km = 0.319;
  const double back_km = std::max(0.0, front_km - stop_km);
  const double ahead_km = std::min(front_km, stop_km) - back_km;
  return ahead_km > 10 && ahead_km - train_km < 10.1;
}

TEST(LowPlace, IsLookedAtForAsLongAsSomeOfTheTrainIsUnderItAlsoOnTheWayBack) {
  for (const double stop_km : {10.02, 10.1, 10.25, 10.4}) {
    const Scenario scenario = low_before_a_reversal(stop_km);
    const PlanningCase planning = prepare(scenario.request);
    for (const Piece& piece : planning.pieces) {
      for (const double km :
           {piece.from_km + 1e-6, (piece.from_km + piece.to_km) / 2, piece.to_km - 1e-6}) {
        if (is_under(stop_km, km)) {
          EXPECT_FALSE(piece.low_places.empty()) << "km " << km << ", turned at " << stop_km;
        }
      }
    }
    EXPECT_TRUE(planning.pieces.front().low_places.empty());
    EXPECT_TRUE(planning.pieces.back().low_places.empty()) << "it is long past there";
  }
}

TEST(LowPlace, ThatNoHeadFollowsLeavesNothing) {
  const Plan plan = low(4.4).plan();
  EXPECT_EQ(plan.answer, Answer::none);
  const bool named = std::ranges::any_of(plan.sections, [](const PlannedSection& section) {
    return std::ranges::any_of(section.findings, [](const Finding& finding) {
      return finding.rule == "height-fit" &&
             finding.text.find("Mill bridge comes down to 4.4 m") != std::string::npos;
    });
  });
  EXPECT_TRUE(named);
}

}  // namespace

}  // namespace panup::scenario
