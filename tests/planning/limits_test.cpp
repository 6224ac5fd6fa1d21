/// Published limits: spacing by record and by design type, and speeds. Source of the table:
/// Regulation (EU) No 1301/2014, table 4.2.13, from memory, to be confirmed.

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <ostream>
#include <string>

#include "files/read_rule_book.h"
#include "scenario.h"

namespace panup::scenario {
namespace {

struct TableCell {
  EnergySupply supply;
  DesignType type;
  double distance_m;
  double speed_kmh;  ///< up to which two pantographs so far apart may run; 0: consent is needed
};

void PrintTo(const TableCell& cell, std::ostream* out) {
  *out << fmt::format("{}, type {}, {} m apart: {} km/h", name_of(cell.supply), name_of(cell.type),
                      cell.distance_m, cell.speed_kmh);
}

class DesignSpacing : public testing::TestWithParam<TableCell> {};

/// Two vehicles of one pantograph each, so far apart as the cell says.
Scenario apart(double distance_m, EnergySupply supply) {
  auto type = std::make_shared<VehicleType>(*one_pantograph_locomotive({.supplies = {supply}}));
  type->length_m = distance_m;
  type->highest_speed_kmh = 400;
  type->pantographs[0].from_cab1_m = 0.4 * distance_m;
  auto fast = std::make_shared<PantographType>(*type->pantographs[0].type);
  fast->highest_speed_kmh = 400;
  type->pantographs[0].type = fast;
  Scenario scenario = Scenario().add(type).add(type);
  scenario.section().supply = supply;
  scenario.section().line_speed_kmh = 400;
  return scenario;
}

std::string name_of_cell(const testing::TestParamInfo<TableCell>& cell) {
  return fmt::format("Supply{}Type{}At{:.0f}dm", static_cast<int>(cell.param.supply),
                     name_of(cell.param.type), 10 * cell.param.distance_m);
}

TEST_P(DesignSpacing, SpeedFollowsFromTheDistance) {
  const TableCell& cell = GetParam();
  Scenario scenario = apart(cell.distance_m, cell.supply);
  scenario.section().design_type = cell.type;
  const Judge judge(scenario.request.rules, scenario.request.train, false);
  const Verdict verdict = judge.judge(judge.ground(scenario.section(), false), {0, 1}, {});
  EXPECT_EQ(verdict.consent_needed, cell.speed_kmh == 0);
  EXPECT_FALSE(verdict.forbidden);
  if (cell.speed_kmh > 0) {
    EXPECT_EQ(verdict.speed_kmh, std::min(cell.speed_kmh, 400.0));
  }
}

using enum EnergySupply;
using enum DesignType;

INSTANTIATE_TEST_SUITE_P(
    Table, DesignSpacing,
    testing::Values(TableCell{ac_15kv, a, 7.9, 0}, TableCell{ac_15kv, a, 8, 80},
                    TableCell{ac_15kv, a, 19.9, 80}, TableCell{ac_15kv, a, 20, 120},
                    TableCell{ac_15kv, b, 14.9, 80}, TableCell{ac_15kv, b, 15, 120},
                    TableCell{ac_15kv, c, 15, 120}, TableCell{ac_25kv, a, 84.9, 120},
                    TableCell{ac_25kv, a, 85, 160}, TableCell{ac_25kv, a, 199, 160},
                    TableCell{ac_25kv, a, 200, endless}, TableCell{ac_25kv, b, 85, 249},
                    TableCell{ac_25kv, c, 34.9, 120}, TableCell{ac_25kv, c, 35, 249},
                    TableCell{ac_25kv, c, 200, endless}, TableCell{dc_3kv, a, 7.9, 0},
                    TableCell{dc_3kv, a, 20, 160}, TableCell{dc_3kv, b, 15, 120},
                    TableCell{dc_3kv, b, 115, 249}, TableCell{dc_3kv, c, 35, 249},
                    TableCell{dc_1500v, a, 19.9, 0}, TableCell{dc_1500v, a, 20, 80},
                    TableCell{dc_1500v, a, 35, 120}, TableCell{dc_1500v, a, 85, 160},
                    TableCell{dc_1500v, b, 8, 80}, TableCell{dc_1500v, b, 20, 120},
                    TableCell{dc_1500v, b, 35, 160}, TableCell{dc_1500v, c, 15, 120},
                    TableCell{dc_1500v, c, 20, 160}, TableCell{dc_1500v, c, 35, endless}),
    name_of_cell);

TEST(Consent, NeitherYesNorNoUntilTheTrainFileNamesIt) {
  Scenario scenario = Scenario().add(locomotive({.strips = 1, .supplies = {dc_1500v}}));
  scenario.section().supply = dc_1500v;
  scenario.section().design_type = a;  // 20 m at least; the two stand 10 m apart
  scenario.rule("runnable-first").on = false;
  Plan plan = scenario.plan();
  EXPECT_EQ(up_on(plan), "F1 R1");
  EXPECT_EQ(plan.answer, Answer::consent_needed);
  EXPECT_TRUE(says(plan.sections[0], "design-spacing", Strength::consent_needed));
  scenario.request.train.consents = {{.reference = "C-1",
                                      .given_by = "the manager",
                                      .rule = {},
                                      .number = 2,
                                      .distance_m = 10,
                                      .speed_kmh = 70,
                                      .sections = {},
                                      .place = {}}};
  plan = scenario.plan();
  EXPECT_EQ(plan.answer, Answer::permitted);
  EXPECT_EQ(plan.sections[0].speed_kmh, 70);
  scenario.request.train.consents[0].distance_m = 10.1;
  EXPECT_EQ(scenario.plan().answer, Answer::consent_needed);
  scenario.request.train.consents[0].distance_m = 10;
  scenario.request.train.consents[0].sections = {"s1"};
  EXPECT_EQ(scenario.plan().answer, Answer::permitted);
}

/// Two single-strip locomotives: three up, of which the first two stand 10 m apart where the design
/// type asks for 20 m.
Scenario three_up() {
  Scenario scenario;
  scenario.add(locomotive({.strips = 1, .supplies = {dc_1500v}}))
      .add(locomotive({.strips = 1, .supplies = {dc_1500v}}));
  scenario.section().supply = dc_1500v;
  scenario.section().design_type = a;
  scenario.rule("runnable-first").on = false;
  return scenario;
}

TEST(Consent, ForTwoIsNoneForThree) {
  Scenario scenario = three_up();
  ASSERT_EQ(up_on(scenario.plan()), "F1 R1 R2");
  ASSERT_EQ(scenario.plan().answer, Answer::consent_needed);
  scenario.request.train.consents = {consent_for(2, 5, 70)};
  Plan plan = scenario.plan();
  EXPECT_EQ(up_on(plan), "F1 R1 R2");
  EXPECT_EQ(plan.answer, Answer::consent_needed);
  scenario.request.train.consents = {consent_for(3, 5, 70)};
  plan = scenario.plan();
  EXPECT_EQ(up_on(plan), "F1 R1 R2");
  EXPECT_EQ(plan.answer, Answer::permitted);
  EXPECT_EQ(plan.sections[0].speed_kmh, 70);
}

TEST(Consent, ForMoreServesForFewerAndTheFastestOfSeveralCounts) {
  Scenario scenario = three_up();
  scenario.request.train.consents = {consent_for(2, 5, 110), consent_for(4, 5, 60),
                                     consent_for(3, 5, 70)};
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.answer, Answer::permitted);
  EXPECT_EQ(plan.sections[0].speed_kmh, 70);
}

TEST(Consent, WhereItIsLackingTheWayWithoutItNeedsNoDefectivePantograph) {
  // F1 and R2 are 29 m apart, which the design type permits; but F1 is defective. R1 and R2 are
  // 19 m apart and need consent.
  Scenario scenario = three_up();
  ASSERT_NE(scenario.plan().sections[0].without_consent.find("1.1 and 2.2"), std::string::npos)
      << scenario.plan().sections[0].without_consent;
  scenario.defect({1, 1});
  const Plan plan = scenario.plan();
  ASSERT_EQ(plan.answer, Answer::consent_needed);
  EXPECT_FALSE(plan.sections[0].without_consent.empty());
  EXPECT_EQ(plan.sections[0].without_consent.find("1.1"), std::string::npos)
      << plan.sections[0].without_consent;
  for (const Finding& finding : plan.sections[0].findings) {
    if (finding.text.starts_with("Alternative")) {
      EXPECT_EQ(finding.text.find("1.1"), std::string::npos) << finding.text;
    }
  }
}

TEST(Consent, AlsoWhereTheSectionStatesNeitherRecordNorDesignType) {
  Scenario scenario = Scenario().add(locomotive({.strips = 1}));
  scenario.section().design_type.reset();
  scenario.rule("runnable-first").on = false;
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.answer, Answer::consent_needed);
  EXPECT_EQ(plan.sections[0].speed_kmh, 80);  // the table's lowest row: no speed is proven
}

