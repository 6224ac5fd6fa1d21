/// What becomes of the train when a pantograph fails.

#include <gtest/gtest.h>

#include "scenario.h"

namespace panup::scenario {
namespace {

const Contingency& when_fails(const Plan& plan, PantographRef ref) {
  for (const Contingency& contingency : plan.contingencies) {
    if (contingency.failed == ref) {
      return contingency;
    }
  }
  throw std::out_of_range(to_string(ref));
}

TEST(Failures, OneForEachPantographThatCouldBeRaised) {
  Scenario scenario = Scenario().add(locomotive()).add(locomotive()).add(locomotive());
  scenario.dead(2).defect({3, 1});
  EXPECT_EQ(scenario.plan().contingencies.size(), 3U);
}

TEST(Failures, FromTheStartThePlanIsTheOneWithThatDefect) {
  Scenario scenario = Scenario().add(locomotive()).add(locomotive()).load(LoadNature::ordinary);
  const Plan plan = scenario.plan();
  for (const PantographRef ref : {PantographRef{1, 1}, {1, 2}, {2, 1}, {2, 2}}) {
    Scenario with_defect = scenario;
    const Plan other = with_defect.defect(ref).plan();
    const Contingency& contingency = when_fails(plan, ref);
    EXPECT_EQ(contingency.sections[0].raised, other.sections[0].raised);
    EXPECT_EQ(contingency.sections[0].speed_kmh, other.sections[0].speed_kmh);
    EXPECT_EQ(contingency.changes_the_plan,
              contingency.sections[0].raised != plan.sections[0].raised);
  }
}

TEST(Failures, OnTheRoadTheTrainStopsAndGoesOnWithAnother) {
  const Plan plan = Scenario().add(locomotive()).load(LoadNature::ordinary).plan();
  const Contingency& contingency = when_fails(plan, {1, 2});
  ASSERT_EQ(contingency.on_the_road.size(), 1U);
  EXPECT_EQ(contingency.on_the_road[0].raised, std::vector<PantographRef>({{1, 1}}));
  EXPECT_EQ(contingency.on_the_road[0].reaches_km, 20);
  EXPECT_FALSE(contingency.on_the_road[0].stranded);
  EXPECT_TRUE(when_fails(plan, {1, 1}).on_the_road.empty());  // it is not up
}

TEST(Failures, TheOnlyOneFailsAndTheTrainIsStranded) {
  const Plan plan = Scenario().add(one_pantograph_locomotive()).load(LoadNature::ordinary).plan();
  const RoadFailure& failure = when_fails(plan, {1, 1}).on_the_road[0];
  EXPECT_TRUE(failure.stranded);
  EXPECT_EQ(failure.answer, Answer::none);
  EXPECT_NE(failure.text.find("help"), std::string::npos);
}

TEST(Failures, NoneIsToldOfWhereTheTrainNeverComes) {
  Scenario scenario = Scenario().add(locomotive()).load(LoadNature::ordinary);
  std::vector<Section>& sections = scenario.request.route.sections;
  for (const double from_km : {10.0, 15.0}) {
    Section next = sections.back();
    sections.back().to_km = next.from_km = from_km;
    next.id = "s" + std::to_string(sections.size() + 1);
    sections.push_back(next);
  }
  sections[1].permitted_head_widths_mm = {1600};
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.answer, Answer::none);
  const Contingency& contingency = when_fails(plan, {1, 2});
  ASSERT_FALSE(contingency.on_the_road.empty());
  EXPECT_LE(contingency.on_the_road.back().to_km, 10);
}

TEST(Failures, ItCanGoOnOnlyAsFarAsAnotherOneFits) {
  // One pantograph for each system; the one for 3 kV DC has failed before the border is reached.
  Scenario scenario = Scenario().add(one_for_each_system_locomotive()).load(LoadNature::ordinary);
  Section second = scenario.section();
  scenario.section().to_km = 10;
  second.id = "s2";
  second.from_km = 10;
  second.supply = EnergySupply::dc_3kv;
  scenario.request.route.sections.push_back(second);
  scenario.request.route.separations = {{.name = "System separation",
                                         .kind = SeparationKind::system,
                                         .from_km = 9.9,
                                         .length_m = 200,
                                         .pantograph_lowered = true,
                                         .breaker_off = true,
                                         .length_meaning = {},
                                         .place = {}}};
  scenario.rule("coasting").on = false;  // what the train runs on by is not stated
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.answer, Answer::permitted);
  const Contingency& contingency = when_fails(plan, {1, 2});
  EXPECT_EQ(contingency.answer, Answer::none);
  EXPECT_EQ(contingency.sections.back().answer, Answer::none);
  ASSERT_EQ(contingency.on_the_road.size(), 1U);
  EXPECT_TRUE(contingency.on_the_road[0].stranded);
  // It goes up when it has left the separation section, 14.5 m behind the front.
  EXPECT_NEAR(contingency.on_the_road[0].from_km, 10.1145, 1e-9);
  // The first system's one fails on its own stretch: stranded at once, not at the border.
  EXPECT_TRUE(when_fails(plan, {1, 1}).on_the_road[0].stranded);
}

