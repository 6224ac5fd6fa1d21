#include <gtest/gtest.h>

#include "register_rows/sections.h"
#include "register_sample.h"

namespace panup {
namespace {

struct Made {
  std::vector<RegisterSection> sections;
  Diagnostics notes;
};

Made made(const RegisterRows& rows, const std::string& track = {}) {
  Made made;
  made.sections = sections_from(rows, track, made.notes);
  return made;
}

const std::string tsi = concepts + "compliant-pantograph-heads/";

TEST(RegisterSections, RowsOfRepeatedPropertiesBecomeOneSection) {
  RegisterRows rows;
  for (const char* const head : {"10", "20"}) {
    for (const char* const distance : {"20", "85"}) {
      add_section(
          rows, "s", "a", "b",
          {{"tsiHead", tsi + head}, {"raisedN", "2"}, {"raisedM", distance}, {"raisedKmh", "120"}});
    }
  }
  const Made all = made(rows);
  ASSERT_EQ(all.sections.size(), 1U);
  const LineProperties& properties = all.sections[0].properties;
  EXPECT_EQ(properties.permitted_heads, (std::vector{HeadType::w1950_type_1, HeadType::w1600_ep}));
  EXPECT_EQ(properties.records, (std::vector<RaisedRecord>{{2, 20, 120}, {2, 85, 120}}));
  EXPECT_TRUE(all.notes.empty());
}

TEST(RegisterSections, BlankIsUnknown) {
  RegisterRows rows;
  add_section(rows, "s", "a", "b", {{"supply", ""}, {"vmax", ""}, {"hasPhase", ""}});
  const Made all = made(rows);
  const LineProperties& properties = all.sections.at(0).properties;
  EXPECT_EQ(properties, LineProperties{});
  EXPECT_FALSE(all.sections[0].has_phase);
  EXPECT_EQ(all.sections[0].has_system, false);
  EXPECT_TRUE(all.notes.empty());
}

TEST(RegisterSections, OfTwoValuesTheStricterCountsAndIsNoted) {
  RegisterRows rows;
  add_section(rows, "s", "a", "b", {{"trainA", "700"}, {"heightMax", "6"}, {"add", "false"}});
  add_section(rows, "s", "a", "b", {{"trainA", "500"}, {"heightMax", "6.2"}, {"add", "true"}});
  const Made all = made(rows);
  const LineProperties& properties = all.sections.at(0).properties;
  EXPECT_EQ(properties.greatest_train_current_a, 500);
  EXPECT_EQ(properties.wire_height_max_m, 6.2);
  EXPECT_EQ(properties.automatic_dropping_device_required, true);
  EXPECT_TRUE(says(all.notes, "column 'trainA' has 2 values"));
  EXPECT_TRUE(says(all.notes, "column 'add' says both"));
}

TEST(RegisterSections, WhatHasTwoValuesWithoutAStricterOneIsUnknown) {
  RegisterRows rows;
  add_section(rows, "s", "a", "b");
  add_section(rows, "s", "a", "b", {{"supply", ac25}, {"lengthKm", "6"}, {"opEnd", "c"}});
  const Made all = made(rows);
  EXPECT_FALSE(all.sections.at(0).properties.supply);
  EXPECT_FALSE(all.sections[0].length_km);
  EXPECT_TRUE(all.sections[0].to.empty());
  EXPECT_TRUE(says(all.notes, "is both AC 15 kV 16.7 Hz and AC 25 kV 50 Hz"));
  EXPECT_TRUE(says(all.notes, "its length is both '5' and '6'"));
}

TEST(RegisterSections, OfTracksTheStrictestCountsUnlessOneIsAskedFor) {
  RegisterRows rows;
  add_section(rows, "s", "a", "b",
              {{"tsiHead", tsi + "10"}, {"add", "false"}, {"heightMin", "5"}, {"trainA", "700"}});
  add_section(rows, "s", "a", "b",
              {{"track", "2"}, {"vmax", "80"}, {"tsiHead", tsi + "20"}, {"trainA", "600"}});
  const Made both = made(rows);
  const LineProperties& properties = both.sections.at(0).properties;
  EXPECT_EQ(properties.line_speed_kmh, 80);
  EXPECT_FALSE(properties.permitted_heads);                     // none that both permit
  EXPECT_FALSE(properties.automatic_dropping_device_required);  // track 2 does not say
  EXPECT_FALSE(properties.wire_height_min_m);
  EXPECT_EQ(properties.greatest_train_current_a, 600);
  const Made one = made(rows, "1");
  EXPECT_EQ(one.sections.at(0).properties.line_speed_kmh, 120);
  EXPECT_EQ(one.sections[0].properties.automatic_dropping_device_required, false);
  EXPECT_EQ(one.sections[0].tracks, std::vector<std::string>{"1"});
  EXPECT_TRUE(says(made(rows, "3").notes, "there is no track '3'"));
}

TEST(RegisterSections, WithoutOverheadLineAreMarked) {
  RegisterRows rows;
  add_section(rows, "s", "a", "b", {{"oclType", concepts + "x/20"}});
  add_section(rows, "t", "a", "b", {{"oclType", concepts + "x/20"}});
  add_section(rows, "t", "a", "b", {{"track", "2"}});
  const Made all = made(rows);
  EXPECT_FALSE(all.sections.at(0).overhead_line);
  EXPECT_TRUE(says(all.notes, "section s: it has no overhead contact line and was left out"));
  EXPECT_TRUE(all.sections.at(1).overhead_line);
  EXPECT_FALSE(all.sections[1].properties.supply);
}

TEST(RegisterSections, WhatCannotBeReadIsNotedAndUnknown) {
  for (const auto& [column, text, note] :
       std::initializer_list<std::tuple<std::string_view, std::string, std::string>>{
           {"supply", "AC", "'AC' in column 'supply' is no concept"},
           {"supply", concepts + "x/DC60", "'DC60' is no energy supply system that panup plans"},
           {"tsiHead", tsi + "77", "is no concept"},
           {"strip", "coal", "'coal' in column 'strip' is no concept"},
           {"oclType", "wire", "'wire' in column 'oclType' is no concept"},
           {"vmax", "fast", "'fast' in column 'vmax' is not a number from 5 to 400"},
           {"heightMin", "2", "'2' in column 'heightMin' is not a number from 3 to 9"},
           {"lengthKm", "0", "its length is '0'"},
           {"lengthKm", "1e-7", "its length is '1e-7'"},
           {"lengthKm", "-1", "its length is '-1'"},
           {"force", "90", "column 'force': the permitted contact force '90'"},
           {"add", "Y", "'Y' in column 'add' is neither true nor false"},
           {"gradient", "steep", "the gradient profile 'steep'"},
           {"raisedOld", "2 15", "column 'raisedOld': the record of raised pantographs '2 15'"},
           {"raisedOld", "2 0 120", "the record of raised pantographs '2 0 120'"},
           {"raisedN", "2", "the record of raised pantographs '2"},
           {"raisedN", "17", "the record of raised pantographs '17"}}) {
    RegisterRows rows;
    add_section(rows, "s", "a", "b", {{column, text}});
    const Made all = made(rows);
    EXPECT_TRUE(says(all.notes, note)) << column << " " << text;
    const LineProperties& properties = all.sections.at(0).properties;
    EXPECT_TRUE(properties.records.empty());
    EXPECT_FALSE(properties.permitted_heads || properties.permitted_strip_materials ||
                 properties.wire_height_min_m || properties.greatest_static_force_n ||
                 properties.greatest_contact_force ||
                 properties.automatic_dropping_device_required);
    EXPECT_EQ(properties.line_speed_kmh, column == "vmax" ? 0 : 120);
    EXPECT_EQ(properties.supply.has_value(), column != "supply");
  }
}

TEST(RegisterSections, TheOldFormOfARecordCountsOnlyWhereTheNewOneIsSilent) {
  RegisterRows rows;
  add_section(
      rows, "s", "a", "b",
      {{"raisedN", "2"}, {"raisedM", "85"}, {"raisedKmh", "120"}, {"raisedOld", "2 85 120"}});
  add_section(rows, "t", "b", "c", {{"raisedOld", "[2] [15] [120]"}});
  add_section(rows, "t", "b", "c", {{"raisedOld", "1 0 160"}});
  Made all = made(rows);
  EXPECT_EQ(all.sections.at(0).properties.records, (std::vector<RaisedRecord>{{2, 85, 120}}));
  EXPECT_EQ(all.sections.at(1).properties.records,
            (std::vector<RaisedRecord>{{2, 15, 120}, {1, 0, 160}}));
  EXPECT_TRUE(all.notes.empty());

  add_section(
      rows, "u", "c", "d",
      {{"raisedN", "2"}, {"raisedM", "85"}, {"raisedKmh", "120"}, {"raisedOld", "2 15 120"}});
  add_section(rows, "v", "d", "e",
              {{"raisedM", "85"}, {"raisedKmh", "120"}, {"raisedOld", "2 15 120"}});
  all = made(rows);
  EXPECT_EQ(all.sections.at(2).properties.records, (std::vector<RaisedRecord>{{2, 85, 120}}));
  EXPECT_TRUE(says(all.notes, "row 4: section u: column 'raisedOld' says '2 15 120'"));
  EXPECT_TRUE(all.sections.at(3).properties.records.empty()) << "the new form is there, in part";
  EXPECT_TRUE(says(all.notes, "row 5: section v: columns 'raisedN' to 'raisedKmh'"));
}

TEST(RegisterSections, OfForcesOnTwoTracksCountsWhatBothPermit) {
  RegisterRows rows;
  add_section(rows, "s", "a", "b", {{"force", "90 300"}});
  add_section(rows, "s", "a", "b", {{"track", "2"}, {"force", "0.00097 v2 + 70"}});
  add_section(rows, "t", "b", "c", {{"force", "0.00047 v2 + 90"}});
  add_section(rows, "t", "b", "c", {{"track", "2"}, {"force", "0.00097 v2 + 70"}});
  const Made all = made(rows);
  EXPECT_EQ(all.sections.at(0).properties.greatest_static_force_n, 90);
  EXPECT_EQ(all.sections.at(0).properties.greatest_contact_force, (ContactForceLimit{0, 70}));
  EXPECT_FALSE(all.sections.at(1).properties.greatest_static_force_n);
  EXPECT_EQ(all.sections.at(1).properties.greatest_contact_force, (ContactForceLimit{0.00047, 70}));
}

TEST(RegisterSections, OfTemperaturesOnTwoTracksNothingIsKnownWhereTheyDiffer) {
  const std::string range = concepts + "temperature-ranges/rinf/";
  RegisterRows rows;
  add_section(rows, "s", "a", "b", {{"temperature", range + "T2"}});
  add_section(rows, "s", "a", "b", {{"track", "2"}, {"temperature", range + "T2"}});
  add_section(rows, "t", "b", "c", {{"temperature", range + "T2"}});
  add_section(rows, "t", "b", "c", {{"track", "2"}, {"temperature", range + "Tx"}});
  add_section(rows, "u", "c", "d", {{"temperature", range + "T2"}});
  add_section(rows, "u", "c", "d", {{"track", "2"}});
  add_section(rows, "v", "d", "e", {{"temperature", range + "T9"}});
  const Made all = made(rows);
  EXPECT_EQ(all.sections.at(0).properties.temperature_range, TemperatureRange::t2);
  for (const std::size_t i : {1U, 2U, 3U}) {
    EXPECT_FALSE(all.sections.at(i).properties.temperature_range) << i;
  }
  EXPECT_TRUE(says(all.notes, "column 'temperature' has both T2 and Tx"));
  EXPECT_TRUE(says(all.notes, "T9' in column 'temperature' is no concept"));
}

TEST(RegisterSections, HeightsTheWrongWayRoundAreUnknown) {
  RegisterRows rows;
  add_section(rows, "s", "a", "b", {{"heightMin", "6"}, {"heightMax", "5"}});
  const Made all = made(rows);
  EXPECT_FALSE(all.sections.at(0).properties.wire_height_min_m);
  EXPECT_TRUE(says(all.notes, "is above the greatest"));
}

TEST(RegisterSections, ARowWithoutSectionIsLeftOut) {
  RegisterRows rows;
  add_section(rows, "", "a", "b");
  const Made all = made(rows);
  EXPECT_TRUE(all.sections.empty());
  EXPECT_TRUE(says(all.notes, "row 1: 'sol' is empty"));
}

}  // namespace
}  // namespace panup