TEST(Records, GoBeforeTheTable) {
  Scenario scenario = Scenario().add(locomotive()).add(locomotive());
  scenario.section().records = {{.number = 2, .distance_m = 29, .speed_kmh = 110},
                                {.number = 2, .distance_m = 60, .speed_kmh = 120},
                                {.number = 3, .distance_m = 15, .speed_kmh = 70}};
  Plan plan = scenario.plan();
  EXPECT_EQ(plan.sections[0].speed_kmh, 110);
  EXPECT_EQ(plan.sections[0].speed_rule, "line-record");
  scenario.defect({1, 1});  // now 19 m apart: only the record of three covers it
  EXPECT_EQ(scenario.plan().sections[0].speed_kmh, 70);
  scenario.section().records.pop_back();  // now no record does, and the line has said no
  plan = scenario.plan();
  EXPECT_EQ(plan.sections[0].put_dead_in_tow, std::vector<int>{2});
}

TEST(Records, AreNotAskedWhereTheirRuleIsOff) {
  Scenario scenario = Scenario().add(locomotive({.strips = 1}));
  scenario.permits(1);
  EXPECT_EQ(up_on(scenario.plan()), "R1");
  scenario.rule("line-record").on = false;
  EXPECT_EQ(up_on(scenario.plan()), "F1 R1");
}