TEST(Failures, ConsentNeededOnTheRoadComesWithWhatNeedsNone) {
  auto close = std::make_shared<VehicleType>(*locomotive());
  close->pantographs[0].from_cab1_m = 3;
  close->pantographs[1].from_cab1_m = 16;
  Scenario scenario = Scenario().add(close).add(close).load(LoadNature::ordinary);
  scenario.defect({1, 1});  // R1 R2; when R2 fails, R1 F2 are 6 m apart
  scenario.rule("runnable-first").on = false;
  const Plan plan = scenario.plan();
  const RoadFailure& failure = when_fails(plan, {2, 2}).on_the_road[0];
  EXPECT_EQ(failure.answer, Answer::consent_needed);
  EXPECT_NE(failure.text.find("without it"), std::string::npos);
  EXPECT_FALSE(failure.without_consent.empty());
  for (const char* const down : {"1.1", "2.2"}) {
    EXPECT_EQ(failure.without_consent.find(down), std::string::npos) << failure.without_consent;
  }
}

TEST(Failures, OneFarBehindGoesUpNoSoonerThanItIsPastTheWorks) {
  // 1.1 runs alone; when it fails, the locomotive at the end of the train has to do, whose
  // pantographs, 2 m apart, come through the works four kilometres later.
  auto type = std::make_shared<VehicleType>(*locomotive());
  type->pantographs[1].from_cab1_m = 6.5;
  type->pantographs[1].nearer_cab = Cab::cab1;
  Scenario scenario = Scenario().add(one_pantograph_locomotive()).permits(1);
  scenario.load(LoadNature::ordinary, 4000).add(type);
  scenario.request.route.lowered = {{.name = "Works", .from_km = 10, .to_km = 10.2, .place = {}}};
  const std::vector<double> past_km{10.2 + 4.0235, 10.2 + 4.0255};  // of 2.1 and of 2.2
  bool goes_up = false;
  const Plan plan = scenario.plan();
  for (const RoadFailure& row : when_fails(plan, {1, 1}).on_the_road) {
    for (const PantographRef& ref : row.raised) {
      const double least_km = past_km[ref.pantograph == 1 ? 0 : 1];
      if (row.from_km > 10) {
        EXPECT_GE(row.from_km, least_km - 1e-9) << row.text;
        goes_up = true;
      }
    }
  }
  EXPECT_TRUE(goes_up);
}

