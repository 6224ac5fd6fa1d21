/// The request made ready for planning: which pieces of route share their judgements.

#include "plan/planning_case.h"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>

#include "scenario.h"

namespace panup::scenario {
namespace {

/// Two sections alike in all but name and place, behind each other.
Scenario two_sections() {
  Scenario scenario = Scenario().add(locomotive()).load(LoadNature::ordinary);
  Section second = scenario.section();
  scenario.section().to_km = 10;
  second.id = "s2";
  second.name = "Second";
  second.from_km = 10;
  second.place = {.file = "route.toml", .line = 20, .column = 1};
  scenario.request.route.sections.push_back(second);
  return scenario;
}

/// Whether the pieces before and behind km 10 share their judgements.
bool shared(const Scenario& scenario) {
  const PlanningCase planning = prepare(scenario.request);
  const auto number_at = [&planning](double km) {
    std::size_t piece = 0;
    while (planning.pieces[piece].to_km < km) {
      ++piece;
    }
    return planning.ground_of_piece[piece];
  };
  return number_at(9.9) == number_at(10.1);
}

TEST(SharedJudgements, WhereNothingButNameAndPlaceDiffers) { EXPECT_TRUE(shared(two_sections())); }

TEST(SharedJudgements, NotWhereAnythingDiffersThatHoldsOnTheLine) {
  // A property that is new does not compile here until the list below changes it, too.
  [[maybe_unused]] const auto& [speed, supply, heads, widths, strips, metal, static_force,
                                contact_force, device, limitation, document, records, design,
                                contact_line, range, train_current, standstill_current, lowest_wire,
                                highest_wire, spans, wires, wind, temperature] = LineProperties{};
  using Change = std::function<void(LineProperties&)>;
  const std::vector<std::pair<std::string, Change>> changes{
      {"line speed", [](auto& line) { line.line_speed_kmh = 119; }},
      {"supply", [](auto& line) { line.supply = EnergySupply::ac_25kv; }},
      {"supply not stated", [](auto& line) { line.supply.reset(); }},
      {"heads", [](auto& line) { line.permitted_heads = {HeadType::w1950_type_1}; }},
      {"metal of strips", [](auto& line) { line.greatest_metallic_content_percent = 30; }},
      {"static force", [](auto& line) { line.greatest_static_force_n = 90; }},
      {"contact force",
       [](auto& line) {
         line.greatest_contact_force = {0, 300};
       }},
      {"contact force by speed",
       [](auto& line) {
         line.greatest_contact_force = {0.001, 300};
       }},
      {"limitation on board", [](auto& line) { line.current_limitation_required = false; }},
      {"document", [](auto& line) { line.separation_document = "NT 12"; }},
      {"wind", [](auto& line) { line.wind_ms = 20; }},
      {"temperature", [](auto& line) { line.temperature_c = -30; }},
      {"widths of heads",
       [](auto& line) {
         line.permitted_head_widths_mm = {1600, 1950};
       }},
      {"heads not stated", [](auto& line) { line.permitted_head_widths_mm.reset(); }},
      {"no head", [](auto& line) { line.permitted_head_widths_mm->clear(); }},
      {"strips", [](auto& line) { line.permitted_strip_materials = {StripMaterial::copper}; }},
      {"strips not stated", [](auto& line) { line.permitted_strip_materials.reset(); }},
      {"dropping device", [](auto& line) { line.automatic_dropping_device_required = true; }},
      {"dropping device not stated",
       [](auto& line) { line.automatic_dropping_device_required.reset(); }},
      {"records", [](auto& line) { line.records = {{.number = 1, .speed_kmh = 120}}; }},
      {"design type", [](auto& line) { line.design_type = DesignType::b; }},
      {"contact line", [](auto& line) { line.contact_line = "other"; }},
      {"temperature range", [](auto& line) { line.temperature_range = TemperatureRange::t1; }},
      {"train current", [](auto& line) { line.greatest_train_current_a = 1000; }},
      {"standstill current", [](auto& line) { line.greatest_standstill_current_a = 80; }},
      {"lowest wire", [](auto& line) { line.wire_height_min_m = 5.1; }},
      {"highest wire", [](auto& line) { line.wire_height_max_m = 5.9; }},
      {"spans",
       [](auto& line) { line.spans = {{.length_m = 60, .curve_radius_m = {}, .number = {}}}; }},
      {"wires", [](auto& line) { line.wires = {{.diameter_mm = 12, .tension_n = 10000}}; }},
  };
  for (const auto& [what, change] : changes) {
    Scenario scenario = two_sections();
    change(scenario.request.route.sections[1]);
    EXPECT_FALSE(shared(scenario)) << what;
  }
}

TEST(SharedJudgements, NotWhereRecordsSpansOrWiresDifferInOneFigure) {
  const auto shared_with = [](auto&& change) {
    Scenario scenario = two_sections();
    for (Section& section : scenario.request.route.sections) {
      section.records = {{.number = 2, .distance_m = 20, .speed_kmh = 100}};
      section.spans = {
          {.length_m = 60, .stagger_m = {0.2, -0.2}, .curve_radius_m = 800, .number = 5}};
      section.wires = {{.diameter_mm = 12, .tension_n = 10000}};
    }
    change(scenario.request.route.sections[1]);
    return shared(scenario);
  };
  EXPECT_TRUE(shared_with([](Section&) {}));
  EXPECT_FALSE(shared_with([](Section& s) { s.records[0].number = 3; }));
  EXPECT_FALSE(shared_with([](Section& s) { s.records[0].distance_m = 21; }));
  EXPECT_FALSE(shared_with([](Section& s) { s.records[0].speed_kmh = 90; }));
  EXPECT_FALSE(shared_with([](Section& s) { s.spans[0].length_m = 61; }));
  EXPECT_FALSE(shared_with([](Section& s) { s.spans[0].stagger_m[0] = 0.3; }));
  EXPECT_FALSE(shared_with([](Section& s) { s.spans[0].stagger_m[1] = -0.3; }));
  EXPECT_FALSE(shared_with([](Section& s) { s.spans[0].curve_radius_m = 900; }));
  EXPECT_FALSE(shared_with([](Section& s) { s.spans[0].curve_radius_m.reset(); }));
  EXPECT_FALSE(shared_with([](Section& s) { s.spans[0].number = 6; }));
  EXPECT_FALSE(shared_with([](Section& s) { s.wires[0].diameter_mm = 13; }));
  EXPECT_FALSE(shared_with([](Section& s) { s.wires[0].tension_n = 9000; }));
}

TEST(SharedJudgements, NotWhereARuleHoldsOnTheLineOfOneOfThemAlone) {
  Scenario scenario = two_sections();
  scenario.request.route.sections[0].line = "7";
  scenario.request.route.sections[1].line = "8";
  EXPECT_TRUE(shared(scenario)) << "no rule asks for the line";
  Rule snow;
  snow.id = "snow";
  snow.kind = RuleKind::speed_restriction;
  snow.numbers["speed_kmh"] = 80;
  snow.only_for.lines = {"7"};
  scenario.request.rules.rules.push_back(snow);
  EXPECT_FALSE(shared(scenario));
  scenario.request.route.sections[1].line = "7";
  EXPECT_TRUE(shared(scenario));
  scenario.request.rules.rules.back().only_for = {.sections = {"s2"}};
  EXPECT_FALSE(shared(scenario));
}

TEST(SharedJudgements, NotWhereOneOfThemIsIced) {
  Scenario scenario = two_sections();
  scenario.request.conditions.ice = {{10, 20}};
  EXPECT_FALSE(shared(scenario));
}

TEST(SharedJudgements, NotWhereTheTrainHasTurnedRoundInBetween) {
  Scenario scenario = two_sections();
  scenario.request.route.stops = {{.name = "Turn", .at_km = 10, .reversal = true, .place = {}}};
  EXPECT_FALSE(shared(scenario));
  scenario.request.route.stops[0].reversal = false;
  EXPECT_TRUE(shared(scenario));
}

TEST(SharedJudgements, NotWithASeparationSectionOnOneOfThem) {
  Scenario scenario = two_sections();
  scenario.request.route.separations = {
      {.name = "Gap", .kind = SeparationKind::phase, .from_km = 10, .length_m = 5, .place = {}}};
  EXPECT_FALSE(shared(scenario));
}

TEST(SharedJudgements, NotWithALowPlaceOnOneOfThem) {
  Scenario scenario = two_sections();
  scenario.request.route.low_places = {
      {.name = "Bridge", .from_km = 10, .to_km = 10.2, .wire_height_min_m = 5, .place = {}}};
  EXPECT_FALSE(shared(scenario));
}

TEST(SharedJudgements, NotWithAConsentForOneOfThem) {
  Scenario scenario = two_sections();
  Consent consent;
  consent.number = 2;
  consent.speed_kmh = 100;
  scenario.request.train.consents = {consent};
  EXPECT_TRUE(shared(scenario));  // for the whole route
  scenario.request.train.consents[0].sections = {"s2"};
  EXPECT_FALSE(shared(scenario));
  scenario.request.train.consents[0].sections = {"s1", "s2"};
  EXPECT_TRUE(shared(scenario));
}

TEST(SharedJudgements, AreThoseOfEachPieceByItself) {
  Scenario scenario = two_sections();
  scenario.add(locomotive({.strips = 1}));
  scenario.request.route.sections[1].design_type = DesignType::c;
  scenario.request.route.stops = {{.name = "Turn", .at_km = 15, .reversal = true, .place = {}}};
  scenario.request.conditions.ice = {{5, 12}};
  const PlanningCase planning = prepare(scenario.request);
  ASSERT_GE(planning.pieces.size(), 5U);
  for (std::size_t i = 0; i < planning.pieces.size(); ++i) {
    for (const JudgedSet& judged : planning.grounds[planning.ground_of_piece[i]]) {
      const Verdict alone = planning.judge(i).judge(planning.ground(i), judged.raised, {});
      EXPECT_EQ(judged.verdict.speed_kmh, alone.speed_kmh);
      EXPECT_EQ(judged.verdict.consent_needed, alone.consent_needed);
      EXPECT_EQ(cost_of(judged.verdict, 1, planning.terms).rungs,
                cost_of(alone, 1, planning.terms).rungs);
    }
  }
}

/// The greatest speed on a stretch, from the balance of what is gained and lost on it:
/// (v² - u²)/2a + (v² - w²)/2b = s. In km/h; the test train's a and b.
double closed_form_kmh(double length_m, double from_kmh, double to_kmh) {
  constexpr double a = 0.2;
  constexpr double b = 0.5;
  const double u = from_kmh / 3.6;
  const double w = to_kmh / 3.6;
  const double v2 = (length_m + u * u / (2 * a) + w * w / (2 * b)) / (1 / (2 * a) + 1 / (2 * b));
  return 3.6 * std::sqrt(v2);
}

/// Locomotive and wagons, 319 m, 160 km/h. Board at km 3 for a change at 60 km/h, works
/// passed at 50 km/h from km 9 to 9.2; from km 15 the line permits 40 km/h for 200 m.
Scenario with_slow_places() {
  Scenario scenario = Scenario().add(locomotive()).load(LoadNature::ordinary, 300).permits(1);
  scenario.section().line_speed_kmh = 500;  // the train itself is no faster than 160
  scenario.cut_at(15).line_speed_kmh = 40;
  scenario.cut_at(15.2).line_speed_kmh = 500;
  Route& route = scenario.request.route;
  for (Section& section : route.sections) {
    section.records = {{.number = 1, .distance_m = 0, .speed_kmh = section.line_speed_kmh}};
  }
  route.landmarks = {{.name = "Board", .at_km = 3, .change_on_the_move = true, .place = {}}};
  route.lowered = {{.name = "Works", .from_km = 9, .to_km = 9.2, .place = {}}};
  scenario.rule("change-while-lowered").numbers["raising_speed_kmh"] = 50;
  return scenario;
}

TEST(UsefulSpeed, IsWhatTheTrainReachesBetweenWhatIsSlowBeforeAndBehind) {
  const Scenario scenario = with_slow_places();
  const PlanningCase planning = prepare(scenario.request);
  const auto on = [&](double km) {
    std::size_t piece = 0;
    while (planning.pieces[piece].to_km < km) {
      ++piece;
    }
    return planning.useful_speed_kmh[piece];
  };
  EXPECT_NEAR(on(1), closed_form_kmh(3000, 0, 60), 1e-9) << "up to the change at the board";
  EXPECT_NEAR(on(6), closed_form_kmh(6000 - 319, 60, 50), 1e-9) << "from there up to the works";
  EXPECT_NEAR(on(12), closed_form_kmh(5800 - 319, 50, 40), 1e-9) << "behind them";
  EXPECT_NEAR(on(18), closed_form_kmh(4800 - 319, 40, 0), 1e-9) << "to the end";
  EXPECT_NEAR(on(15.1), 160, 1e-9) << "shorter than the train: no faster than its neighbours";
}

}  // namespace
}  // namespace panup::scenario