TEST(Records, OfOneRaisedPantographLimitOneAlone) {
  Scenario scenario = Scenario().add(locomotive());
  scenario.section().records = {{.number = 1, .distance_m = 0, .speed_kmh = 90}};
  EXPECT_EQ(scenario.plan().sections[0].speed_kmh, 90);
}

TEST(Unknown, MeansNotPermitted) {
  const auto answer_without = [](auto&& forget) {
    Scenario scenario = Scenario().add(locomotive());
    forget(scenario.section());
    const Plan plan = scenario.plan();
    EXPECT_FALSE(plan.sections[0].findings.empty());
    return plan.answer;
  };
  EXPECT_EQ(answer_without([](Section&) {}), Answer::permitted);
  EXPECT_EQ(answer_without([](Section& s) { s.supply.reset(); }), Answer::none);
  EXPECT_EQ(answer_without([](Section& s) { s.permitted_head_widths_mm.reset(); }), Answer::none);
  EXPECT_EQ(answer_without([](Section& s) { s.permitted_strip_materials.reset(); }), Answer::none);
  EXPECT_EQ(answer_without([](Section& s) { s.automatic_dropping_device_required.reset(); }),
            Answer::none);
  EXPECT_EQ(answer_without([](Section& s) { s.wire_height_max_m.reset(); }), Answer::none);
  EXPECT_EQ(answer_without([](Section& s) { s.permitted_head_widths_mm = {1600}; }), Answer::none);
  EXPECT_EQ(
      answer_without([](Section& s) { s.permitted_strip_materials = {StripMaterial::copper}; }),
      Answer::none);
  EXPECT_EQ(answer_without([](Section& s) { s.wire_height_min_m = 4.7; }), Answer::none);
  EXPECT_EQ(answer_without([](Section& s) { s.automatic_dropping_device_required = true; }),
            Answer::none);
}