TEST(Failures, WhereAFewMetresNeedAConsentThatIsSaidOfThem) {
  // Nothing is known of ten metres of wire. When 2.2 fails, 1.1 and 2.1 go on, 4.5 m and 23.5 m
  // behind the front. Once the front has come to it, the first of them counts.
  Scenario scenario = Scenario().add(locomotive()).add(locomotive()).load(LoadNature::ordinary);
  scenario.rule("runnable-first").on = false;
  const std::vector<RaisedRecord> two_up{{.number = 2, .distance_m = 5, .speed_kmh = 60}};
  scenario.section().records = two_up;
  Section& unknown = scenario.cut_at(10);
  unknown.records.clear();
  unknown.design_type.reset();
  scenario.cut_at(10.01).records = two_up;
  const Plan plan = scenario.plan();
  std::vector<double> borders_km;
  for (const RoadFailure& row : when_fails(plan, {2, 2}).on_the_road) {
    if (row.answer == Answer::consent_needed) {
      borders_km.insert(borders_km.end(), {row.from_km, row.to_km});
    } else {
      EXPECT_EQ(row.answer, Answer::permitted);
    }
  }
  const std::vector<double> right_km{10, 10.0145, 10.0235, 10.0335};
  ASSERT_EQ(borders_km.size(), right_km.size());
  for (std::size_t i = 0; i < right_km.size(); ++i) {
    EXPECT_NEAR(borders_km[i], right_km[i], 1e-9);
  }
}

/// Separation, works, a low place, a border and a turn cut the route into pieces.
Scenario in_many_pieces() {
  Scenario scenario = Scenario().add(locomotive()).load(LoadNature::dangerous).add(locomotive());
  scenario.cut_at(8).line_speed_kmh = 80;
  Route& route = scenario.request.route;
  route.separations = {{.name = "Phase separation",
                        .kind = SeparationKind::phase,
                        .from_km = 3,
                        .length_m = 120,
                        .length_meaning = {},
                        .place = {}}};
  route.lowered = {{.name = "Works", .from_km = 12, .to_km = 12.2, .place = {}}};
  route.low_places = {
      {.name = "Bridge", .from_km = 5, .to_km = 5.1, .wire_height_min_m = 4.9, .place = {}}};
  route.stops = {{.name = "Turn", .at_km = 16, .reversal = true, .place = {}}};
  return scenario;
}

TEST(WhenOneFails, ThereIsAnAnswerForEveryPlaceWhereItIsUp) {
  const Plan plan = in_many_pieces().plan();
  ASSERT_NE(plan.answer, Answer::none);
  int with_several_rows = 0;
  for (const Contingency& contingency : plan.contingencies) {
    const auto is_up = [&](double km) {
      bool up = false;
      for (const Instruction& order : plan.instructions) {
        if (order.at_km <= km &&
            std::ranges::find(order.pantographs, contingency.failed) != order.pantographs.end()) {
          up = order.action == Action::raise || (up && order.action != Action::lower);
        }
      }
      return up;
    };
    const auto& rows = contingency.on_the_road;
    with_several_rows += rows.size() > 1 ? 1 : 0;
    for (std::size_t i = 1; i < rows.size(); ++i) {
      EXPECT_GE(rows[i].from_km, rows[i - 1].to_km) << to_string(contingency.failed);
    }
    for (const RoadFailure& row : rows) {
      EXPECT_LT(row.from_km, row.to_km) << to_string(contingency.failed) << ": " << row.text;
    }
    for (const PlannedSection& section : plan.sections) {
      for (const double share : {0.01, 0.25, 0.5, 0.75, 0.99}) {
        const double km = section.from_km + share * (section.to_km - section.from_km);
        const auto told = std::ranges::count_if(
            rows, [km](const RoadFailure& row) { return row.from_km <= km && km < row.to_km; });
        EXPECT_TRUE(told == 1 || !is_up(km))
            << to_string(contingency.failed) << " at km " << km << ": " << told;
      }
    }
  }
  EXPECT_GT(with_several_rows, 0);
}

}  // namespace
}  // namespace panup::scenario
