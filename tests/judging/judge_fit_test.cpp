#include <fmt/format.h>
#include <gtest/gtest.h>

#include "judging/judge_parts.h"
#include "sample_case.h"

/// Which pantographs may be raised at all. Unknown means not permitted. Source of the statements:
/// infrastructure and vehicle register; common practice, no published source, where a case is
/// named.

namespace panup {

namespace {

struct FitTest : testing::Test {
  SampleCase sample;
  std::shared_ptr<PantographType> type = SampleCase::pantograph();

  FitTest() { sample.add(SampleCase::locomotive(type, type)); }

  /// What a rule says where the front pantograph is up.
  std::string says(const std::string& rule) const { return sample.with("1.1").of(rule); }
};

TEST_F(FitTest, APantographIsForTheSystemOfTheSection) {
  EXPECT_FALSE(sample.with("1.1").verdict.forbidden);
  EXPECT_EQ(says("supply-fit"), "");
  sample.section.supply = EnergySupply::dc_3kv;
  EXPECT_EQ(says("supply-fit"), "forbidden: 1.1: it is not for DC 3 kV.");
  EXPECT_TRUE(sample.with("1.1").verdict.forbidden);
  sample.section.supply.reset();
  EXPECT_EQ(says("supply-fit"),
            "forbidden: 1.1: the section does not state its energy supply system.");
}

TEST_F(FitTest, ItsHeadIsAmongThoseThatTheSectionPermits) {
  sample.section.permitted_head_widths_mm = {1600, 1950};
  EXPECT_EQ(says("head-fit"), "");
  EXPECT_TRUE(admits(sample.section, *type));
  sample.section.permitted_head_widths_mm = {1600, 1450};
  EXPECT_EQ(says("head-fit"),
            "forbidden: 1.1: its head is 1950 mm wide; permitted: 1600, 1450 mm.");
  EXPECT_FALSE(admits(sample.section, *type));
  sample.section.permitted_head_widths_mm.reset();
  EXPECT_EQ(says("head-fit"),
            "forbidden: 1.1: the section says nothing of permitted heads, so its 1950 mm head is "
            "not.");
  EXPECT_FALSE(admits(sample.section, *type));
}

/// Source: infrastructure register, parameters 1.1.1.2.3.1 and 1.1.1.2.3.2, which tell heads of one
/// width apart.
TEST_F(FitTest, AWidthThatMatchesDoesNotPermitAnotherTypeOfHead) {
  sample.section.permitted_heads = {HeadType::w1950_type_1, HeadType::w1600_ep};
  sample.section.permitted_head_widths_mm.reset();
  EXPECT_EQ(
      says("head-fit"),
      "forbidden: 1.1: of which type its 1950 mm head is, is not stated; permitted: 1950 Type "
      "1, 1600 EP.");
  EXPECT_FALSE(admits(sample.section, *type));
  type->head_type = HeadType::w1950_pl;
  EXPECT_EQ(says("head-fit"),
            "forbidden: 1.1: its head is of type 1950 PL; permitted: 1950 Type 1, 1600 EP.");
  type->head_type = HeadType::w1950_type_1_insulated_horns;
  EXPECT_FALSE(admits(sample.section, *type)) << "the register tells it from Type 1";
  type->head_type = HeadType::w1950_type_1;
  EXPECT_EQ(says("head-fit"), "");
  EXPECT_TRUE(admits(sample.section, *type));
  sample.section.permitted_head_widths_mm = {1600};
  EXPECT_EQ(says("head-fit"), "forbidden: 1.1: its head is 1950 mm wide; permitted: 1600 mm.")
      << "where both are stated both count";
}

TEST_F(FitTest, WhereASectionStatesWidthsAloneThatIsSaid) {
  EXPECT_EQ(
      sample.with("1.1 1.2").of("head-by-width"),
      "note: 1.1 and 1.2: the section states permitted heads by width alone; whether it admits "
      "this type of head was not looked at.");
  sample.section.permitted_head_widths_mm = {1600};
  EXPECT_EQ(says("head-by-width"), "") << "it is not permitted by its width either";
  type->head_type = HeadType::w1950_type_1;
  sample.section.permitted_heads = {HeadType::w1950_type_1};
  sample.section.permitted_head_widths_mm = {1950};
  EXPECT_EQ(says("head-by-width"), "");
}

TEST_F(FitTest, ItsStripsHaveNoMoreMetalThanTheSectionPermits) {
  sample.section.greatest_metallic_content_percent = 30;
  EXPECT_EQ(says("strip-fit"), "") << "plain carbon has none";
  type->strip_material = StripMaterial::impregnated_carbon;
  sample.section.permitted_strip_materials = {StripMaterial::impregnated_carbon};
  EXPECT_EQ(says("strip-fit"),
            "forbidden: 1.1: how much of its strips is metal, is not stated; permitted: 30 %.");
  EXPECT_FALSE(admits(sample.section, *type));
  type->metallic_content_percent = 30;
  EXPECT_EQ(says("strip-fit"), "");
  type->metallic_content_percent = 31;
  EXPECT_EQ(says("strip-fit"), "forbidden: 1.1: 31 % of its strips are metal; permitted: 30 %.");
  sample.section.greatest_metallic_content_percent.reset();
  EXPECT_EQ(says("strip-fit"), "") << "the section states no limit";
}

TEST_F(FitTest, ItPressesNoHarderAtAStandThanTheSectionPermits) {
  const double force_n = supply_of(*type, EnergySupply::ac_15kv)->static_force_n;
  sample.section.greatest_static_force_n = force_n;
  EXPECT_EQ(says("static-force-fit"), "");
  EXPECT_TRUE(admits(sample.section, *type));
  sample.section.greatest_static_force_n = force_n - 1;
  EXPECT_EQ(says("static-force-fit"), "forbidden: 1.1: its static force is 70 N; permitted: 69 N.");
  EXPECT_FALSE(admits(sample.section, *type));
}

/// Ranges: register, parameter 1.1.1.1.2.6: T1 −25 to 40, T2 −40 to 35, T3 −25 to 45, Tx −40 to 50.
TEST_F(FitTest, OutsideTheTemperaturesOfTheLineConsentIsNeeded) {
  using enum TemperatureRange;
  EXPECT_EQ(says("temperature-range"), "") << "the section states no range";
  for (const auto& [range, least, greatest] :
       {std::tuple{t1, -25, 40}, {t2, -40, 35}, {t3, -25, 45}, {tx, -40, 50}}) {
    sample.section.temperature_range = range;
    for (const int within : {least, greatest}) {
      sample.temperature_c = within;
      EXPECT_EQ(says("temperature-range"), "") << name_of(range);
    }
    for (const int outside : {least - 1, greatest + 1}) {
      sample.temperature_c = outside;
      const Said said = sample.with("1.1");
      EXPECT_TRUE(said.verdict.consent_needed) << name_of(range);
      EXPECT_EQ(
          said.of("temperature-range"),
          fmt::format("consent needed: It is {} °C, and the section is built for {} to {} °C. "
                      "Neither yes nor no: whether trains run then, the infrastructure "
                      "manager says.",
                      outside, least, greatest));
    }
  }
  sample.section.temperature_c = 10;
  EXPECT_EQ(says("temperature-range"), "") << "what is said of the section goes before the day";
  sample.section.temperature_c.reset();
  sample.temperature_c.reset();
  EXPECT_EQ(says("temperature-range"),
            "note: The temperature of the day is not stated; the section is built for -40 to 50 "
            "°C.");
  sample.temperature_c = -41;
  EXPECT_EQ(sample.with("").of("temperature-range"), "") << "with all down no wire is touched";
  EXPECT_EQ(
      sample.with("1.1").first("temperature-range").values,
      (std::vector<DecidingValue>{{.of = ValueOf::section, .id = {}, .key = "temperature_range"}}));
  sample.rule("temperature-range").strength = Strength::note;
  EXPECT_FALSE(sample.with("1.1").verdict.consent_needed);
}

TEST_F(FitTest, WhereLimitationOnBoardIsRequiredItsVehicleIsKnownToLimit) {
  sample.section.current_limitation_required = true;
  EXPECT_EQ(
      says("limitation-on-board"),
      "forbidden: 1.1: locomotive 1 (Test type) does not say whether it limits its current or "
      "power on board, which the section requires.");
  EXPECT_TRUE(sample.with("1.1").verdict.forbidden);
  auto limiting = std::make_shared<VehicleType>(*sample.vehicle(1).type);
  limiting->current_limitation = false;
  sample.vehicle(1).type = limiting;
  EXPECT_EQ(
      says("limitation-on-board"),
      "forbidden: 1.1: locomotive 1 (Test type) does not limit its current or power on board, "
      "which the section requires.");
  limiting->current_limitation = true;
  EXPECT_EQ(says("limitation-on-board"), "");
  limiting->current_limitation.reset();
  sample.section.current_limitation_required = false;
  EXPECT_EQ(says("limitation-on-board"), "");
}

TEST_F(FitTest, ADocumentOnThePlacesOfTractionUnitsIsNamedWhereSeveralWork) {
  sample.section.separation_document = "NT 12/2030";
  EXPECT_EQ(says("separation-document"), "") << "one works alone";
  sample.add(SampleCase::locomotive(type, type));
  EXPECT_EQ(sample.with("1.1").of("separation-document"), "") << "the other is dead";
  EXPECT_EQ(
      sample.with("1.1 2.1").of("separation-document"),
      "note: 2 traction units work: where they may stand to one another is restricted for the "
      "separation sections here, by the document \"NT 12/2030\". It was not read by this "
      "program: look it up.");
  sample.section.separation_document = "";
  EXPECT_EQ(sample.with("1.1 2.1").of("separation-document"), "");
}

TEST_F(FitTest, ItsStripsAreOfAMaterialThatTheSectionPermits) {
  sample.section.permitted_strip_materials = {StripMaterial::copper, StripMaterial::plain_carbon};
  EXPECT_EQ(says("strip-fit"), "");
  sample.section.permitted_strip_materials = {StripMaterial::copper, StripMaterial::copper_alloy};
  EXPECT_EQ(says("strip-fit"),
            "forbidden: 1.1: its strips are of plain carbon; permitted: copper, copper alloy.");
  EXPECT_FALSE(admits(sample.section, *type));
  sample.section.permitted_strip_materials.reset();
  EXPECT_EQ(says("strip-fit"),
            "forbidden: 1.1: the section says nothing of strip materials, so its plain carbon "
            "strips are not.");
  EXPECT_FALSE(admits(sample.section, *type));
}

TEST_F(FitTest, ItHasADroppingDeviceUnlessTheSectionSaysThatNoneIsRequired) {
  sample.section.automatic_dropping_device_required = true;
  EXPECT_EQ(says("dropping-device"),
            "forbidden: 1.1: it has no automatic dropping device, which the section requires.");
  EXPECT_FALSE(admits(sample.section, *type));
  sample.section.automatic_dropping_device_required.reset();
  EXPECT_EQ(says("dropping-device"),
            "forbidden: 1.1: it has no automatic dropping device, and the section does not say "
            "that none is required.");
  type->automatic_dropping_device = true;
  EXPECT_EQ(says("dropping-device"), "");
  sample.section.automatic_dropping_device_required = true;
  EXPECT_EQ(says("dropping-device"), "");
  EXPECT_TRUE(admits(sample.section, *type));
}

TEST_F(FitTest, TheWireRunsWithinItsWorkingRange) {
  sample.section.wire_height_min_m = 4.8;
  sample.section.wire_height_max_m = 6.5;
  EXPECT_EQ(says("height-fit"), "") << "just so is within";
  sample.section.wire_height_min_m = 4.7;
  EXPECT_EQ(says("height-fit"),
            "forbidden: 1.1: it works from 4.8 to 6.5 m, the wire runs from 4.7 to 6.5 m.");
  sample.section.wire_height_min_m = 4.8;
  sample.section.wire_height_max_m = 6.6;
  EXPECT_EQ(says("height-fit"),
            "forbidden: 1.1: it works from 4.8 to 6.5 m, the wire runs from 4.8 to 6.6 m.");
  EXPECT_FALSE(admits(sample.section, *type));
  sample.section.wire_height_max_m.reset();
  EXPECT_EQ(says("height-fit"), "forbidden: 1.1: the section does not state its wire heights.");
  sample.section.wire_height_max_m = 6;
  sample.section.wire_height_min_m.reset();
  EXPECT_EQ(says("height-fit"), "forbidden: 1.1: the section does not state its wire heights.");
}

TEST_F(FitTest, ItFollowsTheWireDownAtALowPlace) {
  auto deeper = SampleCase::pantograph();
  deeper->working_height_min_m = 4.6;
  sample = SampleCase();
  sample.add(SampleCase::locomotive(type, deeper));
  const LowPlace bridge{
      .name = "the mill bridge", .from_km = 1, .to_km = 1.1, .wire_height_min_m = 4.8, .place = {}};
  const LowPlace tunnel{
      .name = "the long tunnel", .from_km = 2, .to_km = 3, .wire_height_min_m = 4.7, .place = {}};
  sample.low_places = {&bridge};
  EXPECT_EQ(sample.with("1.1 1.2").of("height-fit"), "");
  sample.low_places = {&bridge, &tunnel};
  EXPECT_EQ(sample.with("1.1 1.2").of("height-fit"),
            "forbidden: 1.1: it works down to 4.8 m, the wire at the long tunnel comes down to 4.7 "
            "m.");
  EXPECT_EQ(sample.with("1.1 1.2").of("supply-fit"), "") << "it is said once";
  const Judge judge = sample.judge();
  EXPECT_EQ(judge.ground(sample.section, false, {&bridge}).fit, (PantographSet{0, 1}));
  EXPECT_EQ(judge.ground(sample.section, false, {&bridge, &tunnel}).fit, (PantographSet{1}));
  EXPECT_EQ(judge.ground(sample.section, false, {&bridge, &tunnel}).low_places.size(), 2U);
}

// P5, P6, P15.
TEST_F(FitTest, ADefectivePantographStaysDown) {
  sample.vehicle(1).defective = {1};
  sample.failed = {{.vehicle = 1, .pantograph = 2}};
  EXPECT_EQ(sample.with("1.1 1.2").of("defective-down"),
            "forbidden: 1.1 and 1.2: defective, stays down.");
  EXPECT_TRUE(sample.with("1.2").verdict.forbidden);
  sample.failed = {};
  EXPECT_EQ(sample.with("1.2").of("defective-down"), "");
  EXPECT_FALSE(sample.with("1.2").verdict.forbidden);
}

TEST_F(FitTest, WhatTheTrainFileOrdersDownStaysDown) {
  sample.vehicle(1).kept_down = {1};
  EXPECT_EQ(says("ordered"), "forbidden: 1.1: ordered by the train file to stay down.");
  EXPECT_EQ(sample.with("1.2").of("ordered"), "");
  EXPECT_FALSE(sample.with("1.2").verdict.forbidden);
}

TEST_F(FitTest, WhatTheTrainFileOrdersUpIsUpWhereverItMayBe) {
  sample.vehicle(1).kept_up = {2};
  EXPECT_EQ(says("ordered"),
            "forbidden: 1.2: ordered up by the train file, and fit for the section.");
  EXPECT_TRUE(sample.with("1.1").verdict.forbidden);
  EXPECT_EQ(sample.with("1.2").of("ordered"), "");
  sample.failed = {{.vehicle = 1, .pantograph = 2}};
  EXPECT_EQ(says("ordered"), "") << "a defective one may not be up";
  sample.failed = {};
  sample.add(SampleCase::locomotive());
  sample.vehicle(2).kept_up = {1};
  sample.vehicle(2).dead_in_tow = true;
  EXPECT_EQ(sample.with("1.2").of("ordered"), "") << "one of a vehicle dead in tow may not be up";
  sample.section.permitted_head_widths_mm = {1600};
  EXPECT_EQ(says("ordered"), "") << "one that the section does not admit may not be up";
}

// P27.
TEST_F(FitTest, AVehicleDeadInTowHasNothingUp) {
  sample.add(SampleCase::locomotive());
  sample.vehicle(2).dead_in_tow = true;
  const std::string text = "locomotive 2 is dead in tow: its pantographs stay down.";
  EXPECT_EQ(sample.with("1.2").of("dead-down"), "note: " + text);
  EXPECT_FALSE(sample.with("1.2").verdict.forbidden);
  EXPECT_EQ(sample.with("1.2 2.1").of("dead-down"), "forbidden: " + text);
  EXPECT_TRUE(sample.with("1.2 2.1").verdict.forbidden);
  EXPECT_EQ(sample.with("1.2").of("put-dead"), "") << "nobody puts it dead: it is";
}

TEST_F(FitTest, UsableIsWhatNothingButADefectKeepsDown) {
  auto dc = SampleCase::pantograph();
  dc->supplies.front().supply = EnergySupply::dc_3kv;
  sample.add(SampleCase::locomotive()).add(SampleCase::locomotive(type, dc));
  sample.vehicle(1).kept_down = {1};
  sample.vehicle(1).defective = {2};
  sample.vehicle(2).dead_in_tow = true;
  // By index: 1.1 1.2 2.1 2.2 3.1 3.2.
  EXPECT_EQ(sample.judge().usable(sample.section), (PantographSet{1, 4}));
}

constexpr const char* tonnage =
    " It costs tractive effort: check the tonnage for the working locomotives.";

// P17.
TEST_F(FitTest, AWorkingLocomotiveWithNothingUpGoesDeadAsALastResort) {
  sample.add(SampleCase::locomotive());
  const Said second = sample.with("1.1");
  EXPECT_EQ(second.of("put-dead"),
            "last resort: locomotive 2 goes dead in tow with its pantographs down: nothing else is "
            "left." +
                std::string(tonnage));
  EXPECT_EQ(second.verdict.put_dead, 1);
  EXPECT_FALSE(second.verdict.leading_put_dead);
  EXPECT_FALSE(second.verdict.forbidden);
  EXPECT_TRUE(sample.with("2.1").verdict.leading_put_dead);
  EXPECT_EQ(sample.with("2.1").verdict.put_dead, 1);
  EXPECT_EQ(sample.with("1.1 2.1").verdict.put_dead, 0);
  EXPECT_FALSE(sample.with("1.1 2.1").verdict.leading_put_dead);
  EXPECT_EQ(sample.with("1.1 2.1").of("put-dead"), "");
}

TEST_F(FitTest, WhyItGoesDeadIsSaid) {
  sample.add(SampleCase::locomotive());
  sample.failed = {{2, 1}};
  EXPECT_EQ(sample.with("1.1").of("put-dead"),
            "last resort: locomotive 2 goes dead in tow with its pantographs down: nothing else is "
            "left." +
                std::string(tonnage));
  sample.failed = {{2, 1}, {2, 2}};
  EXPECT_EQ(sample.with("1.1").of("put-dead"),
            "last resort: locomotive 2 goes dead in tow with its pantographs down: all its "
            "pantographs that fit here are defective." +
                std::string(tonnage));
  auto dc = SampleCase::pantograph();
  dc->supplies.front().supply = EnergySupply::dc_3kv;
  sample.vehicle(2).type = SampleCase::locomotive(dc, dc);
  EXPECT_EQ(sample.with("1.1").of("put-dead"),
            "last resort: locomotive 2 goes dead in tow with its pantographs down: it has no "
            "pantograph that fits here." +
                std::string(tonnage));
}

TEST_F(FitTest, WhatDoesNotLimitItsCurrentGoesDeadAndThatIsSaid) {
  auto limiting = std::make_shared<VehicleType>(*sample.vehicle(1).type);
  limiting->current_limitation = true;
  sample.vehicle(1).type = limiting;
  sample.add(SampleCase::locomotive());
  sample.section.current_limitation_required = true;
  EXPECT_EQ(sample.with("1.1").of("put-dead"),
            "last resort: locomotive 2 goes dead in tow with its pantographs down: locomotive 2 "
            "(Test type) does not say whether it limits its current or power on board, which the "
            "section requires." +
                std::string(tonnage));
  EXPECT_FALSE(sample.with("1.1").verdict.forbidden);
}

TEST_F(FitTest, WhatTheWireOverAPantographRequiresCountsAndNotThatOverTheFront) {
  Section behind = sample.section;
  behind.current_limitation_required = true;
  const Judge judge = sample.judge();
  const Ground ground = judge.ground(sample.section, false, {}, {{&behind, PantographSet{0}}});
  EXPECT_TRUE(judge.judge(ground, PantographSet{0}, {}).forbidden);
  EXPECT_FALSE(judge.judge(ground, PantographSet{1}, {}).forbidden);
}

TEST_F(FitTest, TheForemostWorkingOneBehindAVehicleDeadFromTheStartLeads) {
  sample.add(SampleCase::locomotive()).add(SampleCase::locomotive());
  sample.vehicle(1).dead_in_tow = true;
  EXPECT_TRUE(sample.with("3.1").verdict.leading_put_dead);
  EXPECT_FALSE(sample.with("2.1").verdict.leading_put_dead);
}

TEST_F(FitTest, WithNothingUpNothingMovesTheTrain) {
  const Said said = sample.with("");
  EXPECT_TRUE(said.verdict.forbidden);
  EXPECT_EQ(said.of("put-dead"),
            "forbidden: locomotive 1 has no pantograph up, and nothing else moves the train.");
}

TEST_F(FitTest, ABookThatTurnsItOffLetsNoneGoDead) {
  sample.add(SampleCase::locomotive());
  sample.rule("put-dead").on = false;
  EXPECT_EQ(sample.with("1.1").of("put-dead"),
            "forbidden: locomotive 2 has no pantograph up, and the rule book does not let it go "
            "dead in tow.");
}

TEST_F(FitTest, ABookThatSaysNothingOfItLetsNoneGoDead) {
  sample.add(SampleCase::locomotive());
  sample.only({"line-speed"});
  const Said said = sample.with("1.1");
  EXPECT_TRUE(said.verdict.forbidden);
  EXPECT_EQ(said.of("put-dead-in-tow"),
            "forbidden: locomotive 2 has no pantograph up, and the rule book does not let it go "
            "dead in tow.");
  EXPECT_EQ(said.first("put-dead-in-tow").source, "not in the rule book");
  EXPECT_EQ(said.first("put-dead-in-tow").standing, Standing::derived);
  EXPECT_FALSE(sample.with("1.1 2.1").verdict.forbidden);
}

}  // namespace

}  // namespace panup