TEST(Speed, NeverExceedsLineVehiclePantographLoadOrTrain) {
  Scenario scenario = Scenario().add(locomotive()).load(LoadNature::ordinary);
  scenario.section().line_speed_kmh = 300;
  EXPECT_EQ(scenario.plan().sections[0].speed_kmh, 160);
  EXPECT_EQ(scenario.plan().sections[0].speed_rule, "vehicle-speed");
  std::get<LoadGroup>(scenario.request.train.consist[1]).highest_speed_kmh = 110;
  EXPECT_EQ(scenario.plan().sections[0].speed_kmh, 110);
  scenario.request.train.highest_speed_kmh = 100;
  EXPECT_EQ(scenario.plan().sections[0].speed_kmh, 100);
  auto type = std::make_shared<VehicleType>(*locomotive());
  auto slow = std::make_shared<PantographType>(*pantograph({}));
  slow->highest_speed_kmh = 90;
  type->pantographs[1].type = slow;
  scenario.vehicle(1).type = type;
  // The rear one is prescribed, but running time is a higher step: the faster front one goes up.
  EXPECT_EQ(up_on(scenario.plan()), "F1");
  scenario.defect({1, 1});
  EXPECT_EQ(scenario.plan().sections[0].speed_kmh, 90);
  EXPECT_EQ(scenario.plan().sections[0].speed_rule, "pantograph-speed");
}

/// Nobody lowers or raises faster because changing there is not wanted.
TEST(Speed, TheSpeedForLoweringHoldsAlsoWhereNothingMayBeChangedThere) {
  Scenario scenario = Scenario().add(locomotive());
  scenario.request.route.lowered = {{.name = "Works", .from_km = 8, .to_km = 8.1, .place = {}}};
  Rule& rule = scenario.rule("change-while-lowered");
  rule.numbers["lowering_speed_kmh"] = 45;
  rule.numbers["raising_speed_kmh"] = 35;
  rule.on = false;
  const Plan plan = scenario.plan();
  ASSERT_EQ(plan.sections.size(), 5U);
  for (const std::size_t before_in_and_behind : {1U, 2U, 3U}) {
    EXPECT_EQ(plan.sections[before_in_and_behind].speed_kmh, 35);
    EXPECT_EQ(plan.sections[before_in_and_behind].speed_rule, "change-while-lowered");
  }
  EXPECT_TRUE(plan.sections[2].raised.empty());
  EXPECT_EQ(plan.sections[1].speed_reason, "pantographs down for Works");
  EXPECT_EQ(plan.sections[1].permitted_speed_kmh, plan.sections[0].speed_kmh);
}

TEST(Speed, OfAStretchThatIsOnlyCutByOrdersTheFastestPartHasTheMargins) {
  Scenario scenario = Scenario().add(locomotive()).load(LoadNature::ordinary, 300);
  scenario.request.route.lowered = {{.name = "Works", .from_km = 8, .to_km = 8.1, .place = {}}};
  const Plan plan = scenario.plan();
  ASSERT_EQ(plan.sections.size(), 5U) << "before, slower, works, slower, behind";
  ASSERT_EQ(plan.margins.size(), 2U);
  EXPECT_EQ(plan.margins[0].planned, 0U);
  EXPECT_EQ(plan.margins[1].planned, 4U);
}

/// Neither with pantographs up nor with all down.
TEST(Speed, WhereWagonsLeadAndNoSpeedIsNamedConsentIsNeededEverywhere) {
  Scenario scenario = Scenario().add(locomotive()).load(LoadNature::ordinary, 300);
  scenario.request.route.stops = {{.name = "Turn", .at_km = 5, .reversal = true, .place = {}}};
  scenario.request.route.lowered = {{.name = "Works", .from_km = 8, .to_km = 8.1, .place = {}}};
  for (const PlannedSection& section : scenario.plan().sections) {
    EXPECT_EQ(section.answer, section.from_km < 5 ? Answer::permitted : Answer::consent_needed)
        << "km " << section.from_km;
  }
}

TEST(Current, BeyondTheSectionsGreatestTrainCurrentIsSaid) {
  Scenario scenario = Scenario().add(locomotive());
  scenario.vehicle(1).demand = {{.supply = ac_15kv, .running_a = 600, .standstill_a = 20}};
  EXPECT_TRUE(says(scenario.plan().sections[0], "train-current"));  // none stated
  scenario.section().greatest_train_current_a = 600;
  EXPECT_FALSE(says(scenario.plan().sections[0], "train-current"));
  scenario.section().greatest_train_current_a = 599;
  EXPECT_TRUE(says(scenario.plan().sections[0], "train-current", Strength::note));
}

}  // namespace
}  // namespace panup::scenario
