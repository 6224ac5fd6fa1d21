#include <gtest/gtest.h>

#include "base/cell_values.h"
#include "register_rows/concepts.h"
#include "register_rows/values.h"
#include "register_sample.h"

namespace panup {
namespace {

TEST(RegisterConcepts, AreFoundBySchemeAndLastSegmentWithAndWithoutRinf) {
  const std::string heads = concepts + "compliant-pantograph-heads/";
  EXPECT_EQ(tsi_head_meant(heads + "rinf/10").meaning, HeadType::w1950_type_1);
  EXPECT_EQ(tsi_head_meant(heads + "50").meaning, HeadType::w1950_type_1_insulated_horns);
  EXPECT_EQ(other_head_meant(concepts + "other-pantograph-heads/rinf/10").meaning,
            HeadType::w1950_type_2);
  EXPECT_EQ(supply_meant(ac15).meaning, EnergySupply::ac_15kv);
  EXPECT_EQ(supply_meant(ac25).meaning, EnergySupply::ac_25kv);
  EXPECT_EQ(strip_meant(concepts + "strips/rinf/60").meaning, StripMaterial::carbon_with_additive);
  EXPECT_EQ(has_overhead_line(concepts + "systems/40").meaning, false);
}

TEST(RegisterConcepts, OfAnotherSchemeOrCodeAreNotKnown) {
  EXPECT_FALSE(tsi_head_meant(concepts + "other-pantograph-heads/10").known);
  EXPECT_FALSE(other_head_meant(concepts + "compliant-pantograph-heads/10").known);
  EXPECT_FALSE(strip_meant(concepts + "compliant-pantograph-heads/10").known);
  EXPECT_FALSE(tsi_head_meant(concepts + "compliant-pantograph-heads/11").known);
  EXPECT_FALSE(supply_meant("http://example.invalid/concepts/x/AC10").known);
  EXPECT_FALSE(supply_meant("AC10").known);
}

TEST(RegisterConcepts, ForWhichThereIsNoWordAreKnownAll) {
  const auto third = supply_meant(concepts + "energy-supply-systems/DC60");
  EXPECT_TRUE(third.known);
  EXPECT_FALSE(third.meaning);
  EXPECT_TRUE(tsi_head_meant(concepts + "compliant-pantograph-heads/40").known);
  EXPECT_FALSE(tsi_head_meant(concepts + "compliant-pantograph-heads/40").meaning);
}

TEST(RegisterValues, NumbersAndFlagsAreReadWholeOrNotAtAll) {
  EXPECT_EQ(number_in_cell("1.5E1"), 15);
  EXPECT_EQ(number_in_cell("+2"), 2);
  for (const char* const text : {"", "12,5", "12 km", "nan", "inf", "+-2", "0x10"}) {
    EXPECT_FALSE(number_in_cell(text)) << text;
  }
  EXPECT_EQ(flag_in_cell("true"), true);
  EXPECT_EQ(flag_in_cell("0"), false);
  EXPECT_FALSE(flag_in_cell("Y"));
}

TEST(RegisterValues, AGradientProfileHasRisingKilometres) {
  EXPECT_EQ(gradient_profile("+5.0(0012.300) -3.2(0014.000)"),
            (std::vector<GradientPoint>{{12.3, 5}, {14, -3.2}}));
  for (const char* const text : {"", "5", "5(1", "5)1(", "1(2) 2(2)", "1(3) 2(2)", "200(1)"}) {
    EXPECT_FALSE(gradient_profile(text)) << text;
  }
}

TEST(RegisterValues, OldRecordsAndForcesAreReadOnlyWhereTheyAreClear) {
  EXPECT_EQ(old_record("2 15 120"), (RaisedRecord{2, 15, 120}));
  EXPECT_EQ(old_record("[2] [15] [120]"), (RaisedRecord{2, 15, 120}));
  EXPECT_EQ(old_record(" 2  015 120 "), (RaisedRecord{2, 15, 120}));
  for (const char* const text :
       {"", "2 15", "2 15 120 1", "2 -15 120", "2.0 15 120", "2,15,120", "[2] [15] 120",
        "2] 15] 120]", "[2 15 120]", "[2) [15) [120)", "1001 15 120"}) {
    EXPECT_FALSE(old_record(text)) << text;
  }
  EXPECT_EQ(permitted_force("90 300"), (PermittedForce{90, {0, 300}}));
  for (const char* const text : {"90", "300 90", "10 300", "310 320", "60-90", "90 1001"}) {
    EXPECT_FALSE(permitted_force(text)) << text;
  }
}

/// Source of the form: RINF 1.1.1.2.5.2, "or a formula of the speed" (EN 50367, from memory).
TEST(RegisterValues, AForceMayBeAFormulaOfTheSpeed) {
  for (const char* const text :
       {"0.00097 v2 + 70", "0.00097*v^2+70", "Fm = 0.00097 × v² + 70 N", "F=0.00097·v²+70.0"}) {
    EXPECT_EQ(permitted_force(text), (PermittedForce{{}, {0.00097, 70}})) << text;
  }
  for (const char* const text : {"0,00097 v2 + 70", "0.00097 v + 70", "0.00097 v2 - 70", "v2 + 70",
                                 "0.00097 v2", "0.00097 v2 + 70 + 5", "0.02 v2 + 70",
                                 "0.00097 v2 + 5", "0.00097 v2 + 70 below 200 km/h"}) {
    EXPECT_FALSE(permitted_force(text)) << text;
  }
}

TEST(RegisterValues, RecordsOfTwoTracksBecomeWhatBothPermit) {
  EXPECT_EQ(permitted_by_both({{1, 0, 160}, {2, 20, 100}}, {{2, 85, 120}, {1, 0, 140}}),
            (std::vector<RaisedRecord>{{1, 0, 140}, {2, 85, 100}}));
  EXPECT_TRUE(permitted_by_both({{1, 0, 160}}, {{2, 85, 120}}).empty());
}

TEST(RegisterValues, IdsAreCleanAndOfTheirOwn) {
  std::set<std::string> taken;
  EXPECT_EQ(free_id_from("a b/é", "x", taken), "a-b");
  EXPECT_EQ(free_id_from("a b", "x", taken), "a-b-2");
  EXPECT_EQ(free_id_from("///", "x", taken), "x");
  EXPECT_EQ(one_line_of("a\nb\x7F"), "a b ");
  EXPECT_EQ(one_line_of(std::string(199, 'a') + "é"), std::string(199, 'a') + "…");
}

}  // namespace
}  // namespace panup
